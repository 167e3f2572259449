"""The rule of the lifting register: why a piece may not be assigned to a lift, what its first hoist waits for.

Pure, and the same on the phone (`static/kit/register.js`); shared vectors hold the two equal. A piece is as in
`due.py`, with `record` (how its record stands: settled, disputed, waits or None), `rests_on` (names that its record
rests on), `states` [{state, log}], `pre_use` [{choice: passed or failed, log, roles}] and `events`
[{name, event, label, at}]. That nothing stops it is no word that it is fit: a lift leader looks before each lift, and
a competent person decides.
"""

from __future__ import annotations

from typing import TypedDict

from server.kit.due import Piece, due, last_done
from server.logbook.kinds import is_decimal

LIFT_LEADER = "lift-leader"


class Stop(TypedDict):
    """Why not: a word for it, and a sentence."""

    stop: str
    says: str


def lift_stops(piece: Piece, show_end: str) -> list[Stop]:
    """Why a piece may not be assigned to a lift in a show that ends on `show_end` (2031-05-05); none: nothing here.

    Overdue before the show's end, no mark, a failed check, a defect, an event that asks for an examination, a state
    that is not serviceable, a record that is disputed.
    """
    found = [
        *_record(piece),
        *_mark(piece),
        *_examination(piece, show_end),
        *_finding(piece, show_end),
        *_events(piece),
        *_state(piece),
        *_check(piece),
    ]
    return [{"stop": word, "says": says} for word, says in found]


def hoist_stops(piece: Piece, show_end: str, log: str) -> list[Stop]:
    """Why no hoist may begin with a piece: what stops its assignment, or no pre-use check in the show of this log."""
    stops = lift_stops(piece, show_end)
    here = [one for one in piece["pre_use"] if one["log"] == log and one["choice"] == "passed"]
    if not any(LIFT_LEADER in one["roles"] for one in here):
        stops.append(
            {"stop": "not-checked", "says": "No lift leader has passed its pre-use check in this show yet."}
        )
    return stops


def asking(piece: Piece) -> list[str]:
    """Names of the events since its last examination that ask for another one.

    An event is answered by an examination of a later day, or by a record that rests on the event.
    """
    interval, last = piece["interval"], last_done(piece)
    after = interval["after"] if interval else []
    return [
        str(one["name"])
        for one in piece["events"]
        if one["event"] in after
        and one["name"] not in piece["rests_on"]
        and (last is None or last <= str(one["at"])[:10])
    ]


Found = list[tuple[str, str]]


def _record(piece: Piece) -> Found:
    if piece["record"] in {"disputed", "waits"}:
        return [("disputed", "Its record is disputed: a chief settles it first.")]
    return []


def _mark(piece: Piece) -> Found:
    about, found = piece["about"], []
    if not about.get("identity"):
        found.append(("no-mark", "No identity is written: what carries no mark is not used."))
    if not _is_load(about.get("wll_kg")):
        found.append(("no-mark", "No WLL or SWL in kg is written: what carries no mark is not used."))
    return found


def _examination(piece: Piece, show_end: str) -> Found:
    if not piece["dates"].get("examined"):
        return [("not-examined", "No thorough examination is written.")]
    day = due(piece)
    if day is None:
        return [
            (
                "not-examined",
                "When its thorough examination falls due cannot be told: no date and no interval.",
            )
        ]
    if day < show_end:
        return [("overdue", f"Thorough examination due {day}, before the show ends on {show_end}.")]
    return []


def _finding(piece: Piece, show_end: str) -> Found:
    about, found = piece["about"], []
    if about.get("safe_to_operate", "yes") != "yes":
        found.append(("defect", "Its last thorough examination does not find it safe to operate."))
    repair_by = about.get("repair_by")
    if repair_by is not None and repair_by < show_end:
        found.append(
            ("defect", f"A defect was to be repaired by {repair_by}: {about.get('defect', 'not described')}.")
        )
    return found


def _events(piece: Piece) -> Found:
    asked = set(asking(piece))
    return [
        ("exceptional", f"{one['label']} on {str(one['at'])[:10]}: it asks for a thorough examination.")
        for one in piece["events"]
        if one["name"] in asked
    ]


def _state(piece: Piece) -> Found:
    unfit = sorted({str(one["state"]) for one in piece["states"]} - {"serviceable"})
    return [("unfit", f"Written as {state}.") for state in unfit]


def _check(piece: Piece) -> Found:
    if any(one["choice"] != "passed" for one in piece["pre_use"]):
        return [("check-failed", "It failed a pre-use check, and nobody has passed it since.")]
    return []


def _is_load(text: object) -> bool:
    return is_decimal(text) and float(str(text)) > 0
