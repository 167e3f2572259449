"""`handline revoke`: a device is cut off by the server's own device, in every open log."""

from sqlalchemy.orm import Session

from server.crew.models import Device
from server.logbook.own import repeat_revocations
from server.store import now_s


def revoke_device(session: Session, unit: str, kid: str) -> str:
    """Revoke a device at what it has written by now; a sentence that says so.

    Raises ValueError where the unit has no such device.
    """
    device = session.get(Device, (unit, kid))
    if device is None:
        raise ValueError(f"this unit has no device {kid}: the chief's page of phones lists their keys")
    device.revoked_s = device.revoked_s or now_s()
    repeat_revocations(session, unit)
    return f"Revoked {kid}: what it wrote until now stands, what it writes from now on does not count."
