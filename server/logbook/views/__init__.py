"""The views of a log, a closed list: what screens and reports show, as plain data, the same in both languages."""

from typing import Any

from server.logbook.fold import Fold
from server.logbook.views.definition import amended
from server.logbook.views.kit import kit
from server.logbook.views.locker import locker
from server.logbook.views.position import position
from server.logbook.views.report import report
from server.logbook.views.sheet import sheet
from server.logbook.views.shown import shown

__all__ = [
    "amended",
    "devices",
    "gates",
    "kit",
    "locker",
    "position",
    "report",
    "sheet",
    "shown",
    "signatures",
]

View = dict[str, Any]


def gates(fold: Fold) -> View:
    """The gate of each step that is not withdrawn."""
    return dict(fold.gates())


def signatures(fold: Fold) -> View:
    """What has changed since each signature, by the name of its entry."""
    return dict(fold.signatures())


def devices(fold: Fold) -> View:
    """Heads and gaps of each device."""
    return dict(fold.devices())
