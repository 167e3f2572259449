"""Keeps the index of what entries say of the kit, as entries and cards come in; makes it again from the logs.

A value as indexed is `{name, by, for, witness, at, kind, body, key, roles, rests_on}`: as views show it, with the
roles of its writer.
"""

import json
import re
from collections.abc import Iterable, Sequence

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from server.crew import cards as crew_cards
from server.crew.card import Card
from server.crew.cards import cards_of_keys, unit_jwk
from server.kit.models import KitSaid
from server.logbook import kinds
from server.logbook.entry import Entry, parse
from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.judge import counts, is_state, roles_of
from server.logbook.models import EntryRow
from server.logbook.receipt import stored
from server.logbook.sync import of_log
from server.logbook.values import by_name, standing, values
from server.logbook.views import shown
from server.store import insert_new

SUBJECT = re.compile(r"kit/[^/]+(/(record|state|place|pre-use))?|locker/[^/]+/record")
"""What is indexed: records of items and lockers, state, place and pre-use check of an item, events that befell it."""

JUDGING = ("revoke", "admit", "withdraw")
"""Kinds that decide whether other entries count."""


def note_entry(entry: Entry, session: Session, unit: str) -> None:
    """Bring the index up to an entry as it is stored."""
    if entry.kind == "withdraw":
        _index(session, unit, entry.log, _subjects_of(session, unit, entry))
    elif entry.kind in JUDGING:
        _index_log(session, unit, entry.log)
    elif SUBJECT.fullmatch(entry.subject):
        _index(session, unit, entry.log, [entry.subject])


def note_card(card: Card, session: Session, unit: str) -> None:
    """Bring the index up to a card as it is kept: what its key wrote earlier may count now."""
    logs = select(EntryRow.log).where(EntryRow.unit == unit, EntryRow.kid == card.kid).distinct()
    for log in session.scalars(logs).all():
        _index_log(session, unit, log)


def rebuild(session: Session, unit: str) -> int:
    """Make the unit's index again from its entries; how many subjects of how many logs it holds."""
    session.execute(delete(KitSaid).where(KitSaid.unit == unit))
    logs = select(EntryRow.log).where(EntryRow.unit == unit).distinct()
    return sum(_index_log(session, unit, log) for log in session.scalars(logs).all())


def _subjects_of(session: Session, unit: str, withdraw: Entry) -> list[str]:
    named = withdraw.body.get("entries")
    names = [name for name in named if isinstance(name, str)] if isinstance(named, list) else []
    written = select(EntryRow.subject).where(
        EntryRow.unit == unit, EntryRow.log == withdraw.log, EntryRow.name.in_(names)
    )
    return [subject for subject in session.scalars(written.distinct()) if SUBJECT.fullmatch(subject)]


def _index_log(session: Session, unit: str, log: str) -> int:
    of_kit = EntryRow.subject.startswith("kit/") | EntryRow.subject.like("locker/%/record")
    subjects = select(EntryRow.subject).where(EntryRow.unit == unit, EntryRow.log == log, of_kit).distinct()
    found = [subject for subject in session.scalars(subjects) if SUBJECT.fullmatch(subject)]
    _index(session, unit, log, found)
    return len(found)


def _index(session: Session, unit: str, log: str, subjects: Sequence[str]) -> None:
    held = _folded(session, unit, log, subjects).held
    for subject in subjects:
        row = {"unit": unit, "log": log, "subject": subject}
        session.execute(delete(KitSaid).filter_by(**row))
        insert_new(session, KitSaid, row | _row(held, subject))


def _row(held: Held, subject: str) -> dict[str, object]:
    if subject.count("/") == 1:
        return _columns(held, "adds", _events(held, subject), [])
    written = by_name(held.of_subject(subject))
    return _columns(held, standing(held, subject).state, values(held, subject), written)


def _columns(held: Held, word: str, said: Iterable[Entry], written: Sequence[Entry]) -> dict[str, object]:
    replaced = {
        "counting": [one.name for one in written if is_state(held, one) and counts(held, one)],
        "leads": {one.name: list(one.replaces) for one in written if one.replaces},
    }
    return {
        "standing": word,
        "said": _json([_indexed(held, one) for one in said]),
        "replaced": _json(replaced),
    }


def _events(held: Held, subject: str) -> list[Entry]:
    written = held.of_subject(subject)
    return by_name(entry for entry in written if entry.kind == "event" and counts(held, entry))


def _indexed(held: Held, entry: Entry) -> dict[str, object]:
    roles = sorted(roles_of(held, entry.kid, entry.by))
    return {**shown(entry), "roles": roles, "rests_on": list(entry.rests_on)}


def _folded(session: Session, unit: str, log: str, subjects: Sequence[str]) -> Fold:
    """The fold of what these subjects rest on: their entries, those that judge, and the chains these speak of."""
    rows = {row.name: row for row in _rows(session, unit, log, subjects)}
    spoken_of = {_device(row.jws) for row in rows.values() if row.kind in {"revoke", "admit"}} - {None}
    if spoken_of:
        chains = of_log(unit, log).where(EntryRow.kid.in_(spoken_of))
        rows |= {row.name: row for row in session.scalars(chains)}
    fold = Fold(log=log, unit_key=unit_jwk(unit), kinds=kinds.load(), sheets=[])
    fold.add_cards(cards_of_keys(session, unit, {row.kid for row in rows.values()}))
    fold.add_entries([row.jws for row in rows.values()])
    return fold


def _rows(session: Session, unit: str, log: str, subjects: Sequence[str]) -> Iterable[EntryRow]:
    yield from session.scalars(of_log(unit, log).where(EntryRow.kind.in_(JUDGING)))
    if len(subjects) > 1:
        of_kit = EntryRow.subject.startswith("kit/") | EntryRow.subject.like("locker/%/record")
        yield from session.scalars(of_log(unit, log).where(of_kit))
    elif subjects:
        yield from session.scalars(of_log(unit, log).where(EntryRow.subject == subjects[0]))


def _device(text: str) -> str | None:
    device = parse(text).body.get("device")
    return device if isinstance(device, str) else None


def _json(value: object) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False)


stored.connect(note_entry)
crew_cards.kept.connect(note_card)
