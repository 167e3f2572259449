"""What a light meter's reading says of the light: incident meters, after ISO 2720:1974.

Second-hand (an encyclopedia article); C 250 for a flat cell, 340 for a dome (a cinematographer's technical page).
"""

from __future__ import annotations

import math

REFLECTED_K = 12.5
"""The common constant of reflected meters, second-hand."""


def incident_lux(n: float, seconds: float, iso: float, c: float = 250) -> float:
    """E = C N^2/(t S), after ISO 2720:1974 as an encyclopedia article reports it; C 250 flat, 340 dome."""
    return c * n * n / (seconds * iso)


def lux_of_ev(ev: float, c: float = 250) -> float:
    """Illuminance of an exposure value at ISO 100."""
    return float(c / 100 * 2.0**ev)


def ev_of_lux(lux: float, c: float = 250) -> float:
    """Exposure value at ISO 100 of an illuminance."""
    return math.log2(100 * lux / c)


def meter_reflectance(k: float, c: float) -> float:
    """The reflectance at which a reflected and an incident meter agree: pi K/C."""
    return math.pi * k / c
