"""The fold: a log's entries and cards in, what they come to out. Nothing of it is ever stored as truth."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypedDict

from server.crew import jws
from server.crew.card import NotACard, UnitKeys
from server.logbook.entry import Entry, Refused, parse
from server.logbook.gates import gate, is_counted_at, is_done
from server.logbook.heads import heads
from server.logbook.held import Held, SheetText
from server.logbook.judge import counts, why_not
from server.logbook.kinds import Kinds
from server.logbook.lasting import Lasting, lasting
from server.logbook.marks import marks
from server.logbook.signatures import changed_since, signs
from server.logbook.steps import Place, is_added, missing_files, places
from server.logbook.values import readings, standing, values

Answer = dict[str, Any]
"""The whole answer, as the shared vectors state it: entries, subjects, gates, signatures, devices."""


class Carried(TypedDict):
    """What another log of the unit says, carried over: its id, and entries verbatim."""

    log: str
    entries: Sequence[str]


@dataclass(frozen=True)
class History:
    """The whole input of a fold: `sheets` as served, cards and entries as they came, files of amends by digest.

    `carried_over` is what the unit's other logs say of kit; their cards are among `cards`.
    """

    log: str
    unit_key: jws.Jwk
    sheets: Sequence[SheetText]
    cards: Sequence[str]
    entries: Sequence[str]
    kinds: Kinds
    files: Mapping[str, str] = field(default_factory=dict)
    carried_over: Sequence[Carried] = ()


def fold(history: History) -> "Fold":
    """The fold of a whole history."""
    made = Fold(
        log=history.log,
        unit_key=history.unit_key,
        kinds=history.kinds,
        sheets=history.sheets,
        files=history.files,
    )
    made.add_cards(history.cards)
    made.add_carried(history.carried_over)
    made.add_entries(history.entries)
    return made


class Fold:
    """What a log comes to, entry by entry in any order: a plain one costs its subject, not the log."""

    def __init__(
        self,
        *,
        log: str,
        unit_key: jws.Jwk,
        kinds: Kinds,
        sheets: Sequence[SheetText],
        files: Mapping[str, str] | None = None,
    ) -> None:
        self.held = Held(log, kinds, sheets)
        self._log = log
        self._unit_key = unit_key
        self._keys = UnitKeys(unit_key)
        self._cards: list[str] = []
        self._carried: dict[str, Fold] = {}
        self._jwks: dict[str, dict[str, str]] = {}
        self._files = dict(files or {})
        self._waiting: dict[str, dict[str, Entry]] = {}

    def add_cards(self, texts: Iterable[str]) -> None:
        """Take cards and statements of unit keys; what is none, or falsely signed, is left aside."""
        stated = list(texts)
        self._cards += stated
        for other in self._carried.values():
            other.add_cards(stated)
            self.held.carry(other.held)
        for text in stated:
            try:
                cards = self._keys.take(text)
            except NotACard:
                continue
            for card in cards:
                self._jwks[card.kid] = card.jwk
                self.held.add_card(card)
                self.add_entries(list(self._waiting.pop(card.kid, ())))

    def add_entries(self, texts: Iterable[str]) -> None:
        """Take entries; those without a card wait for it, refused ones are nowhere in the answer."""
        for text in texts:
            try:
                entry = parse(text, self._log)
            except Refused:
                continue
            if self.held.entry(entry.name) is not None:
                continue
            jwk = self._jwks.get(entry.kid)
            if jwk is None:
                self._waiting.setdefault(entry.kid, {})[text] = entry
            elif entry.signed_by(jwk):
                self.held.add(entry)
        self._take_files()

    def add_carried(self, carried: Iterable[Carried]) -> None:
        """Take what other logs say, or more of it; they stay outside this log's chains and values."""
        for one in carried:
            if one["log"] == self._log:
                continue
            other = self._carried.get(one["log"])
            if other is None:
                other = Fold(log=one["log"], unit_key=self._unit_key, kinds=self.held.kinds, sheets=[])
                other.add_cards(self._cards)
                self._carried[one["log"]] = other
            other.add_entries(one["entries"])
            self.held.carry(other.held)

    def entry(self, name: str) -> Entry | None:
        """The entry of this name, if it is here."""
        return self.held.entry(name)

    def subject(self, subject: str) -> dict[str, Any]:
        """How a subject stands, in the vectors' form."""
        return self.held.memo.answer(f"answer {subject}", lambda: self._subject(subject))

    def gates(self) -> dict[str, str]:
        """The gate of each step that is not withdrawn."""
        found = places(self.held).items()
        return {
            subject: gate(self.held, place.step).word
            for subject, place in found
            if place.item is None and not place.withdrawn
        }

    def signatures(self) -> dict[str, dict[str, Any]]:
        """What has changed since each counting signature, by its name."""
        changes = {sign.name: changed_since(self.held, sign) for sign in signs(self.held)}
        return {
            name: {"changed": one.changed, "subjects": list(one.subjects)} for name, one in changes.items()
        }

    def devices(self) -> dict[str, dict[str, Any]]:
        """Heads and gaps of each device."""
        found = heads(self.held.all())
        return {kid: {**one, "forked": len(one["tips"]) > 1} for kid, one in found.items()}

    def answer(self) -> Answer:
        """The whole answer."""
        held = self.held
        entries = list(held.all())
        subjects = {entry.subject for entry in entries if counts(held, entry)} | set(places(held))
        waiting = {entry.name for texts in self._waiting.values() for entry in texts.values()}
        no_card = {name: {"counts": False, "why": "no-card"} for name in waiting if held.entry(name) is None}
        return {
            "entries": no_card | {entry.name: self._judgement(entry) for entry in entries},
            "subjects": {subject: self.subject(subject) for subject in sorted(subjects)},
            "gates": self.gates(),
            "signatures": self.signatures(),
            "devices": self.devices(),
        }

    def _judgement(self, entry: Entry) -> dict[str, Any]:
        why = why_not(self.held, entry)
        return {"counts": True} if why is None else {"counts": False, "why": why}

    def _subject(self, subject: str) -> dict[str, Any]:
        held = self.held
        place = places(held).get(subject)
        now = values(held, subject)
        reads = place is not None and place.item is None and place.step["asks"] == "reading"
        marked = {
            entry.name: marks(held, entry) for entry in [*now, *(readings(held, subject) if reads else ())]
        }
        done, lasts = _standing_of_part(held, place, subject)
        stands = standing(held, subject)
        return {
            "values": [entry.name for entry in now],
            "state": stands.state,
            "waits_for": list(stands.waits_for),
            "done": done,
            "ended": lasts.ended,
            "stale": lasts.stale,
            "until": lasts.until,
            "marks": {name: found for name, found in marked.items() if found},
        }

    def _take_files(self) -> None:
        for digest in missing_files(self.held):
            text = self._files.get(digest)
            if text is not None and is_added(self.held.kinds, text) and jws.sha256(text.encode()) == digest:
                self.held.add_file(digest, text)


def _standing_of_part(held: Held, place: Place | None, subject: str) -> tuple[bool, Lasting]:
    if place is None:
        return False, Lasting()
    if place.item is None:
        return is_done(held, place.step), lasting(held, place.step)
    listed = (place.step.get("items") or {}).get(place.item, "")
    return is_counted_at(held, subject, listed), lasting(held, place.step, subject)
