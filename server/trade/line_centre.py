"""How exactly the centre of a line on a still can be known: the Cramer-Rao bound.

var >= sigma^2 / sum of (dI/dx)^2: Robinson and Milanfar, IEEE TIP 13(9), 1185-1199, 2004,
doi 10.1109/TIP.2004.832923. Pixels, and grey levels of 255.
"""

from __future__ import annotations

import math


def information(height: float, width: float) -> float:
    """Sum of squared slopes over one row of a Gaussian line of `height` and sigma `width`."""
    return height**2 * math.sqrt(math.pi) / (2 * width)


def centre_bound(height: float, width: float, noise: float, rows: int) -> float:
    """Standard deviation of the centre at the best, over `rows` averaged."""
    return noise / math.sqrt(rows * information(height, width))
