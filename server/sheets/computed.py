"""Whether a step's computation exists, and what it is filled in from can be found."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import cast

from server.trade.declare import declared
from server.trade.errors import InputError
from server.trade.fields import Field
from server.trade.register import assessments
from server.trade.tables import Names, Table

from .definitions import Item, Sheet, Step, Unit
from .lines import Fault, Text

LINKS = {"lens": "lens", "body": "body", "run": "drum", "control": "control-unit", "gear": "lifting-gear"}
SHOW = ("starts", "ends")
SOURCE = re.compile(r"(kit|chain|vehicle|show):([^.\s]+)(?:\.([a-z_]+))?")
LOCKER = {"locker", "mass_kg", "forward_m", "left_m"}
"""The columns that a vehicle's lockers fill in; see static/trade/prefill.js, which reads the same sources."""


def assess_faults(unit: Unit, sheet: Sheet, step: Step) -> Iterator[Fault]:
    """What is wrong with a step's `assess`."""
    if step.assess is None or step.assess.name not in assessments():
        return
    fields = declared(assessments()[step.assess.name].inputs)
    for name, value in step.assess.prefill.items():
        source = cast(Text, value)
        if name not in fields:
            said = f"{step.assess.name} asks for no '{name}'; it asks for {', '.join(fields)}"
            yield Fault(source.where.file, source.where.line, said)
            continue
        said = _wrong(unit, sheet, fields[name], source)
        if said:
            yield Fault(source.where.file, source.where.line, f"'{name}' {said}")


def _wrong(unit: Unit, sheet: Sheet, field: Field, source: str) -> str:
    if not re.match("(kit|chain|vehicle|show):", source):
        return _plain(field, source)
    parts = source.split() if isinstance(field, Table) else [source]
    return next((said for said in (_one(unit, sheet, field, part) for part in parts) if said), "")


def _plain(field: Field, value: str) -> str:
    if isinstance(field, Table):
        return "is a table; fill it in with kit:TAG, chain:LINK or vehicle:VEHICLE"
    try:
        field.read(_names(value) if isinstance(field, Names) else value, "it")
    except InputError as bad:
        return bad.problems[0][1]
    return ""


def _names(value: str) -> dict[str, str]:
    """`L: live, N: neutral` as names and texts."""
    pairs = [pair.partition(":") for pair in value.split(",")]
    return {name.strip(): text.strip() for name, _, text in pairs}


def _one(unit: Unit, sheet: Sheet, field: Field, source: str) -> str:
    match = SOURCE.fullmatch(source)
    if match is None:
        return f"'{source}': give kit:TAG.field, chain:LINK.field, vehicle:VEHICLE.field or show:ends"
    room, what, of = match.groups()
    if room == "show":
        return "" if what in SHOW and of is None else f"'{source}': a show has {' and '.join(SHOW)}"
    if (of is None) != isinstance(field, Table):
        return f"'{source}': a table is filled in from things, anything else from a field of one"
    if room == "vehicle":
        return _vehicle(unit, sheet, field, what, of)
    things = _things(unit, sheet, room, what)
    if isinstance(things, str):
        return things
    wanted = [of] if of else [name for name in cast(Table, field).columns if name != "tag"]
    if not any(name in known(thing) for name in wanted for thing in things):
        return f"'{source}': no such thing of this unit says {' or '.join(wanted)}"
    return ""


def _things(unit: Unit, sheet: Sheet, room: str, what: str) -> list[Item] | str:
    """The things that may stand there, or what is wrong."""
    if room == "kit":
        return [unit.items[what]] if what in unit.items else f"unknown tag '{what}'"
    if sheet.each not in ("position", "run"):
        return f"a sheet for each {sheet.each} has no chain"
    if what not in LINKS:
        return f"unknown link '{what}': one of {', '.join(LINKS)}"
    return [item for item in unit.kit if item.type == LINKS[what]]


def _vehicle(unit: Unit, sheet: Sheet, field: Field, what: str, of: str | None) -> str:
    if not (what == "{vehicle}" or any(vehicle.id == what for vehicle in unit.vehicles)):
        return f"unknown vehicle '{what}'"
    if what == "{vehicle}" and sheet.each not in ("vehicle", "locker"):
        return f"a sheet for each {sheet.each} knows no {{vehicle}}"
    if of is None:
        lacks = not LOCKER & set(cast(Table, field).columns)
        return f"a vehicle's lockers have {', '.join(sorted(LOCKER))}" if lacks else ""
    says = any(of in vehicle.about for vehicle in unit.vehicles)
    return "" if says else f"no vehicle of this unit says {of}"


def known(item: Item) -> set[str]:
    """What a thing of kit can fill in."""
    due = {"next_examination"} if "due" in item.dates else set()
    mass = {"mass_kg"} if item.mass_kg is not None else set()
    return {"tag", "number", *mass, *due, *item.dates, *item.about}
