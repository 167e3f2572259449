"""What a phone fetches of a log: entries from a cursor on, and what is known to be missing."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import cards_of_keys, cards_of_people
from server.logbook.entry import parse
from server.logbook.heads import heads
from server.logbook.models import EntryRow, File, FileNamed, Log
from server.logbook.receipt import NOTHING_YET


@dataclass(frozen=True)
class Cursor:
    """A place in a log: how many entries were fetched, and the running hash over their names."""

    receipt: int
    running: str

    def __str__(self) -> str:
        return jws.b64(f"{self.receipt} {self.running}".encode("ascii"))

    @classmethod
    def read(cls, text: str) -> "Cursor":
        """The cursor of a text that was given out. Raises ValueError."""
        number, _, running = jws.unb64(text).decode("ascii").partition(" ")
        return cls(int(number), running)


START = Cursor(0, NOTHING_YET)


def page(session: Session, unit: str, log: str, cursor: str | None, limit: int) -> dict[str, object]:
    """At most `limit` entries after a cursor, their writers' cards, heads and files that have not arrived.

    `{"restart": True}` where the cursor is of another history than this server's. The caller's transaction
    sees one moment, so that heads and entries are of the same one.
    """
    start = _place(session, unit, log, cursor)
    if start is None:
        return {"restart": True}
    later = of_log(unit, log).where(EntryRow.receipt > start.receipt).order_by(EntryRow.receipt)
    rows = session.scalars(later.limit(limit + 1)).all()
    more, rows = len(rows) > limit, rows[:limit]
    end = Cursor(rows[-1].receipt, rows[-1].running) if rows else start
    return {
        "entries": [row.jws for row in rows],
        "cards": cards_for(session, unit, rows),
        "cursor": str(end),
        "more": more,
        "heads": heads_of(session, unit, log),
        "files_missing": files_missing(session, unit, log),
    }


def of_log(unit: str, log: str) -> Select[EntryRow]:
    """The entries of a log."""
    return select(EntryRow).where(EntryRow.unit == unit, EntryRow.log == log)


def cards_for(session: Session, unit: str, rows: Sequence[EntryRow]) -> list[str]:
    """Cards of the writers of these entries and of those on whose word they wrote, sorted."""
    of_writers = cards_of_keys(session, unit, {row.kid for row in rows})
    spoken_for = {parse(row.jws).for_ for row in rows} - {None}
    return sorted({*of_writers, *cards_of_people(session, unit, [str(person) for person in spoken_for])})


def heads_of(session: Session, unit: str, log: str) -> dict[str, dict[str, list[object]]]:
    """Tips and gaps of every device that wrote in a log."""
    links = select(EntryRow.name, EntryRow.kid, EntryRow.number, EntryRow.previous)
    return heads(session.execute(links.where(EntryRow.unit == unit, EntryRow.log == log)).all())


def files_missing(session: Session, unit: str, log: str) -> list[str]:
    """Digests of the files that entries of a log name and that are not here, sorted."""
    here = select(File.digest).where(File.unit == unit)
    named = select(FileNamed.digest).where(FileNamed.unit == unit, FileNamed.log == log)
    return list(session.scalars(named.where(FileNamed.digest.not_in(here)).order_by(FileNamed.digest)))


def _place(session: Session, unit: str, log: str, text: str | None) -> Cursor | None:
    if text is None:
        return START
    try:
        cursor = Cursor.read(text)
    except ValueError:
        return None
    if cursor == START:
        return START
    if session.get(Log, (unit, log)) is None or not 0 < cursor.receipt < 2**31:
        return None
    row = session.get(EntryRow, (unit, log, cursor.receipt))
    return cursor if row is not None and row.running == cursor.running else None
