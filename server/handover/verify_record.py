"""The record of a report, looked at by itself: cards, signatures, chains, heads, definition, sheets, files."""

import base64
import json
from collections.abc import Iterator
from io import BytesIO
from itertools import combinations
from typing import Any

from pypdf import PdfReader

from server.crew import jws
from server.crew.card import Card, NotACard, UnitKeys
from server.handover import RECORD
from server.handover.finding import Broken
from server.handover.record import Record, folded, heads_named, last_hand_over, tips_by_key
from server.logbook.entry import Entry, Refused, parse
from server.logbook.heads import heads
from server.logbook.signatures import signs
from server.logbook.steps import amends, sheets
from server.sheets.expand import canonical

MOST_AMENDS = 12
"""Amends of one sheet that are tried in every choice; beyond, only all of them together."""


def attached_record(pdf: bytes) -> Record:
    """The record attached to a report, each member of the form that is meant. Raises Broken."""
    try:
        attached = PdfReader(BytesIO(pdf)).attachments.get(RECORD, [])
    except Exception as fault:
        raise Broken(f"the attachments cannot be read: {fault}") from None
    if len(attached) != 1:
        raise Broken(f"there are {len(attached)} attachments named {RECORD}, and one is meant")
    try:
        record: Any = json.loads(attached[0])
    except ValueError as fault:
        raise Broken(f"{RECORD} is not JSON: {fault}") from None
    if not isinstance(record, dict):
        raise Broken(f"{RECORD} is not an object")
    shape = {
        "log": str, "unit_key": dict, "digest": str, "definition": dict, "cards": list, "carried_over": list,
        "entries": list, "heads": dict, "tips": dict, "gaps": dict, "files": dict, "drawn": dict,
    }  # fmt: skip
    wrong = [name for name, kind in shape.items() if not isinstance(record.get(name), kind)]
    if wrong:
        raise Broken(f"{RECORD} lacks, or has in another form: {', '.join(wrong)}")
    return record


def believed(record: Record) -> dict[str, Card]:
    """The cards of a record by key, each signed by the unit's key. Raises Broken."""
    try:
        keys = UnitKeys(record["unit_key"])
        cards = [card for text in record["cards"] for card in keys.take(str(text))]
    except (NotACard, ValueError) as fault:
        raise Broken(f"a card does not hold: {fault}") from None
    return {card.kid: card for card in cards}


def entries_of(texts: list[object], log: str) -> list[Entry]:
    """Entries of a log, read strictly. Raises Broken."""
    entries = []
    for place, text in enumerate(texts, start=1):
        try:
            entries.append(parse(str(text), log))
        except Refused as fault:
            raise Broken(f"entry {place} of the record's log {log} is none: {fault}") from None
    return entries


def carried_entries(record: Record) -> list[Entry]:
    """The entries of other logs that the record carries over. Raises Broken."""
    found = []
    for one in record["carried_over"]:
        if (
            not isinstance(one, dict)
            or not isinstance(one.get("entries"), list)
            or one.get("log") == record["log"]
        ):
            raise Broken("what is carried over is not a list of other logs with their entries")
        found += entries_of(one["entries"], str(one.get("log")))
    return found


def signed(entries: list[Entry], cards: dict[str, Card]) -> None:
    """Look at every entry's signature. Raises Broken at the first that is not its writer's."""
    for place, entry in enumerate(entries, start=1):
        what = f"entry {place} ({entry.kind} on {entry.subject} by {entry.by}, {entry.name})"
        card = cards.get(entry.kid)
        if card is None:
            raise Broken(f"{what} is by a key without a card")
        if not entry.signed_by(card.jwk):
            raise Broken(f"{what} does not bear its writer's signature: it was changed")


def chains(record: Record, entries: list[Entry]) -> str:
    """Say how the entries hang together. Raises Broken where one is missing and the record does not say so."""
    found = heads(entries)
    gaps = {kid: one["gaps"] for kid, one in found.items() if one["gaps"]}
    if gaps != record["gaps"]:
        raise Broken(f"entries are missing, and the record does not say so: {_told(gaps) or 'none is'}")
    forked = [kid for kid, one in found.items() if len(one["tips"]) > 1]
    said = [f"{len(found)} chains"]
    said += [f"written, not arrived, as the pages say: {_told(gaps)}"] if gaps else ["without a gap"]
    return "; ".join([*said, *([f"forked: {', '.join(forked)}"] if forked else [])])


def _told(gaps: dict[str, list[object]]) -> str:
    numbers = ((kid, gap) for kid, found in gaps.items() for gap in found if isinstance(gap, list))
    return "; ".join(f"{gap[0]} to {gap[1]} of {kid}" for kid, gap in numbers)


def heads_hold(record: Record, entries: list[Entry]) -> str:
    """Say whose heads the record names. Raises Broken where they are not those of its entries."""
    named = {str(key): sorted(map(str, tips)) for key, tips in record["heads"].items()}
    last = last_hand_over(entries)
    if last is None:
        if record.get("handed_over") is not None:
            raise Broken("the record speaks of a hand-over that is not among its entries")
        if named != tips_by_key(entries):
            raise Broken("the heads in the record are not those of its entries")
    elif named != heads_named(last):
        raise Broken("the heads in the record are not those that the hand-over names")
    here = {entry.name for entry in entries}
    lost = sorted({name for tips in named.values() for name in tips} - here)
    if lost:
        raise Broken(f"heads that the record names are not among its entries: {', '.join(lost)}")
    tips = {str(key): sorted(map(str, names)) for key, names in record["tips"].items()}
    if tips != tips_by_key(entries):
        raise Broken(
            "the last entries that the record names are not those of its chains: some were dropped or added"
        )
    whose = "that the hand-over names" if last else "of the entries; nothing was handed over yet"
    return f"the {sum(map(len, named.values()))} heads are those {whose}"


def defined(record: Record, entries: list[Entry]) -> str:
    """Say that the definition is the one that the log's first entry names. Raises Broken."""
    digest = jws.sha256(canonical(record["definition"]).encode())
    first = next((entry for entry in entries if entry.kind == "show"), None)
    if first is None or first.body.get("digest") != digest or record["digest"] != digest:
        raise Broken("the definition of the show is not the one that its first entry names")
    return f"the sheets are those that the show was made with, {digest}"


def files_hold(record: Record) -> str:
    """Say that each file is what its name says. Raises Broken."""
    for digest, text in record["files"].items():
        if jws.sha256(str(text).encode()) != digest:
            raise Broken(f"the file {digest} is another one")
    for digest, packed in record["drawn"].items():
        try:
            octets = base64.b64decode(str(packed), validate=True)
        except ValueError:
            raise Broken(f"the drawn name {digest} cannot be read") from None
        if jws.sha256(octets) != digest:
            raise Broken(f"the drawn name {digest} is another one")
    return f"{len(record['files'])} files and {len(record['drawn'])} drawn names are what their names say"


def sheets_hold(record: Record) -> str:
    """Say that every name was put to a sheet of the record, as served. Raises Broken where one was to another text."""
    fold = folded(record)
    held = fold.held
    names = signs(held)
    for sign in names:
        sheet = sheets(held).get(str(sign.body["sheet"]))
        if sheet is None:
            raise Broken(f"{sign.by} signed {sign.body['sheet']}, which the record does not hold")
        touching = sorted(one.name for one in amends(held) if one.body.get("sheet") == sheet["id"])
        if str(sign.body["digest"]) not in _digests(sheet["text"], touching):
            raise Broken(
                f"{sign.by} signed {sheet['id']} in another text than the record's (entry {sign.name})"
            )
    return f"{len(names)} names were put to sheets as they stand in the record"


def _digests(text: str, touching: list[str]) -> Iterator[str]:
    """What a signature over a sheet may be over: its text with any of the amends that its writer may have had."""
    known = touching[:MOST_AMENDS]
    for count in range(len(known) + 1):
        for some in combinations(known, count):
            yield jws.sha256("\n".join([text, *some]).encode())
    yield jws.sha256("\n".join([text, *touching]).encode())
