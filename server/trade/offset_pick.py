"""What do two unequal legs to one hook take, and how far does the load tilt on equal ones?

T1 = W L1 H2/(V1 H2 + V2 H1) and the same about (V, H, L vertical, horizontal and slant of each leg: Hall's
lesson on rigging mathematics, second-hand); level picks at height h: T1 = W d2 L1/(h (d1 + d2)), so the
nearer leg takes more. Equal legs: the centre of gravity swings under the hook, tilt =
atan(abs(d1 - d2)/2 / (h - height of the centre of gravity over the picks)).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity
from server.trade.fields import shown
from server.trade.gravity import newtons
from server.trade.lifting_cautions import CAUTIONS, PASSED_BY

STEEPEST_DEG = 60


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One load on two legs to one hook."""

    load_kg: float = quantity("load", "kg", 0.1, 20000, "with bag and lifting gear")
    d1_m: float = quantity("first pick from the centre of gravity", "m", 0.001, 20, "level distance")
    d2_m: float = quantity("second pick from the centre of gravity", "m", 0.001, 20, "level distance")
    height_m: float = quantity("hook above the first pick", "m", 0.01, 50)
    height_2_m: float | None = quantity(
        "hook above the second pick", "m", 0.01, 50, "if not level", default=None
    )
    cg_above_picks_m: float = quantity("centre of gravity above the picks", "m", -10, 10, default=0)
    leg_wll_kg: float | None = quantity("marked on each leg", "kg", 1, 50000, "the lesser mark", default=None)


def tensions(load: float, v1: float, h1: float, v2: float, h2: float) -> tuple[float, float]:
    """Of two legs to one hook, in the unit of the load; v, h in one unit of length."""
    both = v1 * h2 + v2 * h1
    return load * math.hypot(v1, h1) * h2 / both, load * math.hypot(v2, h2) * h1 / both


def assess(inputs: Inputs) -> Assessment:
    """Both tensions with the hook over the centre of gravity, against the mark and 60 deg to the vertical."""
    second = inputs.height_m if inputs.height_2_m is None else inputs.height_2_m
    one, two = tensions(inputs.load_kg, inputs.height_m, inputs.d1_m, second, inputs.d2_m)
    angle = math.degrees(max(math.atan2(inputs.d1_m, inputs.height_m), math.atan2(inputs.d2_m, second)))
    under_hook = min(inputs.height_m, second) - inputs.cg_above_picks_m
    level = second == inputs.height_m and under_hook > 0
    tilt = math.degrees(math.atan2(abs(inputs.d1_m - inputs.d2_m) / 2, under_hook)) if level else None
    beyond = []
    if angle > STEEPEST_DEG:
        beyond.append(
            f"A leg stands {shown(angle)} deg to the vertical, beyond 60 deg (EN 818-4, from memory)."
        )
    if inputs.cg_above_picks_m > 0:
        beyond.append("The centre of gravity lies above the picks: the load can tip over.")
    if inputs.leg_wll_kg is not None and max(one, two) > inputs.leg_wll_kg:
        beyond.append(
            f"Beyond the leg's own mark: {shown(max(one, two))} kg against {shown(inputs.leg_wll_kg)} kg."
        )
    unknown = () if inputs.leg_wll_kg is not None else ("No mark was given for the legs.",)
    verdict = Verdict.FIGURES_BEYOND if beyond else Verdict.CANNOT_TELL if unknown else Verdict.FIGURES_WITHIN
    return Assessment(
        verdict=verdict,
        figures={
            "leg_1_kg": Figure(one, "kg"),
            "leg_2_kg": Figure(two, "kg"),
            "leg_1_tension_kn": Figure(newtons(one) / 1000, "kN"),
            "leg_2_tension_kn": Figure(newtons(two) / 1000, "kN"),
            "tilt_deg": Figure(tilt, "deg"),
        },
        findings=(
            "With legs cut so that the hook stands over the centre of gravity it hangs level.",
            "Tilt on equal legs is not told: picks not level, or no hook above the centre of gravity."
            if tilt is None
            else f"On equal legs, with the hook at that height over the middle, it tilts by {shown(tilt)} deg.",
            *beyond,
            *unknown,
        ),
        advice=("Longer legs, picks above the centre of gravity, or gear marked for more.",)
        if beyond
        else (),
        cautions=CAUTIONS,
        basis=(
            "Two legs in one plane, hook over the centre of gravity: statics; Hall's lesson, second-hand.",
            "Starting, stopping and swinging are in none of these figures. The limit is the gear's own mark.",
        ),
        passed_by="" if verdict is Verdict.CANNOT_TELL else PASSED_BY,
    )
