"""A sheet: its steps as they stand, in the order of work, and the names put to it."""

from collections.abc import Sequence
from typing import Any

from server.logbook.fold import Fold
from server.logbook.gates import gate, is_done
from server.logbook.held import Held
from server.logbook.judge import counts, why_not
from server.logbook.lasting import lasting
from server.logbook.signatures import changed_since, signs
from server.logbook.steps import Step, items, sheets
from server.logbook.values import by_name, readings, standing
from server.logbook.views.definition import Definition
from server.logbook.views.shown import Shown, all_shown, shown, values_shown

View = dict[str, Any]


def sheet(fold: Fold, _definition: Definition, sheet_id: str) -> View | None:
    """A sheet's view; None where there is no such sheet. Every view of one thing is asked for alike."""
    found = sheets(fold.held).get(sheet_id)
    if found is None:
        return None
    return {
        "id": sheet_id,
        "title": found["title"],
        "stage": found["stage"],
        **progress(fold.held, found["steps"]),
        "steps": [_step(fold, step) for step in found["steps"]],
        "signatures": signatures_on(fold.held, sheet_id),
    }


def progress(held: Held, steps: Sequence[Step]) -> View:
    """How many of these steps are done."""
    return {"done": sum(is_done(held, step) for step in steps), "total": len(steps)}


def signatures_on(held: Held, sheet_id: str) -> list[Shown]:
    """The names put to a sheet, each with what has changed since."""
    names = by_name(sign for sign in signs(held) if sign.body["sheet"] == sheet_id)
    changes = [(sign, changed_since(held, sign)) for sign in names]
    return [
        {**shown(sign), "changed": change.changed, "subjects": list(change.subjects)}
        for sign, change in changes
    ]


def _step(fold: Fold, step: Step) -> View:
    held, subject = fold.held, step["subject"]
    subjects = [subject, *(f"{subject}/{item}" for item in items(step))]
    written = [entry for one in subjects for entry in held.of_subject(one)]
    counting = [entry for entry in written if counts(held, entry)]
    lasts, stands = lasting(held, step), gate(held, step)
    return {
        "subject": subject,
        "state": standing(held, subject).state,
        "done": is_done(held, step),
        "ended": lasts.ended,
        "until": lasts.until,
        "stale": lasts.stale,
        "gate": stands.word,
        "waits_for": list(stands.waits_for),
        "unseen": list(stands.unseen),
        "values": values_shown(held, subject),
        "readings": all_shown(readings(held, subject)),
        "evidence": all_shown(entry for entry in counting if entry.kind in {"photo", "remark"}),
        "faults": all_shown(entry for entry in counting if entry.kind == "fault"),
        "struck": all_shown(entry for entry in written if why_not(held, entry) == "withdrawn"),
        "marks": {name: found for one in subjects for name, found in fold.subject(one)["marks"].items()},
        "items": [_item(held, step, item) for item in items(step)],
    }


def _item(held: Held, step: Step, item: str) -> View:
    subject = f"{step['subject']}/{item}"
    return {
        "item": item,
        "listed": step["items"][item],
        "state": standing(held, subject).state,
        "values": values_shown(held, subject),
    }
