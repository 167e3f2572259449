"""Clock offsets of a show's zone: phones carry no time zone data where the arithmetic runs."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

BEFORE = timedelta(days=14)
AFTER = timedelta(days=45)


def offsets(zone: str, starts: str, ends: str) -> list[dict[str, str]]:
    """Offsets from two weeks before a show to six after: `[{from, offset}]`, from in UTC, to the hour.

    Raises ZoneInfoNotFoundError or ValueError where zone or days are none.
    """
    here = ZoneInfo(zone)
    moment = datetime.combine(date.fromisoformat(starts), datetime.min.time(), UTC) - BEFORE
    last = datetime.combine(date.fromisoformat(ends), datetime.min.time(), UTC) + AFTER
    changes: list[dict[str, str]] = []
    while moment <= last:
        offset = moment.astimezone(here).strftime("%z")
        written = f"{offset[:3]}:{offset[3:5]}"
        if not changes or changes[-1]["offset"] != written:
            changes.append({"from": moment.isoformat(), "offset": written})
        moment += timedelta(hours=1)
    return changes
