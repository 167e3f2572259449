"""The revised NIOSH lifting equation: RWL = LC HM VM DM AM FM CM, its multipliers one by one.

DHHS (NIOSH) 94-110, revised September 2021, doi 10.26616/NIOSHPUB94110revised092021: formulas second-hand;
frequency table, bounds in inches and the multiplier for poor handles from memory. Lengths in cm, masses in kg;
the metric and the inch form differ by 1-2 %.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Form:
    """The constants of one form of the equation, all in cm and kg."""

    load_kg: float
    near_cm: float
    reach_cm: float
    knuckle_cm: float
    off_knuckle_per_cm: float
    highest_cm: float
    travel_cm: float
    short_cm: float


INCH_CM, POUND_KG = 2.54, 0.45359237
FORMS = {
    "metric": Form(23, 25, 63, 75, 0.003, 175, 4.5, 25),
    "inch": Form(
        51 * POUND_KG, 10 * INCH_CM, 25 * INCH_CM, 30 * INCH_CM, 0.0075 / INCH_CM, 70 * INCH_CM,
        1.8 * INCH_CM, 10 * INCH_CM,
    ),
}  # fmt: skip
COUPLING = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}
"""Below the knuckle height, and from it up."""
WIDEST_TWIST_DEG = 135
HOURS = (1.0, 2.0, 8.0)
FREQUENCY = (
    (0.2, (1.0, 0.95, 0.85)),
    (0.5, (0.97, 0.92, 0.81)),
    (1.0, (0.94, 0.88, 0.75)),
    (2.0, (0.91, 0.84, 0.65)),
    (4.0, (0.84, 0.72, 0.45)),
    (6.0, (0.75, 0.50, 0.27)),
    (10.0, (0.45, 0.26, 0.13)),
)
"""Lifts a minute, up to which; multiplier for up to 1, 2 and 8 hours, hands at 75 cm or above."""
SAME_BELOW = 6.0
"""Up to this rate the table is the same for hands below 75 cm."""


def horizontal(form: Form, horizontal_cm: float) -> float:
    """HM: 1 up to the near reach, 0 beyond the far one."""
    return 0.0 if horizontal_cm > form.reach_cm else min(1.0, form.near_cm / horizontal_cm)


def vertical(form: Form, vertical_cm: float) -> float:
    """VM: 1 at knuckle height, less above and below, 0 beyond the highest."""
    if vertical_cm > form.highest_cm:
        return 0.0
    return 1 - form.off_knuckle_per_cm * abs(vertical_cm - form.knuckle_cm)


def distance(form: Form, distance_cm: float) -> float:
    """DM: 1 for a short way up or down."""
    return 1.0 if distance_cm <= form.short_cm else 0.82 + form.travel_cm / distance_cm


def asymmetry(asymmetry_deg: float) -> float:
    """AM: 1 - 0.0032 A, 0 beyond 135 deg."""
    return 0.0 if asymmetry_deg > WIDEST_TWIST_DEG else 1 - 0.0032 * asymmetry_deg


def frequency(per_minute: float, hours: float, vertical_cm: float) -> float | None:
    """FM at the next rate and duration of the table; None where the table does not reach."""
    if hours > HOURS[-1] or (vertical_cm < FORMS["metric"].knuckle_cm and per_minute > SAME_BELOW):
        return None
    row = next((row for most, row in FREQUENCY if per_minute <= most), None)
    return None if row is None else row[next(place for place, most in enumerate(HOURS) if hours <= most)]


def coupling(form: Form, kind: str, vertical_cm: float) -> float:
    """CM of good, fair or poor handles."""
    return COUPLING[kind][vertical_cm >= form.knuckle_cm]
