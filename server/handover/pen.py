"""The pen that draws ropes, knots and tags as SVG, for paper: no text from people passes unescaped."""

from html import escape

INK = "#15130e"
SOFT = "#5b5344"
ROPE = "#b07d3a"
DARK = "#5f3f14"
ALARM = "#8e1b12"
SHEET = "#ffffff"
STENCIL = "'Handline Stencil','Handline Stencil Ext','DejaVu Sans'"
READ = "'Handline Read','Handline Read Ext','DejaVu Sans'"


def drawing(width: float, height: float, *strokes: str) -> str:
    """A whole SVG document of `width` by `height` drawing units."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" '
        f'width="{width:g}" height="{height:g}">{"".join(strokes)}</svg>'
    )


def text(
    x: float, y: float, words: str, size: float, *, face: str = READ, fill: str = INK, anchor: str = "start"
) -> str:
    """Words at a place; `size` in drawing units."""
    return (
        f'<text x="{x:g}" y="{y:g}" font-family="{face}" font-size="{size:g}" fill="{fill}" '
        f'text-anchor="{anchor}">{escape(words)}</text>'
    )


def line(points: str, *, width: float = 3, colour: str = INK, dash: str = "", fill: str = "none") -> str:
    """A heavy rule along an SVG path."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{points}" fill="{fill}" stroke="{colour}" stroke-width="{width:g}" '
        f'stroke-linejoin="round" stroke-linecap="round"{dashed}/>'
    )


def rope_across(x: float, y: float, length: float) -> str:
    """A laid rope from left to right."""
    lay = "".join(f"M{x + at:g} {y + 2.6:g}l3.4 -5.2" for at in range(2, max(3, int(length) - 3), 5))
    return (
        line(f"M{x:g} {y:g}h{length:g}", width=7.4, colour=DARK)
        + line(f"M{x:g} {y:g}h{length:g}", width=5.4, colour=ROPE)
        + line(lay, width=1.1, colour=DARK)
    )


def knot(x: float, y: float, scale: float = 1) -> str:
    """A knot pulled tight: done, or full and tagged shut."""
    turns = "".join(
        line(turn, width=width, colour=colour)
        for turn in ("M-8 4l15 -3", "M-6 -4l13 -2", "M-9 0l17 1")
        for width, colour in ((8.4, DARK), (6, ROPE))
    )
    return f'<g transform="translate({x:g} {y:g}) scale({scale:g})">{turns}</g>'


def hole(x: float, y: float, width: float, height: float) -> str:
    """The dashed outline of what is not there."""
    return line(
        f"M{x - width / 2:g} {y - height / 2:g}h{width:g}v{height:g}h{-width:g}z",
        width=2.6,
        colour=ALARM,
        dash="5 4.5",
    )


def ring(x: float, y: float, radius: float) -> str:
    """A ring on the line: not yet, or a drum in a run."""
    return f'<circle cx="{x:g}" cy="{y:g}" r="{radius:g}" fill="{SHEET}" stroke="{DARK}" stroke-width="2.6"/>'


def tag_on_string(x: float, y: float) -> str:
    """A tag on a string: unserviceable, suspect or overdue hangs here."""
    return (
        line(f"M{x:g} {y:g}q3 5 0 9", width=1.6, colour=DARK)
        + line(f"M{x - 6:g} {y + 13:g}l6 -4l6 4v12h-12z", width=2, colour=ALARM, fill=SHEET)
        + f'<circle cx="{x:g}" cy="{y + 14:g}" r="1.3" fill="{ALARM}"/>'
    )


def stranger(x: float, y: float) -> str:
    """A thing outside the door: it belongs elsewhere."""
    return line(
        f"M{x - 7:g} {y - 6:g}h14v12h-14zM{x - 3:g} {y - 6:g}v-4h6v4", width=2.4, colour=ALARM, fill=SHEET
    )
