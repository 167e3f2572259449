"""The rope down a sheet's left edge: a tile of it, and what it turns into beside each step."""

from server.handover import pen

SIZE = 40.0
MIDDLE = SIZE / 2


def marks() -> dict[str, str]:
    """Every drawing by its name: `rope` is laid down the page, the others stand on it."""
    return {
        "rope": _tile(),
        "done": _mark(pen.knot(MIDDLE, MIDDLE)),
        "open": _mark(pen.ring(MIDDLE, MIDDLE, 9)),
        "struck": _mark(_loose_end()),
        "again": _mark(_opened()),
        "disputed": _mark(_parted()),
        "crossed": _mark(_crossed()),
        "signed": _mark(_whipping()),
        "frayed": _mark(_frayed()),
        "unsigned": _mark(
            pen.line(f"M{MIDDLE:g} 0v{SIZE:g}", width=8, colour=pen.SHEET) + pen.ring(MIDDLE, 12, 6)
        ),
    }


def _mark(*strokes: str) -> str:
    return pen.drawing(SIZE, SIZE, *strokes)


def _tile() -> str:
    """One turn of the lay: laid one below the other it is a rope of any length."""
    return pen.drawing(
        10,
        8,
        f'<rect width="10" height="8" fill="{pen.DARK}"/><rect x="1.2" width="7.6" height="8" fill="{pen.ROPE}"/>',
        pen.line("M1.4 6.4L8.6 1.6", width=1.2, colour=pen.DARK),
    )


def _rope(path: str, width: float = 7) -> str:
    return pen.line(path, width=width, colour=pen.DARK) + pen.line(path, width=width - 2.2, colour=pen.ROPE)


def _gap() -> str:
    return f'<rect x="12" width="16" height="{SIZE:g}" fill="{pen.SHEET}"/>'


def _parted() -> str:
    """Two strands that join again: two people state different things."""
    return _gap() + _rope("M20 0q0 6 -9 11v18q9 5 9 11", 5) + _rope("M20 0q0 6 9 11v18q-9 5 -9 11", 5)


def _loose_end() -> str:
    """A loose end beside the rope: taken back."""
    return _rope("M20 12q12 2 14 14", 5) + pen.line(
        "M34 26l-3 8M34 26l1 8M34 26l5 7", width=1.4, colour=pen.DARK
    )


def _opened() -> str:
    """A knot come open: to be looked at again."""
    return _gap() + _rope("M20 0v8q0 6 8 8q8 4 0 9q-8 3 -14 -2q-5 -6 3 -8q9 0 4 14v11", 5)


def _crossed() -> str:
    """The rope crosses itself: out of order."""
    return _gap() + _rope("M20 0q1 10 -8 18q-6 9 6 9q14 -1 10 -9q-4 -7 -9 6q-1 8 1 16", 5)


def _whipping() -> str:
    """A whipping round the end: signed."""
    turns = "".join(f"M13 {y:g}h14" for y in (8, 12, 16, 20))
    return f'<rect x="12" y="25" width="16" height="15" fill="{pen.SHEET}"/>' + pen.line(
        turns, width=3.4, colour=pen.INK
    )


def _frayed() -> str:
    """The whipping frayed: changed since signed."""
    strands = "M20 14l-9 16M20 14l-4 20M20 14l1 21M20 14l6 19M20 14l10 14"
    return (
        f'<rect x="12" y="12" width="16" height="28" fill="{pen.SHEET}"/>'
        + pen.line(strands, width=2.2, colour=pen.ROPE)
        + pen.line("M13 6h14M13 11h9", width=3.4, colour=pen.INK)
    )
