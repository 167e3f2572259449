"""The 13 terms of registration: which control each is, what it looks like, and the fit of a channel.

Picture height is 1, the origin the picture's centre, x to the right, y down; a channel's displacement
against green is + to the right and + below. The mapping of terms to controls is from memory, the algebra
is exact. A control moves its channel by minus the fitted term.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from server.trade.least_squares import Solution, solve

Part = tuple[int, int, int, int]
"""Axis (0 across, 1 down), sign, power of x, power of y."""


@dataclass(frozen=True)
class Term:
    """One term: what 1 of it does at x, y; and the words where it is positive, where negative."""

    name: str
    label: str
    parts: tuple[Part, ...]
    seen: tuple[str, str]
    turn: tuple[str, str]

    def shape(self, x: float, y: float) -> tuple[float, float]:
        """Displacement across and down at x, y for a coefficient of one."""
        across, down = (
            sum(sign * x**i * y**j for axis, sign, i, j in self.parts if axis == wanted) for wanted in (0, 1)
        )
        return across, down


@dataclass(frozen=True)
class Point:
    """Displacement of a channel at one point of the chart, all in picture heights."""

    x: float
    y: float
    dx: float
    dy: float


@dataclass(frozen=True)
class ChannelFit:
    """The solution and what the points and terms say; `left` is each point after the turning of controls."""

    points: tuple[Point, ...]
    solution: Solution
    noise: float
    left: tuple[Point, ...]

    def coefficient(self, name: str) -> float | None:
        """Of a term, in picture heights; None where the points cannot tell it apart."""
        i = NAMES.index(name)
        return self.solution.values[i] if self.solution.known[i] else None

    def spread(self, name: str) -> float:
        """How far the coefficient can be trusted: one standard deviation, from the noise of a reading."""
        return self.noise * self.solution.spreads[NAMES.index(name)]


TERMS = (
    Term("centring_h", "H centring", ((0, 1, 0, 0),),
         ("lies right", "lies left"), ("move it left", "move it right")),
    Term("centring_v", "V centring", ((1, 1, 0, 0),),
         ("lies low", "lies high"), ("move it up", "move it down")),
    Term("rotation", "rotation", ((0, -1, 0, 1), (1, 1, 1, 0)),
         ("is turned clockwise", "is turned anticlockwise"), ("turn it anticlockwise", "turn it clockwise")),
    Term("skew", "skew", ((0, 1, 0, 1),),
         ("leans, bottom to the right", "leans, bottom to the left"),
         ("bring the bottom left and the top right", "bring the bottom right and the top left")),
    Term("width", "width", ((0, 1, 1, 0),),
         ("is too wide", "is too narrow"), ("narrower", "wider")),
    Term("height", "height", ((1, 1, 0, 1),),
         ("is too tall", "is too short"), ("less tall", "taller")),
    Term("linearity_h", "H linearity", ((0, 1, 2, 0),),
         ("lies right at both sides", "lies left at both sides"),
         ("bring both sides left, centre held", "bring both sides right, centre held")),
    Term("linearity_v", "V linearity", ((1, 1, 0, 2),),
         ("lies low at top and bottom", "lies high at top and bottom"),
         ("bring top and bottom up, centre held", "bring top and bottom down, centre held")),
    Term("bow_h", "H bow", ((0, 1, 0, 2),),
         ("bows: uprights lie right at top and bottom", "bows: uprights lie left at top and bottom"),
         ("bring the ends of the uprights left", "bring the ends of the uprights right")),
    Term("bow_v", "V bow", ((1, 1, 2, 0),),
         ("bows: level lines lie low at both sides", "bows: level lines lie high at both sides"),
         ("bring the ends of the level lines up", "bring the ends of the level lines down")),
    Term("trapezium_h", "H trapezium", ((0, 1, 1, 1),),
         ("is wide at the bottom", "is wide at the top"),
         ("narrower at the bottom, wider at the top", "wider at the bottom, narrower at the top")),
    Term("trapezium_v", "V trapezium", ((1, 1, 1, 1),),
         ("is tall at the right", "is tall at the left"),
         ("less tall at the right, taller at the left", "taller at the right, less tall at the left")),
    Term("radial", "radial", ((0, 1, 3, 0), (0, 1, 1, 2), (1, 1, 2, 1), (1, 1, 0, 3)),
         ("is drawn out to the corners", "is drawn in from the corners"), ("", "")),
)  # fmt: skip
"""In the order of work (from memory): centring, rotation and skew, size, linearity, bow and trapezium."""

NOTHING = 1e-12
"""Of the picture height, for a whole one of a term: points so near the middle do not tell the term."""
NAMES = tuple(term.name for term in TERMS)
CONTROLS = tuple(term for term in TERMS if term.name != "radial")


def rows(points: Sequence[Point]) -> list[list[float]]:
    """Two equations a point: all dx, then all dy. What a term moves a point by less than `NOTHING` is nothing."""
    shapes = [[term.shape(one.x, one.y) for term in TERMS] for one in points]
    parts = [[shape[axis] for shape in row] for axis in (0, 1) for row in shapes]
    return [[part if abs(part) > NOTHING else 0.0 for part in row] for row in parts]


def fit(points: Sequence[Point], cured: Sequence[str], step: float = 0.0) -> ChannelFit:
    """All 13 terms together; `left` is without the cured.

    The noise of a reading is what the fit leaves where there are more equations than terms, and never
    less than `step`, to which it was read.
    """
    design = rows(points)
    wanted = [one.dx for one in points] + [one.dy for one in points]
    solution = solve(design, wanted)
    residual = [w - _dot(row, solution.values) for w, row in zip(wanted, design, strict=True)]
    over = len(wanted) - solution.rank
    noise = max(step, math.hypot(*residual) / math.sqrt(over) if over else 0.0)
    known = [
        value if known and name in cured else 0.0
        for value, known, name in zip(solution.values, solution.known, NAMES, strict=True)
    ]
    left = tuple(
        Point(
            one.x,
            one.y,
            one.dx - _dot(design[i], known),
            one.dy - _dot(design[len(points) + i], known),
        )
        for i, one in enumerate(points)
    )
    return ChannelFit(tuple(points), solution, noise, left)


def _dot(row: Sequence[float], values: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(row, values, strict=True))


def size(points: Sequence[Point]) -> tuple[float, float]:
    """Rms and worst length of the displacements."""
    lengths = [math.hypot(one.dx, one.dy) for one in points]
    return math.hypot(*lengths) / math.sqrt(len(lengths)), max(lengths)


def largest(name: str, coefficient: float, half_width: float) -> float:
    """What a term moves at most within the picture: at the corner, for all of them grow outwards."""
    term = TERMS[NAMES.index(name)]
    return math.hypot(*(coefficient * part for part in term.shape(half_width, 0.5)))


def lateral_colour(magnification_ratio: float, radius: float) -> float:
    """d = (M_R/M_G - 1) r from the centre, in the unit of the radius: the term of ISO 19084:2015."""
    return (magnification_ratio - 1) * radius
