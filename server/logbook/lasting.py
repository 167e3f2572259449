"""How long what was done lasts: ended by an event, stale by another link, or until a time."""

from collections.abc import Sequence
from dataclasses import dataclass

from server.logbook import instant
from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import counts
from server.logbook.positions import slot_for, tags_in, tags_of
from server.logbook.steps import Step, parts
from server.logbook.values import contradicting, readings, values


@dataclass(frozen=True)
class Lasting:
    """Whether all that one part stands on is ended or stale, and until when the rest holds."""

    ended: bool = False
    stale: bool = False
    until: str | None = None


def evidence(held: Held, step: Step) -> list[Sequence[Entry]]:
    """What a step's state stands on: its readings, the values of each of its items, or its values; a list a part."""
    read = readings if step["asks"] == "reading" else values
    return [read(held, subject) for subject in parts(step)]


def lasting(held: Held, step: Step, item: str | None = None) -> Lasting:
    """How long what a step, or the item of it that has this subject, stands on lasts."""

    def found() -> Lasting:
        all_parts = evidence(held, step) if item is None else [values(held, item)]
        stands = [part for part in all_parts if part]
        holding = [[entry for entry in part if still_holds(held, entry, step)] for part in stands]
        return Lasting(
            any(all(is_ended(held, entry, step) for entry in part) for part in stands),
            any(all(is_stale(held, entry, step) for entry in part) for part in stands),
            _until(holding, step["minutes"]),
        )

    return held.memo.answer(f"lasting {item or step['subject']}", found)


def still_holds(held: Held, entry: Entry, step: Step) -> bool:
    """Whether a value or reading of a step is neither ended nor stale."""
    return not is_ended(held, entry, step) and not is_stale(held, entry, step)


def is_ended(held: Held, entry: Entry, step: Step) -> bool:
    """Whether an event that ends this step is not in the past of an entry: unknown order means ended."""
    held.memo.rests_on(f"past {entry.name}")
    return any(
        one.name != entry.name and not held.past.knows(entry.name, one.name) for one in endings(held, step)
    )


def endings(held: Held, step: Step) -> list[Entry]:
    """The counting entries that end a step.

    Its events, at its subject, above it and on the show; on reading and count steps reopens of the step itself.
    """

    def found() -> list[Entry]:
        events = [
            event
            for subject in _at_and_above(step["subject"])
            for event in held.events_at(subject)
            if event.body.get("event") in step["ended_by"]
        ]
        written = held.of_subject(step["subject"]) if step["asks"] in {"reading", "count"} else ()
        reopens = [entry for entry in written if entry.kind == "reopen"]
        return [entry for entry in [*events, *reopens] if counts(held, entry)]

    return held.memo.answer(f"endings {step['subject']}", found)


def is_stale(held: Held, entry: Entry, step: Step) -> bool:
    """Whether another tag than in its `chain` now stands where the step is about.

    Or whether an assign that the entry rests on was replaced by one that states otherwise.
    """
    for link in step["about"]:
        slot = slot_for(step["subject"], link)
        if slot is None:
            continue
        then, now = tags_of((entry.chain or {}).get(link)), tags_in(held, slot)
        if (then is not None and now is not None and then != now) or _rests_on_replaced(held, entry, slot):
            return True
    return False


def _rests_on_replaced(held: Held, entry: Entry, slot: str) -> bool:
    assigns = (held.entry(name) for name in entry.rests_on)
    return any(
        any(one.kind == "assign" for one in contradicting(held, assign))
        for assign in assigns
        if assign is not None and assign.subject == slot and assign.kind == "assign"
    )


def _at_and_above(subject: str) -> list[str]:
    words = subject.split("/")
    above = ["/".join(words[:count]) for count in range(1, len(words) + 1)]
    return above if "show" in above else [*above, "show"]


def _until(holding: Sequence[Sequence[Entry]], minutes: int | None) -> str | None:
    """The earliest over the parts of: the latest that still holds, plus the step's minutes."""
    if minutes is None:
        return None
    latest = [max(instant.parse(entry.at) for entry in part) for part in holding if part]
    return min(latest).plus_minutes(minutes).in_utc() if latest else None
