"""What a vehicle carries by its lockers' lists, as the computation `vehicle-load` asks for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from server.sheets.definitions import Item, Locker, Unit, Vehicle
from server.trade.errors import InputError
from server.trade.register import assess

Json = dict[str, Any]

HEAVY_KG = Decimal(25)
"""From this mass on a thing is looked at by itself: what taking it out does, what restrains it. House figure."""

MOST_HEAVY = 10
FIGURES = (
    "wheelbase_m", "unladen_front_kg", "unladen_rear_kg", "track_m", "plate_gross_kg", "plate_front_kg",
    "plate_rear_kg",
)  # fmt: skip


@dataclass(frozen=True)
class Load:
    """A vehicle's load: `inputs` for `vehicle-load`, decimals as text, masses in kg, places in m.

    `untold` says what is missing, in sentences: with any, no answer may be called within a limit.
    """

    vehicle: str
    inputs: Json
    untold: Sequence[str]


def load_of(unit: Unit, vehicle: Vehicle) -> Load:
    """What a vehicle carries with every locker filled as listed; its heaviest things are taken out heaviest first."""
    lockers = [one for one in unit.lockers if one.vehicle == vehicle.id]
    listed = [(locker, unit.items[held.tag], int(held.number)) for locker in lockers for held in locker.holds]
    untold = [
        f"{locker.id}: the mass of {item.tag} is not known"
        for locker, item, _ in listed
        if item.mass_kg is None
    ]
    untold += [
        f"{locker.id}: where it lies (p_m) is not known" for locker in lockers if "p_m" not in locker.about
    ]
    untold += [f"{vehicle.id}: {name} is not known" for name in FIGURES if name not in vehicle.about]
    heavy = sorted(
        ((locker, item) for locker, item, _ in listed if Decimal(item.mass_kg or 0) >= HEAVY_KG),
        key=lambda pair: (-Decimal(pair[1].mass_kg or 0), pair[1].tag),
    )
    inputs = {name: vehicle.about[name] for name in FIGURES if name in vehicle.about}
    return Load(
        str(vehicle.id),
        inputs
        | {
            "lockers": [_row(locker, listed) for locker in lockers if "p_m" in locker.about],
            "things": [
                {"tag": item.tag, "mass_kg": item.mass_kg, "locker": locker.id}
                for locker, item in heavy[:MOST_HEAVY]
                if "p_m" in locker.about
            ],
        },
        untold,
    )


def served_loads(unit: Unit) -> list[Json]:
    """Each vehicle's load and what it comes to: `{vehicle, name, inputs, untold, answer, fault}`.

    `answer` is that of `vehicle-load`, None where `fault` says why there is none. Where something is `untold`, what
    would be within cannot be told: beyond it stays.
    """
    told = []
    for vehicle in unit.vehicles:
        load = load_of(unit, vehicle)
        answer, fault = _answer(load)
        told.append(
            {
                "vehicle": load.vehicle,
                "name": str(vehicle.name),
                "inputs": load.inputs,
                "untold": list(load.untold),
                "answer": answer,
                "fault": fault,
            }
        )
    return told


def _answer(load: Load) -> tuple[Json | None, str | None]:
    try:
        answer = assess("vehicle-load", load.inputs)
    except InputError as fault:
        return None, str(fault)
    too_little = bool(load.untold) and answer["verdict"] == "within limits"
    return answer | ({"verdict": "cannot tell"} if too_little else {}), None


def _row(locker: Locker, listed: Sequence[tuple[Locker, Item, int]]) -> Json:
    mass = sum(
        (number * Decimal(item.mass_kg or 0) for at, item, number in listed if at == locker), Decimal(0)
    )
    return {
        "locker": str(locker.id),
        "mass_kg": format(mass, "f"),
        "forward_m": locker.about["p_m"],
        "left_m": locker.about.get("y_m", "0"),
    }
