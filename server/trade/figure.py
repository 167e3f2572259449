"""The pen for figures: ropes, knots, heavy rules and words as one SVG, the same on a phone and on paper.

No colour stands here. Every stroke names a class that a style sheet gives its colour by day, by night and in
print (`static/style/figure.css`, `templates/handover/figure.css`); without one it is drawn in the current
colour. A figure is `WIDTH` units wide, shown at a phone's width, so that no word is smaller than 16 px there.
"""

from __future__ import annotations

import re
from html import escape

WIDTH = 340.0
EDGE = 8.0
SIZE = 17.0
LEADING = 22.0
NARROW, WIDEST = " ijlftrI.,:;'()|!-/\u00a0", "mwMW@%&"
"""Letters that are narrower and broader than the others of their kind."""
HEAVIER = 1.07
"""How much broader the heavy face is."""
FIRM = "\N{NO-BREAK SPACE}"

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def short(figure: float) -> str:
    """A figure as it is written into a drawing: three digits, whole numbers whole, nothing beyond a millionth."""
    digits = f"{abs(figure):.2e}"
    places = min(6, max(0, 2 - int(digits.partition("e")[2]))) if figure else 0
    text = f"{figure:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def fine(figure: float, apart: float) -> str:
    """A figure with as many places as tell it from another that lies `apart` from it."""
    places = max(0, 1 - int(f"{apart:.2e}".partition("e")[2])) if apart else 0
    finer, coarse = f"{figure:.{places}f}", short(figure)
    return coarse if len(finer) <= len(coarse) else finer.rstrip("0").rstrip(".") if "." in finer else finer


def amount(figure: float, of: str) -> str:
    """A figure and its unit, which no line parts."""
    return f"{short(figure)}{'' if of == '°' else FIRM}{of}"


def unit(length: float) -> str:
    """A drawing unit, to a hundredth: no platform's last bit reaches the drawing."""
    text = f"{length:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def path(*points: tuple[float, float]) -> str:
    """An SVG path through points."""
    return "M" + "L".join(f"{unit(x)} {unit(y)}" for x, y in points)


def box(x: float, y: float, width: float, height: float) -> str:
    """An SVG path round a box."""
    return f"M{unit(x)} {unit(y)}h{unit(width)}v{unit(height)}h{unit(-width)}z"


def plain(text: str) -> str:
    """Text that XML can hold: what it cannot is shown as a replacement sign, and markup is escaped."""
    return escape(_NOT_XML.sub("\N{REPLACEMENT CHARACTER}", text))


def mark(name: str, *strokes: str) -> str:
    """Strokes that belong together, under the name of what they stand for."""
    return f'<g data-mark="{plain(name)}">{"".join(strokes)}</g>'


def moved(x: float, y: float, *strokes: str, scale: float = 1) -> str:
    """Strokes shifted, and drawn larger or smaller."""
    larger = "" if scale == 1 else f" scale({unit(scale)})"
    return f'<g transform="translate({unit(x)} {unit(y)}){larger}">{"".join(strokes)}</g>'


def rule(d: str, *, width: float = 3, tone: str = "ink", dash: str = "", paper: bool = False) -> str:
    """A heavy rule along a path; `tone` is ink, soft, rope, dark-rope or alarm; `paper` fills it."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path class="fig-{tone}{" fig-paper" if paper else ""}" d="{d}" fill="none" stroke="currentColor" '
        f'stroke-width="{unit(width)}" stroke-linejoin="round" stroke-linecap="{"butt" if dash else "round"}"{dashed}/>'
    )


def band(d: str) -> str:
    """An area: within it lies what a limit allows."""
    return f'<path class="fig-band" d="{d}" fill="currentColor" fill-opacity="0.2" stroke="none"/>'


def solid(d: str, tone: str = "ink") -> str:
    """A filled shape."""
    return f'<path class="fig-solid-{tone}" d="{d}" fill="currentColor" stroke="none"/>'


def dots(d: str, tone: str = "rope") -> str:
    """A dotted line: not there, or not reached."""
    return (
        f'<path class="fig-{tone}" d="{d}" fill="none" stroke="currentColor" stroke-width="3.5" '
        'stroke-linecap="round" stroke-dasharray="0.1 9"/>'
    )


def rope(d: str, *, thick: float = 5.4) -> str:
    """A laid rope along a path."""
    lay = (
        f'<path class="fig-lay" d="{d}" fill="none" stroke="currentColor" stroke-width="{unit(thick)}" '
        'stroke-opacity="0.6" stroke-dasharray="1.1 3.9"/>'
    )
    return rule(d, width=thick + 2.2, tone="dark-rope") + rule(d, width=thick, tone="rope") + lay


def knot(x: float, y: float, scale: float = 1) -> str:
    """A knot pulled tight: a figure that holds."""
    turns = ("M-8 4l15 -3", "M-6 -4l13 -2", "M-9 0l17 1")
    drawn = "".join(
        rule(turn, width=8.4, tone="dark-rope") + rule(turn, width=6, tone="rope") for turn in turns
    )
    return moved(x, y, drawn, scale=scale)


def ring(x: float, y: float, radius: float = 7, tone: str = "dark-rope") -> str:
    """A ring on the line."""
    return (
        f'<circle class="fig-{tone} fig-paper" cx="{unit(x)}" cy="{unit(y)}" r="{unit(radius)}" fill="none" '
        'stroke="currentColor" stroke-width="3"/>'
    )


def tag_on_string(x: float, y: float) -> str:
    """A tag on a string, hung at x, y: overdue, or not to be used."""
    string = rule(f"M{unit(x)} {unit(y)}q3 5 0 8", width=2, tone="dark-rope")
    return string + rule(f"M{unit(x - 7)} {unit(y + 12)}l7 -5l7 5v12h-14z", width=2.6, paper=True)


def hook(x: float, y: float) -> str:
    """A hook, its mouth at x, y, hung from above."""
    return rule(f"M{unit(x)} {unit(y - 22)}v10M{unit(x - 7)} {unit(y - 3)}a7 7 0 1 0 7 -9", width=4)


def hole(x: float, y: float, width: float, height: float) -> str:
    """The dashed outline, round x, y, of what is not there or does not hold."""
    return rule(box(x - width / 2, y - height / 2, width, height), width=2.6, tone="alarm", dash="5 4")


def cross(x: float, y: float, arm: float = 7, tone: str = "ink") -> str:
    """Two strokes across each other."""
    falling = path((x - arm, y - arm), (x + arm, y + arm))
    return rule(falling + path((x + arm, y - arm), (x - arm, y + arm)), width=3, tone=tone)


def arrow(x: float, y: float, to_x: float, to_y: float, *, width: float = 3, tone: str = "ink") -> str:
    """A line with an open head at its end."""
    along_x, along_y = to_x - x, to_y - y
    length = (along_x**2 + along_y**2) ** 0.5
    if length < 0.01:
        return ""
    head = min(9.0, length)
    back_x, back_y = along_x / length * head, along_y / length * head
    left = (to_x - back_x - back_y * 0.6, to_y - back_y + back_x * 0.6)
    right = (to_x - back_x + back_y * 0.6, to_y - back_y - back_x * 0.6)
    return rule(path((x, y), (to_x, to_y)) + path(left, (to_x, to_y), right), width=width, tone=tone)


def words(
    x: float, y: float, text: str, *, anchor: str = "start", tone: str = "ink", heavy: bool = False
) -> str:
    """One line of words; `anchor` is start, middle or end; `tone` is ink, soft or alarm."""
    weight = ' font-weight="700"' if heavy else ""
    return (
        f'<text class="fig-word-{tone}" x="{unit(x)}" y="{unit(y)}" text-anchor="{anchor}" fill="currentColor"{weight}>'
        f"{plain(text)}</text>"
    )


def breadth(text: str) -> float:
    """Drawing units that a line of words takes, at the most, in the app's own face or one like it, heavy or not."""
    return HEAVIER * SIZE * sum(_breadth(letter) for letter in text)


def _breadth(letter: str) -> float:
    """Over the height of the letters."""
    if letter in NARROW:
        return 0.34
    if letter in WIDEST or ord(letter) > 0x2000:
        return 0.9
    return 0.67 if letter.isupper() else 0.56


def fitted(text: str, width: float) -> str:
    """A name as far as it fits; the description has the whole of it."""
    if breadth(text) <= width:
        return text
    while text and breadth(f"{text}…") > width:
        text = text[:-1]
    return f"{text.rstrip()}…"


def wrapped(text: str, width: float, *, heavy: bool = True) -> list[str]:
    """Words broken into lines of `width`; what is too long for a line is broken within."""
    width = width if heavy else HEAVIER * width
    lines = [""]
    for word in text.split(" "):
        for piece in _pieces(word, width):
            if lines[-1] and breadth(f"{lines[-1]} {piece}") > width:
                lines.append("")
            lines[-1] = f"{lines[-1]} {piece}".strip()
    return [line for line in lines if line]


def _pieces(word: str, width: float) -> list[str]:
    pieces = [""]
    for letter in word:
        if pieces[-1] and breadth(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
