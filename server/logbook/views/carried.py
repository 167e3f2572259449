"""What is carried over on a thing of kit, as the views show it: by log, beside what this log says."""

from collections.abc import Iterable
from typing import Any

from server.logbook.held import Held
from server.logbook.judge import counts
from server.logbook.together import together
from server.logbook.views.shown import Shown, all_shown, shown

View = dict[str, Any]


def carried(held: Held, tag: str) -> list[View]:
    """By log, what other logs say of a thing: the values that no log has replaced, its faults and tests."""
    others = [other for other in held.logs_together() if other is not held]
    said = [
        {
            "log": other.log,
            "values": _values(held, other.log, tag),
            "faults": _counting(other, "fault", tag),
            "tests": _counting(other, "test", tag),
        }
        for other in others
    ]
    return [one for one in said if one["values"] or one["faults"] or one["tests"]]


def unfit_together(held: Held, kit: Iterable[View]) -> list[View]:
    """The things that another log says are not serviceable, or of which two logs differ: all values, by log."""
    found = []
    for one in kit:
        stands = together(held, f"kit/{one['tag']}/state")
        stated = {said.entry.body.get("state") for said in stands.values}
        if any(said.log != held.log for said in stands.values) and stated != {"serviceable"}:
            values = [{"log": said.log, **shown(said.entry)} for said in stands.values]
            found.append({"tag": one["tag"], "state": stands.state, "values": values})
    return found


def _values(held: Held, log: str, tag: str) -> list[Shown]:
    stated = (entry.subject for one in held.logs_together() for entry in one.of_thing(tag))
    return [
        shown(said.entry)
        for subject in sorted(set(stated))
        for said in together(held, subject).values
        if said.log == log
    ]


def _counting(other: Held, kind: str, tag: str) -> list[Shown]:
    written = other.of_thing(tag)
    return all_shown(entry for entry in written if entry.kind == kind and counts(other, entry))
