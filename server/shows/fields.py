"""Reads a plan's fields, each error naming the field."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from ..sheets.definitions import Unit
from ..sheets.expand import Json
from ..sheets.row import DECIMAL, NAME


class PlanError(Exception):
    """The plan cannot be a show: `field` is where, such as positions.1.chain.body; `reason` says why."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(f"{field}: {reason}")
        self.field = field
        self.reason = reason


def text(value: Json, key: str, field: str) -> str:
    """Some text of at most 200 characters. Raises PlanError."""
    found = value.get(key)
    if not isinstance(found, str) or not found.strip():
        raise PlanError(field, "must be some text")
    if len(found) > 200:
        raise PlanError(field, "at most 200 characters")
    return found.strip()


def name(value: Json, key: str, field: str) -> str:
    """An id of a subject's letters. Raises PlanError."""
    found = text(value, key, field)
    if not NAME.fullmatch(found) or len(found) > 60:
        raise PlanError(field, f"'{found}' may hold letters, digits, '.', '-' and '_', at most 60")
    return found


def among(value: Json, key: str, known: Sequence[str], field: str) -> str:
    """One word of a closed list. Raises PlanError."""
    found = text(value, key, field)
    if found not in known:
        raise PlanError(field, f"'{found}' is not one of {', '.join(known)}")
    return found


def length(value: Json, key: str, field: str) -> str:
    """Metres as a decimal, not below 0. Raises PlanError."""
    found = text(value, key, field)
    if not DECIMAL.fullmatch(found) or found.startswith("-") or len(found) > 32:
        raise PlanError(field, f"'{found}' must be metres as a decimal such as 6.5")
    return found


def tag(unit: Unit, value: Json, key: str, types: Sequence[str], field: str) -> str:
    """A tag of the unit, of one of the types. Raises PlanError."""
    found = text(value, key, field)
    item = unit.items.get(found)
    if item is None:
        raise PlanError(field, f"the unit has no '{found}'")
    if item.type not in types:
        raise PlanError(field, f"{found} is a {item.type}, not a {types[0]}")
    return found


def rows(value: Json, key: str, field: str) -> list[Any]:
    """A list. Raises PlanError."""
    found = value.get(key)
    if not isinstance(found, list):
        raise PlanError(field, "must be a list")
    return found


def day(plan: Json, key: str) -> str:
    """A date as 2031-05-02. Raises PlanError."""
    found = text(plan, key, key)
    try:
        if date.fromisoformat(found).isoformat() == found:
            return found
    except ValueError:
        pass
    raise PlanError(key, f"'{found}' must be a date such as 2031-05-02")


def zone(plan: Json) -> str:
    """A time zone by its name. Raises PlanError."""
    found = text(plan, "zone", "zone")
    try:
        ZoneInfo(found)
    except (OSError, ValueError, KeyError):
        raise PlanError("zone", f"'{found}' is no time zone: one such as Europe/London") from None
    return found


def once(field: str, key: str, names: Sequence[str]) -> None:
    """No name stands twice. Raises PlanError."""
    for name in names:
        if names.count(name) > 1:
            raise PlanError(field, f"the {key} '{name}' stands twice")
