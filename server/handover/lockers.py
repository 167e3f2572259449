"""Locker by locker: what was counted at each stage and by whom, what is short, and what the next crew saw."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from server.handover import kit, loose, steps
from server.handover.photos import Photos
from server.handover.pictures import NOT_ARRIVED
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold
from server.logbook.gates import is_counted_at
from server.logbook.held import Held
from server.logbook.steps import items, parts
from server.logbook.values import values
from server.logbook.views.locker import locker_sheets

View = dict[str, Any]
RECONCILED = {
    "missing": "missing",
    "extra": "more than listed",
    "away": "away",
    "astray": "in the wrong locker",
    "not_counted": "not counted",
}
"""The words for what is not back in full, by the report view's."""

IN_A_SENTENCE = {"back": "All in", "not counted": "Not counted back"}


def locker(fold: Fold, definition: View, found: View, report: View, saying: Saying, photos: Photos) -> View:
    """A locker for the report."""
    view = views.locker(fold, definition, found["id"])
    if view is None:
        raise LookupError(f"there is no locker {found['id']}")
    listed = locker_sheets(fold.held, found["id"])
    said = words(report, found)
    holds = [_held(fold, one, found["id"], said[one["tag"]], saying) for one in view["holds"]]
    sheets = [steps.sheet(fold, definition, one["id"], saying, photos) for one in listed]
    return {
        **found,
        "stages": [_stage(fold.held, one, view["holds"], saying) for one in listed],
        "holds": holds,
        "in_a_sentence": in_a_sentence(holds),
        "sheets": [_without_counts(one) for one in sheets],
        "strangers": [
            f"{one['tag']} {saying.item(one['tag'])}" + (f", belongs in {one['home']}" if one["home"] else "")
            for one in view["strangers"]
        ],
        "events": saying.all(view["events"]),
        "evidence": loose.under(fold, [f"locker/{found['id']}"], saying, photos),
        "accepted": [
            _accepted(one, saying, photos)
            for one in report["accepted"]
            if one["body"].get("locker") == found["id"]
        ],
    }


def is_told(told: View) -> bool:
    """Whether anything is written of a locker, its sheets or what it lists, here or in another log."""
    return bool(
        any(one["by"] for one in told["stages"])
        or any(one["word"] not in ("back", "not counted") or one["written"] for one in told["holds"])
        or any(one["steps"] or one["signed"] != "not signed" for one in told["sheets"])
        or told["strangers"]
        or told["events"]
        or told["evidence"]
        or told["accepted"]
    )


def in_a_sentence(holds: Sequence[View]) -> str:
    """How one sentence tells a locker's counts; empty where nothing less than its table does.

    So it is where whoever counted at a stage counted all of it, nothing short, and no thing has a word of its own.
    """
    stages = list(zip(*(one["counts"] for one in holds), strict=True))
    words = {one["word"] for one in holds}
    is_plain = (
        not any(one["state"] or one["place"] for one in holds)
        and any(count["said"] for stage in stages for count in stage)
        and all(len({bool(count["said"]) for count in stage}) == 1 for stage in stages)
        and not any(count["short"] or count["whose"] for stage in stages for count in stage)
    )
    return IN_A_SENTENCE.get(words.pop(), "") if is_plain and len(words) == 1 else ""


def untold(definition: View, told: Mapping[str, View]) -> list[View]:
    """Vehicle by vehicle, the lockers of which nothing is written: their names, and how much each lists."""
    found = []
    for vehicle in definition["vehicles"]:
        mine = [one for one in told.values() if one["vehicle"] == vehicle["id"] and not is_told(one)]
        named = [f"{one['id']} {one['name']} ({len(one['holds'])})" for one in mine]
        if named:
            found.append({"vehicle": vehicle["name"], "lockers": named})
    return found


def words(report: View, locker: View) -> dict[str, str]:
    """What became of each thing that a locker lists, by its tag: back, or as `reconcile` says, or disputed."""
    found = {held["tag"]: "back" for held in locker["holds"]}
    for word in RECONCILED:
        found |= {one["tag"]: RECONCILED[word] for one in report[word] if one["locker"] == locker["id"]}
    counts_here = (one for one in report["disputed"] if one.startswith(f"locker/{locker['id']}/"))
    return found | {
        tag: "disputed" for tag in (one.rpartition("/")[2] for one in counts_here) if tag in found
    }


def _held(fold: Fold, one: View, locker_id: str, word: str, saying: Saying) -> View:
    return {
        "tag": one["tag"],
        "name": saying.item(one["tag"]),
        "number": one["number"],
        "word": word,
        "counts": [
            _count(fold.held, sheet, one["tag"], saying) for sheet in locker_sheets(fold.held, locker_id)
        ],
        "state": one["state"] if one["state"] not in (None, "serviceable") else "",
        "written": bool(one["state"] or one["place"] or kit.carried(one["carried"], saying)),
        "place": saying.seen(one["place"]["body"].get("where"), one["place"]) if one["place"] else "",
    }


def _stage(held: Held, sheet: View, holds: Sequence[View], saying: Saying) -> View:
    """Who counted at a stage, each with the first and last time; notes that several counts share, with how many."""
    said = [one for held_there in holds for one in _said(held, sheet, held_there["tag"], saying)]
    notes = Counter(note for one in said for note in one["notes"])
    return {
        "stage": sheet["stage"],
        "by": [_who(whose, said) for whose in dict.fromkeys(one["whose"] for one in said)],
        "notes": [f"{note} ({number})" for note, number in notes.items()],
    }


def _who(whose: str, said: Sequence[View]) -> str:
    times = [one["when"] for one in sorted(said, key=lambda one: str(one["at"])) if one["whose"] == whose]
    return f"{whose}, {times[0]}" + (f" to {times[-1]}" if times[-1] != times[0] else "")


def _count(held: Held, sheet: View, tag: str, saying: Saying) -> View:
    """What was counted of a thing on one sheet: figure, and who where the stage was not counted by one person."""
    steps_of_it = [step for step in sheet["steps"] if tag in items(step)]
    said = _said(held, sheet, tag, saying)
    counters = {
        one.by for step in sheet["steps"] if items(step) for part in parts(step) for one in values(held, part)
    }
    number = steps_of_it[0]["items"][tag] if steps_of_it else ""
    return {
        "said": " against ".join(_figure(one, number) for one in said),
        "whose": ", ".join(one["whose"] for one in said) if len(said) > 1 or len(counters) > 1 else "",
        "short": any(
            not is_counted_at(held, f"{step['subject']}/{tag}", number) for step in steps_of_it if said
        ),
    }


def _said(held: Held, sheet: View, tag: str, saying: Saying) -> list[View]:
    subjects = [f"{step['subject']}/{tag}" for step in sheet["steps"] if tag in items(step)]
    return [saying.entry(views.shown(one)) for subject in subjects for one in values(held, subject)]


def _figure(said: View, number: str) -> str:
    if said["kind"] != "count":
        return str(said["states"])
    return f"{said['body']['number']} of {number}"


def _without_counts(sheet: View) -> View:
    """The counts stand in the table: of a count step only what the table does not tell is told again."""
    told = [
        one for one in sheet["steps"] if not one["items"] or one["struck"] or one["evidence"] or one["faults"]
    ]
    kept = [{**one, "items": []} for one in told]
    return {**sheet, "steps": kept, "plain": all(map(steps.is_plain, kept))}


def _accepted(one: View, saying: Saying, photos: Photos) -> View:
    exceptions = one["body"].get("exceptions")
    return saying.entry(one) | {
        "seen": str(one["body"].get("seen") or "looked at"),
        "exceptions": [
            {
                "tag": str(each.get("tag")),
                "text": str(each.get("text")),
                "picture": photos.get(str(each["photo"]), NOT_ARRIVED) if each.get("photo") else None,
            }
            for each in (exceptions if isinstance(exceptions, list) else [])
            if isinstance(each, dict)
        ],
    }
