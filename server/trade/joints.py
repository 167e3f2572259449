"""Which joints of a run are whole, high, open, short or crossed, from readings between pins.

A joint is a pin at this end and a pin at the far end.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

Joint = tuple[str, str]


@dataclass(frozen=True)
class Found:
    """Every joint in one list, in the order given; `undecided` are joined but short or crossed is not told."""

    whole: tuple[Joint, ...]
    high: tuple[Joint, ...]
    open: tuple[Joint, ...]
    not_read: tuple[Joint, ...]
    short: tuple[Joint, ...]
    crossed: tuple[Joint, ...]
    undecided: tuple[Joint, ...]
    every_other_read: bool


def facing(joints: Iterable[Joint], read: Mapping[Joint, float | None]) -> dict[Joint, float | None]:
    """The readings, turned round where one was written from the far end's pin."""
    near, far = {a for a, _ in joints}, {b for _, b in joints}
    return {(b, a) if a not in near and b not in far else (a, b): ohm for (a, b), ohm in read.items()}


def sort(
    joints: tuple[Joint, ...], read: Mapping[Joint, float | None], limit_ohm: float | None, open_ohm: float
) -> Found:
    """Each joint, and each reading that should not be there, where it belongs; None reads over range."""
    read = facing(joints, read)
    closed = {pair: ohm for pair, ohm in read.items() if ohm is not None and ohm < open_ohm}
    high = tuple(pair for pair in joints if limit_ohm is not None and closed.get(pair, 0) > limit_ohm)
    short, crossed, undecided = [], [], []
    for a, b in (pair for pair in closed if pair not in joints):
        own = [pair for pair in joints if pair[0] == a or pair[1] == b]
        if any(pair in closed for pair in own):
            short.append((a, b))
        elif own and all(pair in read for pair in own):
            crossed.append((a, b))
        else:
            undecided.append((a, b))
    others = {frozenset((a, b)) for a, _ in joints for _, b in joints if (a, b) not in joints}
    return Found(
        whole=tuple(pair for pair in joints if pair in closed and pair not in high),
        high=high,
        open=tuple(pair for pair in joints if pair in read and pair not in closed),
        not_read=tuple(pair for pair in joints if pair not in read),
        short=tuple(short),
        crossed=tuple(crossed),
        undecided=tuple(undecided),
        every_other_read=others <= {frozenset(pair) for pair in read},
    )
