"""At this focal length, aperture and distance, what is sharp and how deep is it?

Exact thin lens (form E): near = s f^2/(f^2 + N c (s-f)), far = s f^2/(f^2 - N c (s-f)), infinite
where that bracket is not positive, hyperfocal H = f^2/(N c) + f. Derived from 1/f = 1/s + 1/v.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import sharpness, thin_lens
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity
from server.trade.errors import InputError
from server.trade.fields import shown

SUN = "Never point the lens at the sun, and no eye either."


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One shot, and where wanted the depth it must hold."""

    focal_length_mm: float = quantity("focal length", "mm", 1, 3000, "as on the barrel, extender counted in")
    f_number: float = quantity("f-number", "", 0.7, 64, "the real one: a long zoom may close down by itself")
    distance_m: float = quantity(
        "distance", "m", 0.1, 1000, "from the lens; a tape from the sensor mark or the front glass differs"
    )
    image_height_mm: float = sharpness.image_height_mm()
    active_lines: float | None = sharpness.active_lines()
    blur_circle_mm: float | None = sharpness.blur_circle_mm()
    wanted_near_m: float | None = quantity(
        "wanted sharp from", "m", 0.1, 1000, "the nearest thing that must be sharp", default=None
    )
    wanted_far_m: float | None = quantity(
        "wanted sharp to", "m", 0.1, 1000, "the furthest thing that must be sharp", default=None
    )

    def __post_init__(self) -> None:
        sharpness.one_of_two(self.active_lines, self.blur_circle_mm)
        if 1000 * self.distance_m <= self.focal_length_mm:
            raise InputError(
                (
                    "distance_m",
                    f"{shown(self.distance_m)} m is not beyond the focal length; nothing is sharp there",
                )
            )
        if (self.wanted_near_m is None) != (self.wanted_far_m is None):
            raise InputError(("wanted_near_m", "goes with wanted_far_m; give both in m, or neither"))
        if self.wanted_near_m and self.wanted_far_m and self.wanted_near_m > self.wanted_far_m:
            raise InputError(("wanted_near_m", "is beyond wanted_far_m; change the two about"))


def assess(inputs: Inputs) -> Assessment:
    """What is sharp; judged only where a wanted depth is given, else the figures stand for themselves."""
    f, n, s = inputs.focal_length_mm, inputs.f_number, 1000 * inputs.distance_m
    c = sharpness.blur_mm(inputs.image_height_mm, inputs.active_lines, inputs.blur_circle_mm)
    near, far = (limit / 1000 for limit in thin_lens.limits(f, n, c, s))
    hyperfocal = thin_lens.hyperfocal(f, n, c) / 1000
    verdict, findings, advice = _judged(inputs, near, far)
    return Assessment(
        verdict=verdict,
        figures={
            "near_m": Figure(near, "m"),
            "far_m": Figure(None if math.isinf(far) else far, "m"),
            "hyperfocal_m": Figure(hyperfocal, "m"),
            "blur_circle_mm": Figure(c, "mm"),
            "depth_of_focus_um": Figure(1000 * thin_lens.depth_of_focus(n, c), "um"),
            "frame_height_m": Figure(inputs.image_height_mm / 1000 / thin_lens.magnification(f, s), "m"),
        },
        findings=(f"Sharp from {_metres(near)} to {_metres(far)}.", *findings, _printed_tables(f, n, c, s)),
        advice=advice,
        cautions=(SUN,),
        basis=(
            "Exact thin lens, distances from the lens: derived from 1/f = 1/s + 1/v.",
            sharpness.blur_basis(inputs.image_height_mm, inputs.active_lines, inputs.blur_circle_mm),
            "Depth of focus is to either side, +/- N c (Smith, Modern Optical Engineering, eq. 9.8).",
        ),
    )


def _judged(inputs: Inputs, near: float, far: float) -> tuple[Verdict, tuple[str, ...], tuple[str, ...]]:
    first, last = inputs.wanted_near_m, inputs.wanted_far_m
    if first is None or last is None:
        return (
            Verdict.CANNOT_TELL,
            ("No wanted depth was given, so nothing is judged: the figures say what is sharp.",),
            ("Give wanted_near_m and wanted_far_m to have it judged.",),
        )
    if near <= first and last <= far:
        return Verdict.WITHIN, (f"{_metres(first)} to {_metres(last)} lies within.",), ()
    focus_m = thin_lens.focus_between(first, last)
    return (
        Verdict.ADJUST,
        (f"{_metres(first)} to {_metres(last)} is not all sharp.",),
        (f"Focus at {_metres(focus_m)}, between the two; if that does not do, stop down or go wider.",),
    )


def _printed_tables(f: float, n: float, c: float, s: float) -> str:
    approximate = thin_lens.limits_approximate(thin_lens.hyperfocal(f, n, c), s)
    focal_plane = thin_lens.limits_at_focal_plane(f, n, c, s)
    return (
        "Printed tables differ a little by their formula: the approximate one gives "
        f"{_metres(approximate[0] / 1000)} to {_metres(approximate[1] / 1000)}, the one with the blur at the "
        f"focal plane {_metres(focal_plane[0] / 1000)} to {_metres(focal_plane[1] / 1000)}."
    )


def _metres(length_m: float) -> str:
    return "infinity" if math.isinf(length_m) else f"{shown(length_m)} m"
