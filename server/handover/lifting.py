"""The lifting register, and the gear chosen for a lift, each piece judged by the register's rule from the record.

That nothing stops a piece is no word that it is fit: a lift leader looks before each lift.
"""

from collections.abc import Iterator
from typing import Any

from server.handover import kit
from server.handover.saying import Saying
from server.kit import due, register, schedule
from server.kit.fields import ITEM, BadFields, item_fields, read_item
from server.logbook.entry import Entry
from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.judge import counts
from server.logbook.together import Said, together
from server.logbook.views.shown import values_shown

View = dict[str, Any]
LIFTING = "lifting-gear"


def is_lifting(definition: View, item: View) -> bool:
    """Whether a thing belongs in the register: lifting gear, and whatever is examined under one of the limbs."""
    interval = _interval(definition, item.get("about") or {})
    return item["type"] == LIFTING or bool(interval and interval.get("limb"))


def told(fold: Fold, definition: View, item: View, saying: Saying) -> View:
    """A piece for the register: its dates, its pre-use check, what stops it, what its examination's report lacks."""
    piece = _piece(fold, definition, item)
    day = due.due(piece)
    now = item | {part: piece[part] for part in ("name", "dates", "about")}
    return kit.item(fold, definition, now, saying) | {
        "due": day or "no date",
        "overdue": day is not None and day < definition["ends"],
        "checks": saying.all(values_shown(fold.held, f"kit/{item['tag']}/pre-use")),
        "stops": _stops(piece, definition["ends"]),
        "lacking": [f"({one.paragraph}) {one.words}" for one in schedule.lacking(piece)],
    }


def gear(fold: Fold, definition: View, chosen: View, saying: Saying) -> View:
    """The gear of a position's lift: who chose it, each piece with its mark and what stops it."""
    by_tag = {one["tag"]: one for one in definition["kit"]}
    return {
        "state": chosen["state"],
        "values": saying.all(chosen["values"]),
        "pieces": [
            told(fold, definition, by_tag[tag], saying) if tag in by_tag else _unknown(tag)
            for tag in chosen["tags"]
        ],
    }


def _unknown(tag: str) -> View:
    stop = {"stop": "unknown", "says": "Not on this show's list."}
    return {"tag": tag, "name": "", "about": {}, "due": "no date", "checks": [], "stops": [stop]}


def _piece(fold: Fold, definition: View, item: View) -> View:
    """A thing as `server.kit.register` asks for it, its record and what all logs say of it laid together."""
    top, held = f"kit/{item['tag']}", fold.held
    record = together(held, f"{top}/record")
    given = record.values[0].entry.body.get("fields") if record.state == "settled" else None
    fields, fault = _read(item, given if isinstance(given, dict) else {})
    return {
        "tag": item["tag"],
        "type": item["type"],
        **fields,
        "fault": fault,
        "interval": _interval(definition, fields["about"]),
        "record": None if record.state == "none" else record.state,
        "rests_on": [name for said in record.values for name in said.entry.rests_on],
        "states": [
            {"log": said.log, "state": str(said.entry.body["state"])}
            for said in _of_kind(held, top, "state", "state")
        ],
        "pre_use": [
            {"log": said.log, "choice": str(said.entry.body["choice"]), "roles": _roles(held, said)}
            for said in _of_kind(held, top, "pre-use", "choice")
        ],
        "events": [_event(definition, entry) for entry in _events(held, top)],
    }


def _read(item: View, record: View) -> tuple[View, str]:
    """Name, dates and what else is said of a thing, its record's fields in place of the definition's.

    Where they cannot be read: none of them, and why.
    """
    given = {key: item[key] for key in ITEM if item.get(key) is not None} | record
    try:
        return item_fields(read_item(item["tag"], given)), ""
    except BadFields as fault:
        return {"name": item["name"], "dates": {}, "about": {}}, str(fault)


def _stops(piece: View, ends: str) -> list[View]:
    unread = {"stop": "unreadable", "says": f"What is recorded of it cannot be read: {piece['fault']}."}
    return [*([unread] if piece["fault"] else []), *map(dict, register.lift_stops(piece, ends))]


def _of_kind(held: Held, top: str, what: str, kind: str) -> list[Said]:
    return [said for said in together(held, f"{top}/{what}").values if said.entry.kind == kind]


def _roles(held: Held, said: Said) -> list[str]:
    log = next(one for one in held.logs_together() if one.log == said.log)
    cards = [card for card in log.cards_of_key(said.entry.kid) if card.person == said.entry.by]
    return sorted({role for card in cards for role in card.roles})


def _events(held: Held, top: str) -> Iterator[Entry]:
    return (entry for log in held.logs_together() for entry in log.events_at(top) if counts(log, entry))


def _event(definition: View, entry: Entry) -> View:
    labels = {one["id"]: one["label"] for one in definition.get("events") or []}
    event = str(entry.body["event"])
    return {"name": entry.name, "at": entry.at, "event": event, "label": labels.get(event, event)}


def _interval(definition: View, about: View) -> View | None:
    intervals = definition.get("intervals") or []
    return next((one for one in intervals if one["id"] == about.get("interval")), None)
