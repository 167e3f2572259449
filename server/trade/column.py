"""What force is set free when this comes off a balanced column, and what must be locked first?

F = m g less friction (statics). Moment form, n springs: F = W x/(n y); load off, held down at r: n F y/r.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.gravity import newtons

GATES = (
    "1. Column fully down.",
    "2. Mechanical lock, pin or chain engaged, and seen by a second person.",
    "3. Pan and tilt locked.",
    "4. Brakes on.",
    "5. Nobody above the top.",
    "6. Hands clear of the column.",
    "7. Lift only to take the weight; if the column follows, stop and lower.",
)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """What comes off."""

    removed_kg: float = quantity("taken off", "kg", 0.1, 300, "everything that leaves the column at once")
    friction_n: float | None = quantity(
        "friction", "N", 0, 3000, "not counted on where unknown", default=None
    )
    springs: float = quantity("springs", "", 1, 8, "side by side, for an arm", default=1, whole=True)
    load_arm_m: float | None = quantity(
        "arm of the load", "m", 0.01, 5, "level, from the pivot: for a balanced arm", default=None
    )
    spring_arm_m: float | None = quantity("arm of the springs", "m", 0.01, 5, "square to them", default=None)
    hold_arm_m: float | None = quantity(
        "arm where it would be held", "m", 0.01, 5, "where somebody would lean on it", default=None
    )

    def __post_init__(self) -> None:
        arms = {name: getattr(self, name) for name in ("load_arm_m", "spring_arm_m", "hold_arm_m")}
        if len({arm is None for arm in arms.values()}) > 1:
            raise InputError(
                *(
                    (name, "is missing for an arm; give all three arms in m, or none")
                    for name, arm in arms.items()
                    if arm is None
                )
            )


def spring_force(weight: float, x: float, y: float, springs: int) -> float:
    """Each spring's force, weight at arm x, springs at arm y; in the unit of the weight."""
    return weight * x / (springs * y)


def holding_down(force: float, springs: int, y: float, r: float) -> float:
    """What holds the unloaded arm down at r."""
    return springs * force * y / r


def assess(inputs: Inputs) -> Assessment:
    """The force, and the gates; no limit is known, so nothing is judged within."""
    freed = max(0.0, newtons(inputs.removed_kg) - (inputs.friction_n or 0.0))
    each, held = _arm(inputs)
    return Assessment(
        verdict=Verdict.CANNOT_TELL,
        figures={
            "freed_n": Figure(freed, "N"),
            "spring_force_n": Figure(each, "N"),
            "hold_down_n": Figure(held, "N"),
        },
        findings=(
            "No figure clears a column: only its lock, seen engaged, does; a competent person passes it.",
            *(
                ()
                if held is None
                else (
                    f"Unloaded, the arm pushes up {shown(round(held))} N where it would be held: not by hand.",
                )
            ),
        ),
        advice=GATES,
        cautions=(
            "A small force is not held by hand either: the light top accelerates. No gate may be passed over.",
            "Refitting: the lock stays on until the load is secured, then trim.",
            "The column's own instructions come first; local rules and a competent person decide.",
        ),
        basis=(
            "F = m g less friction: statics. The order of the gates is common practice, no source.",
            "An arm: each spring W x/(n y), held at r: n F y/r; moments, a gas-spring article (second-hand).",
        ),
    )


def _arm(inputs: Inputs) -> tuple[float | None, float | None]:
    """Each spring's force, and what holds the arm down once the load is off; None without arms."""
    x, y, r = inputs.load_arm_m, inputs.spring_arm_m, inputs.hold_arm_m
    if x is None or y is None or r is None:
        return None, None
    each = spring_force(newtons(inputs.removed_kg), x, y, int(inputs.springs))
    return each, holding_down(each, int(inputs.springs), y, r)
