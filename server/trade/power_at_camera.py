"""Does the camera get its volts at the end of this run?

Constant-power load P at the end of loop R = go + return: V_L = (V_S + sqrt(V_S^2 - 4 P R))/2 (upper root),
I = P/V_L, loss = I^2 R. No solution where P > V_S^2/(4R). Longest run: R <= V_min (V_S - V_min)/P, from
V_min >= V_S/2. Alternating supply: rms, unity power factor, reactance ignored.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import copper
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.fields import shown

# A loop that only just carries the load is decided by algebra, not by the last bit of a float.
ROUNDING = 1e-12


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Supply, load and the loop, read in ohms or worked out from the conductor."""

    supply_v: float = quantity("supply", "V", 1, 1000, "rms at the truck, on load")
    load_w: float = quantity("load", "W", 0.1, 20000, "the camera with all it feeds: lens, viewfinder, lamps")
    loop_ohm: float | None = quantity(
        "loop", "ohm", 0.0001, 100000, "go and return, far end joined; or give section_mm2", default=None
    )
    section_mm2: float | None = quantity("section", "mm2", 0.05, 400, "of one core", default=None)
    conductor_class: str = choice("conductor class", *copper.CLASSES, default="class 5 plain")
    length_m: float | None = quantity("length of run", "m", 0.1, 10000, "one way", default=None)
    cores_go: float = quantity("cores in parallel, go", "", 1, 50, default=1, whole=True)
    cores_return: float = quantity("cores in parallel, return", "", 1, 50, default=1, whole=True)
    ohm_per_km: float | None = quantity(
        "one core", "ohm/km", 0.01, 10000, "where known; else from the section", default=None
    )
    temperature_c: float = quantity("conductor's temperature", "C", -20, 100, default=20)
    least_v: float | None = quantity(
        "least at the camera", "V", 0.5, 1000, "the camera's own figure; house limit, editable", default=None
    )

    def __post_init__(self) -> None:
        if self.loop_ohm is None:
            if self.length_m is None:
                raise InputError(("length_m", "is missing; give 0.1 to 10000 m, or loop_ohm in ohm"))
            if self.section_mm2 is None and self.ohm_per_km is None:
                raise InputError(
                    ("section_mm2", "is missing; give 0.05 to 400 mm2, or ohm_per_km, or loop_ohm")
                )
        if self.least_v is not None and not self.supply_v / 2 <= self.least_v <= self.supply_v:
            raise InputError(
                (
                    "least_v",
                    f"{shown(self.least_v)} is beyond {shown(self.supply_v / 2)} to {shown(self.supply_v)} V, "
                    "half the supply to the supply",
                )
            )


def loop(inputs: Inputs) -> float:
    """Loop in ohm at temperature: as read, else from the conductor, n equal cores dividing a leg by n."""
    if inputs.loop_ohm is not None:
        return inputs.loop_ohm
    per_km = inputs.ohm_per_km
    if per_km is None:
        section = inputs.section_mm2 or 0
        per_km = copper.class_limit(section, inputs.conductor_class) or copper.by_area(section)
    legs = 1 / inputs.cores_go + 1 / inputs.cores_return
    return per_km * (inputs.length_m or 0) / 1000 * legs / copper.to_20c(inputs.temperature_c)


def camera_volts(supply_v: float, load_w: float, loop_ohm: float) -> float | None:
    """Volts at the load, upper root; None where the loop cannot carry that power."""
    under = supply_v**2 - 4 * load_w * loop_ohm
    if under < -ROUNDING * supply_v**2:
        return None
    return (supply_v + math.sqrt(max(0.0, under))) / 2


def assess(inputs: Inputs) -> Assessment:
    """Judged against the camera's own least volts; no solution is beyond whatever that is."""
    ohm = loop(inputs)
    volts = camera_volts(inputs.supply_v, inputs.load_w, ohm)
    current = inputs.load_w / volts if volts is not None else None
    verdict, findings, advice = _judged(inputs, volts, ohm)
    return Assessment(
        verdict=verdict,
        figures={
            "camera_v": Figure(volts, "V"),
            "current_a": Figure(current, "A"),
            "loss_w": Figure(None if current is None else current**2 * ohm, "W"),
            "loop_ohm": Figure(ohm, "ohm"),
            "most_w": Figure(inputs.supply_v**2 / (4 * ohm), "W"),
            "longest_m": Figure(longest(inputs, ohm), "m"),
        },
        findings=findings,
        advice=advice,
        cautions=copper.DEAD_FIRST,
        basis=(
            "Constant-power load, algebra: V = (Vs + sqrt(Vs^2 - 4 P R))/2, longest R = Vmin (Vs - Vmin)/P.",
            "Alternating supply: rms, unity power factor, reactance ignored.",
            "The loop as read."
            if inputs.loop_ohm is not None
            else "The loop from the figure given for one core."
            if inputs.ohm_per_km is not None
            else "IEC 60228 maximum, second-hand; a size not in it by its area, the least it can be.",
            "The least at the camera is its own figure: a house limit, editable.",
        ),
        passed_by="a competent person" if verdict in (Verdict.FIGURES_WITHIN, Verdict.FIGURES_BEYOND) else "",
    )


def longest(inputs: Inputs, loop_ohm: float) -> float | None:
    """Metres of this run that still give the least volts; None without a length or a limit."""
    if inputs.length_m is None or inputs.least_v is None:
        return None
    most_ohm = inputs.least_v * (inputs.supply_v - inputs.least_v) / inputs.load_w
    return inputs.length_m * most_ohm / loop_ohm


def _judged(
    inputs: Inputs, volts: float | None, ohm: float
) -> tuple[Verdict, tuple[str, ...], tuple[str, ...]]:
    shorten = "Shorten the run, put cores in parallel, take load off, or feed the camera locally."
    if volts is None:
        most = shown(inputs.supply_v**2 / (4 * ohm))
        return (
            Verdict.FIGURES_BEYOND,
            (f"No solution: a loop of {shown(ohm)} ohm carries at most {most} W, whatever is at its end.",),
            (shorten,),
        )
    found = f"{shown(volts)} V at the camera over a loop of {shown(ohm)} ohm."
    if inputs.least_v is None:
        return Verdict.CANNOT_TELL, (found,), ("Give least_v, the camera's own figure, to have it judged.",)
    against = f"{found} The house limit is {shown(inputs.least_v)} V."
    if volts < inputs.least_v:
        return Verdict.FIGURES_BEYOND, (against,), (shorten,)
    return Verdict.FIGURES_WITHIN, (against, "Losing one of two parallel cores doubles that leg."), ()
