"""The photos that a record's entries name, as they may be printed."""

from collections.abc import Iterator, Mapping

from sqlalchemy.orm import Session

from server.crew import jws
from server.handover.pictures import NOT_ARRIVED, Picture, photo
from server.handover.record import Record
from server.logbook.entry import Entry, parse
from server.logbook.files import octets_of

Photos = Mapping[str, Picture]
"""By digest; what is not in it has not arrived."""


def photos(session: Session, unit: str, record: Record) -> Photos:
    """Each photo that has arrived here, drawn anew one after the other: no two originals are held at once."""
    digests = sorted({digest for text in record["entries"] for digest in named(parse(text))})
    return {digest: _printed(session, unit, digest) for digest in digests}


def named(entry: Entry) -> Iterator[str]:
    """Digests of the photos that an entry names."""
    told = [entry.body.get("file")] if entry.kind == "photo" else []
    exceptions = entry.body.get("exceptions") if entry.kind == "accept" else None
    if isinstance(exceptions, list):
        told += [one.get("photo") for one in exceptions if isinstance(one, dict)]
    return (str(digest) for digest in told if jws.is_digest(digest))


def _printed(session: Session, unit: str, digest: str) -> Picture:
    octets = octets_of(session, unit, digest)
    return NOT_ARRIVED if octets is None else photo(octets)
