"""The sling as it hangs: its legs at their angle with the tension beside them, and every piece against its mark."""

from __future__ import annotations

import math

from server.trade import figure as pen
from server.trade.figure_sheet import Sheet
from server.trade.sling import Gear, Inputs, assess, carrying_legs

TITLE = "Sling"
MIDDLE, TOP, LEG = 170.0, 74.0, 140.0
BODY = 44.0
PLACES = {1: (-1.0,), 2: (-1.0, 1.0), 3: (-1.0, 1.0, 0.3), 4: (-1.0, 1.0, -0.4, 0.4)}
"""Where the picks lie, in parts of half the spread: the far ones of three and four are seen nearer the middle."""


def draw(inputs: Inputs) -> str:
    """Legs counted on as ropes, the others thin and dashed; knots, holes and tags beside the gear."""
    answer = assess(inputs)
    force = pen.amount(float(answer.figures["leg_tension_kn"].value or 0), "kN")
    needed_kg = float(answer.figures["needed_wll_kg"].value or 0)
    legs, angle = int(inputs.legs), inputs.angle_deg() or 0.0
    taking = 2 if legs == 4 else carrying_legs(legs, symmetric=inputs.symmetric == "yes")
    sheet = Sheet()
    sheet.say(f"{pen.amount(inputs.load_kg, 'kg')}, {_legs(legs)} {inputs.hitch}", heavy=True)
    sheet.put(
        TOP + LEG * math.cos(math.radians(angle)) + BODY + 16, *_hung(inputs, legs, taking, angle, force)
    )
    sheet.say(f"{pen.amount(angle, '°')} off the vertical, the dotted line.", tone="soft")
    if taking < legs:
        sheet.say("Thin and dashed: not counted on.", tone="soft")
    sheet.say(f"Mark that each leg needs: {pen.amount(needed_kg, 'kg')}.", heavy=True)
    for one in inputs.gear:
        _piece(sheet, inputs, one, needed_kg if one.carries == "a leg" else inputs.load_kg)
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [
            f"{pen.short(inputs.load_kg)} kg, {_legs(legs)} {inputs.hitch}.",
            f"{pen.short(angle)} degrees to the vertical.",
            f"{taking} of {legs} counted on, {force.replace(pen.FIRM, ' ')} in each part, "
            f"to be marked {pen.short(needed_kg)} kg or more.",
            *(
                f"{one.tag}: {_state(inputs, one, needed_kg if one.carries == 'a leg' else inputs.load_kg)}."
                for one in inputs.gear
            ),
            f"Verdict: {answer.words}.",
        ],
    )


def _legs(legs: int) -> str:
    return "1 leg" if legs == 1 else f"{legs} legs"


def _hung(inputs: Inputs, legs: int, taking: int, angle: float, force: str) -> list[str]:
    spread, down = LEG * math.sin(math.radians(angle)), LEG * math.cos(math.radians(angle))
    basket = inputs.hitch == "basket"
    half = max(spread, 36.0) + 16
    top = TOP + down
    load = pen.rule(pen.box(MIDDLE - half, top, 2 * half, BODY), paper=True)
    drawn = [load, pen.dots(pen.path((MIDDLE, TOP), (MIDDLE, top)), "ink")]
    for number, place in reversed(list(enumerate(PLACES[legs], 1))):
        counted = number <= taking
        for side in (-1, 1) if basket else (1,):
            x = MIDDLE + spread * (side * (0.55 + 0.45 * number / legs) if basket else place)
            drawn.append(pen.mark(f"leg {number}", _leg((x, top), inputs.hitch, counted=counted)))
    if basket:
        reach = max(spread, 6.0)
        drawn.append(pen.rope(f"M{pen.unit(MIDDLE - reach)} {pen.unit(top + BODY)}h{pen.unit(2 * reach)}"))
    drawn += [pen.hook(MIDDLE, TOP), pen.words(pen.EDGE, 18, force, heavy=True)]
    drawn.append(
        pen.words(pen.EDGE, 40, "in each part" if basket else "in the leg" if taking == 1 else "in each leg")
    )
    if taking > 1 or basket:
        drawn.append(pen.words(pen.WIDTH - pen.EDGE, 18, force, anchor="end", heavy=True))
    return drawn


def _leg(pick: tuple[float, float], hitch: str, *, counted: bool) -> str:
    x, y = pick
    d = pen.path((MIDDLE, TOP), pick)
    if hitch == "basket":
        d += f"v{pen.unit(BODY)}"
    rope = pen.rope(d) if counted else pen.rule(d, width=2.4, tone="dark-rope", dash="7 5")
    if hitch == "choked":
        around = f"M{pen.unit(x - 9)} {pen.unit(y)}v{pen.unit(BODY)}h18v{pen.unit(-BODY)}"
        rope += pen.rope(around, thick=4) + pen.ring(x, y, 6)
    elif hitch == "straight" and counted:
        rope += pen.knot(x, y, 0.8)
    return rope


def _state(inputs: Inputs, one: Gear, asked_kg: float) -> str:
    """Marked or not, beyond or not, in date or not: in words."""
    marked = "no mark given" if one.wll_kg is None else f"marked {pen.short(one.wll_kg)} kg"
    if one.wll_kg is not None and one.wll_kg < asked_kg:
        marked += f", beyond: {pen.short(asked_kg)} kg needed"
    if one.next_examination is None or inputs.on_date is None:
        return f"{marked}; date not told"
    late = one.next_examination < inputs.on_date
    return f"{marked}; {'overdue since' if late else 'in date to'} {one.next_examination.isoformat()}"


def _piece(sheet: Sheet, inputs: Inputs, one: Gear, asked_kg: float) -> None:
    state = _state(inputs, one, asked_kg)
    bad = "beyond" in state or "overdue" in state
    if "beyond" in state:
        sign = pen.hole(22, 14, 22, 18)
    elif "overdue" in state:
        sign = pen.tag_on_string(22, 0)
    else:
        sign = pen.ring(22, 13, 7) if "not told" in state or "no mark" in state else pen.knot(22, 13, 0.8)
    sheet.gap(4)
    lines = [pen.words(44, pen.SIZE, one.tag[:24], heavy=True)]
    for line in pen.wrapped(state, pen.WIDTH - 52):
        lines.append(
            pen.words(
                44, pen.SIZE + pen.LEADING * len(lines), line, tone="alarm" if bad else "ink", heavy=bad
            )
        )
    sheet.put(pen.LEADING * len(lines), pen.mark(f"gear {one.tag}", sign, *lines))
