"""What is held of a log: entries with a card, found by name, subject, kind and device."""

from collections.abc import Iterable, Sequence

from server.crew import jws
from server.crew.card import Card
from server.logbook.entry import Entry
from server.logbook.kinds import Kinds
from server.logbook.memo import Memo
from server.logbook.past import Past

SheetText = dict[str, str]
"""A sheet as served: `id` and `text`."""


class Held:
    """Entries, cards and files of one log, and the memo of what was computed from them.

    A reading method notes what is being computed as resting on what it read, unless it says otherwise.
    """

    def __init__(self, log: str, kinds: Kinds, sheets: Sequence[SheetText]) -> None:
        self.log = log
        self.kinds = kinds
        self.sheets = list(sheets)
        self.memo = Memo()
        self.past = Past()
        self._entries: dict[str, Entry] = {}
        self._found: dict[str, list[Entry]] = {}
        self._cards: dict[str, list[Card]] = {}
        self._files: dict[str, str] = {}
        self._carried: dict[str, Held] = {}

    def all(self) -> Iterable[Entry]:
        """All that is held; notes nothing."""
        return self._entries.values()

    def entry(self, name: str) -> Entry | None:
        """The entry of this name, if it is here."""
        found = self._entries.get(name)
        if found is None:
            self.memo.rests_on(f"here {name}")
        return found

    def is_carried(self, name: str) -> bool:
        """Whether this name is that of an entry of another log, carried over: nobody waits for it to arrive here."""
        self.memo.rests_on(f"here {name}")
        return any(name in other._entries for other in self._carried.values())

    def logs_together(self) -> "list[Held]":
        """This log and those carried over, by their ids; notes nothing."""
        return sorted([self, *self._carried.values()], key=lambda held: held.log)

    def of_subject(self, subject: str) -> Sequence[Entry]:
        """Entries written on a subject."""
        return self._find(f"subject {subject}")

    def of_thing(self, tag: str) -> Sequence[Entry]:
        """Entries written on a thing of kit, at `kit/TAG` and below."""
        return self._find(f"thing {tag}")

    def of_kind(self, kind: str) -> Sequence[Entry]:
        """Entries of a kind."""
        return self._find(f"kind {kind}")

    def of_device(self, kid: str) -> Sequence[Entry]:
        """Entries of a device."""
        return self._find(f"device {kid}")

    def events_at(self, subject: str) -> Sequence[Entry]:
        """Events written on a subject."""
        return self._find(f"events {subject}")

    def withdraws_of(self, name: str) -> Sequence[Entry]:
        """The withdraws that name this entry."""
        return self._find(f"withdraws {name}")

    def subjects(self) -> list[str]:
        """Every subject that something is written on, sorted; notes nothing."""
        return sorted({entry.subject for entry in self._entries.values()})

    def cards_of_key(self, kid: str) -> Sequence[Card]:
        """The cards of a device's key."""
        return self._cards_at(f"cards {kid}")

    def cards_of_person(self, person: str) -> Sequence[Card]:
        """The cards of a person, whichever key they are of."""
        return self._cards_at(f"person {person}")

    def file(self, digest: str) -> str | None:
        """A file of sheets that an amend names, if it is here."""
        self.memo.rests_on(f"file {digest}")
        return self._files.get(digest)

    def add(self, entry: Entry) -> None:
        """Take an entry whose signature and card are good."""
        self._entries[entry.name] = entry
        places = _places(entry)
        for place in places:
            self._found.setdefault(place, []).append(entry)
        grown = self.past.add(entry)
        for key in (f"here {entry.name}", *places, *(f"past {name}" for name in grown)):
            self.memo.forget(key)

    def add_card(self, card: Card) -> None:
        """Take a card that is believed."""
        for place in (f"cards {card.kid}", f"person {card.person}"):
            self._cards.setdefault(place, []).append(card)
            self.memo.forget(place)

    def add_file(self, digest: str, text: str) -> None:
        """Take a file of sheets whose digest was checked."""
        self._files[digest] = text
        self.memo.forget(f"file {digest}")

    def carry(self, other: "Held") -> None:
        """Take what another log says, or more of it, carried over."""
        self._carried[other.log] = other
        for entry in other.all():
            self.memo.forget(f"here {entry.name}")

    def _find(self, key: str) -> Sequence[Entry]:
        self.memo.rests_on(key)
        return self._found.get(key, [])

    def _cards_at(self, key: str) -> Sequence[Card]:
        self.memo.rests_on(key)
        return self._cards.get(key, [])


def _places(entry: Entry) -> list[str]:
    places = [f"subject {entry.subject}", f"kind {entry.kind}", f"device {entry.kid}"]
    room, _, rest = entry.subject.partition("/")
    if room == "kit" and rest:
        places.append(f"thing {rest.partition('/')[0]}")
    if entry.kind == "event":
        places.append(f"events {entry.subject}")
    named = entry.body.get("entries")
    if entry.kind == "withdraw" and isinstance(named, list):
        places += sorted({f"withdraws {name}" for name in named if jws.is_digest(name)})
    return places
