"""The unit's kit as it stands: its definitions, with what settled records of the yard log say laid over them."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from server.crew.models import Unit as UnitRow
from server.kit.fields import BadFields, read_item, read_locker
from server.kit.models import KitSaid
from server.settings import CHECKLISTS
from server.sheets.check import kit_faults
from server.sheets.definitions import Held, Item, Locker, Sheet, Unit
from server.sheets.unit import load

Value = dict[str, Any]
"""A value as indexed, see `index.py`."""

Made = TypeVar("Made", Item, Locker)


@dataclass(frozen=True)
class Said:
    """What the entries of one log come to on one subject."""

    log: str
    subject: str
    standing: str
    values: Sequence[Value]
    counting: Sequence[str]
    leads: Mapping[str, Sequence[str]]


@dataclass(frozen=True)
class Kit:
    """A unit's kit: `unit` its definitions as they stand, `records` what the yard log says by subject.

    `faults` are sentences: records that are disputed or cannot be used, and lists that do not fit the kit. Where one
    is disputed or cannot be used, the definition stands.
    """

    unit: Unit
    records: Mapping[str, Said]
    said: Mapping[str, Sequence[Said]]
    faults: Sequence[str]

    @cached_property
    def disputed(self) -> frozenset[str]:
        """Subjects of records that several differ on."""
        return frozenset(name for name, one in self.records.items() if one.standing in {"disputed", "waits"})

    def values_of(self, subject: str) -> list[tuple[str, Value]]:
        """The values of a subject in all logs, each with its log, but for those that another log's replace."""
        rows = self.said.get(subject, ())
        replaced = _replaced(rows)
        return [(row.log, value) for row in rows for value in row.values if value["name"] not in replaced]


def yard_log(unit: str) -> str:
    """The id of a unit's log between shows."""
    return f"yard-{unit}"


def defined(session: Session, unit: str) -> Unit:
    """The unit as its folder of definitions says. Raises LookupError where the unit is not on this server."""
    row = session.get(UnitRow, unit)
    if row is None:
        raise LookupError(f"the unit {unit} is not on this server")
    return load(CHECKLISTS / row.checklists)


def current(session: Session, unit: str) -> Kit:
    """The unit's kit as it stands by the index. Raises LookupError as `defined` does."""
    said: dict[str, list[Said]] = {}
    rows = session.scalars(select(KitSaid).where(KitSaid.unit == unit).order_by(KitSaid.log, KitSaid.subject))
    for row in rows:
        links = json.loads(row.replaced)
        one = Said(
            row.log, row.subject, row.standing, json.loads(row.said), links["counting"], links["leads"]
        )
        said.setdefault(row.subject, []).append(one)
    records = {
        subject: one
        for subject, found in said.items()
        for one in found
        if one.log == yard_log(unit) and subject.endswith("/record") and one.standing != "none"
    }
    return overlaid(defined(session, unit), records, said)


def overlaid(
    base: Unit, records: Mapping[str, Said], said: Mapping[str, Sequence[Said]] | None = None
) -> Kit:
    """The kit that these records make of a unit's definitions."""
    faults: list[str] = []
    kit = _overlay(records, "kit", {item.tag: item for item in base.kit}, read_item, faults)
    lockers = _overlay(records, "locker", {one.id: one for one in base.lockers}, read_locker, faults)
    tags, vehicles = {item.tag for item in kit}, {vehicle.id for vehicle in base.vehicles}
    faults += [
        f"locker/{one.id}: there is no vehicle {one.vehicle}"
        for one in lockers
        if one.vehicle not in vehicles
    ]
    for locker in lockers:
        faults += [
            f"locker/{locker.id}: lists {one.tag}, which the unit has not"
            for one in locker.holds
            if one.tag not in tags
        ]
    unit = replace(
        base,
        kit=tuple(kit),
        lockers=tuple(
            replace(one, holds=_known(one.holds, tags)) for one in lockers if one.vehicle in vehicles
        ),
        sheets=tuple(_without(sheet, tags) for sheet in base.sheets),
    )
    faults += [fault.text for fault in kit_faults(unit)]
    return Kit(unit, records, said or {}, faults)


def _overlay(
    records: Mapping[str, Said],
    top: str,
    base: Mapping[str, Made],
    read: Callable[[str, Mapping[str, object], Made | None], Made],
    faults: list[str],
) -> list[Made]:
    found: dict[str, Made] = dict(base)
    for subject, record in records.items():
        kind, name, _ = subject.split("/")
        if kind != top:
            continue
        if record.standing != "settled":
            faults.append(f"{subject}: disputed, {_sides(record.values)}")
            continue
        fields = record.values[0]["body"]["fields"]
        if isinstance(fields.get("gone"), str):
            found.pop(name, None)
            continue
        try:
            found[name] = read(name, fields, base.get(name))
        except BadFields as fault:
            faults.append(f"{subject}: cannot be used, {fault}")
    return list(found.values())


def _replaced(rows: Iterable[Said]) -> set[str]:
    """Names that the counting entries of all logs lead to by `replaces`, as `server/logbook/together.py` has it."""
    leads = {name: names for row in rows for name, names in row.leads.items()}
    queue = [name for row in rows for name in row.counting]
    found: set[str] = set()
    for name in queue:
        fresh = set(leads.get(name, ())) - found
        found |= fresh
        queue += fresh
    return found


def _sides(values: Iterable[Value]) -> str:
    return " and ".join(sorted({f"{value['by']} at {value['at']}" for value in values}))


def _known(holds: Iterable[Held], tags: set[Any]) -> tuple[Held, ...]:
    return tuple(one for one in holds if one.tag in tags)


def _without(sheet: Sheet, tags: set[Any]) -> Sheet:
    """A sheet whose steps count no tag that the unit no longer has."""
    steps = (replace(step, items=_known(step.items, tags)) for step in sheet.steps)
    return replace(sheet, steps=tuple(steps))
