"""Figures laid along a line in proportion, and spans from least to most drawn on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from server.trade import figure as pen


@dataclass(frozen=True)
class Scale:
    """From `low` to `high`, laid from `start` to `end` in drawing units."""

    low: float
    high: float
    start: float
    end: float

    def at(self, figure: float) -> float:
        """Where a figure lies; what is beyond the ends is held at them."""
        part = (figure - self.low) / (self.high - self.low)
        return self.start + (self.end - self.start) * min(1.0, max(0.0, part))

    def holds(self, figure: float) -> bool:
        """Whether a figure lies between the ends."""
        return self.low <= figure <= self.high


def steps(low: float, high: float, most: int = 5) -> list[float]:
    """Round figures from `low` to `high`, at most `most` of them."""
    rough = (high - low) / most
    ten = 10.0 ** math.floor(math.log10(rough))
    step = next(ten * times for times in (1, 2, 5, 10) if ten * times >= rough)
    first = math.ceil(low / step - 1e-9)
    return [step * i for i in range(first, first + most + 1) if step * i <= high + 1e-9 * step]


def ticks(scale: Scale, y: float, most: int = 5) -> str:
    """A rule with round figures under it."""
    return axis(scale, y, [(step, pen.short(step)) for step in steps(scale.low, scale.high, most)])


def axis(scale: Scale, y: float, marks: Sequence[tuple[float, str]]) -> str:
    """A rule with marks; a mark whose words have no room beside the last stands without."""
    drawn = pen.rule(pen.path((scale.start, y), (scale.end, y)), width=2, tone="soft")
    taken = pen.EDGE / 2
    for figure, words in marks:
        x, half = scale.at(figure), pen.breadth(words) / 2
        drawn += pen.rule(pen.path((x, y), (x, y + 6)), width=2, tone="soft")
        if x - half >= taken and x + half <= pen.WIDTH - pen.EDGE / 2:
            drawn += pen.words(x, y + 23, words, anchor="middle", tone="soft")
            taken = x + half + 8
    return drawn
