"""What a phone saved to a file, taken in at the server: a zip of entries, cards and files.

The file proves itself: what is in it counts by its own signatures, whoever brings it.
"""

import json
import zipfile
from collections import Counter, defaultdict
from io import BytesIO
from typing import Any

from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import key_files
from server.logbook.entry import Refused, parse
from server.logbook.files import keep
from server.logbook.own import repeat_revocations
from server.logbook.receipt import receive
from server.logbook.sync import files_missing

RECORD = "record.json"


class NotSaved(ValueError):  # noqa: N818 - said to whoever runs the command, by this name
    """The file is not one that a phone saved."""


def hand_in(session: Session, unit: str, octets: bytes) -> str:
    """Take in a saved file, in the caller's transaction; what became of it, in a sentence.

    What is here already stays as it is; of the files those are kept that an entry names. Raises NotSaved.
    """
    record, files = _read(octets)
    by_log: defaultdict[str, list[str]] = defaultdict(list)
    answers: Counter[str] = Counter()
    for text in record["entries"]:
        try:
            by_log[parse(text).log].append(text)
        except Refused:
            answers["refused"] += 1
    for log in sorted(by_log):
        receipts = receive(session, unit, log, record["cards"], by_log[log])
        answers.update(receipt.answer for receipt in receipts)
    kept = _keep_files(session, unit, sorted(by_log), files, record["types"])
    repeat_revocations(session, unit)
    return (
        f"{answers['stored']} new entries and {kept} files taken in; {answers['known']} were here already, "
        f"{answers['wait']} wait for a card, {answers['refused']} are no entries and were refused."
    )


def _keep_files(
    session: Session, unit: str, logs: list[str], files: dict[str, bytes], types: dict[str, Any]
) -> int:
    missing = {digest for log in logs for digest in files_missing(session, unit, log)}
    here = {digest: octets for digest, octets in files.items() if digest in missing}
    kid = key_files(unit).device_kid
    for digest, octets in here.items():
        keep(session, unit, kid, octets, str(types.get(digest, "application/octet-stream"))[:100])
    return len(here)


def _read(octets: bytes) -> tuple[dict[str, Any], dict[str, bytes]]:
    try:
        with zipfile.ZipFile(BytesIO(octets)) as packed:
            contents = {name: packed.read(name) for name in packed.namelist()}
        record = json.loads(contents.pop(RECORD))
        whole = {"entries": _texts(record["entries"]), "cards": _texts(record["cards"])}
        types = dict(record.get("types", {}))
    except (zipfile.BadZipFile, KeyError, TypeError, ValueError, AttributeError, RecursionError) as fault:
        raise NotSaved(
            "This is not a file that a phone saved, or it is damaged. Nothing was taken in."
        ) from fault
    return {**whole, "types": types}, {jws.sha256(content): content for content in contents.values()}


def _texts(stated: list[object]) -> list[str]:
    return [text for text in stated if isinstance(text, str)]
