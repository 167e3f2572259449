"""What does each leg of this sling take, and is every piece in date and marked for it?

Tension T = W/(n cos b), b to the vertical (US Navy training manual 14080, fig. 3-23). Mode factors of the
uniform load method (EN 1492, EN 13414-1:2003, second-hand): straight 1, choked 0.8, basket 2 parallel, 1.4 to
45 deg, 1.0 to 60 deg; two legs 1.4 / 1.0; three or four 2.1 / 1.5. Legs not clearly symmetric: 3 or 4 count
as 2, 2 as 1; four legs on a rigid load: two may carry it all. Beyond 60 deg to the vertical: not computed.
"""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass

from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, day, quantity, table_of, text
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.gravity import newtons
from server.trade.lifting_cautions import CAUTIONS, PASSED_BY

STEEPEST_DEG = 60
CHOKED = 0.8


@dataclass(frozen=True, kw_only=True)
class Gear:
    """One piece between hook and load."""

    tag: str = text("tag")
    wll_kg: float | None = quantity(
        "marked", "kg", 1, 50000, "working load limit of a single piece, straight", default=None
    )
    next_examination: datetime.date | None = day("next examination due", default=None)  # noqa: RUF009 - declares only
    carries: str = choice("carries", "a leg", "the whole load", default="a leg")


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One lift on slings."""

    load_kg: float = quantity("load", "kg", 0.1, 20000, "with bag and lifting gear")
    legs: float = quantity("legs", "", 1, 4, default=1, whole=True)
    hitch: str = choice("hitch", "straight", "choked", "basket", default="straight")
    angle_to_vertical_deg: float | None = quantity(
        "leg to the vertical", "deg", 0, 60, "beyond 60 nothing is lifted; from the vertical", default=None
    )
    height_m: float | None = quantity("hook above the picks", "m", 0.01, 50, default=None)
    spread_m: float | None = quantity("picks apart", "m", 0, 50, "opposite picks", default=None)
    symmetric: str = choice("legs clearly symmetric", "yes", "no", default="no")
    gear: tuple[Gear, ...] = table_of(Gear, "gear", least=1, most=50, default=())
    on_date: datetime.date | None = day("on the day", "the day of the lift", default=None)  # noqa: RUF009 - declares only

    def __post_init__(self) -> None:
        lengths = (self.height_m is None, self.spread_m is None)
        if lengths[0] != lengths[1]:
            missing = "height_m" if lengths[0] else "spread_m"
            raise InputError((missing, "is missing; height_m and spread_m go together, both in m"))
        if self.angle_to_vertical_deg is not None and not lengths[0]:
            raise InputError(
                ("angle_to_vertical_deg", "give the angle in deg, or height and spread in m; not both")
            )
        angle = self.angle_deg()
        if angle is None and (self.legs > 1 or self.hitch == "basket"):
            raise InputError(
                (
                    "angle_to_vertical_deg",
                    "is missing; give 0 to 60 deg to the vertical, or height_m and spread_m in m",
                )
            )
        if angle is not None and angle > STEEPEST_DEG:
            raise InputError(
                (
                    "spread_m",
                    f"makes {shown(angle)} deg to the vertical, beyond 60 deg: longer legs, or a beam",
                )
            )

    def angle_deg(self) -> float | None:
        """Of a leg to the vertical; None where neither angle nor lengths were given."""
        if self.height_m is not None and self.spread_m is not None:
            return math.degrees(math.atan2(self.spread_m / 2, self.height_m))
        return self.angle_to_vertical_deg


def leg_tension(load: float, legs: float, angle_to_vertical_deg: float) -> float:
    """T = W/(n cos b), in the unit of the load."""
    return load / (legs * math.cos(math.radians(angle_to_vertical_deg)))


def mode_factor(legs: int, hitch: str, angle_to_vertical_deg: float) -> float:
    """Times the single-leg mark: what the whole sling lifts. For clearly symmetric legs, up to 60 deg."""
    wide = angle_to_vertical_deg > 45
    if hitch == "basket":
        straight = 2.0 if angle_to_vertical_deg == 0 else 1.0 if wide else 1.4
        return straight if legs == 1 else straight * carrying_legs(legs, symmetric=False)
    factor = {1: 1.0, 2: 1.0 if wide else 1.4}.get(legs, 1.5 if wide else 2.1)
    return factor * (CHOKED if hitch == "choked" else 1.0)


def carrying_legs(legs: int, *, symmetric: bool) -> int:
    """How many legs are counted on: two of four at most where the load is rigid or not clearly symmetric."""
    return legs if symmetric else 2 if legs >= 3 else 1


def assess(inputs: Inputs) -> Assessment:
    """Tension, mode factor and needed mark; then every piece against its mark and its date."""
    legs, symmetric = int(inputs.legs), inputs.symmetric == "yes"
    angle = inputs.angle_deg() or 0.0
    counted = carrying_legs(legs, symmetric=symmetric)
    taking = 2 if legs == 4 else counted
    loaded = taking * (2 if inputs.hitch == "basket" else 1)
    tension_kg = leg_tension(inputs.load_kg, loaded, angle)
    factor = mode_factor(counted, inputs.hitch, angle)
    choked = CHOKED if inputs.hitch == "choked" else 1.0
    by_mode = inputs.load_kg / min(factor, mode_factor(taking, inputs.hitch, angle))
    needed = max(by_mode, tension_kg / choked)
    beyond, unknown, weakest = _gear(inputs, needed)
    verdict = Verdict.FIGURES_BEYOND if beyond else Verdict.CANNOT_TELL if unknown else Verdict.FIGURES_WITHIN
    return Assessment(
        verdict=verdict,
        figures={
            "leg_tension_kn": Figure(newtons(tension_kg) / 1000, "kN"),
            "mode_factor": Figure(factor, ""),
            "needed_wll_kg": Figure(needed, "kg"),
            "weakest": Figure(weakest, ""),
        },
        findings=(
            f"{taking} of {legs} legs are counted on; each leg is to be marked {shown(needed)} kg or more.",
            *beyond,
            *unknown,
        ),
        advice=("Take pieces marked for more, in date; or longer legs.",) if beyond else (),
        cautions=(
            *CAUTIONS,
            "Out of use: no tag, burns, cuts, broken stitching, a knot, stiffness, bad fittings.",
        ),
        basis=(
            "T = W/(n cos b), the angle to the vertical: US Navy training manual 14080; two of four legs carry.",
            "The mark needed is the larger of tension and load over mode factor.",
            "Mode factors: EN 1492 and EN 13414-1:2003, second-hand; 60 deg at most: EN 818-4, from memory.",
            "Legs not clearly symmetric count as fewer: EN 818-6, from memory; four as two: US Navy manuals.",
            "The limit is each piece's own mark and its own next examination.",
        ),
        passed_by="" if verdict is Verdict.CANNOT_TELL else PASSED_BY,
    )


def _gear(inputs: Inputs, needed: float) -> tuple[tuple[str, ...], tuple[str, ...], str | None]:
    """What is beyond, what cannot be told, and the marked piece with the least in hand."""
    if not inputs.gear:
        return (), ("No gear was given: marks and dates are not told.",), None
    beyond, unknown, in_hand = [], [], {}
    for one in inputs.gear:
        asked = needed if one.carries == "a leg" else inputs.load_kg
        if one.wll_kg is None:
            unknown.append(f"{one.tag}: no mark given.")
        else:
            in_hand[one.tag] = one.wll_kg / asked
            if one.wll_kg < asked:
                beyond.append(
                    f"{one.tag}: beyond its mark, {shown(asked)} kg needed, {shown(one.wll_kg)} kg marked."
                )
        if one.next_examination is None or inputs.on_date is None:
            unknown.append(f"{one.tag}: not told whether its examination is in date.")
        elif one.next_examination < inputs.on_date:
            beyond.append(f"{one.tag}: examination was due on {one.next_examination.isoformat()}.")
    weakest = min(in_hand, key=lambda tag: in_hand[tag]) if in_hand else None
    return tuple(beyond), tuple(unknown), weakest
