"""What falls due in the coming weeks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Any

from server.kit.due import due

Json = dict[str, Any]

LONGEST_WEEKS = 104


def falling(pieces: Iterable[Json], today: date, weeks: int) -> Json:
    """`{today, until, overdue, weeks}`: what is overdue, and what falls due from today to the end of so many weeks.

    `weeks` are those in which something does, from the first: `{starts, due}`, `starts` its Monday; in each list and in
    `overdue` things by their day: `{tag, name, home, number, due, of, rule, limb}`. A thing is in date on its day.
    """
    until = monday(today) + timedelta(weeks=weeks, days=-1)
    dated = sorted(
        (told for told in map(_told, pieces) if told["due"] is not None),
        key=lambda one: (one["due"], one["tag"]),
    )
    coming = [one for one in dated if str(today) <= one["due"] <= str(until)]
    found: dict[date, list[Json]] = {}
    for one in coming:
        found.setdefault(monday(date.fromisoformat(one["due"])), []).append(one)
    return {
        "today": str(today),
        "until": str(until),
        "overdue": [one for one in dated if one["due"] < str(today)],
        "weeks": [{"starts": str(starts), "due": things} for starts, things in found.items()],
    }


def monday(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def _told(piece: Json) -> Json:
    interval = piece["interval"]
    return {
        "tag": piece["tag"],
        "name": piece["name"],
        "home": piece["home"],
        "number": piece["number"],
        "due": due(piece),
        "of": interval["of"] if interval else None,
        "rule": interval["rule"] if interval else None,
        "limb": piece["about"].get("limb"),
    }
