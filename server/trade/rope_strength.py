"""Breaking strength of rope by rules of thumb, where its maker's figure is missing.

MBS lb = 900 C^2, C the circumference in inches, for manila, times a factor for others (seamanship rule);
MBS t = D^2/200 and so on, D in mm (maritime course sheet). Both second-hand: the maker's figure comes first.
"""

from __future__ import annotations

import math

from server.trade.gravity import newtons

POUND_KG, INCH_MM = 0.45359237, 25.4
OVER_MANILA = {"manila": 1.0, "polypropylene": 1.4, "polyester": 2.0, "nylon": 2.5}
DIVISOR = {"manila": 200, "polypropylene": 77, "polyethylene": 106}


def by_circumference_lb(diameter_in: float, kind: str) -> float:
    """Seamanship rule, in pounds."""
    return 900 * (math.pi * diameter_in) ** 2 * OVER_MANILA[kind]


def by_diameter_t(diameter_mm: float, kind: str) -> float:
    """Course sheet's rule, in tonnes."""
    return diameter_mm**2 / DIVISOR[kind]


KINDS = tuple(dict.fromkeys((*OVER_MANILA, *DIVISOR)))


def estimates_kn(diameter_mm: float, kind: str) -> dict[str, float]:
    """What each rule that knows this kind says it breaks at, new, in kN; they differ by a quarter and more."""
    found = {}
    if kind in OVER_MANILA:
        pounds = by_circumference_lb(diameter_mm / INCH_MM, kind)
        found["seamanship rule"] = newtons(pounds * POUND_KG) / 1000
    if kind in DIVISOR:
        found["course sheet"] = newtons(1000 * by_diameter_t(diameter_mm, kind)) / 1000
    return found
