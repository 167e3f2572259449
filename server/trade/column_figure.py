"""The column with its top taken off: the force that is set free, as long as it is strong."""

from __future__ import annotations

from collections.abc import Mapping

from server.trade import figure as pen
from server.trade.answer import Figure
from server.trade.column import Inputs, assess
from server.trade.figure_sheet import Sheet
from server.trade.gravity import newtons

TITLE = "What a balanced column sets free"
FOOT, LONGEST = 206.0, 150.0


def draw(inputs: Inputs) -> str:
    """Column, lock and the hole where the top was; beside them springs, friction and what is left over."""
    answer = assess(inputs)
    springs, friction = newtons(inputs.removed_kg), inputs.friction_n or 0.0
    freed = float(answer.figures["freed_n"].value or 0)
    sheet = Sheet()
    sheet.say(f"{pen.amount(inputs.removed_kg, 'kg')} taken off", heavy=True)
    most = max(springs, friction)
    arrows = (
        ("springs", 172.0, springs, -1),
        ("friction", 240.0, friction, 1),
        ("set free", 304.0, freed, -1),
    )
    sheet.put(
        FOOT + 54,
        _column(),
        *(_force(name, x, force, LONGEST * force / most, way) for name, x, force, way in arrows),
    )
    sheet.say("Dashed: taken off. Ring: the lock, to be seen engaged first.", tone="soft")
    if not inputs.friction_n:
        sheet.say("Friction is not counted on.", tone="soft")
    arm = _arm(answer.figures)
    for line in arm:
        sheet.say(line)
    sheet.say("No figure clears a column: its lock does.", heavy=True)
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [
            f"{pen.short(inputs.removed_kg)} kg off: springs push up {pen.short(springs)} N, friction "
            f"{pen.short(friction)} N, set free upwards {pen.short(freed)} N.",
            *arm,
            "No figure clears a column: its lock, seen engaged, does.",
            f"Verdict: {answer.words}.",
        ],
    )


def _arm(figures: Mapping[str, Figure]) -> list[str]:
    """Of a balanced arm, where its lengths were given."""
    each, held = (figures[name].value for name in ("spring_force_n", "hold_down_n"))
    if each is None or held is None:
        return []
    return [
        f"Each spring: {pen.amount(float(each), 'N')}.",
        f"Unloaded, the arm pushes up {pen.amount(float(held), 'N')} where it would be held.",
    ]


def _column() -> str:
    x = 74.0
    base = pen.rule(f"M{x - 52} {FOOT - 14}h104l-30 -30h-44z", paper=True)
    wheels = "".join(pen.ring(x + side, FOOT - 7, 7, "ink") for side in (-40, 0, 40))
    tube = pen.rule(pen.box(x - 14, 104, 28, FOOT - 148), paper=True) + pen.rule(
        pen.box(x - 9, 72, 18, 32), paper=True
    )
    head = pen.rule(f"M{x - 22} 72h44", width=5)
    lock = pen.mark("lock", pen.rule(f"M{x - 24} 112h48", width=5), pen.ring(x + 32, 112, 8))
    return pen.mark("taken off", pen.hole(x, 42, 92, 48)) + base + wheels + tube + head + lock


def _force(name: str, x: float, force: float, length: float, way: int) -> str:
    """An arrow up from the foot, or for friction down to it."""
    top, foot = FOOT - length, FOOT
    tone = "alarm" if name == "set free" else "ink"
    drawn = pen.arrow(x, foot, x, top, width=5, tone=tone) if way < 0 else pen.arrow(x, top, x, foot, width=5)
    return pen.mark(
        name,
        drawn,
        pen.words(x, FOOT + 24, name, anchor="middle", tone="soft"),
        pen.words(x, FOOT + 46, pen.amount(force, "N"), anchor="middle", heavy=True),
    )
