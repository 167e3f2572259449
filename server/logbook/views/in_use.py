"""What stands in a chain or is chosen for a lift although it is suspect or unserviceable."""

from collections.abc import Iterable
from typing import Any

from server.logbook.held import Held
from server.logbook.positions import slots_of_tag
from server.logbook.together import together
from server.logbook.views.shown import settled_shown

View = dict[str, Any]
WORST_FIRST = ("unserviceable", "suspect")


def used_though(held: Held, kit: Iterable[View]) -> list[View]:
    """By thing and slot: the worst that any log's value says of it, and the assign, whose `though` says why."""
    return [
        {"tag": one["tag"], "slot": slot, "state": state, "assign": settled_shown(held, slot)}
        for one in kit
        for slot in sorted(slots_of_tag(held, one["tag"]))
        for state in _worst(held, one["tag"])
    ]


def _worst(held: Held, tag: str) -> list[str]:
    said = {value.entry.body.get("state") for value in together(held, f"kit/{tag}/state").values}
    return [state for state in WORST_FIRST if state in said][:1]
