"""A show is made: its definition kept as a file, and the entries that begin its log."""

import json
import re

from sqlalchemy.orm import Session

from server.crew.cards import key_files
from server.logbook import own
from server.logbook.files import keep, octets_of
from server.logbook.models import Log
from server.sheets.expand import canonical

JSON_TYPE = "application/json"

Definition = dict[str, object]


def log_id(definition: Definition) -> str:
    """The id of a show's log, from its title and first day."""
    word = re.sub(r"[^a-z0-9]+", "-", str(definition["title"]).lower()).strip("-")[:60]
    return f"show-{word or 'untitled'}-{str(definition['starts']).replace('-', '')}"


def free_log_id(session: Session, unit: str, definition: Definition) -> str:
    """The same, with a number behind it where the unit has that log already."""
    first = log_id(definition)
    candidate, number = first, 2
    while session.get(Log, (unit, candidate)) is not None:
        candidate, number = f"{first}-{number}", number + 1
    return candidate


def keep_definition(session: Session, unit: str, kid: str, definition: Definition) -> str:
    """Keep a definition as a file, for a device; its digest."""
    return keep(session, unit, kid, canonical(definition).encode(), JSON_TYPE)


def definition_of(session: Session, unit: str, digest: str) -> Definition | None:
    """The definition that a digest names, or None where its file has not arrived."""
    octets = octets_of(session, unit, digest)
    return None if octets is None else dict(json.loads(octets))


def show_body(definition: Definition, digest: str) -> dict[str, object]:
    """What the `show` entry says."""
    said = {member: definition[member] for member in ("zone", "title", "site", "starts", "ends")}
    return {**said, "digest": digest}


def assigns(definition: Definition) -> list[tuple[str, dict[str, object]]]:
    """Subject and body of the entries that state each position's chain."""
    stated: list[tuple[str, dict[str, object]]] = []
    positions = definition["positions"]
    if not isinstance(positions, list):
        raise TypeError("a definition's positions are a list")
    for position in positions:
        for slot, tag in position["chain"].items():
            body = {"tags": tag} if slot == "run" else {"tag": tag}
            stated.append((f"position/{position['id']}/chain/{slot}", body))
    return stated


def begin(session: Session, unit: str, definition: Definition) -> str:
    """Begin a show's log by the server's own device: `show`, then each position's chain; the log's id."""
    log = free_log_id(session, unit, definition)
    digest = keep_definition(session, unit, key_files(unit).device_kid, definition)
    own.write(session, unit, log, "show", "show", show_body(definition, digest))
    for subject, body in assigns(definition):
        own.write(session, unit, log, subject, "assign", body)
    return log
