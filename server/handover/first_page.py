"""What fits on the first page: each heading's first points, and how many more stand on a later page.

How much a line takes is estimated on the wide side, so that the page never runs over; the proof is in the tests.
"""

from collections.abc import Sequence
from typing import Any
from unicodedata import combining, east_asian_width

from server.handover.open_points import Heading

View = dict[str, Any]
LINE = 66
"""Characters that surely stand on one line of the points' column."""
LONGEST = 130
LONG_WORD = 24
MORE = len("; and 1000 more on page 100")
ROW_LINES = 0.45
"""What a row's rules and padding take, in lines."""


def shorten(words: str, most: int) -> str:
    """Words cut where they are wider than `most` characters, the cut shown."""
    if width(words) <= most:
        return words
    cut = words
    while width(cut) > most - 2:
        cut = cut[: max(1, len(cut) * (most - 2) // width(cut))] if len(cut) > most else cut[:-1]
    return f"{cut.rstrip()} …"


def width(words: str) -> int:
    """How many characters' room words take: wide ones count twice, combining ones not at all."""
    return sum(
        0 if combining(one) else 2 if east_asian_width(one) in "WF" or ord(one) > 0xFFFF else 1
        for one in words
    )


def fitted(headings: Sequence[Heading], lines: float) -> list[View]:
    """Headings with points, as they fit: `shown`, and `more` for how many of its points are not, or are cut."""
    some = [one for one in headings if one.points]
    shown = {one.id: 1 for one in some}
    growing = list(some)
    while growing:
        growing = [one for one in growing if _grows(one, shown, some, lines)]
    return [_row(one, shown[one.id]) for one in some]


def _grows(one: Heading, shown: dict[str, int], some: Sequence[Heading], lines: float) -> bool:
    """Whether one more point of a heading fits; it is then shown."""
    if shown[one.id] >= len(one.points):
        return False
    shown[one.id] += 1
    if sum(_lines(other, shown[other.id]) for other in some) <= lines:
        return True
    shown[one.id] -= 1
    return False


def _row(one: Heading, count: int) -> View:
    said = [shorten(point, LONGEST) for point in one.points[:count]]
    return {
        "id": one.id,
        "word": one.word,
        "alarm": one.alarm,
        "count": len(one.points),
        "shown": said,
        "more": len(one.points) - count,
        "cut": said != list(one.points[:count]),
        "points": one.points,
    }


def _lines(one: Heading, count: int) -> float:
    row = _row(one, count)
    text = "; ".join(row["shown"])
    taken = width(text) + (MORE if row["more"] or row["cut"] else 0)
    broken = sum(1 for word in text.split() if width(word) > LONG_WORD)
    return -(-taken // LINE) + broken + ROW_LINES
