"""Which labels there are to print: of lockers, kit and drums."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from server.sheets.definitions import Unit

WHAT = ("lockers", "kit", "drums")


class CannotLabel(ValueError):  # noqa: N818 - said to whoever prints, by this name
    """The labels cannot be printed; the message says why and what to do."""


@dataclass(frozen=True)
class Label:
    """One label: the tag that its code and its large letters say, and what is written beneath."""

    tag: str
    name: str
    more: str = ""


def labels_of(unit: Unit, what: Iterable[str] = WHAT, tags: Iterable[str] = ()) -> list[Label]:
    """The labels of a unit's lockers, kit and drums, in their order; with `tags`, of those only.

    Raises CannotLabel where there is no such tag.
    """
    vehicles = {vehicle.id: vehicle.name for vehicle in unit.vehicles}
    found = {
        "lockers": [Label(one.id, one.name, vehicles.get(one.vehicle, "")) for one in unit.lockers],
        "kit": [_of_kit(unit, item.tag) for item in unit.kit if item.type != "drum"],
        "drums": [_of_kit(unit, item.tag) for item in unit.kit if item.type == "drum"],
    }
    wanted = list(tags)
    every = [label for kind in WHAT for label in found[kind]]
    if not wanted:
        return [label for kind in WHAT if kind in what for label in found[kind]]
    unknown = sorted(set(wanted) - {label.tag for label in every})
    if unknown:
        raise CannotLabel(f"the unit has nothing tagged {', '.join(unknown)}")
    return [label for label in every if label.tag in wanted]


def _of_kit(unit: Unit, tag: str) -> Label:
    item = unit.items[tag]
    number = "" if item.number == "1" else f"× {item.number}"
    home = unit.homes.get(tag)
    return Label(
        str(tag), str(item.name), ", ".join(part for part in (number, home and f"home {home}") if part)
    )
