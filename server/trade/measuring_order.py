"""Few readings that prove many cores: one string for opens, tied groups for shorts and crossings.

Number the cores from 0. Group k ties the cores whose number has bit k set against those that have not: any
two numbers differ in some bit, so any two cores stand against one another in some group (arithmetic of
binary numbers, ours). Halving finds one bad core among n in as many readings as n - 1 has bits.
"""

from __future__ import annotations

Group = tuple[tuple[int, ...], tuple[int, ...]]


def tied_groups(count: int) -> tuple[Group, ...]:
    """For each group the cores tied at this end, and those tied at the far end; none for a single core."""
    return tuple(
        (
            tuple(core for core in range(count) if not core >> bit & 1),
            tuple(core for core in range(count) if core >> bit & 1),
        )
        for bit in range((count - 1).bit_length())
    )


def few(count: int) -> int:
    """Readings that say whether `count` cores are whole: the string, and every group."""
    return 1 + len(tied_groups(count))


def one_by_one(count: int) -> int:
    """Readings that say the same core by core and pair by pair: n + n(n-1)/2."""
    return count + count * (count - 1) // 2


def to_find(count: int) -> int:
    """Most further readings that find one open core among `count` by halving the string."""
    return (count - 1).bit_length()


def halves(suspects: tuple[int, ...]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Which half of the suspects to string next, and which is left."""
    middle = (len(suspects) + 1) // 2
    return suspects[:middle], suspects[middle:]
