"""Linear least squares by QR with column pivoting, which also says what the rows cannot tell apart.

Householder reflections on columns scaled to length one (Golub and Van Loan, Matrix Computations, the
chapter on least squares: from memory). The rank is the number of diagonal elements that stand above
`NEGLIGIBLE`; the columns behind it are combinations of those before, R11^-1 R12, and so name each
group of unknowns that only a sum of is known.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

NEGLIGIBLE = 1e-9
Matrix = list[list[float]]


@dataclass(frozen=True)
class Solution:
    """`values` is the solution with the free unknowns at zero: enough to fit the rows, not to name a value.

    `spreads` are the standard deviations for readings of standard deviation one. `known` says for each
    unknown whether every best solution agrees on it; `groups` are the unknowns, by number, that are
    known only together.
    """

    values: tuple[float, ...]
    spreads: tuple[float, ...]
    rank: int
    known: tuple[bool, ...]
    groups: tuple[tuple[int, ...], ...]


def solve(rows: Sequence[Sequence[float]], wanted: Sequence[float]) -> Solution:
    """Minimises |rows x - wanted|; at least one row, all rows of one length, finite."""
    width = len(rows[0])
    scales = [math.hypot(*(row[j] for row in rows)) or 1.0 for j in range(width)]
    r = [[row[j] / scales[j] for j in range(width)] for row in rows]
    q_wanted, order = list(wanted), list(range(width))
    rank = _triangle(r, q_wanted, order)
    basic = _back(r, q_wanted, rank)
    ties = [_back(r, [row[j] for row in r], rank) for j in range(rank, width)]
    inverse = [_back(r, [float(i == k) for i in range(len(r))], rank) for k in range(rank)]
    values, spreads, known = [0.0] * width, [0.0] * width, [True] * width
    for i in range(rank):
        values[order[i]] = basic[i] / scales[order[i]]
        spreads[order[i]] = math.hypot(*(column[i] for column in inverse)) / scales[order[i]]
        known[order[i]] = all(abs(tie[i]) <= NEGLIGIBLE for tie in ties)
    for j in range(rank, width):
        known[order[j]] = False
    groups = [
        tuple(sorted([order[rank + j], *(order[i] for i in range(rank) if abs(tie[i]) > NEGLIGIBLE)]))
        for j, tie in enumerate(ties)
    ]
    return Solution(tuple(values), tuple(spreads), rank, tuple(known), tuple(sorted(groups)))


def _triangle(r: Matrix, wanted: list[float], order: list[int]) -> int:
    """Turns r into a triangle in place, largest column first; answers the rank."""
    height, width = len(r), len(order)
    for k in range(min(height, width)):
        lengths = [math.hypot(*(r[i][j] for i in range(k, height))) for j in range(k, width)]
        longest = max(range(len(lengths)), key=lengths.__getitem__)
        if lengths[longest] <= NEGLIGIBLE:
            return k
        pivot = k + longest
        order[k], order[pivot] = order[pivot], order[k]
        for row in r:
            row[k], row[pivot] = row[pivot], row[k]
        _reflect(r, wanted, k, lengths[longest])
    return min(height, width)


def _reflect(r: Matrix, wanted: list[float], k: int, length: float) -> None:
    """One reflection that clears column k below the diagonal."""
    mirror = [r[i][k] for i in range(k, len(r))]
    mirror[0] += math.copysign(length, mirror[0])
    whole = sum(m * m for m in mirror)
    for j in range(k, len(r[0])):
        part = 2 * sum(m * r[k + i][j] for i, m in enumerate(mirror)) / whole
        for i, m in enumerate(mirror):
            r[k + i][j] -= part * m
    part = 2 * sum(m * wanted[k + i] for i, m in enumerate(mirror)) / whole
    for i, m in enumerate(mirror):
        wanted[k + i] -= part * m


def _back(r: Matrix, right: Sequence[float], rank: int) -> list[float]:
    """Solves the leading triangle."""
    answer = [0.0] * rank
    for i in reversed(range(rank)):
        above = sum(r[i][j] * answer[j] for j in range(i + 1, rank))
        answer[i] = (right[i] - above) / r[i][i]
    return answer
