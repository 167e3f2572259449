"""Locker by locker: what was counted at each stage and by whom, what is short, and what the next crew saw."""

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from server.handover import steps
from server.handover.photos import Photos
from server.handover.pictures import NOT_ARRIVED
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.entry import Entry
from server.logbook.fold import Fold
from server.logbook.gates import is_counted_at
from server.logbook.held import Held
from server.logbook.steps import items, parts
from server.logbook.values import standing, values
from server.logbook.views.locker import locker_sheets

View = dict[str, Any]


def locker(
    fold: Fold, definition: View, found: View, accepted: Sequence[View], saying: Saying, photos: Photos
) -> View:
    """A locker for the report."""
    view = views.locker(fold, definition, found["id"])
    if view is None:
        raise LookupError(f"there is no locker {found['id']}")
    listed = locker_sheets(fold.held, found["id"])
    sheets = [steps.sheet(fold, definition, one["id"], saying, photos) for one in listed]
    return {
        **found,
        "stages": [_stage(fold.held, one, view["holds"], saying) for one in listed],
        "holds": [_held(fold, one, found["id"], saying) for one in view["holds"]],
        "sheets": [_without_counts(one) for one in sheets],
        "strangers": [
            f"{one['tag']} {saying.item(one['tag'])}" + (f", belongs in {one['home']}" if one["home"] else "")
            for one in view["strangers"]
        ],
        "events": saying.all(view["events"]),
        "accepted": [
            _accepted(one, saying, photos) for one in accepted if one["body"].get("locker") == found["id"]
        ],
    }


def found_in(held: Held, locker_id: str, tag: str) -> tuple[str, str]:
    """What became of a thing that a locker lists: a word, and the stage at which it was last counted.

    `missing` is counted short; `more` and `disputed` are as they say; `not counted` is no count at the last stage;
    `here` is counted in full at the last stage.
    """
    stages = [(one["stage"], f"{step['subject']}/{tag}", step["items"][tag])
              for one in locker_sheets(held, locker_id) for step in one["steps"] if tag in items(step)]  # fmt: skip
    counted = [one for one in stages if values(held, one[1])]
    if not counted:
        return "not counted", ""
    stage, subject, number = counted[-1]
    if is_counted_at(held, subject, number):
        return ("here" if counted[-1] == stages[-1] else "not counted"), stage
    if standing(held, subject).state != "settled":
        return "disputed", stage
    said = values(held, subject)[0]
    return ("not counted" if said.kind != "count" else _against(said, number)), stage


def _against(said: Entry, number: str) -> str:
    return "missing" if Decimal(str(said.body["number"])) < Decimal(number) else "more"


def _held(fold: Fold, one: View, locker_id: str, saying: Saying) -> View:
    word, _ = found_in(fold.held, locker_id, one["tag"])
    return {
        "tag": one["tag"],
        "name": saying.item(one["tag"]),
        "number": one["number"],
        "word": word,
        "counts": [
            _count(fold.held, sheet, one["tag"], saying) for sheet in locker_sheets(fold.held, locker_id)
        ],
        "state": one["state"] if one["state"] not in (None, "serviceable") else "",
        "place": saying.place(one["place"]["body"].get("where")) if one["place"] else "",
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
    return {**sheet, "steps": [{**one, "items": []} for one in told]}


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
