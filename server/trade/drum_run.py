"""The drums of a run, in order from the end where one measures, and what lies at a distance along them.

Sections of unlike size count by ohms: length x first section/own section, of the first drum's section.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.trade.declare import quantity, text
from server.trade.errors import InputError


@dataclass(frozen=True, kw_only=True)
class Drum:
    """One drum of the run."""

    tag: str = text("tag")
    length_m: float = quantity("length", "m", 0.1, 20000)
    section_mm2: float | None = quantity(
        "section of the core", "mm2", 0.05, 400, "where drums are of unlike size", default=None
    )


Run = tuple[Drum, ...]


def check(run: Run) -> None:
    """Raises InputError where some drums say their section and some do not."""
    missing = [number for number, drum in enumerate(run, start=1) if drum.section_mm2 is None]
    if 0 < len(missing) < len(run):
        raise InputError(
            *(
                (f"drums[{number}].section_mm2", "is missing; give it in mm2 for every drum, or for none")
                for number in missing
            )
        )


def length_m(run: Run) -> float:
    """From plug to plug."""
    return sum(drum.length_m for drum in run)


def equivalent_m(run: Run) -> float:
    """Metres of the first drum's section with the same ohms as the whole run."""
    return sum(drum.length_m * _times(run, drum) for drum in run)


def metres_at(run: Run, equivalent: float) -> float:
    """How far along lies a place so many equivalent metres away; beyond the ends, the last section goes on."""
    metres = 0.0
    for drum in run[:-1]:
        part = drum.length_m * _times(run, drum)
        if equivalent <= part:
            return metres + equivalent / _times(run, drum)
        equivalent, metres = equivalent - part, metres + drum.length_m
    return metres + equivalent / _times(run, run[-1])


def between(run: Run, low_m: float, high_m: float) -> tuple[str, ...]:
    """The tags of the drums that have a part from `low_m` to `high_m`; at a joint, both."""
    tags, start = [], 0.0
    for drum in run:
        end = start + drum.length_m
        if start <= high_m and end >= low_m:
            tags.append(drum.tag)
        start = end
    return tuple(tags)


def _times(run: Run, drum: Drum) -> float:
    return (run[0].section_mm2 or 1.0) / (drum.section_mm2 or 1.0)
