"""Faults in what waits for what: names of no step, and steps that wait for each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise

from .definitions import Sheet, Unit
from .expand import PLACEHOLDER
from .lines import Fault, Text


def order_faults(unit: Unit) -> Iterator[Fault]:
    """Awaited names that are no step, and each circle, at a line of it.

    Placeholders and `*` are taken alike, so that a step of one position that waits for the same
    position's other sheet and for all positions' is the same circle.
    """
    known = {general(f"{sheet.id}/{step.word}") for sheet in unit.sheets for step in sheet.steps}
    waits: defaultdict[str, set[str]] = defaultdict(set)
    named: dict[tuple[str, str], Text] = {}
    for sheet in unit.sheets:
        for step in sheet.steps:
            subject = general(f"{sheet.id}/{step.word}")
            for name in step.after:
                awaited = general(full(sheet, name))
                if awaited not in known:
                    yield Fault(name.where.file, name.where.line, f"'{name}' is no step to wait for")
                waits[subject].add(awaited)
                named.setdefault((subject, awaited), name)
    for circle in _circles(waits):
        first = min((named[edge] for edge in circle), key=lambda name: name.where)
        text = f"these steps wait for each other: {', '.join(sorted(subject for subject, _ in circle))}"
        yield Fault(first.where.file, first.where.line, text)


def _circles(waits: defaultdict[str, set[str]]) -> Iterator[list[tuple[str, str]]]:
    """Circles of what waits for what, edge by edge; each is opened at one edge to find the next."""
    while True:
        try:
            TopologicalSorter(waits).prepare()
        except CycleError as found:
            around = list(reversed(found.args[1]))  # it names the awaited first
            circle = list(pairwise(around))
            yield circle
            waits[circle[0][0]].discard(circle[0][1])
        else:
            return


def full(sheet: Sheet, name: str) -> str:
    """The awaited step's whole name, still with placeholders."""
    return name if "/" in name else f"{sheet.id}/{name}"


def general(name: str) -> str:
    """The name with each placeholder as `*`."""
    return PLACEHOLDER.sub("*", name)
