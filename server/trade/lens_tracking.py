"""Does the lens track, or is it the back focus, the ring, or the lens itself?

Marks give the shift at the sensor, delta = f^2/(s_c - f) - f^2/(s_m - f), positive when the sensor
sits too far back. Two terms are fitted, delta_i = e + kappa f_i^2: e is the back focus, the same
image shift at every focal length; kappa is the index of the ring, constant in vergence (1/m). What
remains at each focal length is tracking. Weights are 1/((N c)^2 + (reading step f^2/s_m^2)^2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import sharpness, thin_lens
from server.trade.answer import Assessment, Figure
from server.trade.declare import choice, quantity, table_of
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.lens_tracking_words import by_eye, by_readings, refocused

CAUTIONS = (
    "Support the lens before its clamp is opened; two people for a long zoom. Chart lamps are hot.",
    "Tube cameras hold EHT after switching off: covers stay on; opening is for a competent engineer "
    "under local rules.",
    "Never point the lens at the sun.",
)
ANSWERS = ("holds", "soft-wide", "soft-between")
ENOUGH = 1e-9


@dataclass(frozen=True, kw_only=True)
class Reading:
    """The ring where the chart is sharpest, at one focal length."""

    focal_length_mm: float = quantity("focal length", "mm", 1, 3000)
    chart_distance_m: float = quantity("chart distance", "m", 0.1, 1000, "from the lens")
    focus_mark_m: float = quantity("focus ring reads", "m", 0.1, 10000, "where the chart is sharpest")

    def __post_init__(self) -> None:
        for name in ("chart_distance_m", "focus_mark_m"):
            if 1000 * getattr(self, name) <= self.focal_length_mm:
                raise InputError((name, "is within the focal length; give the distance in m"))


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Either readings of the ring, or an answer by eye."""

    image_height_mm: float = sharpness.image_height_mm()
    active_lines: float | None = sharpness.active_lines()
    blur_circle_mm: float | None = sharpness.blur_circle_mm()
    f_number: float = quantity("f-number", "", 0.7, 64, "the aperture the chart was looked at with")
    answer: str | None = choice("through the zoom", *ANSWERS, help="by eye, first", default=None)
    readings: tuple[Reading, ...] = table_of(Reading, "readings", least=1, most=50, default=())
    reading_step_percent: float = quantity("ring read to", "%", 0.01, 20, "of the marked distance", default=1)

    def __post_init__(self) -> None:
        sharpness.one_of_two(self.active_lines, self.blur_circle_mm)
        if not self.readings and self.answer is None:
            raise InputError(("readings", "is missing; give 1 to 50 rows, or an answer"))


@dataclass(frozen=True)
class Fit:
    """Lengths in mm, kappa per mm; `told_apart` is False where one focal length fits any mixture."""

    back_focus: float
    kappa: float
    shifts: tuple[float, ...]
    sigmas: tuple[float, ...]
    remainders: tuple[float, ...]
    told_apart: bool


@dataclass(frozen=True)
class WideEnd:
    """What this back focus does at the widest focal length read, in mm; focus may be infinite."""

    focus: float
    blur: float
    left: float
    said: str


def fit(inputs: Inputs, limit: float) -> Fit:
    """The two terms; with fewer than three focal lengths the mean shift and no ring term."""
    focal = [one.focal_length_mm for one in inputs.readings]
    marks = [1000 * one.focus_mark_m for one in inputs.readings]
    shifts = [
        thin_lens.image_shift(f, 1000 * one.chart_distance_m, m)
        for f, m, one in zip(focal, marks, inputs.readings, strict=True)
    ]
    step = inputs.reading_step_percent / 100
    sigmas = [
        (limit**2 + thin_lens.ring_shift(f, m, step) ** 2) ** 0.5 for f, m in zip(focal, marks, strict=True)
    ]
    e, kappa = _two_terms([f * f for f in focal], shifts, sigmas)
    told_apart = len(set(focal)) > 2
    if not told_apart:
        weights = [s**-2 for s in sigmas]
        e = sum(w * d for w, d in zip(weights, shifts, strict=True)) / sum(weights)
        kappa = 0.0
    left = tuple(d - e - kappa * f * f for d, f in zip(shifts, focal, strict=True))
    return Fit(e, kappa, tuple(shifts), tuple(sigmas), left, told_apart)


def _two_terms(squares: list[float], shifts: list[float], sigmas: list[float]) -> tuple[float, float]:
    weights = [s**-2 for s in sigmas]
    whole = sum(weights)
    mean_q = sum(w * q for w, q in zip(weights, squares, strict=True)) / whole
    mean_d = sum(w * d for w, d in zip(weights, shifts, strict=True)) / whole
    spread = sum(w * (q - mean_q) ** 2 for w, q in zip(weights, squares, strict=True))
    if spread <= ENOUGH * whole * mean_q**2:
        return mean_d, 0.0
    both = zip(weights, squares, shifts, strict=True)
    kappa = sum(w * (q - mean_q) * (d - mean_d) for w, q, d in both) / spread
    return mean_d - kappa * mean_q, kappa


def assess(inputs: Inputs) -> Assessment:
    """By the readings where there are any, else by the answer."""
    c = sharpness.blur_mm(inputs.image_height_mm, inputs.active_lines, inputs.blur_circle_mm)
    limit = thin_lens.depth_of_focus(inputs.f_number, c)
    found = fit(inputs, limit) if inputs.readings else None
    verdict, findings, advice = by_readings(inputs, found, limit) if found else by_eye(inputs)
    apart = found if found and found.told_apart else None
    worst = max((1000 * abs(left) for left in apart.remainders), default=None) if apart else None
    wide = at_wide_end(inputs, apart) if apart else None
    return Assessment(
        verdict=verdict,
        figures={
            "back_focus_error_um": Figure(1000 * apart.back_focus if apart else None, "um"),
            "ring_index_per_m": Figure(1000 * apart.kappa if apart else None, "1/m"),
            "limit_um": Figure(1000 * limit, "um"),
            "worst_remainder_um": Figure(worst, "um"),
            "wide_focus_m": Figure(wide.focus / 1000 if wide and math.isfinite(wide.focus) else None, "m"),
            "wide_blur_lines": Figure(wide.blur / c if wide else None, "blur circles"),
            "wide_left_um": Figure(1000 * wide.left if wide else None, "um"),
        },
        findings=(*findings, *refocused(wide)),
        advice=advice,
        cautions=CAUTIONS,
        basis=(
            "Exact thin lens; back focus is the same image shift at every focal length.",
            sharpness.blur_basis(inputs.image_height_mm, inputs.active_lines, inputs.blur_circle_mm),
            f"Limit +/- N c at f/{shown(inputs.f_number)}, where it was judged: a house limit, editable.",
            f"The eye is taken uncertain by +/- N c, the ring by {shown(inputs.reading_step_percent)} %.",
            f"Judge in green: red and blue planes lie {shown(thin_lens.RED_PLANE_UM)} and "
            f"{shown(thin_lens.BLUE_PLANE_UM)} um further back by design (BTA S-1005B, second-hand).",
        ),
    )


def at_wide_end(inputs: Inputs, found: Fit) -> WideEnd:
    """With the ring left where it was read."""
    wide = min(inputs.readings, key=lambda one: one.focal_length_mm)
    f, mark = wide.focal_length_mm, 1000 * wide.focus_mark_m
    return WideEnd(
        focus=thin_lens.focused_at(f, mark, found.back_focus),
        blur=thin_lens.blur_of_shift(found.back_focus, inputs.f_number),
        left=thin_lens.wide_end_remainder(
            found.back_focus, f, max(one.focal_length_mm for one in inputs.readings)
        ),
        said=f"At {shown(f)} mm, the ring at {shown(wide.focus_mark_m)} m,",
    )
