"""Guidelines for handling by people: none is a legal limit, all are editable.

Team (HSE L23 para 120, second-hand): two people 2/3 of the sum of what each could do alone, three 1/2.
None is published for four: 1/2 stands as an upper guide. Filter (INDG143, from memory): less for rate and
twist; multiplying the two is this program's own order, and between its steps the stricter one is taken.
"""

from __future__ import annotations

TEAM = {1: 1.0, 2: 2 / 3, 3: 1 / 2, 4: 1 / 2}
"""Fraction of the sum by people; that for four is not published."""
_BY_RATE = ((0.5, 1.0), (2.0, 0.7), (8.0, 0.5))
_ABOVE = 0.2


def team_kg(alone_kg: float, people: int) -> float:
    """What `people` may be guided to handle together, 1 to 4, each able to do `alone_kg`."""
    return TEAM[people] * people * alone_kg


def filter_kg(best_kg: float, per_minute: float, twist_deg: float) -> float:
    """The filter's figure for one person, reduced for lifts a minute and for twist."""
    rate = next((factor for most, factor in _BY_RATE if per_minute <= most), _ABOVE)
    twist = 0.8 if twist_deg > 90 else 0.9 if twist_deg > 45 else 1.0
    return best_kg * rate * twist
