"""Scanning systems, and one displacement as time, samples, lines or per cent of picture height.

Numbers of ITU-R BT.470-6, BT.601-5, BT.709 and the CEA-861 timings, second-hand from digests; the
blanking of 525 lines (10.9 us) and its 485 active lines are from memory. The active time belongs to
the optical width of the picture, not to the digital line.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class System:
    """Active line time, lines of picture, and sampling clock."""

    active_us: float
    lines: int
    clock_mhz: float


SYSTEMS = {
    "625/50": System(52.0, 575, 13.5),
    "525/60": System(52.66, 485, 13.5),
    "1080/50": System(1920 / 74.25, 1080, 74.25),
    "1080/60": System(1920 / 74.25, 1080, 74.25),
}
"""1080/60 is at 60 Hz exactly; at 59.94 its times are 1.001 times longer (memory)."""

ASPECTS = {"4:3": 4 / 3, "16:9": 16 / 9}
UNITS = ("percent-ph", "ns", "samples", "lines")


def nanoseconds(percent: float, system: System, aspect: float) -> float:
    """Time across that a displacement in % of picture height takes: p T_a/AR."""
    return percent / 100 * 1000 * system.active_us / aspect


def samples(percent: float, system: System, aspect: float) -> float:
    """The same in samples."""
    return nanoseconds(percent, system, aspect) / 1000 * system.clock_mhz


def lines(percent: float, system: System) -> float:
    """Lines of the frame down."""
    return percent / 100 * system.lines


def percent_across(value: float, unit: str, system: System, aspect: float) -> float:
    """% of picture height of a displacement across."""
    if unit == "percent-ph":
        return value
    one = {
        "ns": nanoseconds(1, system, aspect),
        "samples": samples(1, system, aspect),
        "lines": lines(1, system),
    }
    return value / one[unit]


def percent_down(value: float, unit: str, system: System) -> float:
    """% of picture height of a displacement down; time and samples do not measure down, so lines do."""
    return value if unit == "percent-ph" else value / lines(1, system)


def tv_lines_mhz(tv_lines: float, system: System, aspect: float) -> float:
    """Frequency of TV lines per picture height: TVL AR/(2 T_a)."""
    return tv_lines * aspect / (2 * system.active_us)


def cycles_mhz(cycles: float, system: System) -> float:
    """Frequency of that many cycles in the active line."""
    return cycles / system.active_us
