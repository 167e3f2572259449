"""Where a fault lies, by bridge, from two ends, by capacitance or by echo: the formulas alone.

Parts are of one core from this end: 0 here, 1 at the far end. Ohms are of one core, to the fault.
Bridges: Hawkins Electrical Guide, vol. 3, and algebra; two ends and echo: algebra; capacitance from both
ends: from memory.
"""

from __future__ import annotations

LIGHT_M_PER_US = 299.792458


def murray_part(arm_sound: float, arm_fault: float) -> float:
    """Far ends joined, equal cores: 2 Rb/(Ra + Rb), Rb the arm on the faulty side; above 1 it is on the return."""
    return 2 * arm_fault / (arm_sound + arm_fault)


def varley_loop_ohm(arm_sound: float, arm_fault: float, series_loop_ohm: float) -> float:
    """P S1/Q, from the balance with the battery at the far side of S."""
    return arm_sound * series_loop_ohm / arm_fault


def varley_ohm(arm_sound: float, arm_fault: float, loop_ohm: float, series_ohm: float) -> float:
    """(Q R_loop - P S)/(P + Q), P on the sound wire's side, S in series with the faulty wire, battery to the fault."""
    return (arm_fault * loop_ohm - arm_sound * series_ohm) / (arm_sound + arm_fault)


def to_earth_ohm(core_ohm: float, a_ohm: float, b_ohm: float) -> float:
    """(R_core + R_a - R_b)/2 from end a, the same fault resistance from both ends."""
    return (core_ohm + a_ohm - b_ohm) / 2


def between_cores_ohm(core_ohm: float, a_ohm: float, b_ohm: float) -> float:
    """R_core/2 + (R_a - R_b)/4 from end a, loops read at both ends; the contact's resistance cancels."""
    return core_ohm / 2 + (a_ohm - b_ohm) / 4


def open_part(here: float, other: float, *, far_end: bool) -> float:
    """C_fault/C_good from one end, or C_a/(C_a + C_b) from both."""
    return here / (here + other) if far_end else here / other


def echo_m(velocity_factor: float, round_trip_us: float) -> float:
    """VF c t/2."""
    return velocity_factor * LIGHT_M_PER_US * round_trip_us / 2


def velocity_factor(length_m: float, round_trip_us: float) -> float:
    """2 L/(c t), from the far end's echo on a good core."""
    return 2 * length_m / (LIGHT_M_PER_US * round_trip_us)
