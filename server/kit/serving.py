"""The kit as JSON, for pages and phones."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import asdict
from typing import Any

from server.kit.current import Kit, Said
from server.kit.due import doubts, due, overdue
from server.kit.pieces import piece, pieces
from server.kit.register import asking, hoist_stops, lift_stops
from server.kit.schedule import lacking
from server.sheets import served

Json = dict[str, Any]


def served_kit(kit: Kit, today: str, show_end: str | None = None) -> Json:
    """`{items, lockers, faults}`: ITEM and LOCKER of a show's definition with what the entries say.

    To each item and locker is added `record`: `{standing, values}` of its record in the yard log, None where only
    the definitions speak. To each item `interval`; `due`, the date that governs; `overdue`: now, before the show ends
    or None; `doubts` about its dates, sentences; `states`, `pre_use` and `events` as `pieces.py` gives them; and
    `place`, the values of all logs side by side, `{log, name, by, for, witness, at, kind, body, key, roles, rests_on}`.
    `faults` are sentences.
    """
    return {
        "items": [
            item
            | _judged(piece(kit, kit.unit.items[item["tag"]]), today, show_end)
            | {
                "record": _record(kit, f"kit/{item['tag']}/record"),
                "place": [{"log": log, **value} for log, value in kit.values_of(f"kit/{item['tag']}/place")],
            }
            for item in served.kit(kit.unit)
        ],
        "lockers": [
            locker | {"record": _record(kit, f"locker/{locker['id']}/record")}
            for locker in served.lockers(kit.unit)
        ],
        "faults": list(kit.faults),
    }


def served_register(
    kit: Kit, today: str, show_end: str, log: str | None, files: Collection[str]
) -> list[Json]:
    """The lifting register: each piece of lifting gear, and whatever a statute's limb governs.

    A piece as `pieces.py` gives it, with `due`, `overdue`, `doubts`; `lacking`, the fields of the statutory schedule
    that its report lacks, `[{paragraph, at, words, status}]`; `asks`, names of events that ask for an examination;
    `report_here`, whether the file that `about.file` names has arrived (None: no file is named); `stops`, why it may
    not be assigned to a lift in a show that ends on `show_end`, `[{stop, says}]`; and, for the show of `log`,
    `hoist_stops`, why no hoist may begin with it. `files` are digests of those that are here.
    """
    return [
        one
        | _dates(one, today, show_end)
        | {
            "lacking": [asdict(field) for field in lacking(one)],
            "asks": asking(one),
            "report_here": one["about"]["file"] in files if "file" in one["about"] else None,
            "stops": lift_stops(one, show_end),
            "hoist_stops": None if log is None else hoist_stops(one, show_end, log),
        }
        for one in pieces(kit)
        if is_lifting(one)
    ]


def is_lifting(one: Json) -> bool:
    """Whether a piece belongs in the lifting register."""
    return one["type"] == "lifting-gear" or bool(one["interval"] and one["interval"]["limb"])


def _judged(one: Json, today: str, show_end: str | None) -> Json:
    told = {member: one[member] for member in ("interval", "states", "pre_use", "events")}
    return told | _dates(one, today, show_end)


def _dates(one: Json, today: str, show_end: str | None) -> Json:
    return {"due": due(one), "overdue": overdue(one, today, show_end), "doubts": doubts(one)}


def _record(kit: Kit, subject: str) -> Json | None:
    said: Said | None = kit.records.get(subject)
    return None if said is None else {"standing": said.standing, "values": list(said.values)}
