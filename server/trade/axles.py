"""What a mass in a two-axle vehicle does to each axle, and the force that must hold it: statics.

W wheelbase in m; p the mass's distance forward of the rear axle in m, negative behind it. A mass behind the
rear axle lightens the front and adds more than itself to the rear.
"""

from __future__ import annotations

from collections.abc import Iterable

from server.trade.gravity import newtons

Placed = tuple[float, float]
"""A mass and its place along the vehicle."""


def added_front(mass: float, forward_m: float, wheelbase_m: float) -> float:
    """w p/W, in the unit of the mass."""
    return mass * forward_m / wheelbase_m


def added_rear(mass: float, forward_m: float, wheelbase_m: float) -> float:
    """w (W - p)/W, in the unit of the mass."""
    return mass * (wheelbase_m - forward_m) / wheelbase_m


def added(masses: Iterable[Placed], wheelbase_m: float) -> tuple[float, float]:
    """Front and rear, of all of them."""
    placed = tuple(masses)
    return (
        sum(added_front(mass, at, wheelbase_m) for mass, at in placed),
        sum(added_rear(mass, at, wheelbase_m) for mass, at in placed),
    )


def offset_m(masses: Iterable[Placed]) -> float | None:
    """How far to the left the mass of them all lies, by masses and their y; None where there is no mass."""
    placed = tuple(masses)
    whole = sum(mass for mass, _ in placed)
    return sum(mass * left for mass, left in placed) / whole if whole else None


def left_share(offset: float, track_m: float) -> float:
    """The part of the load on the left wheels, 1/2 + y/track (no roll; ours)."""
    return 0.5 + offset / track_m


def restraint_n(mass_kg: float, fraction: float) -> float:
    """The force a lashing must hold: that fraction of the weight."""
    return newtons(mass_kg) * fraction
