"""Three zones of the picture, and what an answer by eye says of each: house zones, from memory."""

from __future__ import annotations

import math
from collections.abc import Mapping

from server.trade import scanning

ZONES = ("zone-1", "zone-2", "zone-3")
ANSWERS = ("none", "half-line", "line-or-more")
ZONE_1_RADIUS = 0.4
LIMITS_PERCENT = (0.1, 0.2, 0.5)


def radii(aspect: float) -> tuple[float, float, float]:
    """Outer radius of each zone in picture heights: 0.8 PH circle, circle as wide as the picture, corner."""
    return ZONE_1_RADIUS, aspect / 2, math.hypot(aspect / 2, 0.5)


def zone_of(x: float, y: float, aspect: float) -> int:
    """0, 1 or 2: where a point lies; the border belongs to the inner zone."""
    r = math.hypot(x, y) * (1 - 1e-12)
    return next((i for i, outer in enumerate(radii(aspect)[:2]) if r <= outer), 2)


def seen_percent(answer: str, system: scanning.System) -> float:
    """What an answer stands for in % of picture height; of a line or more it is only the least."""
    return {"none": 0.0, "half-line": 0.5, "line-or-more": 1.0}[answer] / scanning.lines(1, system)


def judged(
    answers: Mapping[str, str], system: scanning.System, limits: tuple[float, ...]
) -> dict[str, bool | None]:
    """Within, beyond or cannot tell (None) for each zone; a zone not answered cannot be told."""
    found: dict[str, bool | None] = {}
    for zone, limit in zip(ZONES, limits, strict=True):
        answer = answers.get(zone)
        if answer is None:
            found[zone] = None
            continue
        within = seen_percent(answer, system) <= limit
        found[zone] = None if within and answer == "line-or-more" else within
    return found
