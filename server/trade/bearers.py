"""What four handles, clips or legs under one rigid load take: least, likely and most.

R = W/4 (1 +- u +- v + s g): u, v are the centre of gravity in fractions of half the length and half the
width, g is +1 at (+,+) and (-,-), -1 at the other two. Equilibrium leaves s open (known since Euler 1773;
J. Garcia, G. Wood, F. Barrera-Mora, Applied Mathematics 6 (2015) 599-616). R >= 0 bounds s from
-(1-abs(u+v)) to 1-abs(u-v). Vertical forces, rigid load, nobody pushing sideways.
"""

from __future__ import annotations

SIGNS = ((1, 1), (1, -1), (-1, 1), (-1, -1))
"""The side of the load on which each point sits, along its length and its width; every answer is in this order."""

Four = tuple[float, float, float, float]


def shares(u: float, v: float, s: float) -> Four:
    """The part of the load on each point for one s; they add to 1. Negative where a point would have to pull."""
    one, two, three, four = ((1 + a * u + b * v + s * a * b) / 4 for a, b in SIGNS)
    return one, two, three, four


def span(u: float, v: float) -> tuple[float, float] | None:
    """The least and the most s; None where the centre of gravity lies outside the points: the load tips."""
    if abs(u) > 1 or abs(v) > 1:
        return None
    return abs(u + v) - 1, 1 - abs(u - v)


def likely(u: float, v: float, within: tuple[float, float]) -> Four:
    """Equal springs, s = 0, held into the span: where a point goes light, three carry."""
    return _pressing(shares(u, v, min(max(0.0, within[0]), within[1])))


def product_rule(u: float, v: float) -> Four:
    """The other rule that circulates, s = u v (a question-and-answer page, second-hand)."""
    return shares(u, v, u * v)


def ends(u: float, v: float, within: tuple[float, float]) -> tuple[Four, Four]:
    """The least and the most each point can take; each is reached at one end of the span."""
    low, high = (_pressing(shares(u, v, s)) for s in within)
    least = tuple(map(min, low, high))
    most = tuple(map(max, low, high))
    return (least[0], least[1], least[2], least[3]), (most[0], most[1], most[2], most[3])


def _pressing(found: Four) -> Four:
    """Rounding at the ends of the span may leave a share a hair below nothing."""
    one, two, three, four = (max(0.0, share) for share in found)
    return one, two, three, four


def from_end_weights(heavy_kg: float, light_kg: float) -> float:
    """How far u lies towards the heavy end when each end was weighed with the other supported."""
    return (heavy_kg - light_kg) / (heavy_kg + light_kg)
