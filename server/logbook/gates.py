"""Gates: what is done, and what may be done now. A gate stands on the phone, never at receipt."""

from collections.abc import Sequence
from dataclasses import dataclass

from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.judge import counts, is_state, why_not
from server.logbook.kinds import is_decimal, plain
from server.logbook.lasting import evidence, still_holds
from server.logbook.positions import is_in_two_places
from server.logbook.steps import Step, parts, places
from server.logbook.values import readings, settled, standing, values


@dataclass(frozen=True)
class Gate:
    """`word` is open, shut or unseen; the awaited subjects of which this phone holds a no, and of which nothing."""

    word: str
    waits_for: Sequence[str]
    unseen: Sequence[str]


def is_done(held: Held, step: Step) -> bool:
    """Whether a step has a settled value that says so, a reading that counts, or each item at its number."""

    def found() -> bool:
        subject, asks = step["subject"], step["asks"]
        if asks == "reading":
            return bool(readings(held, subject))
        if asks == "count":
            listed = step.get("items") or {}
            return bool(listed) and all(
                is_counted_at(held, f"{subject}/{item}", number) for item, number in listed.items()
            )
        value = settled(held, subject)
        if asks == "choice":
            return _is_chosen(step, value)
        if value is None or value.kind != "tick":
            return False
        return asks == "tick" or any(_has_proof(held, tick, step) for tick in values(held, subject))

    return held.memo.answer(f"done {step['subject']}", found)


def is_counted_at(held: Held, subject: str, number: str) -> bool:
    """Whether a count subject is settled at a number; at what a list has and is no figure, it never is."""
    value = settled(held, subject)
    if value is None or value.kind != "count" or not is_decimal(number):
        return False
    return plain(str(value.body["number"])) == plain(number)


def gate(held: Held, step: Step) -> Gate:
    """The gate of a step, and the awaited subjects that hold it."""

    def found() -> Gate:
        answers = [(subject, _answer_of(held, subject)) for subject in step["after"]]
        waiting = [subject for subject, answer in answers if answer == "no"]
        unseen = [subject for subject, answer in answers if answer == "unseen"]
        return Gate("shut" if waiting else "unseen" if unseen else "open", waiting, unseen)

    return held.memo.answer(f"gate {step['subject']}", found)


def awaited(held: Held, step: Step) -> list[Step]:
    """The steps that a step waits for and that have not been withdrawn."""
    known = (places(held).get(subject) for subject in step["after"])
    return [place.step for place in known if place is not None and not place.withdrawn]


def _answer_of(held: Held, subject: str) -> str:
    place = places(held).get(subject)
    if place is None:
        return "unseen"  # what no sheet here has, no entry here can answer
    if place.withdrawn:
        return "yes"
    if not _is_held(held, place.step):
        return "unseen"
    return "yes" if _opens(held, place.step) else "no"


def _opens(held: Held, step: Step) -> bool:
    return (
        is_done(held, step)
        and standing(held, step["subject"]).state not in {"disputed", "waits"}
        and not is_in_two_places(held, step)
        and all(any(still_holds(held, entry, step) for entry in part) for part in evidence(held, step))
    )


def _is_held(held: Held, step: Step) -> bool:
    """Whether anything is here that says how a step stands, be it that it was withdrawn."""
    return any(
        (is_state(held, entry) or entry.kind == "reading") and why_not(held, entry) in {None, "withdrawn"}
        for subject in {step["subject"], *parts(step)}
        for entry in held.of_subject(subject)
    )


def _is_chosen(step: Step, value: Entry | None) -> bool:
    if value is None or value.kind != "choice":
        return False
    choices = step.get("choices")
    if choices is None:
        return True
    return any(one["id"] == value.body["choice"] and one["done"] for one in choices)


def _has_proof(held: Held, tick: Entry, step: Step) -> bool:
    """Whether a tick rests on the photo or remark that its step asks for."""
    proofs = (held.entry(name) for name in tick.rests_on)
    return any(
        proof.kind == step["asks"] and proof.subject == step["subject"] and counts(held, proof)
        for proof in proofs
        if proof is not None
    )
