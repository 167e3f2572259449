"""Definitions and a show's positions become the show's sheets, each step with its full subject."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cached_property
from typing import Any

from .definitions import Conditions, Item, Sheet, Step, Unit

# Who decides where somebody can be hurt: said after the caution of each hazard.
DEFERS = "Local rules and a competent person come first."
PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")

Json = dict[str, Any]


@dataclass(frozen=True)
class Site:
    """What a sheet is made for: words for its placeholders, facts for its conditions, tags to count."""

    values: Mapping[str, str]
    facts: Mapping[str, frozenset[str]]
    counts: Mapping[str, Mapping[str, str]]

    def fill(self, text: str) -> str:
        """The text with its placeholders filled in."""
        return PLACEHOLDER.sub(lambda found: self.values.get(found[1], ""), text)

    def meets(self, conditions: Conditions) -> bool:
        """Whether every condition names one of the facts here."""
        return all(self.facts.get(key, frozenset()) & set(wanted) for key, wanted in conditions.items())


@dataclass(frozen=True)
class Copy:
    """One sheet made for one site."""

    sheet: Sheet
    site: Site

    @cached_property
    def id(self) -> str:
        """The sheet's id in this show."""
        return self.site.fill(self.sheet.id)

    def applies(self, step: Step) -> bool:
        """Whether the step is for this site."""
        return self.site.meets(self.sheet.applies) and self.site.meets(step.applies)

    def subject(self, step: Step) -> str:
        """The step's full subject."""
        return f"{self.id}/{step.word}"

    def awaited(self, step: Step) -> list[str]:
        """What the step waits for, as full subjects; `*` still stands for any one word.

        A name with a placeholder that has no value here is left out: no tower, nothing to wait for there.
        """
        return [
            self.site.fill(name if "/" in name else f"{self.id}/{name}")
            for name in step.after
            if all(self.site.values.get(word) for word in PLACEHOLDER.findall(name))
        ]


def sheets(unit: Unit, positions: Sequence[Json], standing: Iterable[Json] = ()) -> list[Json]:
    """The sheets of a show with these positions.

    `standing` are sheets the show has already, when a position is added to it: they may be waited for
    and are not made again.
    """
    standing = list(standing)
    made = {sheet["id"] for sheet in standing}
    copies = [copy for copy in _copies(unit, positions) if copy.id not in made]
    here = {step["subject"] for sheet in standing for step in sheet["steps"]}
    here |= {copy.subject(step) for copy in copies for step in copy.sheet.steps if copy.applies(step)}
    away = {
        copy.subject(step): copy.awaited(step)
        for copy in copies
        if copy.site.meets(copy.sheet.applies)
        for step in copy.sheet.steps
        if not copy.applies(step)
    }
    found = [_sheet(copy, unit, here, away) for copy in copies]
    return [sheet for sheet in found if sheet["steps"]]


def canonical(value: object) -> str:
    """JSON with sorted keys and no spaces: the same value is always the same bytes."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def _copies(unit: Unit, positions: Sequence[Json]) -> list[Copy]:
    sites = {
        "show": [Site({}, {}, {})],
        "vehicle": [
            Site({"vehicle": v.id}, {"vehicle": frozenset([v.id]), "drawn": frozenset([v.drawn])}, {})
            for v in unit.vehicles
        ],
        "locker": [_locker(unit, index) for index in range(len(unit.lockers))],
        "position": [_position(unit, position) for position in positions],
        "run": [_position(unit, position) for position in positions],
        "tower": [
            Site({"tower": tower}, {}, {}) for tower in sorted({p["tower"] for p in positions if p["tower"]})
        ],
    }
    return [Copy(sheet, site) for sheet in unit.sheets for site in sites[sheet.each]]


def _locker(unit: Unit, index: int) -> Site:
    locker = unit.lockers[index]
    held = [unit.items[line.tag].type for line in locker.holds]
    facts: dict[str, set[str]] = {"locker": {locker.id}, "vehicle": {locker.vehicle}, "holds": set(held)}
    return Site(
        {"locker": locker.id, "vehicle": locker.vehicle},
        {key: frozenset(words) for key, words in facts.items()},
        {"list": {line.tag: line.number for line in locker.holds}},
    )


def _position(unit: Unit, position: Json) -> Site:
    body = unit.items[position["chain"]["body"]]
    facts = {
        "camera": position["camera"],
        "cable": body.about.get("cable", ""),
        "way_up": position["way_up"],
        "column": "yes" if position["column"] else "no",
        "legs": "yes" if position["legs"] else "no",
        "tower": "yes" if position["tower"] else "no",
    }
    return Site(
        {"position": position["id"], "tower": position["tower"] or ""},
        {key: frozenset([word]) for key, word in facts.items()},
        {"position": {item.tag: "1" for item in kit_at(unit, position)}},
    )


def kit_at(unit: Unit, position: Json) -> list[Item]:
    """What stands at a position: lens, body, drums, support and what goes with them."""
    chain = position["chain"]
    tags = [chain["lens"], chain["body"], *chain["run"], position["column"], position["legs"]]
    there = {tag for tag in tags if tag}
    return [item for item in unit.kit if item.tag in there or item.about.get("goes_with") in there]


def _awaited(copy: Copy, step: Step, here: set[str], away: Mapping[str, list[str]]) -> list[str]:
    """The steps of this show that a step waits for.

    Where one of them is not for this site, what that one waits for takes its place; where its whole sheet
    is not, it falls away.
    """
    found: dict[str, None] = {}
    asked = copy.awaited(step)
    seen = {copy.subject(step)}
    while asked:
        name = asked.pop(0)
        if name in seen:
            continue
        seen.add(name)
        if "*" in name:
            asked += sorted(known for known in here | set(away) if _matches(known, name))
        elif name in here:
            found[name] = None
        else:
            asked += away.get(name, [])
    return sorted(found)


def _matches(subject: str, pattern: str) -> bool:
    parts, wanted = subject.split("/"), pattern.split("/")
    return len(parts) == len(wanted) and all(map(fnmatchcase, parts, wanted))


def _sheet(copy: Copy, unit: Unit, here: set[str], away: Mapping[str, list[str]]) -> Json:
    sheet, site = copy.sheet, copy.site
    return {
        "id": copy.id,
        "stage": sheet.stage,
        "title": site.fill(sheet.title),
        "signed_by": list(sheet.signed_by),
        "statement": site.fill(sheet.statement),
        "steps": [
            _step(copy, step, unit, _awaited(copy, step, here, away))
            for step in sheet.steps
            if copy.applies(step)
        ],
    }


def _step(copy: Copy, step: Step, unit: Unit, after: list[str]) -> Json:
    site, subject = copy.site, copy.subject(step)
    made: Json = {
        "id": subject.replace("/", "."),
        "subject": subject,
        "asks": step.asks,
        "do": site.fill(step.do),
        "done": site.fill(step.done),
        "roles": list(step.roles),
        "after": after,
        "caution": _caution(site, step),
        "hazard": step.hazard,
        "second": step.second,
        "minutes": step.minutes,
        "ended_by": list(step.ended_by),
        "about": list(step.about),
        "unit": step.unit,
        "low": step.low,
        "high": step.high,
        "limit_of": step.limit_of,
        "choices": [{"id": c.id, "label": c.label, "done": c.done} for c in step.choices],
        "assess": None,
    }
    if step.assess:
        prefill = {key: site.fill(value) for key, value in step.assess.prefill.items()}
        made["assess"] = {"name": step.assess.name, "from": prefill}
    if step.asks == "count":
        items = {line.tag: line.number for line in step.items} or site.counts.get(step.count or "", {})
        made["items"] = dict(items)
        made["names"] = {tag: unit.items[tag].name for tag in items}
    return made


def _caution(site: Site, step: Step) -> str:
    caution = site.fill(step.caution or "")
    return f"{caution} {DEFERS}" if step.hazard else caution
