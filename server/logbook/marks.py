"""Marks on what was done: what its writer had not seen, had not got, or leant on though it was taken back."""

from collections.abc import Sequence

from server.logbook.entry import Entry
from server.logbook.gates import awaited
from server.logbook.held import Held
from server.logbook.judge import counts, is_state, why_not
from server.logbook.steps import parts, step_of
from server.logbook.values import contradicting, is_statement


def marks(held: Held, entry: Entry) -> list[str]:
    """The marks of a value or reading, sorted; reopens carry none."""

    def found() -> list[str]:
        rest = {name: held.entry(name) for name in entry.rests_on}
        here = [one for one in rest.values() if one is not None]
        marked = {
            "passed": bool(entry.body.get("passed")) and isinstance(entry.body["passed"], list),
            "rested-on-taken-back": any(_was_taken_back(held, one) for one in here),
            "rests-on-absent": any(one is None and not held.is_carried(name) for name, one in rest.items()),
            "without-sight": _is_without_sight(held, entry, here),
        }
        return [mark for mark, stands in marked.items() if stands]

    return [] if entry.kind == "reopen" else held.memo.answer(f"marks {entry.name}", found)


def _was_taken_back(held: Held, entry: Entry) -> bool:
    if why_not(held, entry) == "withdrawn":
        return True
    return is_statement(held, entry) and bool(contradicting(held, entry))


def _is_without_sight(held: Held, entry: Entry, rest: Sequence[Entry]) -> bool:
    place = step_of(held, entry.subject)
    if place is None:
        return False
    seen = {
        one.subject for one in rest if (is_state(held, one) or one.kind == "reading") and counts(held, one)
    }
    return any(not seen & {before["subject"], *parts(before)} for before in awaited(held, place.step))
