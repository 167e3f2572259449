"""Things of kit as plain data, as `due.py` and `register.py` judge them."""

from __future__ import annotations

from typing import Any

from server.kit.current import Kit
from server.kit.intervals import intervals
from server.sheets.definitions import Item
from server.sheets.intervals import Interval

Json = dict[str, Any]


def pieces(kit: Kit) -> list[Json]:
    """Every thing of the unit, in its order."""
    return [piece(kit, item) for item in kit.unit.kit]


def piece(kit: Kit, item: Item) -> Json:
    """One thing as `due.py` and `register.py` ask for it."""
    top = f"kit/{item.tag}"
    record = kit.records.get(f"{top}/record")
    labels = {event.id: event.label for event in kit.unit.events}
    return {
        "tag": item.tag,
        "name": item.name,
        "type": item.type,
        "number": item.number,
        "home": kit.unit.homes.get(item.tag),
        "dates": dict(item.dates),
        "about": dict(item.about),
        "interval": served_interval(intervals().get(item.about.get("interval", ""))),
        "record": record.standing if record else None,
        "rests_on": sorted({name for value in record.values for name in value["rests_on"]}) if record else [],
        "states": [
            {"state": value["body"]["state"], "reason": value["body"].get("reason"), **_whose(log, value)}
            for log, value in kit.values_of(f"{top}/state")
            if value["kind"] == "state"
        ],
        "pre_use": [
            {
                "choice": value["body"]["choice"],
                "reason": value["body"].get("reason"),
                "roles": value["roles"],
                **_whose(log, value),
            }
            for log, value in kit.values_of(f"{top}/pre-use")
            if value["kind"] == "choice"
        ],
        "events": [
            {
                "event": value["body"]["event"],
                "label": labels.get(value["body"]["event"], value["body"]["event"]),
                "text": value["body"].get("text"),
                **_whose(log, value),
            }
            for log, value in kit.values_of(top)
        ],
    }


def served_interval(interval: Interval | None) -> Json | None:
    """An interval as phones have it."""
    if interval is None:
        return None
    return {
        "id": interval.id,
        "of": interval.of,
        "months": interval.months,
        "limb": interval.limb,
        "rule": interval.rule,
        "status": interval.status,
        "also_after": interval.also_after,
        "after": list(interval.after),
    }


def _whose(log: str, value: Json) -> Json:
    return {"log": log, "name": value["name"], "by": value["by"], "at": value["at"]}
