"""Signatures: a name put to a sheet, and what has changed on it since."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import counts, says, why_not
from server.logbook.lasting import is_ended, is_stale, still_holds
from server.logbook.steps import Step, digest, parts, sheets
from server.logbook.values import contradicting, is_statement, readings, values


@dataclass(frozen=True)
class Change:
    """What has changed since a signature: `changed` with no subjects is another digest."""

    changed: bool
    subjects: Sequence[str]


def signs(held: Held) -> list[Entry]:
    """The signatures that count."""
    return held.memo.answer("signs", lambda: [one for one in held.of_kind("sign") if counts(held, one)])


def changed_since(held: Held, sign: Entry) -> Change:
    """What has changed since a counting signature."""

    def found() -> Change:
        sheet = str(sign.body["sheet"])
        named = sign.body["covers"]
        covered = set(named) if isinstance(named, list) else set()
        subjects = sorted(
            subject
            for subject, step in _subjects_of(held, sheet)
            if _is_changed(held, subject, step, covered)
        )
        return Change(bool(subjects) or sign.body["digest"] != digest(held, sheet), subjects)

    return held.memo.answer(f"changed {sign.name}", found)


def _subjects_of(held: Held, sheet: str) -> Iterator[tuple[str, Step]]:
    standing = sheets(held).get(sheet)
    for step in standing["steps"] if standing else ():
        for subject in dict.fromkeys([step["subject"], *parts(step)]):
            yield subject, step


def _is_changed(held: Held, subject: str, step: Step, names: set[str]) -> bool:
    covered = [
        entry
        for entry in held.of_subject(subject)
        if entry.name in names and (is_statement(held, entry) or entry.kind == "reading")
    ]
    good = [entry for entry in readings(held, subject) if still_holds(held, entry, step)]
    now = {says(held, entry) for entry in [*values(held, subject), *good]}
    if now != {says(held, entry) for entry in covered}:
        return True
    return any(
        why_not(held, entry) == "withdrawn"
        or any(one.name not in names for one in contradicting(held, entry))
        or is_ended(held, entry, step)
        or is_stale(held, entry, step)
        for entry in covered
    )
