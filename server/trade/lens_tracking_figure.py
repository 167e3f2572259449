"""The curve of a zoom: what is left of the shift at each focal length, against the depth of focus."""

from __future__ import annotations

import math

from server.trade import figure as pen
from server.trade import sharpness, thin_lens
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet
from server.trade.lens_tracking import Fit, Inputs, Reading, assess, fit

TITLE = "Lens tracking"
LEFT, RIGHT, HIGH = 34.0, 306.0, 180.0
MOST_NAMED = 12
TELLING = 3


def draw(inputs: Inputs) -> str:
    """Readings as knots on the rope of the back focus, each with its own uncertainty; or the answer by eye."""
    c = sharpness.blur_mm(inputs.image_height_mm, inputs.active_lines, inputs.blur_circle_mm)
    limit = thin_lens.depth_of_focus(inputs.f_number, c)
    return _curve(inputs, fit(inputs, limit), limit) if inputs.readings else _by_eye(inputs)


def _curve(inputs: Inputs, found: Fit, limit: float) -> str:
    drawn = [found.back_focus + left for left in found.remainders]
    most = _frame(found, drawn, limit)
    down = Scale(-most, most, HIGH, 0)
    across = _across(inputs)
    sheet = Sheet()
    sheet.say("Shift of the image.", heavy=True)
    sheet.say(
        "The ring's own index is taken off." if found.told_apart else "As read: too few focal lengths to fit."
    )
    sheet.say("Above: the sensor is too far back.", tone="soft")
    sheet.gap()
    sheet.put(HIGH + 34, *_ground(down, limit), *_readings(inputs, found, drawn, down, across, limit))
    sheet.say("focal length, mm", tone="soft")
    for line in _key(
        found, limit, cut=any(not _whole(down, *pair) for pair in zip(drawn, found.sigmas, strict=True))
    ):
        sheet.say(line)
    if len(drawn) <= MOST_NAMED:
        sheet.gap()
        _table(sheet, inputs, found, drawn)
    return sheet.svg(TITLE, _described(inputs, found, limit))


def _frame(found: Fit, drawn: list[float], limit: float) -> float:
    """How far the frame reaches: readings that say little about themselves do not set it."""
    telling = [
        abs(shift)
        for shift, sigma in zip(drawn, found.sigmas, strict=True)
        if sigma <= TELLING * limit or abs(shift) > sigma
    ]
    return 1.25 * max(1.4 * limit, abs(found.back_focus), *telling)


def _across(inputs: Inputs) -> Scale:
    """Focal lengths by their logarithm: every doubling takes the same room."""
    logs = [math.log(one.focal_length_mm) for one in inputs.readings]
    low, high = min(logs), max(logs)
    return Scale(low, high, LEFT, RIGHT) if high > low else Scale(low - 1, high + 1, LEFT, RIGHT)


def _ground(down: Scale, limit: float) -> list[str]:
    top, foot = down.at(limit), down.at(-limit)

    def across(y: float) -> str:
        return pen.path((pen.EDGE, y), (pen.WIDTH - pen.EDGE, y))

    return [
        pen.mark("limit", pen.band(pen.box(pen.EDGE, top, pen.WIDTH - 2 * pen.EDGE, foot - top))),
        pen.rule(across(down.at(0)), width=2),
        *(pen.rule(across(edge), width=2, tone="soft", dash="6 5") for edge in (top, foot)),
    ]


def _whole(down: Scale, shift: float, sigma: float) -> bool:
    return down.holds(shift - sigma) and down.holds(shift + sigma)


def _readings(
    inputs: Inputs, found: Fit, drawn: list[float], down: Scale, across: Scale, limit: float
) -> list[str]:
    rope = pen.rope(
        pen.path((pen.EDGE, down.at(found.back_focus)), (pen.WIDTH - pen.EDGE, down.at(found.back_focus)))
    )
    strokes = [pen.mark("back focus", rope)]
    named = -pen.WIDTH
    order = sorted(range(len(drawn)), key=lambda i: inputs.readings[i].focal_length_mm)
    for i in order:
        one = inputs.readings[i]
        x = across.at(math.log(one.focal_length_mm))
        strokes.append(
            pen.mark(
                f"{pen.short(one.focal_length_mm)} mm",
                _bar(x, down, drawn[i], found.sigmas[i]),
                _sign(x, down.at(drawn[i]), holds=_holds(found, i, limit)) if down.holds(drawn[i]) else "",
            )
        )
        text = pen.short(one.focal_length_mm)
        if x - named > pen.breadth(text) + 8:
            strokes.append(pen.words(x, HIGH + 26, text, anchor="middle"))
            named = x
    return strokes


def _holds(found: Fit, i: int, limit: float) -> bool:
    """Whether a reading lies on the rope as far as the limit and its own uncertainty can tell."""
    return abs(found.remainders[i]) <= max(limit, found.sigmas[i])


def _sign(x: float, y: float, *, holds: bool) -> str:
    return pen.knot(x, y, 0.85) if holds else pen.hole(x, y, 24, 20) + pen.cross(x, y, 5, "alarm")


def _bar(x: float, down: Scale, shift: float, sigma: float) -> str:
    """The uncertainty: closed by a stroke where it ends, by an arrow where it goes on beyond the frame."""
    ends = []
    for end, outwards in ((shift + sigma, -1), (shift - sigma, 1)):
        y = down.at(end)
        ends.append(
            f"M{pen.unit(x - 6)} {pen.unit(y)}h12"
            if down.holds(end)
            else f"M{pen.unit(x - 6)} {pen.unit(y - 8 * outwards)}l6 {8 * outwards}l6 {-8 * outwards}"
        )
    d = pen.path((x, down.at(shift + sigma)), (x, down.at(shift - sigma)))
    return pen.rule(d + "".join(ends), width=2.4)


def _key(found: Fit, limit: float, *, cut: bool) -> list[str]:
    key = [
        f"Band: depth of focus, ±{pen.short(1000 * limit)} µm.",
        f"Rope: {'back focus' if found.told_apart else 'mean shift'}, {pen.short(1000 * found.back_focus)} µm.",
        "Knot: a reading. Bar: its trust.",
    ]
    if any(not _holds(found, i, limit) for i in range(len(found.shifts))):
        key.append("Crossed hole: off the rope beyond limit and trust.")
    return [*key, "Arrow: goes on beyond the frame."] if cut else key


def _table(sheet: Sheet, inputs: Inputs, found: Fit, drawn: list[float]) -> None:
    sheet.put(pen.LEADING, *_row(("mm", "shift µm", "trust µm"), "soft"))
    for one, shift, sigma in zip(inputs.readings, drawn, found.sigmas, strict=True):
        cells = (pen.short(one.focal_length_mm), pen.short(1000 * shift), f"±{pen.short(1000 * sigma)}")
        sheet.put(pen.LEADING, *_row(cells, "ink"))


def _row(cells: tuple[str, str, str], tone: str) -> list[str]:
    places = (90.0, 200.0, 320.0)
    return [
        pen.words(x, pen.SIZE, cell, anchor="end", tone=tone) for x, cell in zip(places, cells, strict=True)
    ]


def _by_eye(inputs: Inputs) -> str:
    """No figures: the zoom from wide to long, a knot where it was seen sharp, a hole where soft."""
    soft = {"holds": "", "soft-wide": "wide", "soft-between": "between"}[inputs.answer or "holds"]
    sheet = Sheet()
    sheet.say("Through the zoom, by eye.", heavy=True)
    places = (("wide", 56.0), ("between", 170.0), ("long", 284.0))
    strokes = [pen.rope(pen.path((pen.EDGE, 30), (pen.WIDTH - pen.EDGE, 30)))]
    for name, x in places:
        here = name == soft
        sign = pen.hole(x, 30, 40, 30) if here else pen.knot(x, 30, 1.2)
        says = pen.words(
            x, 88, "soft" if here else "sharp", anchor="middle", tone="alarm" if here else "ink", heavy=here
        )
        strokes.append(pen.mark(name, sign, pen.words(x, 66, name, anchor="middle", tone="soft"), says))
    sheet.put(100, *strokes)
    sheet.say("No readings, so no figures.", tone="soft")
    seen = f"soft {soft}" if soft in ("wide", "between") else "sharp everywhere"
    return sheet.svg(TITLE, [f"By eye through the zoom: {seen}.", f"Verdict: {assess(inputs).words}."])


def _described(inputs: Inputs, found: Fit, limit: float) -> list[str]:
    what = "back focus" if found.told_apart else "mean shift"
    return [
        f"Verdict: {assess(inputs).words}.",
        f"The {what} is {pen.short(1000 * found.back_focus)} µm, the depth of focus ±{pen.short(1000 * limit)} µm.",
        *(
            _said(one, 1000 * (found.back_focus + left), 1000 * sigma)
            for one, left, sigma in zip(inputs.readings, found.remainders, found.sigmas, strict=True)
        ),
    ]


def _said(one: Reading, shift_um: float, sigma_um: float) -> str:
    return f"At {pen.short(one.focal_length_mm)} mm: {pen.short(shift_um)} µm, trusted to ±{pen.short(sigma_um)} µm."
