"""When an examination or test falls due: months from the last one, a date that its report states, the earlier of both.

A piece is a thing of kit as plain data, the same on the phone (`static/kit/due.js`): `{tag, name, type, dates, about,
interval}`, with `interval` None or `{id, of, months, limb, rule, status, after}` of `checklists/intervals.yaml`.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Mapping
from datetime import date
from typing import Any

Piece = Mapping[str, Any]

SCHEME = "scheme"
"""The limb under which a written scheme of examination sets the date, and no number of months."""


def add_months(day: date, months: int) -> date:
    """The same day so many months later, or that month's last day where it has no such day.

    Raises ValueError beyond the year 9999.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if year > 9999:
        raise ValueError(f"{months} months after {day} lie beyond the year 9999")
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def last_done(piece: Piece) -> str | None:
    """The date of the last examination, or test, as 2031-05-02; None where none is written."""
    dates = piece["dates"]
    found = dates.get("examined") or dates.get("tested")
    return None if found is None else str(found)


def due(piece: Piece) -> str | None:
    """The date by which the next one is due: the earlier of what is stated and what the interval allows.

    Where a scheme of examination governs, it is the stated one. None where it cannot be told.
    """
    found = [day for day in (stated(piece), allowed(piece)) if day is not None]
    return min(found, default=None)


def stated(piece: Piece) -> str | None:
    """The date due that is written of it."""
    day = piece["dates"].get("due")
    return None if day is None else str(day)


def allowed(piece: Piece) -> str | None:
    """The last date that its interval allows; None without a last date or interval, or under a scheme."""
    interval, last = piece["interval"], last_done(piece)
    if interval is None or last is None or piece["about"].get("limb") == SCHEME:
        return None
    return add_months(date.fromisoformat(last), interval["months"]).isoformat()


def overdue(piece: Piece, today: str, show_end: str | None = None) -> str | None:
    """`now`, `before the show ends`, or None; a thing is in date on the day that it is due."""
    day = due(piece)
    if day is None:
        return None
    if day < today:
        return "now"
    return "before the show ends" if show_end is not None and day < show_end else None


def doubts(piece: Piece) -> list[str]:
    """What does not fit in its dates, in sentences: none where its interval asks for one, one later than allowed."""
    interval, told = piece["interval"], []
    if interval is not None and last_done(piece) is None:
        told.append(f"{interval['of']}: no date of the last one is written.")
    last_allowed, day = allowed(piece), stated(piece)
    if interval is not None and last_allowed is not None and day is not None and day > last_allowed:
        told.append(
            f"Due {day} is written, and {interval['months']} months after {last_done(piece)} end on "
            f"{last_allowed}, which governs ({interval['rule']})."
        )
    limb = piece["about"].get("limb")
    if (
        interval is not None
        and interval["limb"]
        and limb not in {None, interval["limb"], SCHEME, "exceptional"}
    ):
        told.append(f"Examined under the limb of {limb}, and {interval['rule']} gives it {interval['limb']}.")
    return told
