"""The volts along the run, from the truck to the camera, against the least that the camera wants."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet
from server.trade.power_at_camera import Inputs, assess

TITLE = "Power at the camera"
LEFT, RIGHT, FOOT = 30.0, 262.0, 190.0


def draw(inputs: Inputs) -> str:
    """Rope falling from supply to camera; a hole at the camera where no volts carry that load."""
    answer = assess(inputs)
    figures = {name: one.value for name, one in answer.figures.items()}
    volts = figures["camera_v"]
    down = Scale(0, 1.1 * inputs.supply_v, FOOT, 26)
    sheet = Sheet()
    sheet.say("Volts along the run", heavy=True)
    sheet.put(
        FOOT + (34 if inputs.length_m is None else 56),
        *_axes(),
        *_fall(inputs, None if volts is None else float(volts), down),
    )
    for line in _lines(inputs, figures):
        sheet.say(line)
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [*(line.replace(pen.FIRM, " ") for line in _lines(inputs, figures)), f"Verdict: {answer.words}."],
    )


def _axes() -> list[str]:
    return [
        pen.rule(pen.path((LEFT, 16), (LEFT, FOOT), (RIGHT + 20, FOOT))),
        pen.words(LEFT, FOOT + 24, "truck", tone="soft"),
        pen.words(RIGHT, FOOT + 24, "camera", anchor="middle", tone="soft"),
        pen.words(LEFT - 8, FOOT, "0", anchor="end", tone="soft"),
    ]


def _fall(inputs: Inputs, volts: float | None, down: Scale) -> list[str]:
    supply = down.at(inputs.supply_v)
    drawn = [pen.words(LEFT + 10, supply - 14, pen.amount(inputs.supply_v, "V"), heavy=True)]
    if inputs.length_m is not None:
        drawn.append(
            pen.words(
                (LEFT + RIGHT) / 2, FOOT + 46, f"{pen.amount(inputs.length_m, 'm')} one way", anchor="middle"
            )
        )
    if inputs.least_v is not None:
        least = down.at(inputs.least_v)
        drawn.append(
            pen.mark("least", pen.rule(pen.path((LEFT, least), (RIGHT + 20, least)), tone="soft", dash="8 5"))
        )
    if volts is None:
        middle = (LEFT + RIGHT) / 2
        drawn += [
            pen.mark("fall", pen.dots(pen.path((LEFT, supply), (middle, down.at(inputs.supply_v / 2))))),
            pen.mark("no solution", pen.hole(RIGHT, FOOT - 30, 44, 40)),
            pen.words(RIGHT - 30, FOOT - 24, "no solution", anchor="end", tone="alarm", heavy=True),
        ]
        return [*drawn, pen.ring(LEFT, supply)]
    at = down.at(volts)
    beyond = inputs.least_v is not None and volts < inputs.least_v
    drawn += [
        pen.mark("fall", pen.rope(pen.path((LEFT, supply), (RIGHT, at)))),
        pen.ring(LEFT, supply),
        pen.hole(RIGHT, at, 30, 24) if beyond else "",
        pen.knot(RIGHT, at),
        pen.words(
            pen.WIDTH - pen.EDGE,
            at - 14,
            pen.amount(volts, "V"),
            anchor="end",
            tone="alarm" if beyond else "ink",
            heavy=True,
        ),
    ]
    return drawn


def _lines(inputs: Inputs, figures: dict[str, float | str | None]) -> list[str]:
    lines = [f"Load {pen.amount(inputs.load_w, 'W')} over a loop of {_of(figures, 'loop_ohm', 'ohm')}."]
    if figures["camera_v"] is None:
        lines.append(f"No solution: the loop carries {_of(figures, 'most_w', 'W')} at most.")
    else:
        lines.append(f"{_of(figures, 'camera_v', 'V')} at the camera, {_of(figures, 'current_a', 'A')}.")
        lines.append(f"Lost in the run: {_of(figures, 'loss_w', 'W')}.")
    if inputs.least_v is not None:
        lines.append(f"Dashed: the least, {pen.amount(inputs.least_v, 'V')}.")
    if figures["longest_m"] is not None:
        lines.append(f"Longest run for it: {_of(figures, 'longest_m', 'm')}.")
    return lines


def _of(figures: dict[str, float | str | None], name: str, unit: str) -> str:
    return pen.amount(float(figures[name] or 0), unit)
