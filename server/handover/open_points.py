"""What the next crew must know, as points under words: missing told apart from never counted, and so on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from server.handover.lockers import found_in
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold
from server.logbook.judge import counts
from server.logbook.steps import sheets
from server.logbook.values import values

View = dict[str, Any]
SERVER = "server"


@dataclass(frozen=True)
class Heading:
    """A word of the first page and the points under it; `alarm` where something can hurt or is lost."""

    id: str
    word: str
    points: Sequence[str]
    alarm: bool = False


def open_points(fold: Fold, definition: View, report: View, saying: Saying) -> list[Heading]:
    """Every heading in the order in which it can hurt; one with no points too."""
    changed, faults = report["changed"], saying.all(report["faults"])
    worked = {sheet for sheet in report["unsigned"] if _is_worked_on(fold, sheet)}
    return [
        Heading("missing", "Missing", list(_counted(fold, definition, "missing", saying)), alarm=True),
        Heading("more", "More than listed", list(_counted(fold, definition, "more", saying))),
        Heading("not-counted", "Not counted", list(_not_counted(fold, definition))),
        Heading("unserviceable", "Unserviceable", list(_unfit(report["unserviceable"], saying)), alarm=True),
        Heading("suspect", "Suspect", list(_unfit(report["suspect"], saying)), alarm=True),
        Heading("overdue", "Overdue", [_overdue(one, saying) for one in report["overdue"]], alarm=True),
        Heading("disputed", "Disputed", [_disputed(fold, one, saying) for one in report["disputed"]]),
        Heading("faults", "Faults", [_fault(fold, one, saying) for one in faults]),
        Heading("given-up", "Given up", [_given_up(one, saying) for one in report["given_up"]]),
        Heading("changed", "Changed since signed", [_changed(one, saying) for one in changed]),
        Heading("unsigned", "Unsigned", [saying.sheet(one) for one in report["unsigned"] if one in worked]),
        Heading("untouched", "Nothing written on", _untouched(len(report["unsigned"]) - len(worked))),
        Heading(
            "not-arrived",
            "Written, not arrived",
            [_gap(one, saying) for one in report["not_arrived"]],
            alarm=True,
        ),
        Heading("accepted", "Accepted", list(_accepted(report["accepted"], definition, saying))),
        Heading("heard", "Last heard, by its own clock", list(_heard(report["heard"], saying))),
    ]


def _counted(fold: Fold, definition: View, word: str, saying: Saying) -> Iterable[str]:
    for locker in definition["lockers"]:
        for held in locker["holds"]:
            found, stage = found_in(fold.held, locker["id"], held["tag"])
            if found == word:
                yield _short(fold, locker["id"], held, stage, saying)


def _short(fold: Fold, locker: str, held: View, stage: str, saying: Saying) -> str:
    tag = held["tag"]
    count = next(
        saying.entry(views.shown(one))
        for sheet in sheets(fold.held).values()
        if sheet["id"] == f"locker/{locker}/{stage}"
        for step in sheet["steps"]
        for one in values(fold.held, f"{step['subject']}/{tag}")
    )
    said = f"{tag} {saying.item(tag)} from {locker}: {count['body']['number']} of {held['number']} at {stage}"
    place = views.kit(fold, {}, tag)["place"]
    seen = (
        f"last at {saying.place(place['body'].get('where'))}, {saying.person(place['by'])}" if place else ""
    )
    return f"{said}, {count['whose']}; {seen or 'no place written'}"


def _not_counted(fold: Fold, definition: View) -> Iterable[str]:
    """Locker by locker: those with nothing counted at the last stage in one word, else the tags."""
    for locker in definition["lockers"]:
        tags = [held["tag"] for held in locker["holds"]]
        found = {tag: found_in(fold.held, locker["id"], tag) for tag in tags}
        left = [tag for tag in tags if found[tag][0] == "not counted"]
        if not left:
            continue
        stages = sorted({found[tag][1] for tag in left} - {""})
        before = f" (last at {', '.join(stages)})" if stages else ""
        which = f"all {len(tags)}" if len(left) == len(tags) else ", ".join(left)
        yield f"{locker['id']}: {which}{before}"


def _unfit(found: Sequence[View], saying: Saying) -> Iterable[str]:
    for one in found:
        said = saying.all(one["values"])
        why = "; ".join(f"{each['body'].get('reason') or each['states']}, {each['whose']}" for each in said)
        yield f"{one['tag']} {saying.item(one['tag'])}: {why}"


def _overdue(one: View, saying: Saying) -> str:
    return f"{one['tag']} {saying.item(one['tag'])}: due {one['due']}"


def _disputed(fold: Fold, subject: str, saying: Saying) -> str:
    sides = [saying.entry(views.shown(one)) for one in values(fold.held, subject)]
    return f"{saying.subject(subject)}: " + " against ".join(
        f"{one['states']} ({one['whose']})" for one in sides
    )


def _fault(fold: Fold, one: View, saying: Saying) -> str:
    entry = fold.entry(one["name"])
    where = saying.subject(entry.subject) if entry else ""
    return f"{one['states']}: {where}, {one['whose']}"


def _given_up(one: View, saying: Saying) -> str:
    value = saying.entry(one["value"])
    return f"position {one['position']}: {value['states']}, {value['whose']}"


def _changed(one: View, saying: Saying) -> str:
    return f"{saying.sheet(one['sheet'])}: " + (
        ", ".join(saying.subject(subject) for subject in one["subjects"]) or "the sheet itself"
    )


def _untouched(number: int) -> list[str]:
    """Sheets that nobody began are no news each: how many they are."""
    if number == 0:
        return []
    return [f"{number} {'sheet' if number == 1 else 'sheets'}, named under their lockers and positions"]


def _is_worked_on(fold: Fold, sheet: str) -> bool:
    steps = sheets(fold.held)[sheet]["steps"]
    subjects = {subject for step in steps for subject in [step["subject"], *_items(step)]}
    return any(counts(fold.held, entry) for subject in subjects for entry in fold.held.of_subject(subject))


def _items(step: View) -> list[str]:
    return [f"{step['subject']}/{tag}" for tag in step.get("items") or {}]


def _gap(one: View, saying: Saying) -> str:
    numbers = ", ".join(str(first) if first == last else f"{first} to {last}" for first, last in one["gaps"])
    return f"{saying.person(one['person'])}: numbers {numbers}"


def _accepted(accepted: Sequence[View], definition: View, saying: Saying) -> Iterable[str]:
    """How many doors, then each exception: nothing where nobody has looked yet."""
    if not accepted:
        return
    doors = {one["body"].get("locker") for one in accepted}
    yield f"{len(doors)} of {len(definition['lockers'])} doors"
    for one in accepted:
        exceptions = one["body"].get("exceptions")
        for each in exceptions if isinstance(exceptions, list) else []:
            if isinstance(each, dict):
                yield f"{one['body'].get('locker')}, {each.get('tag')}: {each.get('text')} ({saying.person(one['by'])})"


def _heard(heard: Sequence[View], saying: Saying) -> Iterable[str]:
    return (
        f"{saying.person(one['person'])} {saying.time(one['at'])}" for one in heard if one["person"] != SERVER
    )
