"""Entries as the views show them, and the few questions that several views ask."""

from collections.abc import Callable, Iterable
from typing import Any

from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import counts
from server.logbook.values import by_name, settled, standing, values

Shown = dict[str, Any]
"""An entry as a view shows it: name, by, for, witness, at, kind, body, key."""


def shown(entry: Entry) -> Shown:
    """An entry as a view shows it."""
    return {
        "name": entry.name,
        "by": entry.by,
        "for": entry.for_,
        "witness": entry.witness,
        "at": entry.at,
        "kind": entry.kind,
        "body": entry.body,
        "key": entry.kid,
    }


def all_shown(entries: Iterable[Entry]) -> list[Shown]:
    """Entries by name, as a view shows them."""
    return [shown(entry) for entry in by_name(entries)]


def counting_of(held: Held, kind: str, picks: Callable[[Entry], bool] = lambda _: True) -> list[Shown]:
    """The counting entries of one kind that a test picks."""
    return all_shown(entry for entry in held.of_kind(kind) if picks(entry) and counts(held, entry))


def is_at_or_below(subject: str, top: str) -> bool:
    """Whether a subject is another one or below it."""
    return subject == top or subject.startswith(f"{top}/")


def settled_shown(held: Held, subject: str) -> Shown | None:
    """The value of a settled subject as it is shown; None where there is none or several."""
    value = settled(held, subject)
    return None if value is None else shown(value)


def values_shown(held: Held, subject: str) -> list[Shown]:
    """The values of a subject as they are shown."""
    return all_shown(values(held, subject))


def state_of(held: Held, tag: str) -> str | None:
    """The state of a thing of kit: serviceable, suspect, unserviceable or disputed; None where nobody wrote one."""
    subject = f"kit/{tag}/state"
    if standing(held, subject).state == "none":
        return None
    value = settled(held, subject)
    return str(value.body["state"]) if value is not None and value.kind == "state" else "disputed"
