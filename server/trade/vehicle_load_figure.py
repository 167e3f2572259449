"""The vehicle from the side with what lies where, each axle against its plate, and the load from side to side."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.figure_gauge import Gauge, gauges
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet
from server.trade.load_figure import gravity
from server.trade.vehicle_load import Inputs, Locker, State, assess, beyond, limits, loaded, remaining

TITLE = "The loaded vehicle"
LEFT, RIGHT, FLOOR, GROUND = 20.0, 320.0, 126.0, 150.0
HIGHEST = 84.0
WHEEL = 18.0


def draw(inputs: Inputs) -> str:
    """Lockers as high as they are heavy, over the axles they press on; facing left."""
    answer, state, most = assess(inputs), loaded(inputs), limits(inputs)
    share = answer.figures["left_percent"].value
    rows = [
        Gauge("front axle", state.front_kg, most["front axle"], "kg"),
        Gauge("rear axle", state.rear_kg, most["rear axle"], "kg"),
        Gauge("gross", state.gross_kg, most["gross"], "kg"),
    ]
    sheet = Sheet()
    sheet.say("What lies where, facing left", heavy=True)
    sheet.put(GROUND + 18, *_side_view(inputs))
    for number, one in enumerate(inputs.lockers, start=1):
        size = pen.amount(one.mass_kg, "kg")
        name = pen.fitted(one.locker, pen.WIDTH - 60 - pen.breadth(f"{number}: , {size}"))
        sheet.say(f"{number}: {name}, {size}")
    sheet.gap()
    sheet.say("Against the plate, dashed", heavy=True)
    if inputs.margin_percent:
        sheet.say(f"Kept from it: {pen.amount(inputs.margin_percent, '%')}.", tone="soft")
    gauges(sheet, rows)
    if share is not None:
        sheet.say("From side to side, seen from behind", heavy=True)
        sheet.put(86, *_rear_view(inputs, float(share)))
    later = _later(inputs, most)
    for line in later:
        sheet.say(line, heavy=True, tone="alarm")
    sheet.verdict(answer)
    sides = [] if share is None else [f"Left wheels carry {pen.short(float(share))} % of the load."]
    return sheet.svg(TITLE, [*(row.said() for row in rows), *sides, *later, f"Verdict: {answer.words}."])


def _along(inputs: Inputs) -> Scale:
    """Metres forward of the rear axle, forward to the left."""
    places = [one.forward_m for one in inputs.lockers]
    back = min(-0.9, *(place - 0.5 for place in places))
    front = max(inputs.wheelbase_m + 0.9, *(place + 0.5 for place in places))
    return Scale(-front, -back, LEFT, RIGHT)


def _side_view(inputs: Inputs) -> list[str]:
    along = _along(inputs)
    nose, tail = along.at(-inputs.wheelbase_m - 0.9), along.at(along.high)
    back_of_cab = min(along.at(-inputs.wheelbase_m) + 22, tail - 40)
    top = FLOOR - HIGHEST - 14
    body = (
        f"M{pen.unit(tail)} {FLOOR}V{top}H{pen.unit(back_of_cab)}L{pen.unit(nose + 10)} {top + 46}"
        f"L{pen.unit(nose)} {top + 56}V{FLOOR}z"
    )
    wheels = [
        pen.mark(
            name,
            pen.ring(along.at(place), FLOOR + 4, WHEEL, "ink")
            + pen.ring(along.at(place), FLOOR + 4, 6, "ink"),
        )
        for name, place in (("front axle", -inputs.wheelbase_m), ("rear axle", 0.0))
    ]
    heaviest = max(max(one.mass_kg for one in inputs.lockers), 1e-9)
    drawn = [pen.rule(body, paper=True), *_lockers(inputs.lockers, along, heaviest), *wheels]
    return [
        *drawn,
        pen.rule(
            pen.path((pen.EDGE, FLOOR + 4 + WHEEL + 2), (pen.WIDTH - pen.EDGE, FLOOR + 4 + WHEEL + 2)),
            width=4,
        ),
    ]


def _lockers(lockers: tuple[Locker, ...], along: Scale, heaviest: float) -> list[str]:
    """Each a box as high as its mass, its number over it where there is room."""
    drawn: list[str] = []
    named: dict[int, list[str]] = {}
    for number, one in sorted(enumerate(lockers, start=1), key=lambda pair: pair[1].forward_m):
        x, high = along.at(-one.forward_m), (HIGHEST - 24) * one.mass_kg / heaviest
        drawn.append(pen.mark(f"locker {number}", pen.rule(pen.box(x - 8, FLOOR - high, 16, high), width=3)))
        named.setdefault(round(x), []).append(str(number))
    taken = pen.WIDTH
    for x, numbers in named.items():
        text = " ".join(numbers)
        half = pen.breadth(text) / 2
        if x - half >= 0 and x + half <= taken:
            drawn.append(pen.words(x, FLOOR - HIGHEST + 12, text, anchor="middle", heavy=True))
            taken = x - half - 6
    return drawn


def _rear_view(inputs: Inputs, left_percent: float) -> list[str]:
    """Both wheels, and the load's centre of gravity between or beyond them, in proportion to the track."""
    across = Scale(0, 100, 110, 230)
    x = min(max(110 + 1.2 * (100 - left_percent), 60), 280)
    tyre = "".join(pen.rule(pen.box(at - 8, 46, 16, 30), paper=True) for at in (across.start, across.end))
    body = pen.rule(pen.box(across.start - 16, 8, across.end - across.start + 32, 46), paper=True)
    heavy = max(left_percent, 100 - left_percent) > inputs.most_side_percent
    return [
        tyre,
        body,
        pen.mark("from side to side", gravity(x, 31), pen.hole(x, 31, 30, 30) if heavy else ""),
        pen.words(pen.EDGE, 30, "left", tone="soft"),
        pen.words(pen.EDGE, 52, pen.amount(left_percent, "%"), heavy=True),
        pen.words(pen.WIDTH - pen.EDGE, 30, "right", anchor="end", tone="soft"),
        pen.words(pen.WIDTH - pen.EDGE, 52, pen.amount(100 - left_percent, "%"), anchor="end", heavy=True),
    ]


def _later(inputs: Inputs, most: dict[str, float | None]) -> list[str]:
    """The states of unloading in which the plate is passed."""
    state: State = loaded(inputs)
    return [
        f"Without {' and '.join(one.without)}: {'; '.join(found)}."
        for one in remaining(inputs, state)
        if (found := beyond(one, most))
    ]
