"""How exactly the centre of a line on a still can be known: the Cramer-Rao bound.

var >= sigma^2 / sum of (dI/dx)^2: Robinson and Milanfar, IEEE TIP 13(9), 1185-1199, 2004,
doi 10.1109/TIP.2004.832923. Pixels, and grey levels of 255.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade.declare import quantity


@dataclass(frozen=True, kw_only=True)
class Still:
    """The chart's line as it lies on the still that the readings were taken from."""

    line_height: float = quantity("line above its ground", "levels of 255", 1, 255)
    line_sigma_px: float = quantity("line's width, sigma", "px", 0.3, 20, "full width at half height/2.355")
    noise: float = quantity("noise", "levels of 255", 0, 100, "rms, on a flat part")
    rows: float = quantity("rows averaged", "", 1, 500, "about 20 away from a crossing", whole=True)
    picture_height_px: float = quantity("picture height on the still", "px", 100, 10000)


def information(height: float, width: float) -> float:
    """Sum of squared slopes over one row of a Gaussian line of `height` and sigma `width`."""
    return height**2 * math.sqrt(math.pi) / (2 * width)


def centre_bound(height: float, width: float, noise: float, rows: int) -> float:
    """Standard deviation of the centre at the best, over `rows` averaged."""
    return noise / math.sqrt(rows * information(height, width))


def reading_percent(still: Still) -> float:
    """The least a channel's reading against green can be out, in % of picture height: two lines, each bounded."""
    one = centre_bound(still.line_height, still.line_sigma_px, still.noise, int(still.rows))
    return 100 * math.sqrt(2) * one / still.picture_height_px
