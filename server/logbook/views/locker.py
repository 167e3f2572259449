"""A locker: what belongs in it, how far each stage has got, and what is in it that belongs elsewhere."""

from typing import Any

from server.logbook.fold import Fold
from server.logbook.gates import is_counted_at
from server.logbook.held import Held
from server.logbook.steps import Sheet, items, sheets
from server.logbook.values import settled
from server.logbook.views.carried import carried
from server.logbook.views.definition import Definition, amended
from server.logbook.views.sheet import progress, signatures_on
from server.logbook.views.shown import counting_of, is_at_or_below, settled_shown, state_of

View = dict[str, Any]


def locker(fold: Fold, definition: Definition, locker_id: str) -> View | None:
    """A locker's view; None where there is no such locker."""
    held = fold.held
    now = amended(fold, definition)
    found = next((one for one in now["lockers"] if one["id"] == locker_id), None)
    if found is None:
        return None
    here = f"locker/{locker_id}"
    belongs = {held_there["tag"] for held_there in found["holds"]}
    placed = {entry.subject for entry in held.of_kind("place")}
    return {
        "id": locker_id,
        "holds": [
            {
                "tag": one["tag"],
                "number": one["number"],
                "place": settled_shown(held, f"kit/{one['tag']}/place"),
                "state": state_of(held, one["tag"]),
                "carried": carried(held, one["tag"]),
            }
            for one in found["holds"]
        ],
        "stages": {one["stage"]: _stage(held, one) for one in locker_sheets(held, locker_id)},
        "strangers": [
            {"tag": one["tag"], "home": one["home"]}
            for one in now["kit"]
            if f"kit/{one['tag']}/place" in placed
            and one["tag"] not in belongs
            and _where(held, one["tag"]) == here
        ],
        "events": counting_of(held, "event", lambda entry: is_at_or_below(entry.subject, here)),
    }


def locker_sheets(held: Held, locker_id: str) -> list[Sheet]:
    """The sheets of a locker, as the show lists them."""
    return [one for one in sheets(held).values() if is_at_or_below(one["id"], f"locker/{locker_id}")]


def short(held: Held, sheet: Sheet) -> list[str]:
    """Tags that a sheet's count steps list and that are not settled at their listed number."""
    return [tag for tag, subject, number in _listed(sheet) if not is_counted_at(held, subject, number)]


def _stage(held: Held, sheet: Sheet) -> View:
    missing, listed = short(held, sheet), len(_listed(sheet))
    return {
        "listed": listed,
        "counted": listed - len(missing),
        "short": missing,
        **progress(held, sheet["steps"]),
        "signed": any(not one["changed"] for one in signatures_on(held, sheet["id"])),
    }


def _listed(sheet: Sheet) -> list[tuple[str, str, str]]:
    return [
        (tag, f"{step['subject']}/{tag}", step["items"][tag])
        for step in sheet["steps"]
        for tag in items(step)
    ]


def _where(held: Held, tag: str) -> object:
    place = settled(held, f"kit/{tag}/place")
    return None if place is None else place.body.get("where")
