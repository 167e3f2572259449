"""An index of what revocations say, for the server's own use: whose session may no longer read."""

from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import key_files, roles_of
from server.crew.models import Device
from server.logbook.entry import Entry
from server.logbook.receipt import stored
from server.store import now_s


def note_revocation(entry: Entry, session: Session, unit: str) -> None:
    """Mark a device revoked as a counting `revoke` of it is stored; the server's own device cannot be."""
    device = entry.body.get("device")
    if entry.kind != "revoke" or not jws.is_digest(device) or device == key_files(unit).device_kid:
        return
    head = entry.body.get("head", False)
    if head is not None and not jws.is_digest(head):
        return
    if not roles_of(session, unit, entry.kid, entry.by) & {"chief", "server"}:
        return
    row = session.get(Device, (unit, str(device)))
    if row is not None and row.revoked_s is None:
        row.revoked_s = now_s()


stored.connect(note_revocation)
