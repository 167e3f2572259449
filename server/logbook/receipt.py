"""Receipt: what becomes of entries that are sent in, after section 4 of the logbook's page.

Receipt keeps; it judges nothing. `stored`, `known`, `wait` and `refused` are said of each entry by itself, in
the order sent, and a refused one stands in no other's way.
"""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from blinker import Signal
from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import jwk_of, take
from server.crew.models import Device
from server.logbook.entry import MAX_CHARACTERS, Entry, Refused, parse
from server.logbook.models import LONGEST_KIND, EntryRow, FileNamed, Log, Waiting
from server.store import insert_new, now_s

stored = Signal("Sent for each entry as it is stored, in its transaction: sender Entry; session, unit.")

NOTHING_YET = jws.b64(bytes(32))


@dataclass(frozen=True)
class Receipt:
    """The answer for one entry: its name, `stored`, `known`, `wait` or `refused`, and why it was refused."""

    name: str
    answer: str
    reason: str | None = None


def receive(
    session: Session, unit: str, log: str, cards: Sequence[str], entries: Sequence[str]
) -> list[Receipt]:
    """Take in cards and entries of a log, in a transaction that the caller holds; an answer for each entry.

    A log that is not known here is opened for the unit. What waited for one of these cards is taken in first.
    """
    take(session, unit, cards)
    row = locked(session, unit, log)
    receipts = _Receipts(session, row)
    receipts.take_waiting()
    return [receipts.take(text) for text in entries]


def logs_waiting_for_cards_held(session: Session, unit: str) -> list[str]:
    """Logs in which an entry waits whose card is here by now, sorted."""
    there = (Device.unit == Waiting.unit) & (Device.kid == Waiting.kid)
    logs = select(Waiting.log).join(Device, there).where(Waiting.unit == unit).distinct()
    return sorted(session.scalars(logs))


def locked(session: Session, unit: str, log: str) -> Log:
    """The log's row, held until the transaction ends, opened if it was not there."""
    insert_new(
        session, Log, {"unit": unit, "id": log, "last": 0, "running": NOTHING_YET, "opened_s": now_s()}
    )
    held = select(Log).where(Log.unit == unit, Log.id == log).with_for_update()
    return session.scalars(held.execution_options(populate_existing=True)).one()


def next_hash(running: str, name: str) -> str:
    """The running hash after one more name."""
    return jws.b64(hashlib.sha256(f"{running}{name}".encode("ascii")).digest())


class _Receipts:
    """Receipts of one log, whose row this transaction holds."""

    def __init__(self, session: Session, log: Log) -> None:
        self._session = session
        self._log = log

    def take(self, text: str) -> Receipt:
        name = _name(text)
        held = self._held(name)
        if held == text:
            return Receipt(name, "known")
        try:
            entry = parse(text, self._log.id)
            jwk = jwk_of(self._session, self._log.unit, entry.kid)
            if jwk is None:
                self._wait(entry)
                return Receipt(name, "wait")
            if not entry.signed_by(jwk):
                raise Refused("the signature is false: this is not what the phone wrote")
        except Refused as fault:
            return Receipt(name, "refused", str(fault))
        if held is not None:
            return Receipt(name, "known")
        self._store(entry)
        return Receipt(name, "stored")

    def take_waiting(self) -> None:
        """Take in what waited for cards that are here now; what turns out false goes."""
        there = (Device.unit == Waiting.unit) & (Device.kid == Waiting.kid)
        mine = (Waiting.unit == self._log.unit, Waiting.log == self._log.id)
        for row in self._session.scalars(select(Waiting).join(Device, there).where(*mine)).all():
            self.take(row.jws)
            self._session.execute(delete(Waiting).where(*mine, Waiting.digest == row.digest))

    def _held(self, name: str) -> str | None:
        mine = (EntryRow.unit == self._log.unit, EntryRow.log == self._log.id)
        return self._session.scalar(select(EntryRow.jws).where(*mine, EntryRow.name == name))

    def _wait(self, entry: Entry) -> None:
        row = {
            "unit": self._log.unit,
            "log": self._log.id,
            "digest": jws.sha256(entry.jws.encode("ascii")),
            "kid": entry.kid,
            "jws": entry.jws,
        }
        insert_new(self._session, Waiting, row)

    def _store(self, entry: Entry) -> None:
        log = self._log
        log.last += 1
        log.running = next_hash(log.running, entry.name)
        self._session.add(
            EntryRow(
                unit=log.unit,
                log=log.id,
                receipt=log.last,
                running=log.running,
                name=entry.name,
                kid=entry.kid,
                number=entry.number,
                previous=entry.previous,
                subject=entry.subject,
                kind=entry.kind[:LONGEST_KIND],
                received_s=now_s(),
                jws=entry.jws,
            )
        )
        for digest in files_named(entry):
            insert_new(self._session, FileNamed, {"unit": log.unit, "log": log.id, "digest": digest})
        self._session.flush()
        stored.send(entry, session=self._session, unit=log.unit)


def files_named(entry: Entry) -> set[str]:
    """Digests of the files that an entry names: photos, drawn names, definitions of a show or an amend."""
    members = {"file", "drawn", "photo"} | ({"digest"} if entry.kind in {"show", "amend"} else set())
    return set(_digests(entry.body, members))


def _digests(value: object, members: set[str]) -> Iterable[str]:
    if isinstance(value, dict):
        for member, inner in value.items():
            if member in members and jws.is_digest(inner):
                yield str(inner)
            yield from _digests(inner, members)
    elif isinstance(value, list):
        for inner in value:
            yield from _digests(inner, members)


def _name(text: str) -> str:
    return jws.sha256(text[: MAX_CHARACTERS * 2].rpartition(".")[0].encode("utf-8"))
