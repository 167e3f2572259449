"""What somebody can do to a report's file who has not the keys of those who wrote it."""

import json
from io import BytesIO
from pathlib import Path

import pikepdf

from server.crew.jws import b64, unb64
from server.handover import RECORD
from server.handover.record import Record, octets
from server.handover.seal import seal
from server.logbook.entry import Entry, parse

AMONG_THE_PAGES = 2000


def flipped(pdf: bytes, place: int = AMONG_THE_PAGES) -> bytes:
    """The file with one bit of one byte turned over."""
    changed = bytearray(pdf)
    changed[place] ^= 1
    return bytes(changed)


def record_in(pdf: bytes) -> Record:
    """The record that a report carries."""
    with pikepdf.open(BytesIO(pdf)) as opened:
        record: Record = json.loads(opened.attachments[RECORD].get_file().read_bytes())
    return record


def carrying(pages: bytes, record: Record, certificate: Path) -> bytes:
    """The pages with another record in them, sealed anew by the certificate in that folder."""
    out = BytesIO()
    with pikepdf.open(BytesIO(pages)) as pdf:
        for name in ("/Perms", "/AcroForm"):  # an old seal goes with what it spoke of
            if name in pdf.Root:
                del pdf.Root[name]
        pdf.attachments[RECORD].obj.EF.F.write(octets(record))
        pdf.save(out)
    return seal(out.getvalue(), certificate)


def last_of(record: Record, kind: str) -> Entry:
    """The last entry of a kind in the record."""
    return next(entry for entry in map(parse, reversed(record["entries"])) if entry.kind == kind)


def with_figure(record: Record, entry: Entry, figure: str) -> Record:
    """The record with another figure in a reading, its signature left as it was."""
    header, payload, signature = entry.jws.split(".")
    body = json.loads(unb64(payload))
    body["body"]["figure"] = figure
    forged = b64(json.dumps(body, separators=(",", ":")).encode())
    return _swapped(record, entry, [f"{header}.{forged}.{signature}"])


def without(record: Record, entry: Entry) -> Record:
    """The record with an entry taken out."""
    return _swapped(record, entry, [])


def _swapped(record: Record, entry: Entry, instead: list[str]) -> Record:
    swapped = [one for text in record["entries"] for one in (instead if text == entry.jws else [text])]
    return record | {"entries": swapped}
