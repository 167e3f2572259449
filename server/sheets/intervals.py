"""How long examinations and tests hold: checklists/intervals.yaml, with whose rule each is."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from .lines import Fault, Where, read_yaml
from .row import Row


@dataclass(frozen=True)
class Interval:
    """One rule: `months` from one examination to the next due; `limb` is the statute's, if it has one.

    `after` are events of the unit after which an examination or test is asked for, whatever its date.
    """

    id: str
    of: str
    months: int
    limb: str | None
    rule: str
    status: str
    also_after: str
    after: tuple[str, ...]
    where: Where


def read_intervals(path: Path, faults: list[Fault]) -> dict[str, Interval]:
    """The intervals of a file by id, with a fault noted for what cannot be read."""
    value = read_yaml(path, path.name, faults)
    if value is None:
        return {}
    intervals: dict[str, Interval] = {}
    page = Row(value, faults, ("intervals",))
    for inner in page.list("intervals"):
        row = Row(inner, faults, ("id", "of", "months", "rule", "status", "also_after"), ("limb", "after"))
        interval = Interval(
            id=row.name("id"),
            of=row.text("of"),
            months=row.whole("months") or 0,
            limb=row.text_or_none("limb"),
            rule=row.text("rule"),
            status=row.text("status"),
            also_after=row.text("also_after"),
            after=row.words("after"),
            where=row.where,
        )
        if interval.id in intervals:
            row.fault(f"interval '{interval.id}' stands twice")
        intervals[interval.id] = interval
    return intervals
