"""What is carried over from a unit's other logs: what they say of kit, and what it takes to judge that."""

from collections.abc import Callable, Iterable, Sequence

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session

from server.crew import jws
from server.logbook.entry import Entry, parse
from server.logbook.fold import Carried
from server.logbook.models import EntryRow, Log

KIT = "kit/"
OF_DEVICES = {"revoke", "admit"}


_kept: dict[tuple[str, str], tuple[str, list[str]]] = {}
"""What each log says of kit, by unit and log, with the log's running hash: it says the same while that is the same."""


def carried_over(session: Session, unit: str, log: str) -> list[Carried]:
    """What the unit's other logs say of kit, by their ids; entries verbatim, in order of receipt."""
    others = select(Log.id, Log.running).where(Log.unit == unit, Log.id != log).order_by(Log.id)
    carried: list[Carried] = []
    for other, running in session.execute(others).all():
        kept = _kept.get((unit, other))
        if kept is None or kept[0] != running:
            kept = running, _said_in(session, unit, other)
            _kept[unit, other] = kept
        if kept[1]:
            carried.append({"log": other, "entries": kept[1]})
    return carried


def carried_used(
    carried: Sequence[Carried], entries: Iterable[Entry], tags: Iterable[str] = ()
) -> list[Carried]:
    """Of what is carried over, what a log's entries lean on or what its report tells of the kit with these tags.

    That is all that is said of each subject of which `replaces` or `rests_on` names an entry, and of these tags,
    and what it takes to judge it. It travels in the record, so that the record alone gives the same answers.
    """
    named = {name for entry in entries for name in (*entry.replaces, *entry.rests_on)}
    shelf = {one["log"]: [parse(text) for text in one["entries"]] for one in carried}
    subjects = {entry.subject for found in shelf.values() for entry in found if entry.name in named}
    tops = {f"{KIT}{tag}" for tag in tags}

    def is_used(subject: str) -> bool:
        return subject in subjects or "/".join(subject.split("/")[:2]) in tops

    kept = {log: about(found, is_used) for log, found in shelf.items()}
    return [
        {"log": log, "entries": [entry.jws for entry in found]}
        for log, found in kept.items()
        if any(is_used(entry.subject) for entry in found)
    ]


def is_of_kit(subject: str) -> bool:
    """Whether a subject is a thing of kit, or below one."""
    return subject.startswith(KIT)


def about(entries: Sequence[Entry], is_asked: Callable[[str], bool]) -> list[Entry]:
    """Of one log's entries, in their order, those that its fold needs to say how some subjects stand.

    Those on the subjects, what they name as replaced, the withdraws that name them, and of revoked and admitted
    devices the whole chains, since a revocation lets stand what its head leads back to.
    """
    asked = {entry.name for entry in entries if is_asked(entry.subject)}
    replaced = {name for entry in entries if entry.name in asked for name in entry.replaces}
    devices = _devices(entries)

    def is_needed(entry: Entry) -> bool:
        named = entry.body.get("entries") if entry.kind == "withdraw" else None
        return (
            entry.name in asked | replaced
            or entry.kind in OF_DEVICES
            or entry.kid in devices
            or (isinstance(named, list) and any(jws.is_digest(name) and name in asked for name in named))
        )

    return [entry for entry in entries if is_needed(entry)]


def _said_in(session: Session, unit: str, log: str) -> list[str]:
    of_kit_or_judging = or_(EntryRow.subject.startswith(KIT), EntryRow.kind.in_([*OF_DEVICES, "withdraw"]))
    found = dict(_entries(session, unit, log, of_kit_or_judging))
    found |= _behind(session, unit, log, found.values())
    kept = about([found[receipt] for receipt in sorted(found)], is_of_kit)
    return [entry.jws for entry in kept] if any(is_of_kit(entry.subject) for entry in kept) else []


def _entries(
    session: Session, unit: str, log: str, wanted: ColumnElement[bool]
) -> Iterable[tuple[int, Entry]]:
    rows = select(EntryRow.receipt, EntryRow.jws).where(EntryRow.unit == unit, EntryRow.log == log, wanted)
    return ((receipt, parse(text)) for receipt, text in session.execute(rows))


def _behind(session: Session, unit: str, log: str, entries: Iterable[Entry]) -> dict[int, Entry]:
    """What else of a log may be needed: revoked and admitted devices' entries, and those named as replaced."""
    found = list(entries)
    devices = _devices(found)
    here = {one.name for one in found}
    replaced = {name for one in found if is_of_kit(one.subject) for name in one.replaces} - here
    if not devices and not replaced:
        return {}
    return dict(_entries(session, unit, log, or_(EntryRow.kid.in_(devices), EntryRow.name.in_(replaced))))


def _devices(entries: Iterable[Entry]) -> set[str]:
    named = (entry.body.get("device") for entry in entries if entry.kind in OF_DEVICES)
    return {str(device) for device in named if jws.is_digest(device)}
