"""Is this lift by one person within what is recommended, and what makes it hard?

RWL and its multipliers as in `niosh.py`, where the load is taken up and, where asked, where it is set down: the
lower one governs. Lifting index = load/RWL. A recommendation, no legal limit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import niosh
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.fields import shown

PASSED_BY = "a competent person"
CURES = {
    "hm": "Bring it nearer to the body: {} of the load is left for the reach.",
    "vm": "Start and end nearer to knuckle height, on a case or a bench: {} is left for the height.",
    "dm": "Lift it in two stages: {} is left for the way up or down.",
    "am": "Turn the feet, not the back: {} is left for the twist.",
    "fm": "Fewer lifts a minute, or change people: {} is left for the rate.",
    "cm": "Put handles on it, or pack it in a case that has them: {} is left for the grip.",
}


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One lift with both hands, standing."""

    load_kg: float = quantity("load", "kg", 0.1, 500)
    horizontal_cm: float = quantity("hands in front of the ankles", "cm", 1, 150, "from their middle, level")
    vertical_cm: float = quantity("hands above the floor, at the start", "cm", 0, 250)
    distance_cm: float = quantity("way up or down", "cm", 0, 250, "of the hands")
    asymmetry_deg: float = quantity("twist", "deg", 0, 180, "load off the front of the body", default=0)
    per_minute: float = quantity("lifts a minute", "1/min", 0, 30, default=0.2)
    hours: float = quantity("for how long", "h", 0.01, 24, "of lifting in one stretch", default=1)
    frequency_multiplier: float | None = quantity(
        "frequency multiplier", "", 0, 1, "instead of the table", default=None
    )
    coupling: str = choice("grip", *niosh.COUPLING, help="good: handles that fit the hand", default="fair")
    end_vertical_cm: float | None = quantity(
        "hands above the floor, at the end",
        "cm",
        0,
        250,
        "where it is set down with care, or over others",
        default=None,
    )
    end_horizontal_cm: float | None = quantity(
        "hands in front of the ankles, at the end", "cm", 1, 150, "left out: as at the start", default=None
    )
    end_asymmetry_deg: float | None = quantity(
        "twist at the end", "deg", 0, 180, "left out: as at the start", default=None
    )
    form: str = choice("form of the equation", *niosh.FORMS, default="metric")

    def __post_init__(self) -> None:
        if self.end_vertical_cm is None:
            lone = [
                name for name in ("end_horizontal_cm", "end_asymmetry_deg") if getattr(self, name) is not None
            ]
            if lone:
                raise InputError(("end_vertical_cm", f"is missing with {lone[0]}; give 0 to 250 cm"))
        elif abs(abs(self.end_vertical_cm - self.vertical_cm) - self.distance_cm) > 1:
            way = shown(abs(self.end_vertical_cm - self.vertical_cm))
            raise InputError(
                (
                    "distance_cm",
                    f"{shown(self.distance_cm)} cm is not the way between the two heights, {way} cm",
                )
            )


Multipliers = dict[str, float]


def multipliers(
    inputs: Inputs, horizontal_cm: float, vertical_cm: float, asymmetry_deg: float
) -> Multipliers | None:
    """Each multiplier at one end of the lift; None where that for the rate is not told."""
    form = niosh.FORMS[inputs.form]
    fm = inputs.frequency_multiplier
    if fm is None:
        lowest = min(inputs.vertical_cm, vertical_cm)
        fm = niosh.frequency(inputs.per_minute, inputs.hours, lowest)
    if fm is None:
        return None
    return {
        "hm": niosh.horizontal(form, horizontal_cm),
        "vm": niosh.vertical(form, vertical_cm),
        "dm": niosh.distance(form, inputs.distance_cm),
        "am": niosh.asymmetry(asymmetry_deg),
        "fm": fm,
        "cm": niosh.coupling(form, inputs.coupling, vertical_cm),
    }


def ends(inputs: Inputs) -> dict[str, Multipliers | None]:
    """The multipliers at the start, and at the end where it was asked."""
    found = {"start": multipliers(inputs, inputs.horizontal_cm, inputs.vertical_cm, inputs.asymmetry_deg)}
    if inputs.end_vertical_cm is not None:
        reach = inputs.horizontal_cm if inputs.end_horizontal_cm is None else inputs.end_horizontal_cm
        twist = inputs.asymmetry_deg if inputs.end_asymmetry_deg is None else inputs.end_asymmetry_deg
        found["end"] = multipliers(inputs, reach, inputs.end_vertical_cm, twist)
    return found


def recommended_kg(form: niosh.Form, each: Multipliers) -> float:
    """RWL: the load constant times every multiplier."""
    return form.load_kg * math.prod(each.values())


def assess(inputs: Inputs) -> Assessment:
    """The lower RWL of both ends and the index against it; what takes most, first."""
    form = niosh.FORMS[inputs.form]
    rwl = {name: None if each is None else recommended_kg(form, each) for name, each in ends(inputs).items()}
    told = {name: one for name, one in rwl.items() if one is not None}
    governs = min(told, key=lambda name: told[name]) if len(told) == len(rwl) else None
    each = ends(inputs)[governs] if governs else None
    least = told[governs] if governs else None
    index = inputs.load_kg / least if least else None
    verdict = (
        Verdict.CANNOT_TELL
        if least is None
        else Verdict.FIGURES_WITHIN
        if inputs.load_kg <= least
        else Verdict.FIGURES_BEYOND
    )
    return Assessment(
        verdict=verdict,
        figures={
            "rwl_kg": Figure(least, "kg"),
            "lifting_index": Figure(index, ""),
            **{name: Figure(None if each is None else each[name], "") for name in CURES},
            "start_rwl_kg": Figure(rwl["start"], "kg"),
            "end_rwl_kg": Figure(rwl.get("end"), "kg"),
        },
        findings=_findings(inputs, governs, least, index),
        advice=_cures(each) if verdict is Verdict.FIGURES_BEYOND else (),
        cautions=(
            "Think first of not lifting: wheels, a second person, lens and head off and packed.",
            "Not for carrying, one-handed, seated or team lifts: a bearer's share put in here is a screen only.",
            "Cold, wet, a bad footing, a load that shifts: in no figure here. Stop when it hurts.",
            "Local rules and a competent person decide.",
        ),
        basis=(
            f"Revised NIOSH equation, {inputs.form} form: DHHS 94-110, formulas second-hand; a recommendation, "
            "no legal limit.",
            "Frequency multiplier as given."
            if inputs.frequency_multiplier is not None
            else "Frequency multiplier from the table (from memory), at its next higher rate and longer time.",
            "Poor grip 0.90: from memory.",
        ),
        passed_by="" if verdict is Verdict.CANNOT_TELL else PASSED_BY,
    )


def _findings(
    inputs: Inputs, governs: str | None, least: float | None, index: float | None
) -> tuple[str, ...]:
    if governs is None or least is None:
        return (
            f"The table does not reach {shown(inputs.per_minute)} lifts a minute for {shown(inputs.hours)} h with "
            "hands this low: give frequency_multiplier.",
        )
    where = f"The {governs} of the lift governs"
    if index is None:
        return (f"{where}: too far, too high, too twisted or too often, so nothing is recommended there.",)
    return (f"{where}: {shown(least)} kg recommended, lifting index {shown(round(index, 2))}.",)


def _cures(each: Multipliers | None) -> tuple[str, ...]:
    """What takes most of the load away, first; what takes nothing is not spoken of."""
    taking = sorted((part, name) for name, part in (each or {}).items() if part < 1)
    return tuple(CURES[name].format(shown(round(part, 2))) for part, name in taking[:3])
