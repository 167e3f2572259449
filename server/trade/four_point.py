"""What does each of four clips or picks take, and for what must each be rated?

Shares as in `bearers.py`. Four on a rigid load: two may carry it all, so each is rated for half, or for the
largest bound where the centre of gravity is off the middle, times 1/cos b where straps stand b off the
vertical (US Navy training manuals 14080 and 14081, fig. 13-50, for the two). Tilt under one hook on equal
straps: atan(offset/height of the hook over the centre of gravity).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import bearers
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.gravity import newtons
from server.trade.lifting_cautions import CAUTIONS, PASSED_BY

POINTS = ("front_left", "front_right", "back_left", "back_right")


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One load on four points, and what is marked on them."""

    load_kg: float = quantity("load", "kg", 0.1, 5000, "contents and bag together")
    u: float = quantity(
        "centre of gravity forward", "", -1, 1, "in half lengths from the middle; 1 is the front"
    )
    v: float = quantity("centre of gravity left", "", -1, 1, "in half widths from the middle; 1 is the left")
    strap_to_vertical_deg: float = quantity(
        "straps off the vertical", "deg", 0, 60, "0: hanging straight", default=0
    )
    point_wll_kg: float | None = quantity(
        "marked on each point", "kg", 1, 20000, "the least of the four marks", default=None
    )
    bag_wll_kg: float | None = quantity(
        "marked on the bag", "kg", 1, 20000, "a lifting bag needs a mark of its own", default=None
    )
    length_m: float | None = quantity("points apart, lengthwise", "m", 0.05, 20, "for the tilt", default=None)
    width_m: float | None = quantity("points apart, across", "m", 0.05, 20, "for the tilt", default=None)
    hook_height_m: float | None = quantity(
        "hook above the centre of gravity", "m", 0.05, 30, "for the tilt", default=None
    )

    def __post_init__(self) -> None:
        tilt = {name: getattr(self, name) for name in ("length_m", "width_m", "hook_height_m")}
        if len({value is None for value in tilt.values()}) > 1:
            missing = [name for name, value in tilt.items() if value is None]
            raise InputError(
                *((name, "is missing for the tilt; give all three lengths in m, or none") for name in missing)
            )


def assess(inputs: Inputs) -> Assessment:
    """Least, likely and most at each point; judged against the marks, where both are given."""
    within = bearers.span(inputs.u, inputs.v) or (0.0, 0.0)
    least, most = bearers.ends(inputs.u, inputs.v, within)
    likely = bearers.likely(inputs.u, inputs.v, within)
    rated_kg = rate_each_kg(inputs.load_kg, max(most), inputs.strap_to_vertical_deg)
    figures = {}
    for point, low, middle, high in zip(POINTS, least, likely, most, strict=True):
        for word, share in (("least", low), ("likely", middle), ("most", high)):
            figures[f"{point}_{word}_kg"] = Figure(share * inputs.load_kg, "kg")
    tilt = tilt_deg(inputs)
    verdict, findings, advice = _judged(inputs, rated_kg)
    return Assessment(
        verdict=verdict,
        figures={
            **figures,
            "rate_each_kg": Figure(rated_kg, "kg"),
            "rate_each_n": Figure(newtons(rated_kg), "N"),
            "tilt_deg": Figure(tilt, "deg"),
        },
        findings=(
            f"Rate each point for {shown(rated_kg)} kg: two of four may carry it all.",
            *findings,
            "Tilt is not told: the three lengths for it were not given."
            if tilt is None
            else f"On equal straps it hangs tilted by {shown(tilt)} deg.",
        ),
        advice=advice,
        cautions=(
            *CAUTIONS,
            "The hook belongs above the centre of gravity and the points above it too, or the load tips.",
        ),
        basis=(
            "Rigid load; least and most are bounds from statics, not a forecast; likely takes equal springs.",
            "Two of four carry: US Navy training manuals 14080 and 14081.",
            "Starting, stopping and swinging loads are in none of these figures.",
            "The limit is the gear's own mark.",
        ),
        passed_by="" if verdict is Verdict.CANNOT_TELL else PASSED_BY,
    )


def rate_each_kg(load_kg: float, most_share: float, strap_to_vertical_deg: float) -> float:
    """For how much one of four points is to be rated: two carry, or the bound, over cos b."""
    return load_kg * max(0.5, most_share) / math.cos(math.radians(strap_to_vertical_deg))


def tilt_deg(inputs: Inputs) -> float | None:
    """How far the load hangs off level under one hook on equal straps; None where lengths are missing."""
    if inputs.length_m is None or inputs.width_m is None or inputs.hook_height_m is None:
        return None
    offset = math.hypot(inputs.u * inputs.length_m / 2, inputs.v * inputs.width_m / 2)
    return math.degrees(math.atan2(offset, inputs.hook_height_m))


def _judged(inputs: Inputs, rated_kg: float) -> tuple[Verdict, tuple[str, ...], tuple[str, ...]]:
    marks = {
        "point": (inputs.point_wll_kg, rated_kg),
        "bag": (inputs.bag_wll_kg, inputs.load_kg),
    }
    beyond = tuple(
        f"Beyond the mark on the {what}: {shown(needed)} kg needed, {shown(wll)} kg marked."
        for what, (wll, needed) in marks.items()
        if wll is not None and needed > wll
    )
    if beyond:
        return (
            Verdict.FIGURES_BEYOND,
            beyond,
            ("Lighten the load, bring its centre of gravity to the middle, or take gear marked for more.",),
        )
    unmarked = [what for what, (wll, _) in marks.items() if wll is None]
    if unmarked:
        what = " and ".join(unmarked)
        return (
            Verdict.CANNOT_TELL,
            (f"No mark was given for the {what}.",),
            (f"Read the mark on the {what}.",),
        )
    return Verdict.FIGURES_WITHIN, ("Within the marks on points and bag.",), ()
