"""A chief's plan becomes a show: checked, then expanded with the unit's definitions.

A plan is {title, site, zone, starts, ends, people: [{person, name, roles}], positions: [POSITION]},
POSITION is {id, name, camera, height_m, distance_m, way_up, chain: {lens, body, run, control}, tower,
column, legs}, lengths in metres as decimal text.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from ..sheets import words
from ..sheets.definitions import Unit
from ..sheets.expand import Json, canonical, sheets
from ..sheets.row import DECIMAL, NAME


class PlanError(Exception):
    """The plan cannot be a show: `field` is where, such as positions.1.chain.body; `reason` says why."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(f"{field}: {reason}")
        self.field = field
        self.reason = reason


def expand(unit: Unit, plan: object) -> Json:
    """The show's definition. Raises PlanError at the first thing that cannot be."""
    if not isinstance(plan, dict):
        raise PlanError("plan", "must be an object")
    starts, ends = _date(plan, "starts"), _date(plan, "ends")
    if ends < starts:
        raise PlanError("ends", f"the show ends ({ends}) before it starts ({starts})")
    people = [_person(value, f"people.{n}") for n, value in enumerate(_list(plan, "people", "people"))]
    _once("people", "person", [person["person"] for person in people])
    positions = _positions(unit, plan)
    made = sheets(unit, positions)
    _crewed(made, people)
    return {
        "title": _text(plan, "title", "title"),
        "site": _text(plan, "site", "site"),
        "zone": _zone(plan),
        "starts": starts,
        "ends": ends,
        "unit": {"id": str(unit.id), "name": unit.name},
        "positions": positions,
        "vehicles": _vehicles(unit),
        "lockers": _lockers(unit),
        "kit": _kit(unit),
        "people": people,
        "events": [{"id": e.id, "label": e.label, "ends": e.ends} for e in unit.events],
        "reasons": {kind: list(reasons) for kind, reasons in unit.reasons.items()},
        "sheets": [canonical(sheet) for sheet in made],
    }


def add_position(unit: Unit, definition: Json, position: object) -> Json:
    """What an add-sheets amend carries for one more position: {positions, kit, people, sheets}.

    Raises PlanError as `expand` does, also when a link already stands at another position.
    """
    added = _position(unit, position, "position")
    before = definition["positions"]
    _once("position", "id", [p["id"] for p in [*before, added]])
    _one_place([*before, added])
    standing = [json.loads(text) for text in definition["sheets"]]
    made = sheets(unit, [added], standing)
    _crewed(made, definition["people"])
    known = {item["tag"] for item in definition["kit"]}
    return {
        "positions": [added],
        "kit": [item for item in _kit(unit) if item["tag"] not in known],
        "people": [],
        "sheets": [canonical(sheet) for sheet in made],
    }


def _positions(unit: Unit, plan: Json) -> list[Json]:
    values = _list(plan, "positions", "positions")
    if not values:
        raise PlanError("positions", "a show needs at least one position")
    positions = [_position(unit, value, f"positions.{n}") for n, value in enumerate(values)]
    _once("positions", "id", [position["id"] for position in positions])
    _one_place(positions)
    return positions


def _position(unit: Unit, value: object, field: str) -> Json:
    if not isinstance(value, dict):
        raise PlanError(field, "must be an object")
    position: Json = {
        "id": _name(value, "id", f"{field}.id"),
        "name": _text(value, "name", f"{field}.name"),
        "camera": _among(value, "camera", words.CAMERAS, f"{field}.camera"),
        "height_m": _length(value, "height_m", f"{field}.height_m"),
        "distance_m": _length(value, "distance_m", f"{field}.distance_m"),
        "way_up": _among(value, "way_up", words.WAYS_UP, f"{field}.way_up"),
        "chain": _chain(unit, value, f"{field}.chain"),
        "tower": _name(value, "tower", f"{field}.tower") if value.get("tower") else None,
        "column": _tag(unit, value, "column", ("column",), f"{field}.column")
        if value.get("column")
        else None,
        "legs": _tag(unit, value, "legs", ("legs",), f"{field}.legs") if value.get("legs") else None,
    }
    body = unit.items[position["chain"]["body"]]
    if body.about.get("camera") != position["camera"]:
        camera = body.about.get("camera", "without a type")
        raise PlanError(f"{field}.camera", f"{body.tag} is {camera}, not {position['camera']}")
    if position["way_up"] == "hoisted" and not position["tower"]:
        raise PlanError(f"{field}.tower", "a hoisted position needs the tower it stands on")
    return position


def _chain(unit: Unit, position: Json, field: str) -> Json:
    value = position.get("chain")
    if not isinstance(value, dict):
        raise PlanError(field, "must be an object of lens, body, run and control")
    drums = _list(value, "run", f"{field}.run")
    if not drums:
        raise PlanError(f"{field}.run", "a run needs at least one drum")
    chain: Json = {
        "lens": _tag(unit, value, "lens", ("lens",), f"{field}.lens"),
        "body": _tag(unit, value, "body", ("body",), f"{field}.body"),
        "run": [
            _tag(unit, {"drum": drum}, "drum", ("drum",), f"{field}.run.{n}") for n, drum in enumerate(drums)
        ],
        "control": _tag(unit, value, "control", ("control-unit",), f"{field}.control"),
    }
    cable = unit.items[chain["body"]].about.get("cable")
    for n, tag in enumerate(chain["run"]):
        if unit.items[tag].about.get("cable") != cable:
            raise PlanError(f"{field}.run.{n}", f"{tag} is not {cable}, the cable of {chain['body']}")
    if unit.items[chain["control"]].about.get("cable") != cable:
        raise PlanError(f"{field}.control", f"{chain['control']} does not take {cable}")
    return chain


def _one_place(positions: Sequence[Json]) -> None:
    where: dict[str, str] = {}
    for position in positions:
        chain = position["chain"]
        tags = [
            chain["lens"],
            chain["body"],
            *chain["run"],
            chain["control"],
            position["column"],
            position["legs"],
        ]
        for tag in tags:
            if tag and where.setdefault(tag, position["id"]) != position["id"]:
                raise PlanError("positions", f"{tag} stands at {where[tag]} and at {position['id']}")
        for tag in chain["run"]:
            if chain["run"].count(tag) > 1:
                raise PlanError("positions", f"{tag} is twice in the run of {position['id']}")


def _crewed(made: Sequence[Json], people: Sequence[Json]) -> None:
    roles = {role for person in people for role in person["roles"]}
    for sheet in made:
        for step in sheet["steps"]:
            if not roles & set(step["roles"]):
                wanted = " or ".join(step["roles"])
                raise PlanError("people", f"nobody is {wanted}, which {step['subject']} needs")
        if not roles & set(sheet["signed_by"]):
            wanted = " or ".join(sheet["signed_by"])
            raise PlanError("people", f"nobody is {wanted}, to sign {sheet['id']}")


def _person(value: object, field: str) -> Json:
    if not isinstance(value, dict):
        raise PlanError(field, "must be an object")
    roles = _list(value, "roles", f"{field}.roles")
    for n, role in enumerate(roles):
        if role not in words.ROLES:
            raise PlanError(f"{field}.roles.{n}", f"'{role}' is no role: one of {', '.join(words.ROLES)}")
    if not roles:
        raise PlanError(f"{field}.roles", "at least one role")
    person = _name(value, "person", f"{field}.person")
    return {"person": person, "name": _text(value, "name", f"{field}.name"), "roles": list(roles)}


def _vehicles(unit: Unit) -> list[Json]:
    return [{"id": v.id, "name": v.name, "drawn": v.drawn, "about": dict(v.about)} for v in unit.vehicles]


def _lockers(unit: Unit) -> list[Json]:
    return [
        {
            "id": locker.id,
            "vehicle": locker.vehicle,
            "name": locker.name,
            "side": locker.side,
            "row": locker.row,
            "place": locker.place,
            "width": locker.width,
            "about": dict(locker.about),
            "holds": [{"tag": held.tag, "number": held.number} for held in locker.holds],
        }
        for locker in unit.lockers
    ]


def _kit(unit: Unit) -> list[Json]:
    return [
        {
            "tag": item.tag,
            "name": item.name,
            "type": item.type,
            "number": item.number,
            "mass_kg": item.mass_kg,
            "home": unit.homes[item.tag],
            "dates": dict(item.dates),
            "about": dict(item.about),
        }
        for item in unit.kit
    ]


def _text(value: Json, key: str, field: str) -> str:
    text = value.get(key)
    if not isinstance(text, str) or not text.strip():
        raise PlanError(field, "must be some text")
    if len(text) > 200:
        raise PlanError(field, "at most 200 characters")
    return text.strip()


def _name(value: Json, key: str, field: str) -> str:
    text = _text(value, key, field)
    if not NAME.fullmatch(text) or len(text) > 60:
        raise PlanError(field, f"'{text}' may hold letters, digits, '.', '-' and '_', at most 60")
    return text


def _among(value: Json, key: str, known: Sequence[str], field: str) -> str:
    text = _text(value, key, field)
    if text not in known:
        raise PlanError(field, f"'{text}' is not one of {', '.join(known)}")
    return text


def _length(value: Json, key: str, field: str) -> str:
    text = _text(value, key, field)
    if not DECIMAL.fullmatch(text) or text.startswith("-") or len(text) > 32:
        raise PlanError(field, f"'{text}' must be metres as a decimal such as 6.5")
    return text


def _tag(unit: Unit, value: Json, key: str, types: Sequence[str], field: str) -> str:
    tag = _text(value, key, field)
    item = unit.items.get(tag)
    if item is None:
        raise PlanError(field, f"the unit has no '{tag}'")
    if item.type not in types:
        raise PlanError(field, f"{tag} is a {item.type}, not a {types[0]}")
    return tag


def _list(value: Json, key: str, field: str) -> list[Any]:
    found = value.get(key)
    if not isinstance(found, list):
        raise PlanError(field, "must be a list")
    return found


def _date(plan: Json, key: str) -> str:
    text = _text(plan, key, key)
    try:
        if date.fromisoformat(text).isoformat() == text:
            return text
    except ValueError:
        pass
    raise PlanError(key, f"'{text}' must be a date such as 2031-05-02")


def _zone(plan: Json) -> str:
    zone = _text(plan, "zone", "zone")
    try:
        ZoneInfo(zone)
    except (OSError, ValueError, KeyError):
        raise PlanError("zone", f"'{zone}' is no time zone: one such as Europe/London") from None
    return zone


def _once(field: str, key: str, names: Sequence[str]) -> None:
    for name in names:
        if names.count(name) > 1:
            raise PlanError(field, f"the {key} '{name}' stands twice")
