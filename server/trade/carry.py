"""Who carries how much of this load, and who takes the worst of it?

Shares as in `bearers.py`; a bearer takes one handle or both of one end. Where the centre of gravity is not known,
each end is weighed with the other held level: u = (lower - upper)/(lower + upper). On a slope, lifting straight up, the
lower end takes 1/2 + u/2 + (h/L) tan(theta), h the height of the centre of gravity square to the line of the
handles: u grows by 2 (h/L) tan(theta). Guidelines as in `guidelines.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import bearers, guidelines
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.fields import shown

PASSED_BY = "a competent person"
LIKELY = ("equal springs", "the product rule")
LOWER, UPPER = ("lower_left", "lower_right"), ("upper_left", "upper_right")
CAUTIONS = (
    "Think first of not carrying: wheels, the vehicle nearer, lens and head off and packed, more people.",
    "One person calls. The route is walked and lit, with places to rest; nobody below on stairs.",
    "Put it down as soon as anybody says so. Backs, fingers and crushed hands are the usual injuries.",
    "Wet handles, gloves, mud, dark, wind, a stumble and a sudden start are in no figure here.",
    "Local rules and a competent person decide.",
)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One load in people's hands."""

    load_kg: float = quantity("load", "kg", 0.1, 1000, "with the stretcher, if it lies on one")
    bearers: float = quantity("bearers", "people", 2, 4, default=4, whole=True)
    u: float | None = quantity(
        "centre of gravity lengthwise",
        "",
        -1,
        1,
        "in half lengths from the middle; 1 is the lower or leading end; or weigh both ends",
        default=None,
    )
    lower_end_kg: float | None = quantity(
        "lower or leading end, weighed", "kg", 0, 1000, "the other end held level", default=None
    )
    upper_end_kg: float | None = quantity(
        "upper or following end, weighed", "kg", 0, 1000, "the other end held level", default=None
    )
    v: float = quantity("centre of gravity left", "", -1, 1, "in half widths from the middle; 1 is the left")
    handles: str = choice("handles", "four", "stretcher", default="four")
    slope_deg: float = quantity("slope or stairs", "deg", 0, 60, default=0)
    cg_height_ratio: float = quantity(
        "centre of gravity above the handles",
        "",
        -2,
        2,
        "in lengths between the handles, square to them",
        default=0,
    )
    alone_kg: float = quantity(
        "one person alone",
        "kg",
        1,
        60,
        "house limit, editable; 25 is from memory of a filter's best zone",
        default=25,
    )
    per_minute: float = quantity("lifts a minute", "1/min", 0, 30, default=0.5)
    twist_deg: float = quantity("twist of the body", "deg", 0, 135, default=0)
    likely_by: str = choice(
        "likely by", *LIKELY, help="which of two rules, where statics leave it open", default=LIKELY[0]
    )

    def __post_init__(self) -> None:
        ends = (self.lower_end_kg, self.upper_end_kg)
        if self.u is not None and ends != (None, None):
            raise InputError(("u", "is given beside the weighed ends; give u, or both ends in kg"))
        if self.u is None:
            missing = [
                (name, "is missing; give both ends in kg, 0 to 1000, or u, -1 to 1")
                for name, one in zip(("lower_end_kg", "upper_end_kg"), ends, strict=True)
                if one is None
            ]
            if len(missing) == 2:
                raise InputError(("u", "is missing; give -1 to 1, or weigh both ends, in kg"))
            if missing or not sum(one or 0 for one in ends):
                raise InputError(
                    *missing or [("lower_end_kg", "is 0 with the other end; weigh again, in kg")]
                )

    def lengthwise(self) -> float:
        """u as given, or from the ends as weighed."""
        if self.u is not None:
            return self.u
        return bearers.from_end_weights(self.lower_end_kg or 0, self.upper_end_kg or 0)


def lower_end_u(inputs: Inputs) -> float:
    """u as the bearers feel it on the slope; beyond 1 the load tips over the lower end."""
    return inputs.lengthwise() + 2 * inputs.cg_height_ratio * math.tan(math.radians(inputs.slope_deg))


def hands(people: int, u: float) -> dict[str, tuple[int, ...]]:
    """Which handles each bearer holds, as places in `bearers.SIGNS`; of three, two take the heavier end."""
    lower, upper = {"lower_end": (0, 1)}, {"upper_end": (2, 3)}
    lower_pair = dict(zip(LOWER, ((0,), (1,)), strict=True))
    upper_pair = dict(zip(UPPER, ((2,), (3,)), strict=True))
    if people == 2:
        return {**lower, **upper}
    if people == 4:
        return {**lower_pair, **upper_pair}
    return {**lower_pair, **upper} if u >= 0 else {**lower, **upper_pair}


def assess(inputs: Inputs) -> Assessment:
    """Least, likely and most by bearer, against one person's guideline and the team's."""
    people, u = int(inputs.bearers), lower_end_u(inputs)
    held = hands(people, u)
    alone = guidelines.filter_kg(inputs.alone_kg, inputs.per_minute, inputs.twist_deg)
    team = guidelines.team_kg(alone, people)
    guides = {"alone_kg": Figure(alone, "kg"), "team_kg": Figure(team, "kg")}
    within = bearers.span(u, inputs.v)
    if within is None:
        nothing = {
            f"{name}_{word}_kg": Figure(None, "kg") for name in held for word in ("least", "likely", "most")
        }
        return Assessment(
            verdict=Verdict.FIGURES_BEYOND,
            figures={**nothing, "worst_kg": Figure(None, "kg"), **guides},
            findings=("The centre of gravity lies outside the handles on this slope: the load tips.",),
            advice=("Lower the load between the handles, turn it, or take another way.",),
            cautions=CAUTIONS,
            basis=_basis(inputs),
            passed_by=PASSED_BY,
        )
    least, most = bearers.ends(u, inputs.v, within)
    likely = (
        bearers.likely(u, inputs.v, within)
        if inputs.likely_by == LIKELY[0]
        else bearers.product_rule(u, inputs.v)
    )
    taken = {
        f"{name}_{word}_kg": inputs.load_kg * sum(part[place] for place in places)
        for name, places in held.items()
        for word, part in (("least", least), ("likely", likely), ("most", most))
    }
    if people < 4:
        taken = _whole_ends(taken, inputs.load_kg, u, held)
    worst = max(held, key=lambda name: (taken[f"{name}_most_kg"], taken[f"{name}_likely_kg"]))
    worst_kg = taken[f"{worst}_most_kg"]
    findings = [
        f"Worst off: {worst.replace('_', ' ')}, likely {shown(taken[f'{worst}_likely_kg'])} kg, "
        f"at most {shown(worst_kg)} kg."
    ]
    beyond = []
    if worst_kg > alone:
        beyond.append(f"Beyond what one person is guided to take, {shown(alone)} kg (house limit, editable).")
    if inputs.load_kg > team:
        beyond.append(f"Beyond the guide for a team of {people}, {shown(team)} kg.")
    if people == 4:
        findings.append("No fraction is published for four people: 1/2 is shown as an upper guide only.")
    return Assessment(
        verdict=Verdict.FIGURES_BEYOND if beyond else Verdict.FIGURES_WITHIN,
        figures={
            **{name: Figure(value, "kg") for name, value in taken.items()},
            "worst_kg": Figure(worst_kg, "kg"),
            **guides,
        },
        findings=(*findings, *beyond),
        advice=_cures(inputs, bool(beyond)),
        cautions=CAUTIONS,
        basis=_basis(inputs),
        passed_by=PASSED_BY,
    )


def _whole_ends(
    taken: dict[str, float], load_kg: float, u: float, held: dict[str, tuple[int, ...]]
) -> dict[str, float]:
    """Somebody who holds both handles of an end takes that end, whatever s is."""
    answer = dict(taken)
    for name in held:
        if name in ("lower_end", "upper_end"):
            share = (1 + u if name == "lower_end" else 1 - u) / 2
            answer |= {f"{name}_{word}_kg": load_kg * share for word in ("least", "likely", "most")}
    return answer


def _cures(inputs: Inputs, beyond: bool) -> tuple[str, ...]:
    cures = (
        ["Wheels or the vehicle nearer; lens and head off first; more people; rests on the way."]
        if beyond
        else []
    )
    if inputs.slope_deg and inputs.cg_height_ratio > 0:
        cures.append("On the slope, hang the load lower between the handles: it shifts to the lower end.")
    if inputs.handles == "stretcher":
        cures.append(
            "Shoulder straps and rest stops: two bearers by hand tire in minutes (Knapik 2000, second-hand)."
        )
    return tuple(cures)


def _basis(inputs: Inputs) -> tuple[str, ...]:
    return (
        f"Rigid load, lifted straight up; least and most are bounds from statics, likely takes {inputs.likely_by}"
        + (".", " (a question-and-answer page, second-hand).")[inputs.likely_by != LIKELY[0]],
        "One person: INDG143 filter, from memory, an editable house limit; rate and twist multiplied in our own order.",
        "Team fraction: HSE L23 para 120, second-hand."
        if inputs.bearers < 4
        else "Team fraction for four: none is published; 1/2 is HSE's for three (L23 para 120, second-hand).",
        "Guidelines, none a legal limit. They say nothing of posture on steps, where lower people may take most.",
    )
