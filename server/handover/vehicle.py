"""A vehicle drawn from its sides, with what is found written at each door."""

from collections.abc import Sequence
from dataclasses import dataclass

from . import pen

WIDTH, HEIGHT = 340.0, 178.0


@dataclass(frozen=True)
class Door:
    """One locker's door. `found` is the word for it: full, short, part in, not counted."""

    locker: str
    side: str
    row: int
    place: int
    width: float
    found: str
    counts: str
    tags: int
    strangers: int


@dataclass(frozen=True)
class Shell:
    """The outline of a vehicle that faces left, and the box that its doors fill, in drawing units."""

    outline: str
    window: str
    wheels: tuple[float, ...]
    box: tuple[float, float, float, float]


SHELLS = {
    "van": Shell(
        "M8 150v-42q0-8 8-12l34-14l34-60q4-8 12-8h228q8 0 8 8v128z",
        "M60 84l28-50h12v50z",
        (62, 262),
        (106, 24, 218, 108),
    ),
    "tender": Shell(
        "M8 150v-56l30-8l14-34q3-6 10-6h24v-16h246v120z",
        "M48 86l12-30h20v30z",
        (48, 238, 286),
        (94, 38, 230, 98),
    ),
    "truck": Shell(
        "M8 150v-62q0-6 3-10l18-44q3-6 9-6h42v-18h252v140z",
        "M24 80l16-40h32v40z",
        (46, 220, 262, 304),
        (88, 18, 236, 114),
    ),
}


def side_view(drawn: str, side: str, doors: Sequence[Door]) -> str:
    """The SVG of one side: cab to the left on the left side, to the right on the right."""
    shell = SHELLS.get(drawn, SHELLS["van"])
    wheels = "".join(
        f'<circle cx="{x:g}" cy="152" r="22" fill="{pen.SHEET}" stroke="{pen.INK}" stroke-width="3.4"/>'
        f'<circle cx="{x:g}" cy="152" r="8" fill="{pen.SHEET}" stroke="{pen.INK}" stroke-width="3"/>'
        for x in shell.wheels
    )
    body = pen.line(shell.outline, width=3.6, fill=pen.SHEET) + pen.line(shell.window, width=2.6) + wheels
    x, y, width, height = shell.box
    if side == "right":
        body = f'<g transform="translate({WIDTH:g} 0) scale(-1 1)">{body}</g>'
        x = WIDTH - x - width
    return pen.drawing(WIDTH, HEIGHT, body, _shelves(doors, x, y, width, height, mirrored=side == "right"))


def rear_view(doors: Sequence[Door]) -> str:
    """The SVG of the rear."""
    body = pen.line("M40 150v-126q0-10 10-10h160q10 0 10 10v126z", width=3.6, fill=pen.SHEET)
    wheels = pen.line("M54 152v18h26v-18zM180 152v18h26v-18z", width=3.4, fill=pen.SHEET)
    return pen.drawing(260, HEIGHT, wheels, body, _shelves(doors, 52, 26, 156, 112, mirrored=False))


def _shelves(
    doors: Sequence[Door], x: float, y: float, width: float, height: float, *, mirrored: bool
) -> str:
    rows = sorted({door.row for door in doors})
    drawn = []
    for level, row in enumerate(rows):
        shelf = sorted(
            (door for door in doors if door.row == row), key=lambda door: door.place, reverse=mirrored
        )
        unit = width / sum(door.width for door in shelf)
        left, deep = x, height / len(rows)
        for door in shelf:
            drawn.append(_door(door, left, y + level * deep, door.width * unit, deep))
            left += door.width * unit
    return "".join(drawn)


def _door(door: Door, x: float, y: float, width: float, height: float) -> str:
    """Number at the top, the sign in the middle, the counts at the foot."""
    size = min(24.0, height * 0.3, width * 0.34)
    middle_x, middle_y = x + width / 2, y + height * 0.54
    scale = min(1.1, height / 80, width / 56)
    sign = {
        "full": pen.knot(middle_x, middle_y, scale),
        "short": pen.hole(middle_x, middle_y, width * 0.42, height * 0.26),
        "part in": pen.rope_across(x + width * 0.18, middle_y, width * 0.3)
        + pen.line(
            f"M{x + width * 0.52:g} {middle_y:g}h{width * 0.3:g}", width=2, colour=pen.ROPE, dash="1 6"
        ),
    }.get(door.found, "")
    lines = door.counts.split(" ") if door.found == "not counted" else [door.counts]
    count_size = min(18.0, height * 0.2, (width - 8) / max(map(len, lines)) / 0.56)
    foot = y + height - 9 - count_size * (len(lines) - 1)
    colour = pen.ALARM if door.found == "short" else pen.INK
    inside = [
        pen.line(
            f"M{x + 3:g} {y + 3:g}h{width - 6:g}v{height - 6:g}h{6 - width:g}z", width=2.6, fill=pen.SHEET
        ),
        pen.text(x + 8, y + 4 + size, door.locker, size, face=pen.STENCIL),
        sign,
        *(
            pen.text(middle_x, foot + at * count_size, words, count_size, fill=colour, anchor="middle")
            for at, words in enumerate(lines)
        ),
    ]
    if door.tags:
        inside.append(pen.tag_on_string(x + width - 13, y + 4))
    if door.strangers:
        inside.append(pen.stranger(x + width - 14, y + height * 0.62))
    return "".join(inside)
