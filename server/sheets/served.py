"""What a show's definition says of its unit: vehicles, lockers, kit, events as JSON."""

from __future__ import annotations

from .definitions import Unit
from .expand import Json


def vehicles(unit: Unit) -> list[Json]:
    """VEHICLE of a show, with its plate and weighbridge figures in `about`."""
    return [{"id": v.id, "name": v.name, "drawn": v.drawn, "about": dict(v.about)} for v in unit.vehicles]


def lockers(unit: Unit) -> list[Json]:
    """LOCKER of a show, with its list."""
    return [
        {
            "id": locker.id,
            "vehicle": locker.vehicle,
            "name": locker.name,
            "side": locker.side,
            "row": locker.row,
            "place": locker.place,
            "width": locker.width,
            "about": dict(locker.about),
            "holds": [{"tag": held.tag, "number": held.number} for held in locker.holds],
        }
        for locker in unit.lockers
    ]


def kit(unit: Unit) -> list[Json]:
    """ITEM of a show, with the locker it belongs in."""
    return [
        {
            "tag": item.tag,
            "name": item.name,
            "type": item.type,
            "number": item.number,
            "mass_kg": item.mass_kg,
            "home": unit.homes.get(item.tag),
            "dates": dict(item.dates),
            "about": dict(item.about),
        }
        for item in unit.kit
    ]


def events(unit: Unit) -> list[Json]:
    """EVENT of a show."""
    return [{"id": event.id, "label": event.label, "ends": event.ends} for event in unit.events]
