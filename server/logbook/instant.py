"""Instants after RFC 3339: read, compared and moved exactly, whatever year and fraction they name."""

import re
from datetime import date
from typing import NamedTuple

_FULL = re.compile(
    r"(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})(?:\.(\d+))?(?:Z|([+-])(\d{2}):(\d{2}))", re.ASCII
)
_DAY_S = 86400
_CYCLE_DAYS = 146097
"""Days in 400 years of the Gregorian calendar, after which it repeats."""


class Instant(NamedTuple):
    """Whole seconds in UTC since the eve of year 1, and the decimals after them without noughts at the end.

    Two instants compare as the moments do.
    """

    seconds: int
    decimals: str

    def plus_minutes(self, minutes: int) -> "Instant":
        """The instant so many minutes later."""
        return Instant(self.seconds + 60 * minutes, self.decimals)

    def in_utc(self) -> str:
        """RFC 3339 in UTC, with its fraction."""
        days, second = divmod(self.seconds, _DAY_S)
        cycles, day = divmod(days - 1, _CYCLE_DAYS)
        civil = date.fromordinal(day + 1)
        year = civil.year + 400 * cycles
        fraction = f".{self.decimals}" if self.decimals else ""
        hour, minute = divmod(second // 60, 60)
        day_text = f"{year:04d}-{civil.month:02d}-{civil.day:02d}"
        return f"{day_text}T{hour:02d}:{minute:02d}:{second % 60:02d}{fraction}Z"


def parse(text: str) -> Instant:
    """An instant in the full form of RFC 3339, with its offset; the letters T and Z are capitals.

    Raises ValueError, also for a leap second, which no phone's clock shows, and for a day that is none.
    """
    match = _FULL.fullmatch(text)
    if match is None:
        raise ValueError("not a date and time with its offset")
    year, month, day, hour, minute, second = (int(part) for part in match.groups()[:6])
    sign, offset_hour, offset_minute = match[8], int(match[9] or 0), int(match[10] or 0)
    if hour > 23 or minute > 59 or second > 59 or offset_hour > 23 or offset_minute > 59:
        raise ValueError("no such time of day")
    offset_s = 60 * (60 * offset_hour + offset_minute)
    seconds = date(year, month, day).toordinal() * _DAY_S + 3600 * hour + 60 * minute + second
    return Instant(seconds + (offset_s if sign == "-" else -offset_s), (match[7] or "").rstrip("0"))
