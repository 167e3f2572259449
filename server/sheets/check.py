"""Finds every fault in a unit's definitions, each with its file and line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from . import words
from .computed import assess_faults
from .definitions import Conditions, Sheet, Step, Unit
from .expand import PLACEHOLDER
from .folder import read
from .intervals import Interval, read_intervals
from .lines import Fault, Text, Where
from .order import order_faults


def check(folder: Path) -> list[Fault]:
    """Every fault of the folder, in the order of files and lines; none means that it can be used.

    Where intervals.yaml stands beside the folder, the intervals that kit names must be in it.
    """
    faults: list[Fault] = []
    unit = read(folder, faults)
    faults += kit_faults(unit)
    if (folder.parent / "intervals.yaml").exists():
        faults += interval_faults(unit, read_intervals(folder.parent / "intervals.yaml", faults))
    faults += _lockers(unit)
    faults += _events(unit)
    for sheet in unit.sheets:
        faults += _sheet(sheet)
        for conditions in (sheet.applies, *(step.applies for step in sheet.steps)):
            faults += _conditions(unit, conditions)
        for step in sheet.steps:
            faults += _step(unit, sheet, step)
    faults += order_faults(unit)
    return sorted(set(faults))


def print_faults(folder: Path) -> int:
    """Print the faults, or one line of what was read; the exit code of `handline check`."""
    faults = check(folder)
    if faults:
        print("\n".join(str(fault) for fault in faults))  # noqa: T201 - this is the command's output
        return 1
    unit = read(folder, [])
    steps = sum(len(sheet.steps) for sheet in unit.sheets)
    print(  # noqa: T201 - this is the command's output
        f"{unit.name}: {len(unit.lockers)} lockers, {len(unit.kit)} kinds of kit, "
        f"{len(unit.sheets)} sheets with {steps} steps: no fault found"
    )
    return 0


def fault(where: Where, text: str) -> Fault:
    """A fault at a place."""
    return Fault(where.file, where.line, text)


def _twice(kind: str, ids: Sequence[Text]) -> Iterator[Fault]:
    seen: dict[str, Text] = {}
    for name in ids:
        if name and name in seen:
            yield fault(name.where, f"{kind} '{name}' stands here and at line {seen[name].where.line}")
        seen.setdefault(name, name)


def kit_faults(unit: Unit) -> Iterator[Fault]:
    """What does not fit together in the kit and the lockers' lists."""
    yield from _twice("tag", [item.tag for item in unit.kit])
    listed: dict[str, int] = {}
    for locker in unit.lockers:
        for held in locker.holds:
            listed[held.tag] = listed.get(held.tag, 0) + int(held.number)
    for item in unit.kit:
        if item.tag not in listed:
            yield fault(item.where, f"{item.tag} has no home: no locker's list holds it")
        elif listed[item.tag] != int(item.number):
            yield fault(
                item.where, f"{item.tag}: number {item.number}, but the lockers hold {listed[item.tag]}"
            )
        goes_with = item.about.get("goes_with")
        if goes_with is not None and goes_with not in unit.items:
            yield fault(item.where, f"{item.tag} goes with unknown tag '{goes_with}'")
        if item.type == "body" and item.about.get("camera") not in words.CAMERAS:
            yield fault(item.where, f"{item.tag}: about must say camera, one of {', '.join(words.CAMERAS)}")
        if item.type in ("body", "drum", "control-unit") and not item.about.get("cable"):
            yield fault(item.where, f"{item.tag}: about must say which cable it is or takes")


def interval_faults(unit: Unit, known: Mapping[str, Interval]) -> Iterator[Fault]:
    """Intervals and what lifting gear must say of itself."""
    for item in unit.kit:
        interval = item.about.get("interval")
        if interval is not None and interval not in known:
            yield fault(item.where, f"{item.tag}: unknown interval '{interval}'")
        elif interval is not None and "due" not in item.dates:
            yield fault(item.where, f"{item.tag}: has the interval '{interval}' and no date due")
        if item.type == "lifting-gear" and not {"wll_kg", "limb", "identity"} <= set(item.about):
            yield fault(item.where, f"{item.tag}: about must say identity, wll_kg and limb")


def _lockers(unit: Unit) -> Iterator[Fault]:
    yield from _twice("vehicle", [vehicle.id for vehicle in unit.vehicles])
    yield from _twice("locker", [locker.id for locker in unit.lockers])
    vehicles = {vehicle.id for vehicle in unit.vehicles}
    for locker in unit.lockers:
        if locker.vehicle and locker.vehicle not in vehicles:
            yield fault(locker.vehicle.where, f"unknown vehicle '{locker.vehicle}'")
        for held in locker.holds:
            if held.tag not in unit.items:
                yield fault(held.tag.where, f"unknown tag '{held.tag}' in the list of {locker.id}")


def _events(unit: Unit) -> Iterator[Fault]:
    yield from _twice("event", [event.id for event in unit.events])


def _sheet(sheet: Sheet) -> Iterator[Fault]:
    yield from _twice("step", [step.word for step in sheet.steps])
    if not sheet.signed_by:
        yield fault(sheet.where, f"nobody may sign {sheet.id}: signed_by names no role that signs")
    if not sheet.steps:
        yield fault(sheet.where, f"{sheet.id} has no steps")
    yield from _placeholders(sheet, (sheet.id, sheet.title, sheet.statement))
    needed = {"position": "position", "run": "position"}.get(sheet.each, sheet.each)
    if sheet.each != "show" and needed not in PLACEHOLDER.findall(sheet.id):
        yield fault(sheet.id.where, f"'{sheet.id}' is made for each {sheet.each} and lacks {{{needed}}}")
    if sheet.id.rpartition("/")[2] != sheet.stage and sheet.each in ("locker", "vehicle"):
        yield fault(sheet.id.where, f"'{sheet.id}' does not end in its stage, {sheet.stage}")


def _conditions(unit: Unit, conditions: Conditions) -> Iterator[Fault]:
    own: dict[str, set[str]] = {
        "cable": {item.about.get("cable", "") for item in unit.kit},
        "vehicle": {vehicle.id for vehicle in unit.vehicles},
        "locker": {locker.id for locker in unit.lockers},
    }
    for key, wanted in conditions.items():
        for word in wanted:
            if key in own and word not in own[key]:
                yield fault(word.where, f"'for' asks for {key} '{word}', which this unit has not")


def _placeholders(sheet: Sheet, texts: Sequence[Text | None]) -> Iterator[Fault]:
    known = words.EACH.get(sheet.each, ())
    for text in texts:
        for word in PLACEHOLDER.findall(text or ""):
            if text is not None and word not in known:
                yield fault(text.where, f"a sheet for each {sheet.each} knows no {{{word}}}")


def _step(unit: Unit, sheet: Sheet, step: Step) -> Iterator[Fault]:
    yield from _placeholders(sheet, (step.do, step.done, step.caution, *step.after))
    if not step.roles:
        yield fault(step.where, f"nobody may do '{step.word}': it names no role that exists")
    if step.hazard and not step.caution:
        yield fault(step.where, f"'{step.word}' is a hazard and has no caution")
    events = {event.id for event in unit.events}
    for event in step.ended_by:
        if event not in events:
            yield fault(event.where, f"unknown event '{event}'")
    yield from _asked(unit, sheet, step)
    yield from assess_faults(unit, sheet, step)


def _asked(unit: Unit, sheet: Sheet, step: Step) -> Iterator[Fault]:
    if step.asks == "reading" and step.unit is None:
        yield fault(step.where, f"'{step.word}' asks for a reading and names no unit")
    if step.unit is not None and step.unit not in words.UNITS:
        yield fault(
            step.unit.where, f"unknown unit of measure '{step.unit}': one of {', '.join(words.UNITS)}"
        )
    if step.low is not None and step.high is not None and float(step.low) > float(step.high):
        yield fault(step.where, f"'{step.word}': low {step.low} is above high {step.high}")
    if (step.low or step.high) and not step.limit_of:
        yield fault(step.where, f"'{step.word}' has a limit and does not say whose (limit_of)")
    if step.asks == "choice" and not step.choices:
        yield fault(step.where, f"'{step.word}' asks for a choice and has no choices")
    if step.choices and not any(choice.done for choice in step.choices):
        yield fault(step.where, f"no choice of '{step.word}' is done: true, so it can never be done")
    yield from _twice("choice", [choice.id for choice in step.choices])
    yield from _counted(unit, sheet, step)


def _counted(unit: Unit, sheet: Sheet, step: Step) -> Iterator[Fault]:
    for held in step.items:
        if held.tag not in unit.items:
            yield fault(held.tag.where, f"unknown tag '{held.tag}' in '{step.word}'")
    if step.asks != "count" or step.items:
        return
    if step.count is None:
        yield fault(step.where, f"'{step.word}' is a count without a list")
    elif step.count not in words.COUNTS:
        yield fault(step.count.where, f"unknown count '{step.count}': one of {', '.join(words.COUNTS)}")
    elif (step.count == "list") != (sheet.each == "locker") or sheet.each not in ("locker", "position"):
        yield fault(step.count.where, f"a sheet for each {sheet.each} has no {step.count} to count")
    elif step.count == "list":
        for locker in unit.lockers:
            if not locker.holds:
                yield fault(locker.where, f"{sheet.id} counts {locker.id}, which is a count without a list")
