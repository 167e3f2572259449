"""The intervals of `checklists/`, read once."""

from functools import cache

from server.settings import CHECKLISTS
from server.sheets.intervals import Interval, read_intervals
from server.sheets.lines import Fault


@cache
def intervals() -> dict[str, Interval]:
    """How long examinations and tests hold, by id. Raises ValueError where the file has a fault."""
    faults: list[Fault] = []
    found = read_intervals(CHECKLISTS / "intervals.yaml", faults)
    if faults:
        raise ValueError("\n".join(map(str, faults)))
    return found
