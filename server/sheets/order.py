"""Faults in what waits for what: names of no step, and steps that wait for each other."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx

from .definitions import Sheet, Unit
from .expand import PLACEHOLDER
from .lines import Fault, Text


def order_faults(unit: Unit) -> Iterator[Fault]:
    """Awaited names that are no step, and each circle, at a line of it.

    Placeholders and `*` are taken alike, so that a step of one position that waits for the same
    position's other sheet and for all positions' is the same circle.
    """
    known = {general(f"{sheet.id}/{step.word}") for sheet in unit.sheets for step in sheet.steps}
    graph: nx.DiGraph[str] = nx.DiGraph()
    named: dict[tuple[str, str], Text] = {}
    for sheet in unit.sheets:
        for step in sheet.steps:
            subject = general(f"{sheet.id}/{step.word}")
            for name in step.after:
                awaited = general(full(sheet, name))
                if awaited not in known:
                    yield Fault(name.where.file, name.where.line, f"'{name}' is no step to wait for")
                graph.add_edge(subject, awaited)
                named.setdefault((subject, awaited), name)
    for circle in sorted(map(sorted, nx.strongly_connected_components(graph))):
        inside = [edge for edge in graph.edges(circle) if edge[1] in circle]
        if len(circle) > 1 or inside:
            first = min((named[edge] for edge in inside), key=lambda name: name.where)
            text = f"these steps wait for each other: {', '.join(circle)}"
            yield Fault(first.where.file, first.where.line, text)


def full(sheet: Sheet, name: str) -> str:
    """The awaited step's whole name, still with placeholders."""
    return name if "/" in name else f"{sheet.id}/{name}"


def general(name: str) -> str:
    """The name with each placeholder as `*`."""
    return PLACEHOLDER.sub("*", name)
