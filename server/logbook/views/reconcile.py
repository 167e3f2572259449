"""What is back of what the lockers list: counted short or over, away by name, in the wrong locker, not counted."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from server.logbook.held import Held
from server.logbook.kinds import plain
from server.logbook.positions import slots_of_tag
from server.logbook.steps import items
from server.logbook.values import settled, standing
from server.logbook.views.definition import Definition
from server.logbook.views.locker import locker_sheets
from server.logbook.views.shown import Shown, settled_shown

View = dict[str, Any]

BACK = ("de-rig", "stow")
"""The stages that count what came back; where a thing was counted in both, the later has the word."""

AWAY = "away/"
"""A place outside the vehicles that accounts for a thing: away/left-at-site, away/lent, away/broken, away/lost."""


def reconcile(held: Held, now: Definition) -> View:
    """The things that are not back in full, by what is known of them, in the order of the lockers.

    `counted` is the number that the last count found, None where nobody counted; `where` what was last stated of
    where the thing is, and `last` the entry that says so: its place, else the slot of a chain that it stands in,
    else a count that saw it. A disputed count stands among the disputes, not here.
    """
    found: dict[str, list[View]] = {
        word: [] for word in ("missing", "extra", "away", "astray", "not_counted")
    }
    for locker in now["lockers"]:
        for one in locker["holds"]:
            counts = list(_counts(held, locker["id"], one["tag"]))
            back = [subject for stage, subject in counts if stage in BACK]
            if not back:
                continue
            counted = next((one for one in reversed(back) if standing(held, one).state != "none"), back[-1])
            where, last = _last_seen(held, one["tag"], [subject for _, subject in counts])
            word = _word(held, locker["id"], one["number"], counted, where)
            if word is not None:
                number = _number(held, counted)
                found[word].append(
                    {
                        "tag": one["tag"],
                        "locker": locker["id"],
                        "listed": one["number"],
                        "counted": number,
                        "where": where,
                        "last": last,
                    }
                )
    return found


def _word(held: Held, locker: str, listed: str, counted: str, where: str | None) -> str | None:
    if standing(held, counted).state in {"disputed", "waits"}:
        return None
    number = _number(held, counted)
    missing = Decimal(listed) - Decimal(number or 0)
    if missing <= 0:
        return "extra" if missing < 0 else None
    if where is not None and where.startswith(AWAY):
        return "away"
    if where is not None and where.startswith("locker/") and where != f"locker/{locker}":
        return "astray"
    return "not_counted" if number is None else "missing"


def _counts(held: Held, locker: str, tag: str) -> Iterator[tuple[str, str]]:
    """The stage and subject of each count of a thing in its locker, in the order of the sheets."""
    for sheet in locker_sheets(held, locker):
        for step in sheet["steps"]:
            if tag in items(step):
                yield sheet["stage"], f"{step['subject']}/{tag}"


def _number(held: Held, subject: str) -> str | None:
    value = settled(held, subject)
    return plain(str(value.body["number"])) if value is not None and value.kind == "count" else None


def _last_seen(held: Held, tag: str, counts: list[str]) -> tuple[str | None, Shown | None]:
    place = settled_shown(held, f"kit/{tag}/place")
    if place is not None and place["kind"] == "place":
        return str(place["body"]["where"]), place
    seen = [subject for subject in reversed(counts) if _number(held, subject) not in {None, "0"}]
    for subject in (*sorted(slots_of_tag(held, tag)), *seen):
        return "/".join(subject.split("/")[:2]), settled_shown(held, subject)
    return None, None
