"""Two unequal legs to one hook, to scale, with the tension beside each."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.figure_sheet import Sheet
from server.trade.load_figure import gravity
from server.trade.offset_pick import Inputs, assess

TITLE = "Two legs to one hook"
BROAD, HIGH, TOP = 270.0, 170.0, 84.0
BODY = 44.0
"""How deep the load is drawn: nothing says how deep it is."""


def draw(inputs: Inputs) -> str:
    """Hook, legs and load, with the hook over the centre of gravity."""
    answer = assess(inputs)
    figures = {name: float(one.value) for name, one in answer.figures.items() if isinstance(one.value, float)}
    heights = (inputs.height_m, inputs.height_m if inputs.height_2_m is None else inputs.height_2_m)
    scale = min(BROAD / (inputs.d1_m + inputs.d2_m), HIGH / max(heights))
    hook = ((pen.WIDTH + scale * (inputs.d1_m - inputs.d2_m)) / 2, TOP)
    picks = (
        (hook[0] - scale * inputs.d1_m, TOP + scale * heights[0]),
        (hook[0] + scale * inputs.d2_m, TOP + scale * heights[1]),
    )
    between = inputs.d1_m / (inputs.d1_m + inputs.d2_m)
    line_y = picks[0][1] + (picks[1][1] - picks[0][1]) * between
    centre_y = line_y + min(BODY + 20, max(-60.0, -scale * inputs.cg_above_picks_m))
    deepest = max(picks[0][1], picks[1][1], centre_y) + BODY
    sheet = Sheet()
    sheet.say(f"{pen.amount(inputs.load_kg, 'kg')} on two legs, to scale", heavy=True)
    sheet.put(
        deepest + 12,
        pen.rule(
            pen.path(*picks, (picks[1][0], picks[1][1] + BODY), (picks[0][0], picks[0][1] + BODY)) + "z",
            paper=True,
        ),
        *(_leg(hook, pick, number, figures) for number, pick in enumerate(picks, 1)),
        pen.hook(*hook),
        pen.dots(pen.path(hook, (hook[0], deepest)), "ink"),
        pen.mark("centre of gravity", gravity(hook[0], centre_y)),
    )
    sheet.say("Dotted: hook over centre of gravity.", tone="soft")
    tilt = figures.get("tilt_deg")
    sheet.say(
        "Tilt on equal legs is not told."
        if tilt is None
        else f"On equal legs it would tilt by {pen.amount(tilt, '°')}."
    )
    if inputs.leg_wll_kg is not None:
        sheet.say(f"Marked on each leg: {pen.amount(inputs.leg_wll_kg, 'kg')}.")
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [
            f"{pen.short(inputs.load_kg)} kg; picks {pen.short(inputs.d1_m)} m and {pen.short(inputs.d2_m)} m from the "
            f"centre of gravity.",
            *(
                f"Leg {number} takes {pen.short(figures[f'leg_{number}_kg'])} kg, "
                f"{pen.short(figures[f'leg_{number}_tension_kn'])} kN."
                for number in (1, 2)
            ),
            f"Verdict: {answer.words}.",
        ],
    )


def _leg(hook: tuple[float, float], pick: tuple[float, float], number: int, figures: dict[str, float]) -> str:
    x, anchor = (pen.EDGE, "start") if number == 1 else (pen.WIDTH - pen.EDGE, "end")
    kilograms = pen.amount(figures[f"leg_{number}_kg"], "kg")
    force = pen.amount(figures[f"leg_{number}_tension_kn"], "kN")
    return pen.mark(
        f"leg {number}",
        pen.rope(pen.path(hook, pick)),
        pen.knot(*pick, 0.8),
        pen.words(x, 18, f"leg {number}: {kilograms}", anchor=anchor, heavy=True),
        pen.words(x, 40, force, anchor=anchor),
    )
