"""What an entry's writer can have known: what it leads to by `previous`, `replaces` and `rests_on`.

Followed through whatever is here. Of that only what may end something is kept: events and reopens.
"""

from server.logbook.entry import Entry

ENDING = {"event", "reopen"}


class Past:
    """The endings in the past of each entry held, whatever the order of arrival."""

    def __init__(self) -> None:
        self._entries: dict[str, Entry] = {}
        self._known: dict[str, frozenset[str]] = {}
        self._followers: dict[str, list[str]] = {}

    def add(self, entry: Entry) -> set[str]:
        """Take an entry; the names of those whose past grew by it."""
        self._entries[entry.name] = entry
        for name in led_to(entry):
            self._followers.setdefault(name, []).append(entry.name)
        grown: set[str] = set()
        queue = [entry.name]
        for name in queue:
            changed = self._renew(name)
            if changed:
                grown.add(name)
            if changed or name == entry.name:
                queue.extend(self._followers.get(name, ()))
        return grown

    def knows(self, name: str, ending: str) -> bool:
        """Whether an event or reopen lies in the past of an entry."""
        return ending in self._known.get(name, frozenset())

    def _renew(self, name: str) -> bool:
        entry = self._entries.get(name)
        if entry is None:
            return False
        known: set[str] = set()
        for before in led_to(entry):
            known |= self._known.get(before, frozenset())
            held = self._entries.get(before)
            if held is not None and held.kind in ENDING:
                known.add(before)
        grown = len(known) > len(self._known.get(name, frozenset()))
        self._known[name] = frozenset(known)
        return grown


def led_to(entry: Entry) -> set[str]:
    """The names that an entry leads back to."""
    names = {*entry.replaces, *entry.rests_on}
    return names if entry.previous is None else names | {entry.previous}
