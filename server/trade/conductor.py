"""Is this core's resistance what its size and length say?

Copper: expected = ohm per km x length, R20 = R_t x 254.5/(234.5 + t). Limits by IEC 60228 (second-hand);
other sizes and AWG from the area with a house allowance for stranding.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.trade import copper
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.fields import shown


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One core, there or there and back; its size by area or by gauge."""

    section_mm2: float | None = quantity("section", "mm2", 0.05, 400, "or give awg", default=None)
    awg: float | None = quantity("gauge", "AWG", 0, 40, "or give section_mm2", default=None, whole=True)
    conductor_class: str = choice(
        "conductor class", *copper.CLASSES, help="flexible cord is class 5", default="class 5 plain"
    )
    length_m: float = quantity("length of conductor", "m", 0.1, 20000, "a loop: go and return added")
    temperature_c: float = quantity(
        "conductor's temperature", "C", -20, 100, "of the drum, not the air", default=20
    )
    measured_ohm: float | None = quantity("measured", "ohm", 0, 100000, "leads' own taken off", default=None)
    stranding_percent: float = quantity(
        "allowance", "%", 0, 20, "above the area's own figure, for sizes not in the table", default=4
    )

    def __post_init__(self) -> None:
        if (self.section_mm2 is None) == (self.awg is None):
            raise InputError(
                ("section_mm2", "give either section_mm2, 0.05 to 400 mm2, or awg, 0 to 40, not both")
            )


def limit_ohm_per_km(inputs: Inputs) -> tuple[float, bool]:
    """The limit at 20 C, and whether it is the table's (else the area's with the allowance)."""
    if inputs.section_mm2 is not None:
        limit = copper.class_limit(inputs.section_mm2, inputs.conductor_class)
        if limit is not None:
            return limit, True
        area = inputs.section_mm2
    else:
        area = copper.awg_area_mm2(inputs.awg or 0)
    return copper.by_area(area) * (1 + inputs.stranding_percent / 100), False


def assess(inputs: Inputs) -> Assessment:
    """Judged at 20 C against the limit, where there is a reading."""
    limit, of_table = limit_ohm_per_km(inputs)
    most_at_20c = limit * inputs.length_m / 1000
    factor = copper.to_20c(inputs.temperature_c)
    at_20c = None if inputs.measured_ohm is None else inputs.measured_ohm * factor
    verdict, findings, advice = _judged(at_20c, most_at_20c)
    return Assessment(
        verdict=verdict,
        figures={
            "limit_ohm_per_km": Figure(limit, "ohm/km"),
            "expected_ohm": Figure(most_at_20c / factor, "ohm"),
            "at_20c_ohm": Figure(at_20c, "ohm"),
        },
        findings=findings,
        advice=advice,
        cautions=copper.DEAD_FIRST,
        basis=(
            "IEC 60228 maximum at 20 C, second-hand; a healthy core reads a few percent less."
            if of_table
            else "Not a size of IEC 60228: from the area (100 % IACS, from memory) with a house allowance of "
            f"{shown(inputs.stranding_percent)} %, editable.",
            "expected_ohm is the most a core of this size has at this temperature.",
            "R20 = R x 254.5/(234.5 + t), copper: the exact form, IEC 60228, second-hand.",
        ),
    )


def _judged(at_20c: float | None, most: float) -> tuple[Verdict, tuple[str, ...], tuple[str, ...]]:
    if at_20c is None:
        return (
            Verdict.CANNOT_TELL,
            ("No reading was given, so nothing is judged: the figures say what to expect.",),
            ("Give measured_ohm to have it judged.",),
        )
    found = f"{shown(at_20c)} ohm at 20 C against at most {shown(most)} ohm."
    if at_20c > most:
        return (
            Verdict.BEYOND,
            (f"Too high: {found}",),
            ("Look for a loose or wet contact, clean and read again; then halve the run to find the drum.",),
        )
    if at_20c < most / 2:
        return (
            Verdict.CANNOT_TELL,
            (f"Less than half of what is expected: {found}",),
            ("Check the length and the size, and that no other core or short joins in; then read again.",),
        )
    return Verdict.WITHIN, (found,), ()
