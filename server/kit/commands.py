"""What the kit's commands do; each returns what to print."""

import json
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy.orm import Session

from server.kit.current import current
from server.kit.fields import item_fields
from server.kit.importing import plan_import, write_import
from server.kit.index import rebuild
from server.kit.labels import WHAT, labels_of
from server.kit.papers import paper_of
from server.kit.table import lockers_of, read_csv, write_csv
from server.sheets import served
from server.sheets.definitions import Unit
from server.sheets.lines import Fault


class BadFile(ValueError):  # noqa: N818 - said to whoever runs the command, by this name
    """A kit list cannot be taken in; the message names every bad row with its line and column."""


def rebuild_index(session: Session, unit: str) -> str:
    """Make the unit's index of the kit again."""
    return f"Made the index of the kit again: {rebuild(session, unit)} subjects."


def import_kit(session: Session, unit: str, file: Path, *, dry_run: bool) -> str:
    """Take a kit list in, all of it or none, in the caller's transaction. Raises BadFile."""
    faults: list[Fault] = []
    try:
        octets = file.read_bytes()
    except OSError as fault:
        raise BadFile(f"{file} cannot be read: {fault.strerror}") from None
    rows = read_csv(octets, file.name, faults)
    kit = current(session, unit)
    planned = plan_import(kit, rows, file.name, faults)
    if planned.faults:
        told = "\n".join(map(str, planned.faults))
        raise BadFile(f"{told}\n{len(planned.faults)} faults: nothing was taken in.")
    if dry_run:
        return f"Would take in {file.name}: {planned.says()}"
    write_import(session, unit, kit, planned)
    return f"Took in {file.name}: {planned.says()}"


def export_kit(session: Session, unit: str, out: Path) -> str:
    """Write the kit as it stands to a .csv or .json file. Raises BadFile."""
    stands = current(session, unit).unit
    writers = {".csv": write_csv, ".json": write_json}
    write = writers.get(out.suffix.lower())
    if write is None:
        raise BadFile(f"{out}: give a name that ends in .csv or .json")
    try:
        out.write_bytes(write(stands).encode())
    except OSError as fault:
        raise BadFile(f"{out} cannot be written: {fault.strerror}") from None
    return f"Wrote {out}: {len(stands.kit)} things."


def label_kit(
    session: Session,
    unit: str,
    out: Path,
    what: Sequence[str],
    paper: str,
    tags: Sequence[str],
    skip: int,
    site: str,
) -> str:
    """Print labels to a PDF. Raises NoPaper, CannotLabel, BadFile."""
    from server.kit.label_pages import print_labels

    found = labels_of(current(session, unit).unit, what or WHAT, tags)
    octets = print_labels(found, paper_of(paper), site, skip)
    try:
        out.write_bytes(octets)
    except OSError as fault:
        raise BadFile(f"{out} cannot be written: {fault.strerror}") from None
    return f"Wrote {out}: {len(found)} labels on {paper}. Print at full size, with no scaling to the page."


def write_json(unit: Unit) -> str:
    """The kit as JSON: `{unit, kit: [{tag, name, type, number, mass_kg, dates, about, lockers}], lockers}`."""
    places = lockers_of(unit)
    kit = [{"tag": item.tag, **item_fields(item), "lockers": places.get(item.tag, {})} for item in unit.kit]
    told = {"unit": unit.id, "kit": kit, "lockers": served.lockers(unit)}
    return json.dumps(told, indent=2, ensure_ascii=False) + "\n"
