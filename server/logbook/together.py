"""All logs of a unit together: what this one and those carried over state of a subject, side by side.

Here `replaces` acts across logs. In a log's own values and gates it does not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import says
from server.logbook.values import stating


@dataclass(frozen=True)
class Said:
    """An entry, and the log that it stands in."""

    log: str
    entry: Entry


@dataclass(frozen=True)
class Together:
    """`state` is none, settled, disputed or waits, as within one log; the values by log and name."""

    state: str
    values: Sequence[Said]


def together(held: Held, subject: str) -> Together:
    """How a subject stands over all logs: each log judges its own entries, any log's may replace them."""
    logs = held.logs_together()
    counting = [Said(log.log, entry) for log in logs for entry in stating(log, subject)]
    replaced, _ = _reached(logs, [said.entry for said in counting])
    now = [said for said in counting if said.entry.name not in replaced]
    now.sort(key=lambda said: (said.log, said.entry.name))
    if not now:
        return Together("none", now)
    if len({says(held, said.entry) for said in now}) == 1:
        return Together("settled", now)
    _, absent = _reached(logs, [said.entry for said in now])
    return Together("waits" if absent else "disputed", now)


def _reached(logs: Sequence[Held], entries: Sequence[Entry]) -> tuple[set[str], bool]:
    """Names that entries lead to by `replaces`, through those of their subject; whether one is in no log here."""
    here: set[str] = set()
    absent = False
    queue = list(entries)
    for one in queue:
        for name in one.replaces:
            found = next((entry for log in logs if (entry := log.entry(name)) is not None), None)
            if found is None:
                absent = True
            elif found.subject == one.subject and name not in here:
                here.add(name)
                queue.append(found)
    return here, absent
