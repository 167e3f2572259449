"""Mass to force: what a load weighs."""

from __future__ import annotations

STANDARD_M_PER_S2 = 9.80665
"""Standard gravity, exact by definition (3rd CGPM, 1901)."""


def newtons(mass_kg: float) -> float:
    """The weight in N of a mass in kg."""
    return mass_kg * STANDARD_M_PER_S2
