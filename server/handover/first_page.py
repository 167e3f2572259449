"""What fits on the first page: each heading's first points, and how many more stand on a later page.

How much a line takes is estimated on the wide side, so that the page never runs over; the proof is in the tests.
"""

from collections.abc import Sequence
from typing import Any
from unicodedata import combining, east_asian_width

from server.handover.open_points import Heading

View = dict[str, Any]
LINE_EM = 40.5
"""What a line of the points' column holds, in units of the type's size."""
NARROW, PLAIN, CAPITAL, BROAD, WIDE = 0.36, 0.58, 0.66, 0.92, 1.2
WIDTHS_EM = {
    **dict.fromkeys(" !\"'(),.:;[]`fijlrt{|}", NARROW),
    **dict.fromkeys("*-/?\\_EFJLTY^abcdeghknopqsuvxyz~I1237<>", PLAIN),
    **dict.fromkeys("#$+045689=ABCKPRSVXZ", CAPITAL),
    **dict.fromkeys("%&@DGHMNOQUWmw", BROAD),
}
"""The most that a character takes in the face that is printed, read from its own table; others take WIDE."""
BOLD = 1.2
"""How much wider, at the most, the bold face is."""
LENGTHS = (34, 60, 80, 130, 200)
"""The most characters of a point, as room grows."""
MORE = "and 1000 more on page 100"
ROW_LINES = 0.45
"""What a row's rules and padding take, in lines."""
PAGE_LINES = 54.0
"""What the heading leaves of the page, with a title of one line and how it was handed over."""
LINE_OF_TITLE, TITLE_LINES = 21, 2.4
"""Characters that surely stand on one line of the title, and what a second line of it takes."""
ROW_OF_DRAWINGS_LINES = 6.9
DRAWINGS_A_ROW = 4
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


def room(
    title: str, drawn: Sequence[View], not_drawn: str, none: Sequence[str], told: Sequence[View]
) -> float:
    """What the drawn vehicles and the fixed rows leave of the first page, in lines."""
    drawings = sum(len(one["drawings"]) for one in drawn)
    rows = [", ".join(none), *(_told_first(one) for one in told[:1])]
    return (
        PAGE_LINES
        - (0 if width(title) <= LINE_OF_TITLE else TITLE_LINES)
        - ROW_OF_DRAWINGS_LINES * -(-drawings // DRAWINGS_A_ROW)
        - lines_of(not_drawn)
        - sum(lines_of(one, MORE) + ROW_LINES for one in rows if one)
    )


def _told_first(one: View) -> str:
    return f"{one['states'][:LONGEST_TOLD]} {one['whose']}"


def fitted(headings: Sequence[Heading], lines: float) -> list[View]:
    """Headings with points, as they fit: `shown`, and `more` for how many of its points are not, or are cut.

    Each keeps one point at least, cut short. Then, round by round from the top, each takes what room is left: first
    its points' whole words, then one more point; what can hurt takes two steps a round.
    """
    some = [one for one in headings if one.points]
    sizes = {one.id: (1, 0) for one in some}
    growing = [one for one in some for _ in range(2 if one.alarm else 1)]
    while growing:
        growing = [one for one in growing if _grows(one, sizes, some, lines)]
    return [_row(one, *sizes[one.id]) for one in some]


def _grows(one: Heading, sizes: dict[str, tuple[int, int]], some: Sequence[Heading], lines: float) -> bool:
    """Whether a heading's next size fits; it then has it."""
    before = count, length = sizes[one.id]
    longer = length + 1 < len(LENGTHS)
    if not longer and count >= len(one.points):
        return False
    sizes[one.id] = (count, length + 1) if longer else (count + 1, length)
    if sum(_lines(_row(other, *sizes[other.id])) for other in some) <= lines:
        return True
    sizes[one.id] = before
    return False


def _row(one: Heading, count: int, length: int) -> View:
    said = [shorten(point, LENGTHS[length]) for point in one.points[:count]]
    return {
        "id": one.id,
        "word": one.word,
        "alarm": one.alarm,
        "count": len(one.points) if one.number is None else one.number,
        "grouped": one.number is not None,
        "shown": said,
        "more": len(one.points) - count,
        "cut": said != list(one.points[:count]),
        "points": one.points,
    }


def _lines(row: View) -> float:
    """What a row takes."""
    return lines_of("; ".join(row["shown"]), MORE if row["more"] or row["cut"] else "") + ROW_LINES


def lines_of(words: str, bold: str = "") -> int:
    """The lines that words take at most, and after them bold ones: filled from the left as the page fills them."""
    lines, left = 1, LINE_EM
    for taken in (*map(_ems, words.split()), *(BOLD * _ems(word) for word in bold.split())):
        if taken > left and left < LINE_EM:
            lines, left = lines + 1, LINE_EM
        over, rest = divmod(taken, LINE_EM)
        lines += int(over)
        left = LINE_EM - rest if over else left - rest
        left -= NARROW
    return lines


def _ems(word: str) -> float:
    return sum(0 if combining(one) else WIDTHS_EM.get(one, WIDE) for one in word)
