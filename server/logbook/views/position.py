"""A position: what stands there, its sheets, its faults and what happened to it."""

from typing import Any

from server.logbook.entry import Entry
from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.positions import is_slot, tags_in
from server.logbook.steps import sheets
from server.logbook.values import settled, standing
from server.logbook.views.definition import Definition
from server.logbook.views.sheet import progress, signatures_on
from server.logbook.views.shown import Shown, counting_of, is_at_or_below, shown, values_shown

View = dict[str, Any]
LINKS = ("lens", "body", "run", "control")
SEVERAL = ("run", "gear")
"""The slots that hold more than one tag."""


def position(fold: Fold, _definition: Definition, position_id: str) -> View:
    """A position's view. Every view of one thing is asked for alike."""
    held = fold.held
    tops = (f"position/{position_id}", f"run/{position_id}")

    def is_here(entry: Entry) -> bool:
        return any(is_at_or_below(entry.subject, top) for top in tops) and not is_slot(entry.subject)

    mine = [one for one in sheets(held).values() if any(is_at_or_below(one["id"], top) for top in tops)]
    return {
        "id": position_id,
        "chain": {link: _link(held, f"{tops[0]}/chain/{link}", link) for link in LINKS},
        "gear": _link(held, f"{tops[0]}/chain/gear", "gear"),
        "given_up": given_up(held, position_id),
        "sheets": [
            {
                "id": one["id"],
                "stage": one["stage"],
                **progress(held, one["steps"]),
                **signed_state(held, one["id"]),
            }
            for one in mine
        ],
        "faults": counting_of(held, "fault", is_here),
        "events": counting_of(held, "event", is_here),
    }


def given_up(held: Held, position_id: str) -> Shown | None:
    """The choice by which a position was given up; None while it is not, or was restored."""
    choice = settled(held, f"position/{position_id}/given-up")
    if choice is None or choice.kind != "choice" or choice.body["choice"] == "restored":
        return None
    return shown(choice)


def signed_state(held: Held, sheet_id: str) -> View:
    """`signed`: by a name since which nothing has changed; `changed`: signed, and all names are overtaken."""
    names = signatures_on(held, sheet_id)
    signed = any(not one["changed"] for one in names)
    return {"signed": signed, "changed": bool(names) and not signed}


def _link(held: Held, slot: str, link: str) -> View:
    tags = tags_in(held, slot)
    stands: View = {"tags": list(tags or [])} if link in SEVERAL else {"tag": tags[0] if tags else None}
    return {"state": standing(held, slot).state, **stands, "values": values_shown(held, slot)}
