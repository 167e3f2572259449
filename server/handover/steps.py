"""A sheet's steps as the report tells them: what was written on each, beside the rope."""

from collections.abc import Sequence
from typing import Any

from server.handover import readings
from server.handover.photos import Photos
from server.handover.pictures import NOT_ARRIVED
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.judge import why_not
from server.logbook.steps import Step, parts, sheets
from server.logbook.values import by_name
from server.logbook.views.position import signed_state
from server.logbook.views.shown import counting_of

View = dict[str, Any]


def sheet(fold: Fold, definition: View, sheet_id: str, saying: Saying, photos: Photos) -> View:
    """A sheet: how far it is, whether it is signed, its steps on which something is written, and the others' words."""
    view = views.sheet(fold, definition, sheet_id)
    found = sheets(fold.held)[sheet_id]
    if view is None:
        raise LookupError(f"there is no sheet {sheet_id}")
    pairs = list(zip(found["steps"], view["steps"], strict=True))
    written = [_step(fold, step, one, saying, photos) for step, one in pairs if _is_written(fold, step)]
    return {
        "id": sheet_id,
        "title": view["title"] or sheet_id,
        "stage": view["stage"],
        "done": view["done"],
        "total": view["total"],
        "signed": _signed(signed_state(fold.held, sheet_id)),
        "steps": written,
        "plain": all(is_plain(one) for one in written),
        "silent": [
            str(step.get("do") or step["subject"]) for step, _ in pairs if not _is_written(fold, step)
        ],
    }


def is_plain(told: View) -> bool:
    """Whether a step is done and nothing more is to be said than who did it when."""
    more = ("caution", "readings", "items", "evidence", "faults", "struck")
    return not told["word"] and not any(told[one] for one in more) and not any(map(_verdict, told["values"]))


def _verdict(value: View) -> object:
    return value["verdict"]


def evidence(shown: Sequence[View], saying: Saying, photos: Photos) -> list[View]:
    """Remarks and photos, each photo with its picture as printed or why there is none."""
    return [
        saying.entry(one)
        | (
            {"picture": photos.get(str(one["body"].get("file")), NOT_ARRIVED)}
            if one["kind"] == "photo"
            else {}
        )
        for one in shown
    ]


def told_on(held: Held, subject: str) -> list[View]:
    """Remarks and photos that count on a subject itself."""
    return [
        one
        for kind in ("remark", "photo")
        for one in counting_of(held, kind, lambda entry: entry.subject == subject)
    ]


def _step(fold: Fold, step: Step, view: View, saying: Saying, photos: Photos) -> View:
    values = [saying.entry(one) | {"verdict": readings.verdict(one["body"])} for one in view["values"]]
    read = [saying.entry(one) | readings.told(one["body"], step) for one in view["readings"]]
    items = [_item(one, saying) for one in view["items"]]
    return {
        "do": str(step.get("do") or step["subject"]),
        "caution": step.get("caution") if step.get("hazard") else None,
        "mark": _mark(view, [*values, *read, *(one for item in items for one in item["values"])]),
        "word": _word(view),
        "values": values,
        "readings": read,
        "items": items,
        "evidence": evidence(view["evidence"], saying, photos),
        "faults": saying.all(view["faults"]),
        "struck": _struck(fold, step, saying),
    }


def _item(item: View, saying: Saying) -> View:
    return {**item, "values": saying.all(item["values"])}


def _struck(fold: Fold, step: Step, saying: Saying) -> list[View]:
    """What was written and does not count, each with why."""
    written = (entry for one in {step["subject"], *parts(step)} for entry in fold.held.of_subject(one))
    return [
        saying.entry(views.shown(entry)) | {"why": saying.why_struck(entry)}
        for entry in by_name(written)
        if why_not(fold.held, entry) is not None
    ]


def _word(view: View) -> str:
    """The word of a step's state, where there is more to say than who did it when."""
    disputed = view["state"] == "disputed" or any(item["state"] == "disputed" for item in view["items"])
    if disputed:
        return "Disputed"
    if view["state"] == "waits" or any(item["state"] == "waits" for item in view["items"]):
        return "Waits for entries that have not arrived"
    if view["ended"]:
        return "To be looked at again: something happened since"
    if view["stale"]:
        return "To be looked at again: something else stands there now"
    return "" if view["done"] else "Not done"


def _mark(view: View, said: Sequence[View]) -> str:
    """How the rope is drawn beside a step."""
    word = _word(view)
    if word == "Disputed":
        return "disputed"
    if word.startswith("To be looked at again"):
        return "again"
    if word:
        return "struck" if not said else "open"
    return "crossed" if any(one["notes"] for one in said if _is_out_of_order(one)) else "done"


def _is_out_of_order(said: View) -> bool:
    return any("without sight" in note or note.startswith("passed") for note in said["notes"])


def _signed(state: View) -> str:
    return "signed" if state["signed"] else "changed since signed" if state["changed"] else "not signed"


def _is_written(fold: Fold, step: Step) -> bool:
    return any(fold.held.of_subject(one) for one in {step["subject"], *parts(step)})
