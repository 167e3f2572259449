"""How the report says things: whose names, which clock, what an entry states, what is to be known beside it."""

from collections.abc import Iterable
from datetime import datetime
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

from server.handover.closing import after_closing
from server.logbook.entry import Entry
from server.logbook.fold import Fold
from server.logbook.judge import counts, why_not
from server.logbook.marks import marks
from server.logbook.steps import Step, sheets, step_of
from server.logbook.views.reconcile import AWAY

View = dict[str, Any]

MARKS = {
    "without-sight": "ticked without sight of what it waits for",
    "rests-on-absent": "rests on what has not arrived",
    "rested-on-taken-back": "rests on what was taken back",
}
NOT_COUNTED = {
    "no-card": "its writer has no card here",
    "person": "it is by somebody whose card is not of this phone",
    "revoked": "this phone was cut off",
    "withdrawn": "taken back",
    "unknown-kind": "written by a newer version",
    "role": "its writer has not the role",
    "body": "not written as its kind asks",
}


class Saying:
    """Names, clock and words of one show."""

    def __init__(self, definition: View, fold: Fold) -> None:
        self._zone = ZoneInfo(definition["zone"])
        self._names = {one["person"]: one["name"] for one in definition["people"]}
        self._kit = {one["tag"]: one["name"] for one in definition["kit"]}
        self._events = {one["id"]: one["label"] for one in definition.get("events") or []}
        self._positions = {one["id"]: one["name"] for one in definition["positions"]}
        self._fold = fold

    def person(self, person: str) -> str:
        """How somebody is called; who wrote in a log and is not of the crew stands by their card, or their id."""
        cards = self._fold.held.cards_of_person(person)
        return str(self._names.get(person) or next((card.name for card in cards), person))

    def item(self, tag: str) -> str:
        """What a tag hangs on."""
        return str(self._kit.get(tag, tag))

    def place(self, where: object) -> str:
        """A place: a locker or a position by its own word, or how a thing is away (left at site, lent, ...)."""
        said = str(where)
        return said.removeprefix(AWAY).replace("-", " ") if said.startswith(AWAY) else said.replace("/", " ")

    def seen(self, where: object, entry: View) -> str:
        """Where a thing was last seen or how it is away, what was written to it, and by whom."""
        at = self.place(where) if str(where).startswith(AWAY) else f"last at {self.place(where)}"
        text = entry["body"].get("text") if entry["kind"] == "place" else None
        return ", ".join([f"{at}: {text}" if text else at, self.entry(entry)["whose"]])

    def sheet(self, sheet: str) -> str:
        """A sheet's title."""
        found = sheets(self._fold.held).get(sheet)
        return str(found["title"] or sheet) if found else sheet

    def step(self, subject: str) -> str:
        """What a step of a sheet asks, where its sheet is named already; other subjects in full."""
        place = step_of(self._fold.held, subject)
        if place is None:
            return self.subject(subject)
        do = str(place.step.get("do") or place.step["subject"])
        return do if place.item is None else f"{place.item}, in: {do}"

    def subject(self, subject: str) -> str:
        """What a subject is, for somebody who reads."""
        place = step_of(self._fold.held, subject)
        if place is not None:
            return f"{self.step(subject)} ({self.sheet(place.sheet)})"
        room, _, rest = subject.partition("/")
        name, _, what = rest.partition("/")
        if room == "kit":
            return f"{name} {self.item(name)}" + (f": {what}" if what else "")
        if room == "position":
            named = f"position {name}, {self._positions.get(name, '')}".rstrip(", ")
            return named + (f": {what.replace('/', ' ')}" if what else "")
        return self.place(subject)

    def time(self, at: str) -> str:
        """A phone's time by the show's clock; as it was written where it is no time."""
        try:
            return datetime.fromisoformat(at).astimezone(self._zone).strftime("%a %-d %b %H:%M")
        except (ValueError, OverflowError):
            return at

    def entry(self, shown: View) -> View:
        """An entry as the views show it, with its writer's name, time, what it states, and what to know of it."""
        whose = self.person(shown["by"])
        if shown.get("for"):
            whose = f"{whose}, on the word of {self.person(shown['for'])}"
        if shown.get("witness"):
            whose = f"{whose}, seen by {self.person(shown['witness'])}"
        entry = self._fold.entry(shown["name"])
        return {
            **shown,
            "whose": whose,
            "when": self.time(shown["at"]),
            "states": self.states(shown, self._step(entry)),
            "notes": [] if entry is None else self.notes(entry),
        }

    def all(self, shown: Iterable[View]) -> list[View]:
        """Entries as they are said."""
        return [self.entry(one) for one in shown]

    def states(self, shown: View, step: Step | None = None) -> str:
        """What an entry states, in a few words; a tick in the words of its step."""
        kind, body = shown["kind"], shown["body"]
        if kind == "tick":
            return str((step or {}).get("done") or "done")
        if kind == "choice":
            choices = {one["id"]: one["label"] for one in (step or {}).get("choices") or []}
            told = body.get("told") or {}
            said = str(choices.get(body.get("choice"), body.get("choice")))
            return f"{said}, told {told['who']}" if isinstance(told, dict) and told.get("who") else said
        if kind == "place":
            place = self.place(body.get("where"))
            return f"{place}: {body['text']}" if body.get("text") else place
        if kind == "event":
            label = str(self._events.get(body.get("event"), body.get("event")))
            return f"{label}: {body['text']}" if body.get("text") else label
        return _states(kind, body)

    def notes(self, entry: Entry) -> list[str]:
        """What is to be known of an entry: who confirmed it, what it leans on, that it came after the closing."""
        marked = marks(self._fold.held, entry)
        notes = [self._confirmed(one) for one in self._witnesses.get(entry.name, ())]
        if "passed" in marked:
            notes += [self._passed(one) for one in _passed(entry)]
        notes += [words for mark, words in MARKS.items() if mark in marked]
        return notes + (["after closing"] if entry.name in self._late else [])

    def why_struck(self, entry: Entry) -> str:
        """Why an entry does not count, and by whom it was taken back."""
        held = self._fold.held
        why = why_not(held, entry) or ""
        backs = (
            [one for one in held.withdraws_of(entry.name) if counts(held, one)] if why == "withdrawn" else []
        )
        said = [f"{one.body.get('reason')}: {self.person(one.by)}, {self.time(one.at)}" for one in backs]
        return "; ".join([NOT_COUNTED.get(why, why), *said])

    def _step(self, entry: Entry | None) -> Step | None:
        place = None if entry is None else step_of(self._fold.held, entry.subject)
        return None if place is None else place.step

    def _confirmed(self, witness: Entry) -> str:
        return f"seen by {self.person(witness.by)}, {self.time(witness.at)}"

    def _passed(self, told: View) -> str:
        return f"passed on the word of {told.get('told_by')}: {self.subject(str(told.get('subject')))}"

    @cached_property
    def _witnesses(self) -> dict[str, list[Entry]]:
        held = self._fold.held
        found: dict[str, list[Entry]] = {}
        for one in held.of_kind("witness"):
            if len(one.rests_on) == 1 and counts(held, one):
                found.setdefault(one.rests_on[0], []).append(one)
        return found

    @cached_property
    def _late(self) -> frozenset[str]:
        return after_closing(self._fold.held)


def _passed(entry: Entry) -> list[View]:
    passed = entry.body["passed"]
    return [one for one in passed if isinstance(one, dict)] if isinstance(passed, list) else []


def _states(kind: str, body: View) -> str:
    if kind == "reading":
        return f"{body.get('figure')} {body.get('unit')}"
    if kind == "count":
        return f"counted {body.get('number')}"
    if kind == "reopen":
        return f"no longer so: {body.get('reason')}"
    if kind == "assign":
        tags = body.get("tags")
        return ", ".join(map(str, tags)) if isinstance(tags, list) else str(body.get("tag") or "none")
    if kind == "test":
        return ": ".join(str(body[word]) for word in ("result", "text") if body.get(word))
    for member in ("text", "state", "reason", "where", "seen"):
        if body.get(member):
            said = str(body[member])
            return f"{said}: {body['reason']}" if member == "state" and body.get("reason") else said
    return {"photo": "photo"}.get(kind, kind)
