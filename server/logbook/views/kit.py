"""A thing of kit: its state, where it is, its faults and tests, and what other logs say of it."""

from typing import Any

from server.logbook.entry import Entry
from server.logbook.fold import Fold
from server.logbook.views.carried import carried
from server.logbook.views.definition import Definition
from server.logbook.views.shown import counting_of, is_at_or_below, settled_shown, state_of, values_shown

View = dict[str, Any]


def kit(fold: Fold, _definition: Definition, tag: str) -> View:
    """The view of a thing of kit; every view of one thing is asked for alike."""
    held = fold.held
    top = f"kit/{tag}"

    def is_of_it(entry: Entry) -> bool:
        return is_at_or_below(entry.subject, top) or entry.body.get("about") == tag

    return {
        "tag": tag,
        "state": state_of(held, tag),
        "state_values": values_shown(held, f"{top}/state"),
        "place": settled_shown(held, f"{top}/place"),
        "faults": counting_of(held, "fault", is_of_it),
        "tests": counting_of(held, "test", is_of_it),
        "carried": carried(held, tag),
    }
