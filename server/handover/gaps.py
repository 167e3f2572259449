"""What is not back: each thing in words, and that the show was handed over with it."""

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold
from server.logbook.judge import counts

View = dict[str, Any]
GAPS = {"missing": "missing", "astray": "in the wrong locker", "not_counted": "not counted back"}
"""What is neither back nor accounted for, by the report view's words."""


def told(fold: Fold) -> list[View]:
    """The hand-overs that count, the one that was received last first."""
    written = reversed(fold.held.of_kind("hand-over"))
    return [views.shown(one) for one in written if counts(fold.held, one)]


def handed_over(fold: Fold, report: View, saying: Saying) -> View | None:
    """By whom and when it was handed over last, and what of the gaps is open now; None while nobody has."""
    overs = told(fold)
    if not overs:
        return None
    found = {word: len(report[key]) for key, word in GAPS.items() if report[key]}
    return saying.entry(overs[0]) | {
        "open": sum(found.values()),
        "gaps": ", ".join(f"{number} {word}" for word, number in found.items()),
    }


def short(one: View, saying: Saying) -> str:
    """A thing that is not back in full: how many, and where it was last seen by whom."""
    tag, last = one["tag"], one["last"]
    counted = "not counted" if one["counted"] is None else f"{one['counted']} of {one['listed']}"
    seen = saying.seen(one["where"], last) if last else "no place written"
    return f"{tag} {saying.item(tag)} from {one['locker']}: {counted}; {seen}"


def not_counted(found: Sequence[View], definition: View) -> Iterable[str]:
    """Vehicle by vehicle, or locker by locker: those in which nothing was counted in one word, else the tags."""
    left = Counter(one["locker"] for one in found)
    for vehicle in definition["vehicles"]:
        mine = [one for one in definition["lockers"] if one["vehicle"] == vehicle["id"] and one["holds"]]
        if len(mine) > 1 and all(left[one["id"]] == len(one["holds"]) for one in mine):
            yield f"{vehicle['name']}: all {len(mine)} lockers"
            continue
        for locker in mine:
            tags = [one["tag"] for one in found if one["locker"] == locker["id"]]
            if tags:
                which = f"all {len(tags)}" if len(tags) == len(locker["holds"]) else ", ".join(tags)
                yield f"{locker['id']}: {which}"
