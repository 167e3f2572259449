"""Chains and heads: what each device's entries lead to, and which numbers are missing (section 5)."""

from collections.abc import Iterable, Set
from typing import Protocol


class Linked(Protocol):
    """What of an entry places it in its chain."""

    @property
    def name(self) -> str: ...  # noqa: D102 - the logbook's page says what each is
    @property
    def kid(self) -> str: ...  # noqa: D102
    @property
    def number(self) -> int: ...  # noqa: D102
    @property
    def previous(self) -> str | None: ...  # noqa: D102


def heads(entries: Iterable[Linked]) -> dict[str, dict[str, list[object]]]:
    """For each key of these entries of one log: `tips`, names sorted, and `gaps`, [first, last] each."""
    held = list(entries)
    here = {entry.name for entry in held}
    by_key: dict[str, list[Linked]] = {}
    for entry in held:
        by_key.setdefault(entry.kid, []).append(entry)
    return {
        kid: {"tips": list(tips(chain)), "gaps": [list(gap) for gap in gaps(chain, here)]}
        for kid, chain in sorted(by_key.items())
    }


def tips(chain: Iterable[Linked]) -> list[str]:
    """Names of one device's connected entries that no connected entry follows, sorted."""
    connected: dict[str, int] = {}
    followed: set[str] = set()
    for entry in sorted(chain, key=lambda entry: entry.number):
        before = 0 if entry.previous is None else connected.get(entry.previous)
        if before == entry.number - 1:
            connected[entry.name] = entry.number
            if entry.previous is not None:
                followed.add(entry.previous)
    return sorted(set(connected) - followed)


def gaps(chain: Iterable[Linked], here: Set[str]) -> list[tuple[int, int]]:
    """Ranges of a device's numbers that were written and have not arrived, sorted; those that touch are one.

    `here` are the names of all entries held of the log, whoever wrote them.
    """
    entries = list(chain)
    open_ends = {
        entry.number - 1
        for entry in entries
        if entry.number > 1 and entry.previous is not None and entry.previous not in here
    }
    ranges = [(number, number) for number in open_ends]
    last = 0
    for number in sorted({entry.number for entry in entries}):
        if number > last + 1:
            ranges.append((last + 1, number - 1))
        last = number
    return _joined(ranges)


def _joined(ranges: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for first, last in sorted(ranges):
        if joined and first <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(last, joined[-1][1]))
        else:
            joined.append((first, last))
    return joined
