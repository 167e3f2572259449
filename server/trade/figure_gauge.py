"""A figure as a rope from nought, as long as it is large, against the limit that it is not to pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.trade import figure as pen
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet

BAR = 40
"""Down to the rope of a row, below its words."""


@dataclass(frozen=True)
class Gauge:
    """A figure and its limit in one unit; the limit is None where nothing says it."""

    name: str
    figure: float
    limit: float | None
    unit: str

    @property
    def beyond(self) -> bool:
        """Whether the limit is passed."""
        return self.limit is not None and self.figure > self.limit

    def said(self) -> str:
        """As a sentence."""
        against = (
            "no limit given" if self.limit is None else f"limit {pen.short(self.limit)} {self.unit}".rstrip()
        )
        return f"{self.name}: {pen.short(self.figure)} {self.unit}".rstrip() + f", {against}."


def gauges(sheet: Sheet, rows: Sequence[Gauge]) -> None:
    """The rows below one another, all on one scale."""
    high = 1.1 * max(*(row.figure for row in rows), *(row.limit or 0 for row in rows), 1e-9)
    scale = Scale(0, high, 12, 328)
    for row in rows:
        sheet.put(BAR + 18, pen.mark(row.name, *_row(row, scale)))


def _row(row: Gauge, scale: Scale) -> list[str]:
    end = scale.at(row.figure)
    most = "" if row.limit is None else f" of {pen.short(row.limit)}"
    figure = f"{pen.short(row.figure)}{most}{pen.FIRM}{row.unit}".rstrip(pen.FIRM)
    drawn = [
        pen.words(pen.EDGE, pen.SIZE, row.name),
        pen.words(
            pen.WIDTH - pen.EDGE,
            pen.SIZE,
            f"beyond: {figure}" if row.beyond else figure,
            anchor="end",
            tone="alarm" if row.beyond else "ink",
            heavy=row.beyond,
        ),
        pen.rope(pen.path((scale.start, BAR), (end, BAR)), thick=7),
    ]
    if row.limit is not None:
        at = scale.at(row.limit)
        drawn.append(pen.rule(f"M{pen.unit(at)} {BAR - 14}v28", dash="6 3"))
        if row.beyond:
            drawn.append(pen.hole((at + end) / 2, BAR, max(8.0, end - at), 20))
    return drawn
