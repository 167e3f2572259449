"""The report of a show, from this server's logs to a sealed file."""

from pathlib import Path

from sqlalchemy.orm import Session

from server.crew.models import Unit
from server.handover.gather import gather
from server.handover.photos import photos
from server.handover.record import collect, octets
from server.handover.render import pages
from server.handover.seal import make_certificate, seal


def report(session: Session, unit: str, show: str, data: Path) -> bytes:
    """The sealed PDF of a show as this server holds it now; a draft until somebody hands over.

    Raises NoShow, CannotPrint, NoCertificate.
    """
    record = collect(session, unit, show)
    row = session.get(Unit, unit)
    make_certificate(data, row.name if row else unit)
    return seal(pages(gather(record, photos(session, unit, record)), octets(record)), data)
