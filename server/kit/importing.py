"""A kit list comes in: rows of a table become records by the server's own device, all of them or none.

A column that is not in the file leaves what is known; an empty cell takes it away. What the file does not list stays.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy.orm import Session

from server.kit.current import Kit, yard_log
from server.kit.fields import ITEM, BadFields, holds_field, item_fields, read_item
from server.kit.intervals import intervals
from server.kit.table import ABOUT, Row, lockers_of
from server.logbook import own
from server.sheets.check import interval_faults, kit_faults
from server.sheets.definitions import Held, Item, Locker, Unit
from server.sheets.lines import Fault, Text, Where

Fields = dict[str, object]


@dataclass(frozen=True)
class Import:
    """What a file would do: records to write by subject, tags that are new or change, how many stay, its faults."""

    records: Mapping[str, Fields]
    new: Sequence[str]
    changed: Sequence[str]
    same: int
    faults: Sequence[Fault]

    def says(self) -> str:
        """What it does, in a sentence."""
        lists = [subject.split("/")[1] for subject in self.records if subject.startswith("locker/")]
        told = f"{len(self.new)} new, {len(self.changed)} changed, {self.same} as they are"
        return f"{told}; lists changed: {', '.join(lists) or 'none'}."


def plan_import(kit: Kit, rows: Sequence[Row], name: str, faults: Sequence[Fault] = ()) -> Import:
    """What these rows of the file `name` would do to the kit; `faults` are those found in reading the file."""
    found = list(faults)
    items = _items(kit.unit, rows, name, found)
    lists = _lists(kit.unit, rows, items, name, found)
    after = _after(kit.unit, items, lists)
    fits = [*kit_faults(after), *interval_faults(after, intervals())]
    told = {fault.line for fault in found}
    found += [fault for fault in fits if fault.file == name and fault.line not in told]
    new = [tag for tag in items if tag not in kit.unit.items]
    changed = [tag for tag, item in items.items() if tag not in new and _differs(kit, item)]
    records = {f"kit/{tag}/record": _item_record(kit, items[tag]) for tag in [*new, *changed]}
    records |= {f"locker/{name}/record": _list_record(kit, name, holds) for name, holds in lists.items()}
    same = len(items) - len(new) - len(changed)
    return Import(records, new, changed, same, sorted(set(found)))


def write_import(session: Session, unit: str, kit: Kit, planned: Import) -> None:
    """Write the records, in the caller's one transaction. The plan must have no faults."""
    if planned.faults:
        raise ValueError("an import with faults is not written")
    for subject, fields in planned.records.items():
        said = kit.records.get(subject)
        replaces = [value["name"] for value in said.values] if said else []
        own.write(session, unit, yard_log(unit), subject, "record", {"fields": fields}, replaces=replaces)


def _items(unit: Unit, rows: Sequence[Row], name: str, faults: list[Fault]) -> dict[str, Item]:
    items: dict[str, Item] = {}
    lines: dict[str, int] = {}
    for row in rows:
        tag = row.cells["tag"]
        if tag in lines:
            faults.append(Fault(name, row.line, f"column tag: {tag} stands at line {lines[tag]} already"))
            continue
        lines[tag] = row.line
        known = unit.items.get(tag)
        try:
            items[tag] = read_item(tag, _fields(row, known), None, Where(name, row.line))
        except BadFields as bad:
            faults += [Fault(name, row.line, f"column {column}: {why}") for column, why in bad.faults]
    return items


def _fields(row: Row, known: Item | None) -> Fields:
    fields: Fields = item_fields(known) if known else {"number": "1"}
    dates, about = dict(known.dates if known else {}), dict(known.about if known else {})
    for column, cell in row.cells.items():
        if column.startswith("dates."):
            _put(dates, column.removeprefix("dates."), cell)
        elif column.startswith(ABOUT):
            _put(about, column.removeprefix(ABOUT), cell)
        elif column == "number":
            fields[column] = cell or "1"
        elif column == "mass_kg":
            fields[column] = cell or None
        elif column in {"name", "type"}:
            fields[column] = cell
    return fields | {"dates": dates, "about": about}


def _put(pairs: dict[str, str], key: str, cell: str) -> None:
    if cell:
        pairs[key] = cell
    else:
        pairs.pop(key, None)


def _lists(
    unit: Unit, rows: Sequence[Row], items: Mapping[str, Item], name: str, faults: list[Fault]
) -> dict[str, list[Held]]:
    """The lockers' lists that change, as they would be."""
    lockers = {str(locker.id) for locker in unit.lockers}
    before = lockers_of(unit)
    moved: dict[str, dict[str, str]] = {}
    for row in rows:
        tag = row.cells["tag"]
        if "lockers" not in row.cells or tag not in items:
            continue
        places, why = _places(row.cells["lockers"], items[tag].number, lockers)
        if why:
            faults.append(Fault(name, row.line, f"column lockers: {why}"))
        elif places != before.get(tag, {}):
            moved[tag] = places
    return {
        str(locker.id): holds
        for locker in unit.lockers
        if (holds := _with(locker, moved)) != list(locker.holds)
    }


def _places(cell: str, number: str, lockers: Iterable[str]) -> tuple[dict[str, str], str | None]:
    places: dict[str, str] = {}
    for word in cell.split():
        locker, colon, many = word.partition(":")
        if locker not in lockers:
            return {}, f"there is no locker {locker}: one of {', '.join(sorted(lockers))}"
        if colon and not (many.isascii() and many.isdigit() and int(many) > 0):
            return {}, f"'{word}' must be a locker, or a locker and how many, such as L3:8"
        if locker in places:
            return {}, f"{locker} stands twice"
        places[locker] = str(int(many)) if colon else number
    return places, None


def _with(locker: Locker, moved: Mapping[str, Mapping[str, str]]) -> list[Held]:
    holds = []
    for held in locker.holds:
        number = moved[held.tag].get(locker.id) if held.tag in moved else held.number
        if number is not None:
            holds.append(Held(held.tag, number))
    listed = {held.tag for held in holds}
    added = [tag for tag, places in moved.items() if locker.id in places and tag not in listed]
    return [*holds, *(Held(Text.at(tag, locker.where), moved[tag][locker.id]) for tag in added)]


def _after(unit: Unit, items: Mapping[str, Item], lists: Mapping[str, list[Held]]) -> Unit:
    kit = {str(item.tag): item for item in unit.kit} | dict(items)
    lockers = [replace(one, holds=tuple(lists.get(one.id, one.holds))) for one in unit.lockers]
    return replace(unit, kit=tuple(kit.values()), lockers=tuple(lockers))


def _differs(kit: Kit, item: Item) -> bool:
    disputed = f"kit/{item.tag}/record" in kit.disputed
    return disputed or item_fields(item) != item_fields(kit.unit.items[item.tag])


def _item_record(kit: Kit, item: Item) -> Fields:
    newer = {key: value for key, value in _recorded(kit, f"kit/{item.tag}/record").items() if key not in ITEM}
    return newer | item_fields(item)


def _list_record(kit: Kit, locker: str, holds: list[Held]) -> Fields:
    return _recorded(kit, f"locker/{locker}/record") | {"holds": holds_field(holds)}


def _recorded(kit: Kit, subject: str) -> Fields:
    said = kit.records.get(subject)
    return dict(said.values[0]["body"]["fields"]) if said and said.standing == "settled" else {}
