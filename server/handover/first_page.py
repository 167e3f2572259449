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
LENGTHS = (130, 80, 60, 34)
"""The most characters of a point, the longest first that fit with one point a heading."""
LONG_WORD = 24
MORE = len("; and 1000 more on page 100")
ROW_LINES = 0.45
"""What a row's rules and padding take, in lines."""
PAGE_LINES = 53.0
"""What the heading leaves of the page, with a title of two lines and the word that this is a draft."""
ROW_OF_DRAWINGS_LINES = 8.8
DRAWINGS_A_ROW = 3
LONGEST_TOLD = 200
"""Characters of what the outgoing crew told that stand on the first page."""


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


def room(drawn: Sequence[View], not_drawn: str, none: Sequence[str], told: Sequence[View]) -> float:
    """What the drawn vehicles and the fixed rows leave of the first page, in lines."""
    drawings = sum(len(one["drawings"]) for one in drawn)
    rows = [", ".join(none), *(_told_first(one) for one in told[:1])]
    return (
        PAGE_LINES
        - ROW_OF_DRAWINGS_LINES * -(-drawings // DRAWINGS_A_ROW)
        - lines_of(not_drawn)
        - sum(lines_of(one, MORE) + ROW_LINES for one in rows if one)
    )


def _told_first(one: View) -> str:
    return f"{one['states'][:LONGEST_TOLD]} {one['whose']}"


def fitted(headings: Sequence[Heading], lines: float) -> list[View]:
    """Headings with points, as they fit: `shown`, and `more` for how many of its points are not, or are cut.

    Each keeps one point at least; where that is too much already, points are cut shorter.
    """
    some = [one for one in headings if one.points]
    shown = {one.id: 1 for one in some}
    most = next((most for most in LENGTHS if _taken(some, shown, most) <= lines), LENGTHS[-1])
    growing = list(some)
    while growing:
        growing = [one for one in growing if _grows(one, shown, some, lines, most)]
    return [_row(one, shown[one.id], most) for one in some]


def _grows(one: Heading, shown: dict[str, int], some: Sequence[Heading], lines: float, most: int) -> bool:
    """Whether one more point of a heading fits; it is then shown."""
    if shown[one.id] >= len(one.points):
        return False
    shown[one.id] += 1
    if _taken(some, shown, most) <= lines:
        return True
    shown[one.id] -= 1
    return False


def _taken(some: Sequence[Heading], shown: dict[str, int], most: int) -> float:
    return sum(_lines(_row(one, shown[one.id], most)) for one in some)


def _row(one: Heading, count: int, most: int) -> View:
    said = [shorten(point, most) for point in one.points[:count]]
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


def _lines(row: View) -> float:
    """What a row takes."""
    more = MORE if row["more"] or row["cut"] else 0
    return lines_of("; ".join(row["shown"]), more) + ROW_LINES


def lines_of(words: str, more: int = 0) -> int:
    """The lines that words take at most, with room for `more` characters after them; a long word may break early."""
    broken = sum(1 for word in words.split() if width(word) > LONG_WORD)
    return -(-(width(words) + more) // LINE) + broken
