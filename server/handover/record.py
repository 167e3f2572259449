"""The full record of a show, as it is attached to the report: what every figure in it can be computed from again."""

import base64
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy.orm import Session

from server.crew.cards import cards_of_unit, unit_jwk
from server.logbook import kinds
from server.logbook.carried import carried_over, carried_used
from server.logbook.entry import Entry, parse
from server.logbook.files import named_by
from server.logbook.fold import Carried, Fold, History, fold
from server.logbook.heads import heads
from server.logbook.models import EntryRow
from server.logbook.sync import of_log
from server.sheets.expand import canonical
from server.shows.make import definition_of
from server.shows.models import Show

Record = dict[str, Any]


class NoShow(LookupError):  # noqa: N818 - the sentence is shown as it stands
    """There is no such show here, or its definition has not arrived; the message says which."""


def collect(session: Session, unit: str, show: str) -> Record:
    """The record of a show of a unit, as this server holds it now.

    `{form, log, unit_key, digest, definition, cards, carried_over, entries, heads, tips, gaps, handed_over,
    files, drawn}`: entries and cards verbatim in order of receipt; `carried_over` what the unit's other logs say
    of this show's kit, `{log, entries}` each; `heads` by key, the names that the last hand-over gives where there
    is one; `tips` by key, the last of each phone's entries among these, whatever came after the hand-over; `gaps`
    by key, [first, last] of what was written and has not arrived; `files` the texts that amends name, by digest;
    `drawn` the drawn names, by digest, in base64.
    Raises NoShow.
    """
    row = session.get(Show, (unit, show))
    definition = None if row is None else definition_of(session, unit, row.digest)
    if row is None or definition is None:
        raise NoShow(f"there is no show {show} here, or its definition has not arrived")
    rows = session.scalars(of_log(unit, show).order_by(EntryRow.receipt)).all()
    entries = [parse(row.jws) for row in rows]
    last = last_hand_over(entries)
    return {
        "form": 1,
        "log": show,
        "unit_key": unit_jwk(unit),
        "digest": row.digest,
        "definition": definition,
        "cards": cards_of_unit(session, unit),
        "carried_over": _carried_over(session, unit, show, entries, definition),
        "entries": [entry.jws for entry in entries],
        "heads": heads_named(last) if last else tips_by_key(entries),
        "tips": tips_by_key(entries),
        "gaps": {key: found["gaps"] for key, found in heads(entries).items() if found["gaps"]},
        "handed_over": last.name if last else None,
        "files": dict(_files(session, unit, entries)),
        "drawn": dict(_drawn(session, unit, entries)),
    }


def folded(record: Record) -> Fold:
    """The fold of a record."""
    texts = record["definition"]["sheets"]
    return fold(
        History(
            log=record["log"],
            unit_key=record["unit_key"],
            cards=record["cards"],
            kinds=kinds.load(),
            sheets=[{"id": json.loads(text)["id"], "text": text} for text in texts],
            carried_over=record["carried_over"],
            entries=record["entries"],
            files=record["files"],
        )
    )


def octets(record: Record) -> bytes:
    """The record as it is attached: canonical JSON, the same for the same record."""
    return canonical(record).encode()


def last_hand_over(entries: Iterable[Entry]) -> Entry | None:
    """The `hand-over` entry that was received last, or None."""
    return next((entry for entry in reversed(list(entries)) if entry.kind == "hand-over"), None)


def heads_named(hand_over: Entry) -> dict[str, list[str]]:
    """Heads by key, as a `hand-over` entry names them; those that are not lists of names are left out."""
    named = hand_over.body.get("heads")
    if not isinstance(named, dict):
        return {}
    return {key: sorted(map(str, tips)) for key, tips in sorted(named.items()) if isinstance(tips, list)}


def tips_by_key(entries: Iterable[Entry]) -> dict[str, list[str]]:
    """Heads by key, as the entries themselves give them."""
    return {key: sorted(map(str, found["tips"])) for key, found in sorted(heads(list(entries)).items())}


def _carried_over(
    session: Session, unit: str, show: str, entries: Sequence[Entry], definition: Mapping[str, Any]
) -> list[Carried]:
    """What the unit's other logs say of the kit that the report tells of."""
    kit = [*definition["kit"], *(one for _, text in _files(session, unit, entries) for one in _kit_of(text))]
    tags = {str(one["tag"]) for one in kit if isinstance(one, dict) and "tag" in one}
    return carried_used(carried_over(session, unit, show), entries, tags)


def _kit_of(text: str) -> list[Any]:
    added = json.loads(text)
    kit = added.get("kit") if isinstance(added, dict) else None
    return kit if isinstance(kit, list) else []


def _files(session: Session, unit: str, entries: Iterable[Entry]) -> Iterable[tuple[str, str]]:
    for digest, held in named_by(session, unit, entries, "amend", "digest"):
        if _is_json(held):
            yield digest, held.decode()


def _drawn(session: Session, unit: str, entries: Iterable[Entry]) -> Iterable[tuple[str, str]]:
    for digest, held in named_by(session, unit, entries, "sign", "drawn"):
        yield digest, base64.b64encode(held).decode()


def _is_json(held: bytes) -> bool:
    try:
        json.loads(held)
    except ValueError:
        return False
    return True
