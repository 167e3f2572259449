"""Reads a unit's folder: unit.yaml, kit.yaml, events.yaml, reasons.yaml and sheets/*.yaml."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from . import words
from .definitions import Event, Held, Item, Locker, Sheet, Unit, Vehicle
from .lines import Fault, Rows, Value, Where, read_yaml
from .reading import read_sheet
from .row import Row

Made = TypeVar("Made")


def read(folder: Path, faults: list[Fault]) -> Unit:
    """As much of the unit as can be read, with a fault noted for all else."""
    about = Row(_file(folder, "unit.yaml", faults), faults, ("id", "name", "vehicles", "lockers"))
    events = Row(_file(folder, "events.yaml", faults), faults, ("events",))
    reasons = Row(_file(folder, "reasons.yaml", faults), faults, words.REASONS)
    kit = Row(_file(folder, "kit.yaml", faults), faults, ("kit",))
    sheets: list[Sheet] = []
    for path in sorted((folder / "sheets").glob("*.yaml")):
        page = Row(_file(folder, f"sheets/{path.name}", faults), faults, ("sheets",))
        sheets += _each(page, "sheets", read_sheet)
    return Unit(
        id=about.name("id"),
        name=about.text("name"),
        vehicles=_each(about, "vehicles", _vehicle),
        lockers=_each(about, "lockers", _locker),
        kit=_each(kit, "kit", _item),
        events=_each(events, "events", _event),
        reasons={kind: reasons.words(kind) for kind in words.REASONS},
        sheets=tuple(sheets),
    )


def _file(folder: Path, name: str, faults: list[Fault]) -> Value:
    value = read_yaml(folder / name, name, faults)
    if value is not None:
        return value
    nothing = Rows()
    nothing.where = Where(name, 1)
    return nothing


def _each(row: Row, key: str, make: Callable[[Value, list[Fault]], Made]) -> tuple[Made, ...]:
    return tuple(make(value, row.faults) for value in row.list(key))


def _vehicle(value: Value, faults: list[Fault]) -> Vehicle:
    row = Row(value, faults, ("id", "name", "drawn"), ("about",))
    return Vehicle(
        id=row.name("id"),
        name=row.text("name"),
        drawn=row.among("drawn", words.DRAWN),
        about=row.pairs("about"),
        where=row.where,
    )


def _locker(value: Value, faults: list[Fault]) -> Locker:
    required = ("id", "vehicle", "name", "side", "row", "place", "width")
    row = Row(value, faults, required, ("about", "holds"))
    return Locker(
        id=row.name("id"),
        vehicle=row.name("vehicle"),
        name=row.text("name"),
        side=row.among("side", words.SIDES),
        row=row.whole("row") or 1,
        place=row.whole("place") or 1,
        width=row.decimal("width") or "1",
        about=row.pairs("about"),
        holds=tuple(Held(tag, number) for tag, number in row.counts("holds").items()),
        where=row.where,
    )


def _item(value: Value, faults: list[Fault]) -> Item:
    row = Row(value, faults, ("tag", "name", "type"), ("number", "mass_kg", "dates", "about"))
    mass = row.decimal("mass_kg")
    if mass is not None and mass.startswith("-"):
        row.fault("'mass_kg' is below 0")
    return Item(
        tag=row.name("tag"),
        name=row.text("name"),
        type=row.among("type", words.TYPES),
        number=str(row.whole("number") or 1),
        mass_kg=mass,
        dates=row.dates("dates"),
        about=row.pairs("about"),
        where=row.where,
    )


def _event(value: Value, faults: list[Fault]) -> Event:
    row = Row(value, faults, ("id", "label", "ends"))
    return Event(id=row.name("id"), label=row.text("label"), ends=row.text("ends"), where=row.where)
