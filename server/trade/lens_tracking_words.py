"""What lens tracking is answered in: what it is, how far each reading is to be trusted, which way to turn."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from server.trade.answer import Verdict
from server.trade.fields import shown

if TYPE_CHECKING:
    from server.trade.lens_tracking import Fit, Inputs, WideEnd

ORDER = "Focus at the long end, set back focus at the wide end on a far chart, repeat until neither moves."
Answer = tuple[Verdict, tuple[str, ...], tuple[str, ...]]
"""Verdict, findings, advice."""


def by_eye(inputs: Inputs) -> Answer:
    """By the answer given through the zoom."""
    if inputs.answer == "holds":
        return Verdict.WITHIN, ("tracks: sharp through the whole zoom, by eye.",), ()
    if inputs.answer == "soft-wide":
        return Verdict.ADJUST, ("adjust back focus: sharp long, soft wide.",), (ORDER,)
    return (
        Verdict.CANNOT_TELL,
        ("Soft between the ends: back focus alone does not do that, if both ends are really sharp.",),
        (ORDER, "If it is still soft between, take readings at three focal lengths or more."),
    )


def by_readings(inputs: Inputs, found: Fit, limit: float) -> Answer:
    """By the two terms: apart or not, then the lens, then back focus; the ring is a remark."""
    trust = tuple(
        f"At {shown(one.focal_length_mm)} mm: shift {shown(1000 * shift)} um, "
        f"read to +/- {shown(1000 * sigma)} um."
        for one, shift, sigma in zip(inputs.readings, found.shifts, found.sigmas, strict=True)
    )
    if not found.told_apart:
        if all(abs(shift) <= limit for shift in found.shifts):
            within = "every shift read is within the limit, but too few focal lengths to tell why"
        else:
            within = "shifts are beyond the limit, with too few focal lengths to tell why"
        return (
            Verdict.CANNOT_TELL,
            (f"cannot tell ring from back focus: {within}.", *trust),
            ("Read at three focal lengths or more, the widest and the longest among them.",),
        )
    ring = _ring(found.kappa)
    loose = zip(found.remainders, found.sigmas, strict=True)
    if any(abs(left) > max(limit, sigma) for left, sigma in loose):
        return (
            Verdict.BEYOND,
            ("the lens itself does not track: workshop.", *trust, *ring),
            ("Before sending it: chart flat on, lens at rest in temperature, readings repeated once.",),
        )
    if any(abs(left) > limit for left in found.remainders):
        return (
            Verdict.CANNOT_TELL,
            (
                "What remains is beyond the limit but within what these readings can be trusted.",
                *trust,
                *ring,
            ),
            ("Read again with a nearer step on the ring, or with the chart further away.",),
        )
    if abs(found.back_focus) > limit:
        way = "towards the lens" if found.back_focus > 0 else "away from the lens"
        where = "nearer" if found.back_focus > 0 else "further"
        return (
            Verdict.ADJUST,
            (f"adjust back focus: wide, what is sharp lies {where} than the ring says.", *trust, *ring),
            (
                f"Bring the sensor {way} by {shown(1000 * abs(found.back_focus))} um: on the picture, turn "
                "back focus at the wide end until the far chart is sharp.",
                ORDER,
            ),
        )
    return Verdict.WITHIN, ("tracks: every remaining shift is within the limit.", *trust, *ring), ()


def _ring(kappa: float) -> tuple[str, ...]:
    return (f"The ring is out by {shown(1000 * kappa)} per m at every focal length: a remark, not a fault.",)


def refocused(wide: WideEnd | None) -> tuple[str, ...]:
    """What the eye meets at the wide end, and why focusing by eye at the long end does not cure it."""
    if wide is None:
        return ()
    where = "infinity or beyond" if math.isinf(wide.focus) else f"{shown(round(wide.focus / 1000, 2))} m"
    return (
        f"{wide.said} it is focused at {where}.",
        f"Focused by eye at the long end, {shown(round(1000 * wide.left, 2))} um stay at the wide end.",
    )
