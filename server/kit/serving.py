"""The kit as JSON."""

from __future__ import annotations

from typing import Any

from server.kit.current import Kit, Said
from server.sheets import served

Json = dict[str, Any]


def served_kit(kit: Kit) -> Json:
    """`{items, lockers, faults}`: ITEM and LOCKER of a show's definition with what the entries say.

    To each item and locker is added `record`: `{standing, values}` of its record in the yard log, None where only
    the definitions speak; to each item `state` and `place`, the values of all logs side by side, each
    `{log, name, by, for, witness, at, kind, body, key, roles, rests_on}`. `faults` are sentences.
    """
    return {
        "items": [
            item
            | {
                "record": _record(kit, f"kit/{item['tag']}/record"),
                "state": said_in_all(kit, f"kit/{item['tag']}/state"),
                "place": said_in_all(kit, f"kit/{item['tag']}/place"),
            }
            for item in served.kit(kit.unit)
        ],
        "lockers": [
            locker | {"record": _record(kit, f"locker/{locker['id']}/record")}
            for locker in served.lockers(kit.unit)
        ],
        "faults": list(kit.faults),
    }


def said_in_all(kit: Kit, subject: str) -> list[Json]:
    """What all logs say of a subject, side by side, each value with its log."""
    return [{"log": log, **value} for log, value in kit.values_of(subject)]


def _record(kit: Kit, subject: str) -> Json | None:
    said: Said | None = kit.records.get(subject)
    return None if said is None else {"standing": said.standing, "values": list(said.values)}
