"""Breaking strength of rope by rules of thumb, where its maker's figure is missing.

MBS lb = 900 C^2, C the circumference in inches, for manila, times a factor for others (seamanship rule);
MBS t = D^2/200 and so on, D in mm (maritime course sheet). Both second-hand: the maker's figure comes first.
"""

from __future__ import annotations

import math

OVER_MANILA = {"manila": 1.0, "polypropylene": 1.4, "polyester": 2.0, "nylon": 2.5}
DIVISOR = {"manila": 200, "polypropylene": 77, "polyethylene": 106}


def by_circumference_lb(diameter_in: float, kind: str) -> float:
    """Seamanship rule, in pounds."""
    return 900 * (math.pi * diameter_in) ** 2 * OVER_MANILA[kind]


def by_diameter_t(diameter_mm: float, kind: str) -> float:
    """Course sheet's rule, in tonnes."""
    return diameter_mm**2 / DIVISOR[kind]
