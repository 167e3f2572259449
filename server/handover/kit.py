"""Drums and the lifting register: each thing with where it lies, its state, its dates and tests."""

from collections.abc import Sequence
from typing import Any

from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.judge import counts
from server.logbook.positions import is_slot, tags_in, tags_of

View = dict[str, Any]


def item(fold: Fold, definition: View, found: View, saying: Saying) -> View:
    """A thing of kit for the report: what the unit's list says, and what this log says."""
    view = views.kit(fold, definition, found["tag"])
    return {
        **found,
        "dates": found.get("dates") or {},
        "state": view["state"] or "",
        "unfit": view["state"] not in (None, "serviceable"),
        "overdue": is_overdue(found, definition["ends"]),
        "said": saying.all(view["state_values"]),
        "where": _where(found, view, saying),
        "placed": view["place"] is not None,
        "tests": saying.all(view["tests"]),
        "faults": saying.all(view["faults"]),
        "carried": carried(view["carried"], saying),
    }


def is_told(told: View) -> bool:
    """Whether anything is written of a thing, here or in another log."""
    return bool(told["said"] or told["placed"] or told["tests"] or told["faults"] or told["carried"])


def carried(found: Sequence[View], saying: Saying) -> list[View]:
    """By log, what other logs say of a thing; its identity and dates are in the show's own list already."""
    said = [
        {
            "log": one["log"],
            "said": saying.all(
                [each for each in one["values"] if each["kind"] != "record"] + one["faults"] + one["tests"]
            ),
        }
        for one in found
    ]
    return [one for one in said if one["said"]]


def drum(fold: Fold, definition: View, found: View, saying: Saying) -> View:
    """A drum, with the runs that it stands in and those that it stood in before."""
    now, before = runs(fold.held, found["tag"])
    return item(fold, definition, found, saying) | {"runs": now, "runs_before": before}


def runs(held: Held, tag: str) -> tuple[list[str], list[str]]:
    """Positions in whose run a drum stands, and those in whose run it stood by what counts here."""
    slots = {
        one.subject: one
        for one in held.of_kind("assign")
        if is_slot(one.subject) and one.subject.endswith("/run")
    }
    now = {slot for slot in slots if tag in (tags_in(held, slot) or ())}
    ever = {
        one.subject
        for one in held.of_kind("assign")
        if one.subject in slots and counts(held, one) and tag in (tags_of(one.body.get("tags")) or ())
    }
    return sorted(map(_position, now)), sorted(map(_position, ever - now))


def is_overdue(found: View, ends: str) -> bool:
    """Whether the date of a thing's examination or test has passed, or will before the show ends."""
    due = str((found.get("dates") or {}).get("due") or "")
    return bool(due) and due < ends


def _position(slot: str) -> str:
    return slot.split("/")[1]


def _where(found: View, view: View, saying: Saying) -> str:
    if view["place"]:
        said = saying.entry(view["place"])
        return f"{said['states']} ({said['whose']}, {said['when']})"
    return f"home {found['home']}" if found.get("home") else "no place written"
