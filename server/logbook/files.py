"""Photos, drawn names and definitions, kept verbatim under their SHA-256 in the data folder."""

import os
import secrets
from collections.abc import Iterable, Iterator
from http import HTTPStatus
from pathlib import Path

from flask import current_app
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from server.crew import jws
from server.logbook.entry import Entry
from server.logbook.models import File
from server.problem import Problem
from server.store import insert_new

LARGEST_MIB = 16
QUOTA = 2 * 1024 * 1024 * 1024


def path_of(unit: str, digest: str) -> Path:
    """Where a file of a unit is kept."""
    return Path(current_app.config["HANDLINE_DATA"]) / "files" / unit / digest


def keep(session: Session, unit: str, kid: str, octets: bytes, media_type: str) -> str:
    """Keep a file for a device; its digest. One that is here already costs nothing.

    Raises Problem where it is larger than one file may be, or the device's quota is used up.
    """
    digest = jws.sha256(octets)
    if len(octets) > LARGEST_MIB * 1024 * 1024:
        raise Problem(
            HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
            f"A file may be {LARGEST_MIB} MiB at most. Take a smaller picture.",
        )
    path = path_of(unit, digest)
    if session.get(File, (unit, digest)) is None:
        used = session.scalar(select(func.sum(File.size)).where(File.unit == unit, File.kid == kid)) or 0
        if used + len(octets) > QUOTA:
            raise Problem(HTTPStatus.INSUFFICIENT_STORAGE, "This phone has used up its 2 GiB of files here.")
        row = {"unit": unit, "digest": digest, "kid": kid, "size": len(octets), "media_type": media_type}
        insert_new(session, File, row)
    if not path.exists():
        _write(path, octets)
    return digest


def octets_of(session: Session, unit: str, digest: str) -> bytes | None:
    """A file's octets, or None where it has not arrived (or its octets are not what they were)."""
    if session.get(File, (unit, digest)) is None:
        return None
    try:
        octets = path_of(unit, digest).read_bytes()
    except FileNotFoundError:
        return None
    return octets if jws.sha256(octets) == digest else None


def _write(path: Path, octets: bytes) -> None:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    new = path.with_name(f"{secrets.token_hex(8)}.new")
    with os.fdopen(os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(octets)
        file.flush()
        os.fsync(file.fileno())
    new.rename(path)


def named_by(
    session: Session, unit: str, entries: Iterable[Entry], kind: str, member: str
) -> Iterator[tuple[str, bytes]]:
    """The digests that a member of entries of a kind names, each with its octets; what has not arrived is left out."""
    for entry in entries:
        digest = entry.body.get(member) if entry.kind == kind else None
        octets = octets_of(session, unit, digest) if isinstance(digest, str) else None
        if isinstance(digest, str) and octets is not None:
            yield digest, octets
