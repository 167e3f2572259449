"""Due dates of a unit's kit as an iCalendar feed (RFC 5545): a whole day for each rule under which things fall due."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import Any
from urllib.parse import urlsplit

from icalendar import Calendar, Event

from server.kit.due import due

Json = dict[str, Any]

DEFERS = "The statute or house rule, the maker and a competent person come first."


def feed(unit: str, unit_name: str, pieces: Iterable[Json], site: str, now: datetime) -> bytes:
    """The calendar; `now`, in UTC, is when it was made."""
    calendar = Calendar()
    calendar.add("prodid", "-//Handline//Kit//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("name", f"{unit_name}: kit due")
    calendar.add("refresh-interval", timedelta(hours=12), parameters={"value": "DURATION"})
    found: dict[tuple[str, str], list[Json]] = {}
    for piece in pieces:
        day = due(piece)
        if day is not None:
            found.setdefault((day, piece["interval"]["id"] if piece["interval"] else "date"), []).append(
                piece
            )
    for (day, rule), things in sorted(found.items()):
        calendar.add_component(_event(unit, day, rule, things, urlsplit(site).netloc, now))
    return bytes(calendar.to_ical())


def _event(unit: str, day: str, rule: str, things: list[Json], host: str, now: datetime) -> Event:
    interval = things[0]["interval"]
    event = Event()
    event.add("uid", f"{unit}-{day}-{rule}@{host}")
    event.add("dtstamp", now)
    event.add("dtstart", date.fromisoformat(day))
    event.add("dtend", date.fromisoformat(day) + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    event.add(
        "summary", f"{len(things)} due: {interval['of'] if interval else 'by a date that is written of it'}"
    )
    lines = [f"{one['tag']} {one['name']}, home {one['home'] or 'none'}" for one in things]
    event.add("description", "\n".join([*lines, *([f"{interval['rule']}."] if interval else []), DEFERS]))
    return event
