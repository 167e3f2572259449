"""The sheets of a show as they stand: as served, with what amends add and withdraw."""

from dataclasses import dataclass
from typing import Any

from server.crew import ijson, jws
from server.logbook import judge
from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.kinds import Kinds, fits

Step = dict[str, Any]
Sheet = dict[str, Any]


@dataclass(frozen=True)
class Place:
    """Where a subject stands: its step, that step's sheet, and the item where it is one of a count."""

    step: Step
    sheet: str
    item: str | None
    withdrawn: bool


def sheets(held: Held) -> dict[str, Sheet]:
    """The sheets by id; `steps` are those that are not withdrawn, added ones last."""

    def found() -> dict[str, Sheet]:
        gone = _withdrawn_steps(held)
        return {
            sheet["id"]: sheet | {"steps": [step for step in sheet["steps"] if step["subject"] not in gone]}
            for sheet in _all_sheets(held)
        }

    return held.memo.answer("sheets", found)


def places(held: Held) -> dict[str, Place]:
    """Every step and item by its subject, withdrawn steps too: their roles go on judging."""

    def found() -> dict[str, Place]:
        gone = _withdrawn_steps(held)
        known: dict[str, Place] = {}
        for sheet in _all_sheets(held):
            for step in sheet["steps"]:
                subject = step["subject"]
                if subject in known:
                    continue
                known[subject] = Place(step, sheet["id"], None, subject in gone)
                for item in items(step):
                    known[f"{subject}/{item}"] = Place(step, sheet["id"], item, subject in gone)
        return known

    return held.memo.answer("places", found)


def step_of(held: Held, subject: str) -> Place | None:
    """The step that a subject is, or is an item of: on a count step also of one that its list does not name."""
    known = places(held)
    if subject in known:
        return known[subject]
    above, _, item = subject.rpartition("/")
    place = known.get(above)
    if place is None or place.item is not None or place.step["asks"] != "count":
        return None
    return Place(place.step, place.sheet, item, place.withdrawn)


def items(step: Step) -> list[str]:
    """The tags that a count step lists, sorted: their order in a sheet's text is another in another language."""
    return sorted(step.get("items") or {}) if step["asks"] == "count" else []


def parts(step: Step) -> list[str]:
    """The subjects that a step's state stands on: its own, or those of its items."""
    subject = step["subject"]
    return [f"{subject}/{item}" for item in items(step)] if step["asks"] == "count" else [subject]


def digest(held: Held, sheet: str) -> str | None:
    """What a signature over a sheet is compared over: its text, then the names of the amends that touch it."""

    def found() -> str | None:
        standing = sheets(held).get(sheet)
        if standing is None:
            return None
        names = sorted(amend.name for amend in amends(held) if amend.body.get("sheet") == sheet)
        return jws.sha256("\n".join([standing["text"], *names]).encode())

    return held.memo.answer(f"digest {sheet}", found)


def missing_files(held: Held) -> list[str]:
    """Digests of the files of sheets that amends name and that are not here."""
    named = [str(amend.body["digest"]) for amend in amends(held) if amend.body["change"] == "add-sheets"]
    return [one for one in named if held.file(one) is None]


def is_added(kinds: Kinds, text: str) -> bool:
    """Whether a text is a file of what an amend may add: what is not stays missing, to be sent again."""
    rule = kinds.get("amend", {})
    if "file" not in rule:
        return False
    try:
        file = _json(text)
        return fits(file, rule["file"]) and all(
            fits(_json(sheet), rule["sheet"]) for sheet in dict(file).get("sheets", [])
        )
    except ijson.NotIJson:
        return False


def added_by(held: Held, amend: Entry) -> dict[str, Any]:
    """What the file of an add-sheets amend holds; nothing while it is not here."""
    file = held.file(str(amend.body["digest"]))
    return {} if file is None else dict(_json(file))


def amends(held: Held) -> list[Entry]:
    """The amends that count, by name."""

    def found() -> list[Entry]:
        counting = [entry for entry in held.of_kind("amend") if judge.counts(held, entry)]
        return sorted(counting, key=lambda entry: entry.name)

    return held.memo.answer("amends", found)


def _withdrawn_steps(held: Held) -> set[object]:
    return {amend.body["step"] for amend in amends(held) if amend.body["change"] == "withdraw-step"}


def _all_sheets(held: Held) -> list[Sheet]:
    def found() -> list[Sheet]:
        added = [text for amend in amends(held) for text in _added_texts(held, amend)]
        served = [_read(text) for text in [*(sheet["text"] for sheet in held.sheets), *added]]
        return [sheet | {"steps": [*sheet["steps"], *_added_steps(held, sheet)]} for sheet in served]

    return held.memo.answer("all sheets", found)


def _added_texts(held: Held, amend: Entry) -> list[str]:
    if amend.body["change"] != "add-sheets":
        return []
    return list(added_by(held, amend).get("sheets", []))


def _added_steps(held: Held, sheet: Sheet) -> list[Step]:
    """An amend never changes a step: one that is there already is not added again."""
    there = {step["subject"] for step in sheet["steps"]}
    added = []
    for amend in amends(held):
        step = amend.body.get("added")
        mine = amend.body["change"] == "add-step" and amend.body.get("sheet") == sheet["id"]
        if mine and isinstance(step, dict) and step["subject"] not in there:
            there.add(step["subject"])
            added.append(step)
    return added


def _read(text: str) -> Sheet:
    return {"title": "", "signed_by": [], **_json(text), "text": text}


def _json(text: str) -> Any:
    return ijson.loads(text.encode("utf-8", "surrogatepass"))
