"""The kit as a table: one row a thing, written and read as CSV without loss.

Columns are `tag`, `name`, `type`, `number`, `mass_kg`, `lockers`, `dates.made`, `dates.examined`, `dates.tested`,
`dates.due`, and `about.KEY` for whatever else is known. `lockers` says where it belongs: `L3` for all of it, or
`L3:8 L1:4`. The order of columns is free.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from server.kit.fields import DATES
from server.sheets.definitions import Item, Unit
from server.sheets.lines import Fault

PLAIN = ("tag", "name", "type", "number", "mass_kg", "lockers")
DATED = tuple(f"dates.{name}" for name in DATES)
ABOUT = "about."


@dataclass(frozen=True)
class Row:
    """A row of a file: its line, and its cells by column; an empty cell is empty text."""

    line: int
    cells: Mapping[str, str]


def write_csv(unit: Unit) -> str:
    """The unit's kit as CSV, in its own order."""
    keys = sorted({key for item in unit.kit for key in item.about})
    columns = [*PLAIN, *DATED, *(f"{ABOUT}{key}" for key in keys)]
    places = lockers_of(unit)
    out = io.StringIO()
    table = csv.DictWriter(out, columns, restval="", lineterminator="\r\n")
    table.writeheader()
    table.writerows(_cells(item, places.get(item.tag, {})) for item in unit.kit)
    return out.getvalue()


def lockers_of(unit: Unit) -> dict[str, dict[str, str]]:
    """For each tag how many of it each locker lists."""
    places: dict[str, dict[str, str]] = {}
    for locker in unit.lockers:
        for held in locker.holds:
            places.setdefault(str(held.tag), {})[str(locker.id)] = str(held.number)
    return places


def read_csv(octets: bytes, name: str, faults: list[Fault]) -> list[Row]:
    """The rows of a CSV file, with a fault noted for each that cannot be read; a row of empty cells is none."""
    try:
        text = octets.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = octets[: fault.start].count(b"\n") + 1
        faults.append(Fault(name, line, "not UTF-8 text: save the file as CSV in UTF-8"))
        return []
    records = list(_records(text, name, faults))
    if not records:
        faults.append(Fault(name, 1, "the first line must name the columns; this file is empty"))
        return []
    (line, head), *rest = records
    columns = [cell.strip() for cell in head]
    found = list(_head_faults(columns, name, line))
    faults += found
    return [] if found else [row for row in _rows(columns, rest, name, faults) if any(row.cells.values())]


def _records(text: str, name: str, faults: list[Fault]) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    line = 1
    try:
        for record in reader:
            yield line, record
            line = reader.line_num + 1
    except csv.Error as fault:
        faults.append(Fault(name, line, f"not CSV: {fault}"))


def _head_faults(columns: Sequence[str], name: str, line: int) -> Iterator[Fault]:
    if len(columns) == 1 and any(mark in columns[0] for mark in ";\t"):
        yield Fault(name, line, "the columns are not parted by commas: save the file as CSV with commas")
        return
    for column in dict.fromkeys(columns):
        if columns.count(column) > 1:
            yield Fault(name, line, f"column {column or 'without a name'} stands twice")
        if column not in (*PLAIN, *DATED) and not (column.startswith(ABOUT) and len(column) > len(ABOUT)):
            known = ", ".join((*PLAIN, *DATED, f"{ABOUT}KEY"))
            yield Fault(name, line, f"column {column or 'without a name'} is none of {known}")
    if "tag" not in columns:
        yield Fault(name, line, "column tag is missing")


def _rows(
    columns: Sequence[str], records: Sequence[tuple[int, list[str]]], name: str, faults: list[Fault]
) -> Iterator[Row]:
    for line, record in records:
        cells = [cell.strip() for cell in record]
        if len(cells) > len(columns) and any(cells[len(columns) :]):
            faults.append(Fault(name, line, f"has {len(cells)} cells, and there are {len(columns)} columns"))
            continue
        cells += [""] * (len(columns) - len(cells))
        yield Row(line, dict(zip(columns, cells, strict=False)))


def _cells(item: Item, places: Mapping[str, str]) -> dict[str, str]:
    return {
        "tag": item.tag,
        "name": item.name,
        "type": item.type,
        "number": item.number,
        "mass_kg": item.mass_kg or "",
        "lockers": _lockers(item, places),
        **{f"dates.{key}": day for key, day in item.dates.items()},
        **{f"{ABOUT}{key}": text for key, text in item.about.items()},
    }


def _lockers(item: Item, places: Mapping[str, str]) -> str:
    if list(places.values()) == [item.number]:
        return next(iter(places))
    return " ".join(f"{locker}:{number}" for locker, number in places.items())
