"""What was written after a log was closed: it is stored and counts, and is shown as such (section 1)."""

from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import counts


def after_closing(held: Held) -> frozenset[str]:
    """Names of the entries that no counting `close` took in by the heads it names; none while nobody closed."""
    closes = [entry for entry in held.of_kind("close") if counts(held, entry)]
    if not closes:
        return frozenset()
    taken = {close.name for close in closes}
    queue = [str(head) for close in closes for head in _heads(close)]
    for name in queue:
        entry = held.entry(name)
        if entry is not None and name not in taken:
            taken.add(name)
            queue += [entry.previous] if entry.previous else []
    return frozenset(entry.name for entry in held.all() if entry.name not in taken)


def _heads(close: Entry) -> list[object]:
    heads = close.body["heads"]
    return heads if isinstance(heads, list) else []
