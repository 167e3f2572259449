"""What the next crew must know, as points under words: missing told apart from never counted, and so on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from server.handover import gaps
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
    """A word of the first page and the points under it; `alarm` where something can hurt or is lost.

    `number` is how many there are, where a point tells of several.
    """

    id: str
    word: str
    points: Sequence[str]
    alarm: bool = False
    number: int | None = None


def open_points(fold: Fold, definition: View, report: View, saying: Saying) -> list[Heading]:
    """Every heading in the order in which it can hurt; one with no points too."""
    changed, faults = report["changed"], saying.all(report["faults"])
    worked = {sheet for sheet in report["unsigned"] if _is_worked_on(fold, sheet)}
    return [
        Heading("missing", "Missing", [gaps.short(one, saying) for one in report["missing"]], alarm=True),
        Heading("away", "Away, accounted for", [gaps.short(one, saying) for one in report["away"]]),
        Heading("astray", "In the wrong locker", [gaps.short(one, saying) for one in report["astray"]]),
        Heading("extra", "More than listed", [gaps.short(one, saying) for one in report["extra"]]),
        Heading(
            "not-counted",
            "Not counted back",
            list(gaps.not_counted(report["not_counted"], definition)),
            number=len(report["not_counted"]),
        ),
        Heading("unserviceable", "Unserviceable", list(_unfit(report["unserviceable"], saying)), alarm=True),
        Heading("suspect", "Suspect", list(_unfit(report["suspect"], saying)), alarm=True),
        Heading("carried", "Carried over", [_carried(one, saying) for one in report["carried"]], alarm=True),
        Heading(
            "used", "Used though unfit", [_used(one, saying) for one in report["used_though"]], alarm=True
        ),
        Heading("overdue", "Overdue", [_overdue(one, saying) for one in report["overdue"]], alarm=True),
        Heading("disputed", "Disputed", [_disputed(fold, one, saying) for one in report["disputed"]]),
        Heading("faults", "Faults", [_fault(fold, one, saying) for one in faults]),
        Heading("given-up", "Given up", [_given_up(one, saying) for one in report["given_up"]]),
        Heading("changed", "Changed since signed", [_changed(one, saying) for one in changed]),
        Heading("unsigned", "Unsigned", _unsigned(report["unsigned"], worked, saying), number=len(worked)),
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


def _unfit(found: Sequence[View], saying: Saying) -> Iterable[str]:
    for one in found:
        said = saying.all(one["values"])
        why = "; ".join(f"{each['body'].get('reason') or each['states']}, {each['whose']}" for each in said)
        yield f"{one['tag']} {saying.item(one['tag'])}: {why}"


def _carried(one: View, saying: Saying) -> str:
    said = " against ".join(f"{saying.entry(each)['states']} ({each['log']})" for each in one["values"])
    return f"{one['tag']} {saying.item(one['tag'])}: {said}"


def _used(one: View, saying: Saying) -> str:
    """What is used although it is unfit, with why and on whose word; `though` is a list, a thing each."""
    assign = saying.entry(one["assign"]) if one["assign"] else None
    given = assign["body"].get("though") if assign else None
    though = next(
        (
            each
            for each in (given if isinstance(given, list) else [])
            if isinstance(each, dict) and each.get("tag") == one["tag"]
        ),
        None,
    )
    why = f"{though.get('reason')}, on the word of {though.get('who')}" if though else "no reason written"
    whose = f", {assign['whose']}" if assign else ""
    _, position, _, link = one["slot"].split("/")
    thing = f"{one['tag']} {saying.item(one['tag'])}, {one['state']}"
    return f"{thing}, as {link} of position {position}: {why}{whose}"


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
        ", ".join(saying.step(subject) for subject in one["subjects"]) or "the sheet itself"
    )


def _unsigned(unsigned: Sequence[str], worked: set[str], saying: Saying) -> list[str]:
    """Sheets that somebody worked on: those of lockers by their stage, the others by their titles."""
    of_lockers: dict[str, list[str]] = {}
    others = []
    for sheet in (one for one in unsigned if one in worked):
        room, name, *stage = sheet.split("/")
        if room == "locker" and stage:
            of_lockers.setdefault(stage[0], []).append(name)
        else:
            others.append(saying.sheet(sheet))
    return [*others, *(f"{stage} of {', '.join(names)}" for stage, names in of_lockers.items())]


def _untouched(number: int) -> list[str]:
    """Sheets that nobody began are no news each: how many they are."""
    if number == 0:
        return []
    return [f"{number} {'sheet' if number == 1 else 'sheets'}"]


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
