"""What a zoom can really open to: the largest entrance pupil, the knee, and the extender.

The effect: S. F. Ray, Applied Photographic Optics, doi 10.4324/9780080499253-14, abstract.
"""

from __future__ import annotations


def pupil(f: float, n: float) -> float:
    """Entrance pupil f/N, in the unit of f."""
    return f / n


def widest(f: float, n_wide_open: float, knee: float | None) -> float:
    """Smallest f-number at f: max(N0, f/D) with D = knee/N0; without a knee N0 throughout."""
    return n_wide_open if knee is None else max(n_wide_open, f / pupil(knee, n_wide_open))


def extended(n: float, factor: float) -> float:
    """The f-number behind an extender of `factor`; the knee is reckoned before it."""
    return n * factor
