"""What pull does this tackle need, what does the anchor take, and how far is the rope used?

One-tenth rule (default, for rope): the load counts W (1 + n/10), pull = that over P (US Navy Steelworker and
Builder manuals; Nicholls's Seamanship and Nautical Knowledge, pp. 40, 42). Bearing rule, wire rope only: pull =
W K^P (K-1)/(K^P - 1), times K a lead block, K 1.09 plain or 1.04 anti-friction (Wire Rope Users Manual, 4th
ed., pp. 86-88, second-hand; closed form from memory). Measured, white rope: efficiency for P 1-6 (Workshop
Receipts, fifth series). A lead block adds a sheave, and takes 2 T cos(angle between its lines/2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import rope_strength
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.gravity import newtons
from server.trade.lifting_cautions import CAUTIONS, PASSED_BY

BEARINGS = {"plain": 1.09, "anti-friction": 1.04}
MEASURED_EFFICIENCY = (0.90, 0.81, 0.75, 0.68, 0.615, 0.59)
KNOTS = {
    "none": 1.0, "bowline": 0.60, "bowline on the bight": 0.60, "clove hitch": 0.75, "two half hitches": 0.75,
    "timber hitch": 0.70, "anchor bend": 0.70, "figure-eight": 0.48, "reef": 0.45, "sheepshank": 0.45,
    "overhand": 0.45, "eye splice": 0.95, "short splice": 0.90,
}  # fmt: skip
"""Part of the rope's strength left (a rope maker's handbook of 1946, second-hand; modern tests differ)."""


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One tackle as rove."""

    load_kg: float = quantity("load", "kg", 0.1, 20000, "with bag, lifting gear and moving block")
    sheaves: float = quantity("sheaves", "", 1, 12, "in the blocks, lead blocks not counted", whole=True)
    parts: float = quantity("parts at the moving block", "", 1, 12, whole=True)
    rule: str = choice("rule", "one-tenth", "bearing", "measured", default="one-tenth")
    bearing: str = choice("bearing", *BEARINGS, help="for the bearing rule, wire rope only", default="plain")
    lead_blocks: float = quantity("lead blocks", "", 0, 6, default=0, whole=True)
    lead_angle_deg: float = quantity("between the lines at a lead block", "deg", 0, 180, default=90)
    tackle_kg: float = quantity(
        "the tackle itself", "kg", 0, 500, "blocks and rope; hangs on the anchor", default=0
    )
    rope_mbs_kn: float | None = quantity(
        "rope breaks at, new", "kN", 0.1, 2000, "from its maker", default=None
    )
    rope: str | None = choice(
        "rope of", *rope_strength.KINDS, help="where its maker's figure is missing", default=None
    )
    rope_diameter_mm: float | None = quantity(
        "rope's diameter", "mm", 4, 80, "goes with its kind", default=None
    )
    knot: str = choice("knot", *KNOTS, default="bowline")
    design_factor: float = quantity(
        "design factor", "", 5, 20, "house limit, editable; 12 for hoists", default=12
    )
    people: float | None = quantity("people on the rope", "", 1, 20, default=None, whole=True)
    pull_each_kg: float = quantity("pull a person", "kg", 1, 60, "house limit, editable", default=20)
    anchor_wll_kn: float | None = quantity("anchor marked", "kN", 0.1, 2000, default=None)

    def __post_init__(self) -> None:
        if not self.sheaves <= self.parts <= self.sheaves + 1:
            raise InputError(
                (
                    "parts",
                    f"{shown(self.parts)} do not go with {shown(self.sheaves)} sheaves; give as many parts as sheaves "
                    "(rove to disadvantage) or one more (to advantage)",
                )
            )
        if (self.rope is None) != (self.rope_diameter_mm is None):
            raise InputError(("rope_diameter_mm", "in mm goes with rope, its kind; give both, or neither"))
        if self.rope is not None and self.rope_mbs_kn is not None:
            raise InputError(("rope", "is given beside its maker's rope_mbs_kn; give that in kN alone"))
        if self.rule == "measured" and self.parts > len(MEASURED_EFFICIENCY):
            raise InputError(("parts", "were measured for 1 to 6 only; give 1 to 6, or another rule"))


def one_tenth(load: float, sheaves: int, parts: int, leads: int = 0) -> float:
    """Pull by the one-tenth rule, in the unit of the load."""
    return load * (1 + (sheaves + leads) / 10) / parts


def lead_line_factor(k: float, parts: int, leads: int = 0) -> float:
    """Pull over load by the bearing rule; k > 1."""
    return k**parts * (k - 1) / (k**parts - 1) * k**leads


def measured(load: float, parts: int, leads: int = 0) -> float:
    """Pull by the measured efficiencies; each lead block is taken as one more tenth (ours)."""
    return load / (parts * MEASURED_EFFICIENCY[parts - 1]) * (1 + leads / 10)


def on_block(tension: float, between_deg: float) -> float:
    """What a block takes from a line bent so that its two lines stand `between_deg` apart."""
    return 2 * tension * math.cos(math.radians(between_deg) / 2)


def working_load(mbs: float, knot: float, design_factor: float) -> float:
    """MBS x knot / design factor, in the unit of MBS: knot and design factor multiply."""
    return mbs * knot / design_factor


def assess(inputs: Inputs) -> Assessment:
    """Pull, anchor, lead block, rope and hands, against the rope's working load, the anchor's mark and the people."""
    pull_kg, pull_n = _pull_kg(inputs), newtons(_pull_kg(inputs))
    down = inputs.parts == inputs.sheaves
    anchor_n = newtons(inputs.load_kg + inputs.tackle_kg) + (pull_n if down else 0)
    to_haul = math.ceil(pull_kg / inputs.pull_each_kg)
    thumb = rope_strength.estimates_kn(inputs.rope_diameter_mm or 0, inputs.rope) if inputs.rope else {}
    mbs = min(thumb.values()) if thumb else inputs.rope_mbs_kn
    rope_n = None if mbs is None else 1000 * working_load(mbs, KNOTS[inputs.knot], inputs.design_factor)
    limits = (
        ("the rope's working load", "N", pull_n, rope_n),
        (
            "the anchor's mark",
            "N",
            anchor_n,
            None if inputs.anchor_wll_kn is None else 1000 * inputs.anchor_wll_kn,
        ),
        ("the people on the rope (house limit, editable)", "people", to_haul, inputs.people),
    )
    beyond = tuple(
        f"Beyond {what}: {shown(asked)} {unit} asked, {shown(limit)} {unit} there."
        for what, unit, asked, limit in limits
        if limit is not None and asked > limit
    )
    unknown = (
        *(f"Not told: {what}." for what, _, _, limit in limits if limit is None),
        *_by_thumb(thumb),
    )
    verdict = Verdict.FIGURES_BEYOND if beyond else Verdict.CANNOT_TELL if unknown else Verdict.FIGURES_WITHIN
    return Assessment(
        verdict=verdict,
        figures={
            "pull_kg": Figure(pull_kg, "kg"),
            "pull_n": Figure(pull_n, "N"),
            "anchor_n": Figure(anchor_n, "N"),
            "lead_block_n": Figure(
                on_block(pull_n, inputs.lead_angle_deg) if inputs.lead_blocks else None, "N"
            ),
            "rope_mbs_kn": Figure(mbs, "kN"),
            "rope_use_percent": Figure(100 * pull_n / rope_n if rope_n else None, "%"),
            "people_to_haul": Figure(to_haul, "people"),
        },
        findings=(
            "The figures are for hauling. Holding and lowering need less pull, as friction then helps: take a turn "
            "round something fixed and never count on friction to hold.",
            *(() if inputs.lead_blocks else ("No lead block, so no load on one.",)),
            *beyond,
            *unknown,
        ),
        advice=("More parts, a lighter load, a stronger rope or anchor, or more people.",) if beyond else (),
        cautions=(
            *CAUTIONS,
            "A wet rope is weaker, heavier and slips; a twisted tackle pulled 40 % harder when measured: clear it.",
        ),
        basis=_basis(inputs, down=down),
        passed_by="" if verdict is Verdict.CANNOT_TELL else PASSED_BY,
    )


def _pull_kg(inputs: Inputs) -> float:
    parts, leads = int(inputs.parts), int(inputs.lead_blocks)
    if inputs.rule == "one-tenth":
        return one_tenth(inputs.load_kg, int(inputs.sheaves), parts, leads)
    if inputs.rule == "bearing":
        return inputs.load_kg * lead_line_factor(BEARINGS[inputs.bearing], parts, leads)
    return measured(inputs.load_kg, parts, leads)


def _by_thumb(thumb: dict[str, float]) -> tuple[str, ...]:
    """A rope known by a rule of thumb alone is never within."""
    if not thumb:
        return ()
    said = ", ".join(f"{shown(round(kn, 2))} kN by the {rule}" for rule, kn in thumb.items())
    return (f"The rope breaks, new, at {said} (rules of thumb, second-hand): its maker's figure is wanted.",)


def _basis(inputs: Inputs, *, down: bool) -> tuple[str, ...]:
    rules = {
        "one-tenth": "One-tenth rule: US Navy Steelworker and Builder manuals; Nicholls pp. 40, 42.",
        "bearing": "Bearing rule, for wire rope only: Wire Rope Users Manual pp. 86-88, second-hand.",
        "measured": "Measured on white rope: Workshop Receipts, fifth series; a tenth a lead block is our addition.",
    }
    anchor = (
        "comes down off the top block: the anchor takes load, tackle and pull"
        if down
        else "goes up: the pull helps, but is not taken off the anchor's figure"
    )
    return (
        rules[inputs.rule],
        f"The hauling part {anchor} (Nicholls p. 42).",
        f"Rope: strength x knot {KNOTS[inputs.knot]} (handbook of 1946, second-hand) over design factor "
        f"{shown(inputs.design_factor)} (house limit, editable).",
        f"{shown(inputs.pull_each_kg)} kg a person: house limit, editable.",
        "Starting, stopping and swinging are in none of these figures.",
    )
