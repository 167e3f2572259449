"""What the server's own device writes: a show from the command line, and revocations in every open log."""

from collections.abc import Sequence
from datetime import UTC, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from server.crew.cards import key_files
from server.crew.models import Device
from server.logbook import entry
from server.logbook.heads import tips
from server.logbook.models import EntryRow, Log
from server.logbook.receipt import locked, receive
from server.logbook.sync import of_log

SERVER = "server"


def write(
    session: Session,
    unit: str,
    log: str,
    subject: str,
    kind: str,
    body: dict[str, object],
    rests_on: Sequence[str] = (),
    replaces: Sequence[str] = (),
) -> str:
    """Write an entry by the server's own device, in the caller's transaction; its name."""
    locked(session, unit, log)
    keys = key_files(unit)
    last = session.scalar(
        of_log(unit, log).where(EntryRow.kid == keys.device_kid).order_by(EntryRow.number.desc()).limit(1)
    )
    payload = {
        "log": log,
        "number": last.number + 1 if last else 1,
        "previous": last.name if last else None,
        "at": datetime.now(UTC).isoformat(timespec="seconds"),
        "by": SERVER,
        "subject": subject,
        "kind": kind,
        "body": body,
        "rests_on": list(rests_on),
        "replaces": list(replaces),
    }
    [receipt] = receive(session, unit, log, [], [entry.write(payload, keys.device)])
    if receipt.answer != "stored":
        raise RuntimeError(f"the server's own entry was {receipt.answer}: {receipt.reason}")
    return receipt.name


def repeat_revocations(session: Session, unit: str) -> None:
    """Write each revocation of a device in every open log that has none of it by the server's own device.

    What the device had written by then stands; in a log opened since, nothing of it does.
    """
    revoked = select(Device).where(Device.unit == unit, Device.revoked_s.is_not(None))
    devices = session.scalars(revoked.order_by(Device.kid)).all()
    if not devices:
        return
    for log in open_logs(session, unit):
        row = locked(session, unit, log)
        said = _revoked_here(session, unit, log)
        for device in devices:
            if device.kid not in said:
                since = device.revoked_s is not None and row.opened_s > device.revoked_s
                head = None if since else head_of(session, unit, log, device.kid)
                write(
                    session, unit, log, f"device/{device.kid}", "revoke", {"device": device.kid, "head": head}
                )


def open_logs(session: Session, unit: str) -> list[str]:
    """Logs of a unit that nobody has closed, sorted."""
    closed = select(EntryRow.log).where(EntryRow.unit == unit, EntryRow.kind == "close")
    return list(
        session.scalars(select(Log.id).where(Log.unit == unit, Log.id.not_in(closed)).order_by(Log.id))
    )


def head_of(session: Session, unit: str, log: str, kid: str) -> str | None:
    """A device's head in a log: of two, the one with the higher number."""
    chain = session.scalars(of_log(unit, log).where(EntryRow.kid == kid)).all()
    heads = set(tips(chain))
    return max(((row.number, row.name) for row in chain if row.name in heads), default=(0, None))[1]


def _revoked_here(session: Session, unit: str, log: str) -> set[object]:
    own = key_files(unit).device_kid
    rows = session.scalars(of_log(unit, log).where(EntryRow.kind == "revoke", EntryRow.kid == own))
    return {entry.parse(row.jws).body.get("device") for row in rows}
