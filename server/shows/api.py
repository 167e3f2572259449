"""Routes of shows: which there are, what a phone needs of one, and a chief's plan made into one."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus
from typing import Any

from flask import Response, jsonify, request
from marshmallow import Schema, fields
from sqlalchemy import select
from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import cards_of_unit, unit_jwk
from server.crew.sessions import needs_card, needs_chief, writer
from server.kit.current import current
from server.logbook.carried import carried_over
from server.problem import Problem
from server.routes import Routes, digest
from server.sheets import served
from server.sheets.definitions import Unit
from server.shows import make, plan, zone
from server.shows.fields import PlanError
from server.shows.models import Show
from server.shows.standing import standing
from server.store import reading, writing

routes = Routes("shows", __name__, url_prefix="/api", description="Shows: planned, listed, fetched")


class ShowListed(Schema):
    """A show in the list."""

    id = fields.String(required=True, metadata={"description": "Its id, which is its log's"})
    title = fields.String(required=True, metadata={"description": "What it is called"})
    site = fields.String(required=True, metadata={"description": "Where"})
    zone = fields.String(required=True, metadata={"description": "Its time zone"})
    starts = fields.String(required=True, metadata={"description": "First day"})
    ends = fields.String(required=True, metadata={"description": "Last day"})
    digest = digest("Names the file of its definition", required=True)


class Shows(Schema):
    """The unit's shows, the latest first."""

    shows = fields.List(fields.Nested(ShowListed), required=True, metadata={"description": "Latest first"})


SHOW = {
    "type": "object",
    "description": "The members of the show's definition (title, site, zone, starts, ends, unit, positions, "
    "vehicles, lockers, kit, people, events, reasons, sheets as strings), with id, log, yard_log, digest, "
    "unit_key, zone_offsets [{from, offset}], cards, and carried_over [{log, entries}]: what the unit's other logs "
    "say of kit, and what it takes to judge that.",
    "required": [
        "id",
        "log",
        "yard_log",
        "digest",
        "unit_key",
        "zone_offsets",
        "cards",
        "carried_over",
        "sheets",
    ],
}
UNIT = {
    "type": "object",
    "description": "The unit: id, name, vehicles, lockers, kit, events as in a show's definition.",
    "required": ["id", "name", "vehicles", "lockers", "kit", "events"],
}


class PlanAsked(Schema):
    """A chief's plan; what it must hold is checked with the unit's definitions."""

    plan = fields.Dict(
        required=True, metadata={"description": "title, site, zone, starts, ends, people, positions"}
    )


class ShowPlanned(Schema):
    """What the chief's phone signs to make the show."""

    log = fields.String(required=True, metadata={"description": "The log to write in"})
    show = fields.Dict(required=True, metadata={"description": "Body of the `show` entry"})
    assigns = fields.List(
        fields.Dict(), required=True, metadata={"description": "[{subject, body}] of each position's chain"}
    )


class PositionAsked(Schema):
    """One more position for a show that runs."""

    position = fields.Dict(required=True, metadata={"description": "As a plan's positions are"})


class PositionPlanned(Schema):
    """What the chief's phone signs to add it."""

    digest = digest("Names the file that the `amend` entry names", required=True)
    assigns = fields.List(
        fields.Dict(), required=True, metadata={"description": "[{subject, body}] of the position's chain"}
    )


@routes.route("/shows", methods=["GET"])
@routes.response(200, Shows)
@routes.problems(401, 403)
@needs_card
def list_shows() -> dict[str, object]:
    """List the unit's shows."""
    unit = writer().unit
    with reading() as session:
        rows = session.scalars(select(Show).where(Show.unit == unit).order_by(Show.starts.desc(), Show.id))
        members = ("id", "title", "site", "zone", "starts", "ends", "digest")
        return {"shows": [{member: getattr(row, member) for member in members} for row in rows]}


@routes.route("/shows/<string:show>", methods=["GET"])
@routes.response(200, SHOW)
@routes.alt_response(304, description="Unchanged since the answer that `If-None-Match` names by its `ETag`")
@routes.problems(401, 403, 404)
@needs_card
def fetch_show(show: str) -> Response:
    """Give all that a phone needs of a show, or 304 where the phone holds it as it is."""
    unit = writer().unit
    with reading() as session:
        row, definition = _known(session, unit, show)
        beside = {
            "id": show,
            "log": show,
            "yard_log": f"yard-{unit}",
            "digest": row.digest,
            "unit_key": unit_jwk(unit),
            "zone_offsets": _offsets(row),
            "cards": cards_of_unit(session, unit),
            "carried_over": carried_over(session, unit, show),
        }
    response = jsonify(definition | beside)
    # Weak: a proxy that compresses may change the octets, and the show is the same.
    response.set_etag(jws.sha256(json.dumps(beside, sort_keys=True).encode()), weak=True)
    response.make_conditional(request)
    return response


@routes.route("/shows", methods=["POST"])
@routes.arguments(PlanAsked)
@routes.response(201, ShowPlanned)
@routes.problems(400, 401, 403, 413, 415, 422)
@needs_chief
def plan_show(asked: dict[str, Any]) -> dict[str, object]:
    """Make a plan into a show's definition (chiefs only): the phone signs the entries that begin it."""
    asks = writer()
    with writing() as session:
        definition = _expanded(session, asks.unit, asked["plan"])
        named = make.keep_definition(session, asks.unit, asks.kid, definition)
        return {
            "log": make.free_log_id(session, asks.unit, definition),
            "show": make.show_body(definition, named),
            "assigns": [{"subject": subject, "body": body} for subject, body in make.assigns(definition)],
        }


@routes.route("/shows/<string:show>/positions", methods=["POST"])
@routes.arguments(PositionAsked)
@routes.response(201, PositionPlanned)
@routes.problems(400, 401, 403, 404, 413, 415, 422)
@needs_chief
def plan_position(asked: dict[str, Any], show: str) -> dict[str, object]:
    """Make the sheets of one more position (chiefs only): the phone signs the `amend` that adds them."""
    asks = writer()
    with writing() as session:
        _, definition = _known(session, asks.unit, show)
        now = standing(session, asks.unit, show, definition)
        with _told():
            added = plan.add_position(_as_it_stands(session, asks.unit), now, asked["position"])
        return {
            "digest": make.keep_definition(session, asks.unit, asks.kid, added),
            "assigns": [{"subject": subject, "body": body} for subject, body in make.assigns(added)],
        }


@routes.route("/unit", methods=["GET"])
@routes.response(200, UNIT)
@routes.problems(401, 403)
@needs_card
def fetch_unit() -> Response:
    """Give the unit as its definitions and records say: what a chief plans a show with."""
    unit = writer().unit
    with reading() as session:
        defined = _as_it_stands(session, unit)
    return jsonify(
        id=unit,
        name=defined.name,
        vehicles=served.vehicles(defined),
        lockers=served.lockers(defined),
        kit=served.kit(defined),
        events=served.events(defined),
    )


def _known(session: Session, unit: str, show: str) -> tuple[Show, make.Definition]:
    row = session.get(Show, (unit, show)) if "\0" not in show else None
    definition = None if row is None else make.definition_of(session, unit, row.digest)
    if row is None or definition is None:
        raise Problem(
            HTTPStatus.NOT_FOUND, "This unit has no such show here, or its definition has not arrived."
        )
    return row, definition


def _expanded(session: Session, unit: str, asked: object) -> make.Definition:
    with _told("plan."):
        return plan.expand(_as_it_stands(session, unit), asked)


@contextmanager
def _told(above: str = "") -> Iterator[None]:
    """What is wrong with a plan, as a problem that names the field."""
    try:
        yield
    except PlanError as fault:
        raise Problem(
            HTTPStatus.UNPROCESSABLE_ENTITY,
            f"{fault.field}: {fault.reason}.",
            {f"{above}{fault.field}": fault.reason},
        ) from None


def _as_it_stands(session: Session, unit: str) -> Unit:
    try:
        return current(session, unit).unit
    except LookupError:
        raise Problem(HTTPStatus.NOT_FOUND, "This unit is not on this server.") from None


def _offsets(row: Show) -> list[dict[str, str]]:
    try:
        return zone.offsets(row.zone, row.starts, row.ends)
    except (ValueError, LookupError):
        return []
