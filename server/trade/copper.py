"""Copper conductors: resistance by class, area and gauge, and what temperature does to it.

Maximum ohm per km at 20 C: IEC 60228, second-hand. Sizes outside its table are estimated from the area
with 17.241 ohm mm2/km (100 % IACS, from memory): the least they can be, stranding adds 2-4 %.
"""

from __future__ import annotations

import math

RESISTIVITY_OHM_MM2_PER_KM = 17.241
CLASSES = ("class 1, 2 plain", "class 2 coated", "class 5 plain", "class 5 coated")
MAXIMUM_OHM_PER_KM = {
    0.5: (36.0, 36.7, 39.0, 40.1),
    0.75: (24.5, 24.8, 26.0, 26.7),
    1.0: (18.1, 18.2, 19.5, 20.0),
    1.5: (12.1, 12.2, 13.3, 13.7),
    2.5: (7.41, 7.56, 7.98, 8.21),
    4.0: (4.61, 4.70, 4.95, 5.09),
    6.0: (3.08, 3.11, 3.30, 3.39),
}
DEAD_FIRST = (
    "Isolate, prove dead, lock off and tag at the truck and at the camera before the first measurement: "
    "mains and camera power kill.",
    "Local rules and a competent person decide.",
)


def class_limit(section_mm2: float, conductor_class: str) -> float | None:
    """Maximum ohm per km at 20 C by IEC 60228; None where the size is not in its table."""
    row = MAXIMUM_OHM_PER_KM.get(section_mm2)
    return row[CLASSES.index(conductor_class)] if row else None


def by_area(section_mm2: float) -> float:
    """Ohm per km of solid copper at 20 C: the least there can be."""
    return RESISTIVITY_OHM_MM2_PER_KM / section_mm2


def to_20c(temperature_c: float) -> float:
    """Factor from a resistance read at `temperature_c` to 20 C, exact form: 254.5/(234.5 + t)."""
    return 254.5 / (234.5 + temperature_c)


def awg_diameter_mm(awg: float) -> float:
    """Diameter of a gauge, 0.127 x 92^((36-n)/39) mm (ASTM B258, second-hand)."""
    return float(0.127 * 92 ** ((36 - awg) / 39))


def awg_area_mm2(awg: float) -> float:
    """Area of a gauge as a solid round wire: pi d^2/4."""
    return math.pi * awg_diameter_mm(awg) ** 2 / 4
