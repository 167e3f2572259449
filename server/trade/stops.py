"""Stops, light and level: a stop is a factor of two in light, of the square root of two in f-number."""

from __future__ import annotations

import math

DB_PER_STOP = 20 * math.log10(2)


def between(n_from: float, n_to: float) -> float:
    """Stops lost from one f-number to another; negative when opening."""
    return 2 * math.log2(n_to / n_from)


def closed(n: float, stops: float) -> float:
    """The f-number `stops` further closed (open where negative)."""
    return n * math.sqrt(2.0**stops)


def transmittance(tau: float) -> float:
    """Stops lost in glass that passes the part tau."""
    return -math.log2(tau)


def t_number(n: float, tau: float) -> float:
    """T = N/sqrt(tau)."""
    return n / math.sqrt(tau)


def neutral_split(paths: int) -> float:
    """Stops a path loses where the light is shared over equal paths; a dichroic block loses less."""
    return math.log2(paths)


def after_share(share: float) -> float:
    """Stops red, green and blue lose to a luminance tube that takes the neutral part `share`."""
    return -math.log2(1 - share)


def light_ratio(lux_from: float, lux_to: float) -> float:
    """Stops lost from one illuminance to another."""
    return math.log2(lux_from / lux_to)


def needed_f_number(lux: float, gain_db: float, rated_lux: float, rated_n: float) -> float:
    """N2 = N1 sqrt(E2/E1 10^(G/20)) against a camera's rating without gain."""
    return rated_n * math.sqrt(lux / rated_lux * 10 ** (gain_db / 20))


def needed_lux(n: float, gain_db: float, rated_lux: float, rated_n: float) -> float:
    """E2 = E1 (N2/N1)^2 10^(-G/20): the same turned round."""
    return rated_lux * (n / rated_n) ** 2 / 10 ** (gain_db / 20)
