"""Values: what a subject's state entries come to, settled, disputed or waiting."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import counts, is_state, is_well_formed, says


@dataclass(frozen=True)
class Standing:
    """How values stand to each other: none, settled, disputed or waits, and the names not here they wait for."""

    state: str
    waits_for: tuple[str, ...] = ()


def by_name(entries: Iterable[Entry]) -> list[Entry]:
    """Entries in the order of their names."""
    return sorted(entries, key=lambda entry: entry.name)


def values(held: Held, subject: str) -> Sequence[Entry]:
    """The counting state entries of a subject that no other one replaces, by name."""

    def found() -> list[Entry]:
        counting = stating(held, subject)
        replaced, _ = reached(held, counting)
        return by_name(entry for entry in counting if entry.name not in replaced)

    return held.memo.answer(f"values {subject}", found)


def readings(held: Held, subject: str) -> Sequence[Entry]:
    """The readings of a subject that count, by name."""

    def found() -> list[Entry]:
        written = held.of_subject(subject)
        return by_name(entry for entry in written if entry.kind == "reading" and counts(held, entry))

    return held.memo.answer(f"readings {subject}", found)


def standing(held: Held, subject: str) -> Standing:
    """How the values of a subject stand to each other."""

    def found() -> Standing:
        now = values(held, subject)
        if not now:
            return Standing("none")
        if len({says(held, entry) for entry in now}) == 1:
            return Standing("settled")
        _, absent = reached(held, now)
        return Standing("waits", tuple(sorted(absent))) if absent else Standing("disputed")

    return held.memo.answer(f"standing {subject}", found)


def settled(held: Held, subject: str) -> Entry | None:
    """One of the values of a settled subject: all of them state the same."""
    return values(held, subject)[0] if standing(held, subject).state == "settled" else None


def contradicting(held: Held, entry: Entry) -> Sequence[Entry]:
    """The counting entries that replaced a state entry, through any chain, and state otherwise."""

    def found() -> list[Entry]:
        others = [one for one in stating(held, entry.subject) if says(held, one) != says(held, entry)]
        return [one for one in others if entry.name in reached(held, [one])[0]]

    return held.memo.answer(f"contradicting {entry.name}", found)


def is_statement(held: Held, entry: Entry) -> bool:
    """Whether an entry is a well-formed one of a kind that states, counting or not."""
    return is_state(held, entry) and is_well_formed(held, entry)


def reached(held: Held, entries: Iterable[Entry]) -> tuple[set[str], set[str]]:
    """Names that entries of one subject lead to by `replaces`, through whatever of it is here: (here, absent).

    A name carried over from another log is neither: here it does nothing.
    """
    here: set[str] = set()
    absent: set[str] = set()
    queue = list(entries)
    for one in queue:
        for name in one.replaces:
            entry = held.entry(name)
            if entry is None:
                if not held.is_carried(name):
                    absent.add(name)
            elif entry.subject == one.subject and name not in here:
                here.add(name)
                queue.append(entry)
    return here, absent


def stating(held: Held, subject: str) -> list[Entry]:
    """The state entries of a subject that count."""
    return [entry for entry in held.of_subject(subject) if is_state(held, entry) and counts(held, entry)]
