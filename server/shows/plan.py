"""A chief's plan becomes a show: checked, then expanded with the unit's definitions.

A plan is {title, site, zone, starts, ends, people: [{person, name, roles}], positions: [POSITION]},
POSITION is {id, name, camera, height_m, distance_m, way_up, chain: {lens, body, run, control}, tower,
column, legs}, lengths in metres as decimal text.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from ..kit.intervals import intervals
from ..kit.pieces import served_interval
from ..sheets import served, words
from ..sheets.definitions import Unit
from ..sheets.expand import Json, canonical, sheets
from . import fields
from .fields import PlanError


def expand(unit: Unit, plan: object) -> Json:
    """The show's definition. Raises PlanError at the first thing that cannot be."""
    if not isinstance(plan, dict):
        raise PlanError("plan", "must be an object")
    starts, ends = fields.day(plan, "starts"), fields.day(plan, "ends")
    if ends < starts:
        raise PlanError("ends", f"the show ends ({ends}) before it starts ({starts})")
    people = [_person(value, f"people.{n}") for n, value in enumerate(fields.rows(plan, "people", "people"))]
    fields.once("people", "person", [person["person"] for person in people])
    positions = _positions(unit, plan)
    made = sheets(unit, positions)
    _crewed(made, people)
    return {
        "title": fields.text(plan, "title", "title"),
        "site": fields.text(plan, "site", "site"),
        "zone": fields.zone(plan),
        "starts": starts,
        "ends": ends,
        "unit": {"id": str(unit.id), "name": unit.name},
        "positions": positions,
        "vehicles": served.vehicles(unit),
        "lockers": served.lockers(unit),
        "kit": served.kit(unit),
        "people": people,
        "events": served.events(unit),
        "intervals": [served_interval(one) for one in intervals().values()],
        "reasons": {kind: list(reasons) for kind, reasons in unit.reasons.items()},
        "sheets": [canonical(sheet) for sheet in made],
    }


def add_position(unit: Unit, definition: Json, position: object) -> Json:
    """What an add-sheets amend carries for one more position: {positions, kit, people, sheets}.

    Raises PlanError as `expand` does, also when a link already stands at another position.
    """
    added = _position(unit, position, "position")
    before = definition["positions"]
    fields.once("position", "id", [p["id"] for p in [*before, added]])
    _one_place([*before, added])
    standing = [json.loads(text) for text in definition["sheets"]]
    made = sheets(unit, [added], standing)
    _crewed(made, definition["people"])
    known = {item["tag"] for item in definition["kit"]}
    return {
        "positions": [added],
        "kit": [item for item in served.kit(unit) if item["tag"] not in known],
        "people": [],
        "sheets": [canonical(sheet) for sheet in made],
    }


def _positions(unit: Unit, plan: Json) -> list[Json]:
    values = fields.rows(plan, "positions", "positions")
    if not values:
        raise PlanError("positions", "a show needs at least one position")
    positions = [_position(unit, value, f"positions.{n}") for n, value in enumerate(values)]
    fields.once("positions", "id", [position["id"] for position in positions])
    _one_place(positions)
    return positions


def _position(unit: Unit, value: object, field: str) -> Json:
    if not isinstance(value, dict):
        raise PlanError(field, "must be an object")
    position: Json = {
        "id": fields.name(value, "id", f"{field}.id"),
        "name": fields.text(value, "name", f"{field}.name"),
        "camera": fields.among(value, "camera", words.CAMERAS, f"{field}.camera"),
        "height_m": fields.length(value, "height_m", f"{field}.height_m"),
        "distance_m": fields.length(value, "distance_m", f"{field}.distance_m"),
        "way_up": fields.among(value, "way_up", words.WAYS_UP, f"{field}.way_up"),
        "chain": _chain(unit, value, f"{field}.chain"),
        "tower": fields.name(value, "tower", f"{field}.tower") if value.get("tower") else None,
        "column": _support(unit, value, "column", field),
        "legs": _support(unit, value, "legs", field),
    }
    body = unit.items[position["chain"]["body"]]
    if body.about.get("camera") != position["camera"]:
        camera = body.about.get("camera", "without a type")
        raise PlanError(f"{field}.camera", f"{body.tag} is {camera}, not {position['camera']}")
    if position["way_up"] == "hoisted" and not position["tower"]:
        raise PlanError(f"{field}.tower", "a hoisted position needs the tower it stands on")
    return position


def _support(unit: Unit, position: Json, kind: str, field: str) -> str | None:
    return fields.tag(unit, position, kind, (kind,), f"{field}.{kind}") if position.get(kind) else None


def _chain(unit: Unit, position: Json, field: str) -> Json:
    value = position.get("chain")
    if not isinstance(value, dict):
        raise PlanError(field, "must be an object of lens, body, run and control")
    drums = fields.rows(value, "run", f"{field}.run")
    if not drums:
        raise PlanError(f"{field}.run", "a run needs at least one drum")
    chain: Json = {
        "lens": fields.tag(unit, value, "lens", ("lens",), f"{field}.lens"),
        "body": fields.tag(unit, value, "body", ("body",), f"{field}.body"),
        "run": [
            fields.tag(unit, {"drum": drum}, "drum", ("drum",), f"{field}.run.{n}")
            for n, drum in enumerate(drums)
        ],
        "control": fields.tag(unit, value, "control", ("control-unit",), f"{field}.control"),
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
    roles = fields.rows(value, "roles", f"{field}.roles")
    for n, role in enumerate(roles):
        if role not in words.ROLES:
            raise PlanError(f"{field}.roles.{n}", f"'{role}' is no role: one of {', '.join(words.ROLES)}")
    if not roles:
        raise PlanError(f"{field}.roles", "at least one role")
    person = fields.name(value, "person", f"{field}.person")
    return {"person": person, "name": fields.text(value, "name", f"{field}.name"), "roles": list(roles)}
