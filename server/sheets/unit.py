"""The unit that a folder of definitions describes."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from .check import check
from .definitions import Unit
from .folder import read
from .lines import Fault


class BadDefinitions(Exception):  # noqa: N818 - the word of this room is fault, which is another class
    """The folder holds faults; `faults` lists them."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


@cache
def load(folder: Path) -> Unit:
    """The unit defined in a folder, read once. Raises BadDefinitions when `check` finds a fault."""
    faults = check(folder)
    if faults:
        raise BadDefinitions(faults)
    return read(folder, [])
