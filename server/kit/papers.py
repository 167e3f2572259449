"""Papers that labels are printed on: sheets of A4 cut in a grid, and rolls of single labels. All lengths in mm.

A grid is named by the size of its labels, a roll by the size of its one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

A4_MM = (210.0, 297.0)
SMALLEST_MM, LARGEST_MM = 25, 210
ROLL = re.compile(r"roll-([0-9]{2,3})x([0-9]{2,3})", re.ASCII)


@dataclass(frozen=True)
class Paper:
    """A page and the labels on it: `left_mm` and `top_mm` of the first, its size, the steps to the next."""

    name: str
    page_mm: tuple[float, float]
    columns: int
    rows: int
    label_mm: tuple[float, float]
    left_mm: float = 0
    top_mm: float = 0
    gap_mm: float = 0

    @property
    def on_a_page(self) -> int:
        """How many labels are on one page."""
        return self.columns * self.rows

    def at(self, place: int) -> tuple[float, float]:
        """Left and top of a label of the page, counted from 0, row by row."""
        row, column = divmod(place, self.columns)
        return self.left_mm + column * (self.label_mm[0] + self.gap_mm), self.top_mm + row * self.label_mm[1]


SHEETS = {
    paper.name: paper
    for paper in (
        Paper("a4-63x38", A4_MM, 3, 7, (63.5, 38.1), 7.25, 15.15, 2.5),
        Paper("a4-70x37", A4_MM, 3, 8, (70, 37), 0, 0.5),
        Paper("a4-70x42", A4_MM, 3, 7, (70, 42.3), 0, 0.45),
        Paper("a4-99x38", A4_MM, 2, 7, (99.1, 38.1), 4.65, 15.15, 2.5),
        Paper("a4-99x68", A4_MM, 2, 4, (99.1, 67.7), 4.65, 13.1, 2.5),
        Paper("a4-105x74", A4_MM, 2, 4, (105, 74.25)),
    )
}
"""Grids in common use, from memory: print one page on plain paper first and hold it against the labels."""


class NoPaper(ValueError):  # noqa: N818 - said to whoever prints, by this name
    """There is no such paper; the message names those that there are."""


def paper_of(name: str) -> Paper:
    """The paper of a name: a grid of A4, or a roll such as roll-60x30. Raises NoPaper."""
    if name in SHEETS:
        return SHEETS[name]
    roll = ROLL.fullmatch(name)
    size = (float(roll[1]), float(roll[2])) if roll else (0.0, 0.0)
    if not all(SMALLEST_MM <= side <= LARGEST_MM for side in size):
        raise NoPaper(
            f"there is no paper '{name}': one of {', '.join(SHEETS)}, or a roll by the width and height of its label "
            f"in mm, {SMALLEST_MM} to {LARGEST_MM}, such as roll-60x30"
        )
    return Paper(name, size, 1, 1, size)
