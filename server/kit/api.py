"""Routes of the kit: each thing as it stands, the lifting register."""

from datetime import UTC, date, datetime
from typing import Any

from flask import Response, jsonify
from marshmallow import Schema, fields, validate
from sqlalchemy import select

from server.crew.sessions import needs_card, writer
from server.kit.current import current
from server.kit.serving import served_kit, served_register
from server.logbook.models import File
from server.routes import LOG_ID, Routes
from server.store import reading

routes = Routes("kit", __name__, url_prefix="/api", description="Kit: what is where, in what state, in date")

KIT: dict[str, Any] = {
    "type": "object",
    "description": "The unit's kit as its definitions and entries say: items, lockers, faults (sentences).",
    "required": ["unit", "today", "items", "lockers", "faults"],
}
REGISTER: dict[str, Any] = {
    "type": "object",
    "description": "The lifting register: pieces with what stops each from being assigned to a lift.",
    "required": ["unit", "today", "ends", "pieces"],
}


class UntilDay(Schema):
    """What dates are judged against."""

    ends = fields.Date(metadata={"description": "The show's last day; absent: today"})


class OfShow(UntilDay):
    """The show that the register is asked for."""

    form = validate.Regexp(LOG_ID, error="A log's id has letters, digits, '.', '_', '-', at most 120.")
    log = fields.String(validate=form, metadata={"description": "The show's log, for pre-use checks in it"})


@routes.route("/kit", methods=["GET"])
@routes.response(200, KIT)
@routes.problems(401, 403, 422)
@needs_card
@routes.arguments(UntilDay, location="query")
def fetch_kit(asked: dict[str, Any]) -> Response:
    """Give each thing of the unit's kit as it stands."""
    unit, today = writer().unit, _today()
    ends: date | None = asked.get("ends")
    with reading() as session:
        kit = current(session, unit)
    told = served_kit(kit, today.isoformat(), ends.isoformat() if ends else None)
    return jsonify(unit=unit, today=today.isoformat(), **told)


@routes.route("/kit/register", methods=["GET"])
@routes.response(200, REGISTER)
@routes.problems(401, 403, 422)
@needs_card
@routes.arguments(OfShow, location="query")
def fetch_register(asked: dict[str, Any]) -> Response:
    """Give the lifting register, judged for a show that ends on a day."""
    unit, today = writer().unit, _today()
    ends: date = asked.get("ends") or today
    with reading() as session:
        kit = current(session, unit)
        files = set(session.scalars(select(File.digest).where(File.unit == unit)))
    found = served_register(kit, today.isoformat(), ends.isoformat(), asked.get("log"), files)
    return jsonify(unit=unit, today=today.isoformat(), ends=ends.isoformat(), pieces=found)


def _today() -> date:
    return datetime.now(UTC).date()
