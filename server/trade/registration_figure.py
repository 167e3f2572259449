"""The vector map of a registration: every point before and after turning, each channel its own shape."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from server.trade import figure as pen
from server.trade import registration_zones as zoned
from server.trade import scanning
from server.trade.figure_sheet import Sheet
from server.trade.registration import Inputs, assess, fits
from server.trade.registration_terms import Point, size

TITLE = "Registration"
BROAD = 272.0
REACH = 0.14
"""The longest displacement is drawn at most this part of the picture's height."""
MARGIN = 36.0
ANSWERS = {"none": "none", "half-line": "half a line", "line-or-more": "a line or more"}


def draw(inputs: Inputs) -> str:
    """Two maps, before and after, drawn larger by the same factor; or the zones with the answers by eye."""
    return _by_eye(inputs) if inputs.zones is not None else _maps(inputs)


def _maps(inputs: Inputs) -> str:
    found = fits(inputs)
    before = {channel: one.points for channel, one in found.items()}
    after = {channel: one.left for channel, one in found.items()}
    larger = _larger([*before.values(), *after.values()])
    sheet = Sheet()
    sheet.say("Channels against green, the dots.", heavy=True)
    sheet.say(f"Drawn {pen.short(larger)} times larger.")
    for heading, points in (("As read", before), ("After turning what is told apart", after)):
        sheet.gap()
        sheet.say(heading, heavy=True)
        sheet.put(_height(inputs) + 2 * MARGIN, pen.mark(heading, _map(inputs, points, larger)))
    for channel in found:
        sheet.put(pen.LEADING, *_worst(channel, before[channel], after[channel]))
        sheet.say(_beyond_words(inputs, before[channel], after[channel]))
    sheet.say("Heavy line: beyond its zone's limit. Dotted curves: borders of the zones.", tone="soft")
    return sheet.svg(TITLE, [*_described(before, after, larger), f"Verdict: {assess(inputs).words}."])


def _larger(groups: Sequence[Sequence[Point]]) -> float:
    """A round factor: 1, 2, 5, 10 and so on."""
    worst = max((size(points)[1] for points in groups), default=0.0)
    if worst < 1e-9:
        return 1
    ten = 10.0 ** math.floor(math.log10(REACH / worst))
    return max(1.0, *(ten * times for times in (1, 2, 5) if ten * times * worst <= REACH * (1 + 1e-9)))


def _height(inputs: Inputs) -> float:
    return BROAD / scanning.ASPECTS[inputs.aspect]


def _place(inputs: Inputs, x: float, y: float) -> tuple[float, float]:
    high = _height(inputs)
    return pen.WIDTH / 2 + x * high, MARGIN + high / 2 + y * high


def _map(inputs: Inputs, channels: Mapping[str, Sequence[Point]], larger: float) -> str:
    drawn = [_frame(inputs)]
    for channel, points in channels.items():
        drawn += [_vector(inputs, channel, one, larger) for one in points]
    return "".join(drawn)


def _frame(inputs: Inputs) -> str:
    x, y = _place(inputs, -scanning.ASPECTS[inputs.aspect] / 2, -0.5)
    return pen.rule(pen.box(x, y, BROAD, _height(inputs))) + "".join(
        pen.rule(d, width=2, tone="soft", dash="2 6") for d in _borders(inputs)
    )


def _borders(inputs: Inputs) -> list[str]:
    """The inner circle, and of the outer one what lies within the picture."""
    inner, outer, _ = zoned.radii(scanning.ASPECTS[inputs.aspect])
    x, y = _place(inputs, -inner, 0)
    r = inner * _height(inputs)
    circle = f"M{pen.unit(x)} {pen.unit(y)}" + "".join(
        f"a{pen.unit(r)} {pen.unit(r)} 0 0 1 {pen.unit(way * 2 * r)} 0" for way in (1, -1)
    )
    reach = math.sqrt(outer**2 - 0.25)
    r = outer * _height(inputs)
    sides = []
    for side, sweep in ((-1, 0), (1, 1)):
        top, foot = _place(inputs, side * reach, -0.5), _place(inputs, side * reach, 0.5)
        sides.append(
            f"M{pen.unit(top[0])} {pen.unit(top[1])}A{pen.unit(r)} {pen.unit(r)} 0 0 {sweep} "
            f"{pen.unit(foot[0])} {pen.unit(foot[1])}"
        )
    return [circle, *sides]


def _vector(inputs: Inputs, channel: str, one: Point, larger: float) -> str:
    """From green's dot to the channel's shape."""
    x, y = _place(inputs, one.x, one.y)
    to_x, to_y = _place(inputs, one.x + larger * one.dx, one.y + larger * one.dy)
    beyond = _is_beyond(inputs, one)
    return pen.mark(
        channel,
        _shape(channel, to_x, to_y),
        pen.rule(pen.path((x, y), (to_x, to_y)), width=5 if beyond else 2, tone="alarm" if beyond else "ink"),
        pen.solid(pen.box(x - 2, y - 2, 4, 4)),
    )


def _is_beyond(inputs: Inputs, one: Point) -> bool:
    limit = inputs.limits()[zoned.zone_of(one.x, one.y, scanning.ASPECTS[inputs.aspect])] / 100
    return math.hypot(one.dx, one.dy) > limit * (1 + 1e-9)


def _beyond_words(inputs: Inputs, before: Sequence[Point], after: Sequence[Point]) -> str:
    counts = [sum(_is_beyond(inputs, one) for one in points) for points in (before, after)]
    return f"{counts[0]} of {len(before)} beyond the limit, {counts[1]} after."


def _shape(channel: str, x: float, y: float) -> str:
    shapes = {
        "red": f"M{pen.unit(x)} {pen.unit(y - 6)}l6 10h-12z",
        "blue": pen.box(x - 5, y - 5, 10, 10),
        "luminance": f"M{pen.unit(x)} {pen.unit(y - 7)}l7 7l-7 7l-7 -7z",
    }
    return pen.rule(shapes[channel], width=2, paper=True)


SHAPES = {"red": "triangle", "blue": "square", "luminance": "diamond"}


def _worst(channel: str, before: Sequence[Point], after: Sequence[Point]) -> list[str]:
    return [
        _shape(channel, pen.EDGE + 8, pen.SIZE - 6),
        pen.words(
            pen.EDGE + 24,
            pen.SIZE,
            f"{channel}: {_percent(before)} %, after {_percent(after)} %",
            heavy=True,
        ),
    ]


def _percent(points: Sequence[Point]) -> str:
    return pen.short(round(100 * size(points)[1], 3))


def _described(
    before: Mapping[str, Sequence[Point]], after: Mapping[str, Sequence[Point]], larger: float
) -> list[str]:
    return [
        f"Two maps of the picture, displacements drawn {pen.short(larger)} times larger.",
        *(
            f"{channel}, drawn as a {SHAPES[channel]}: {len(points)} points, worst {_percent(points)} % of picture "
            f"height as read, {_percent(after[channel])} % after turning."
            for channel, points in before.items()
        ),
    ]


def _by_eye(inputs: Inputs) -> str:
    aspect, answers = scanning.ASPECTS[inputs.aspect], inputs.zones or {}
    judged = zoned.judged(answers, scanning.SYSTEMS[inputs.system], inputs.limits())
    says = {True: "within", False: "beyond", None: "cannot tell"}
    sheet = Sheet()
    sheet.say("By eye, the worst channel in each zone.", heavy=True)
    beyond = False in judged.values()
    places = (0.0, (zoned.ZONE_1_RADIUS + aspect / 2) / 2, aspect / 2 - 0.06)
    numbers = []
    for number, x in enumerate(places, 1):
        at = _place(inputs, x, 0 if number < 3 else 0.44)
        within = judged[zoned.ZONES[number - 1]]
        sign = pen.hole(at[0], at[1], 26, 26) if within is False else ""
        numbers.append(sign + pen.words(at[0], at[1] + 6, str(number), anchor="middle", heavy=True))
    sheet.put(_height(inputs) + 2 * MARGIN, _frame(inputs), *numbers)
    lines = []
    for (zone, within), limit in zip(judged.items(), inputs.limits(), strict=True):
        seen = ANSWERS.get(answers.get(zone, ""), "not looked at")
        lines.append(f"Zone {zone[-1]}: {seen}, {says[within]} ({pen.amount(limit, '%')})")
        sheet.say(lines[-1], tone="alarm" if within is False else "ink", heavy=within is False)
    if beyond:
        sheet.say("Dashed box: beyond.", tone="soft")
    return sheet.svg(TITLE, [*(f"{line}." for line in lines), f"Verdict: {assess(inputs).words}."])
