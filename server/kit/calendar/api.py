"""Routes of the calendar: what falls due, the feed and its private address."""

from datetime import UTC, datetime
from http import HTTPStatus
from typing import Any

from flask import Response, current_app
from marshmallow import Schema, fields, validate

from server.crew.models import Unit
from server.crew.sessions import needs_card, needs_chief, writer
from server.kit.calendar import address
from server.kit.calendar.falling import LONGEST_WEEKS, falling
from server.kit.calendar.feed import feed
from server.kit.current import current
from server.kit.pieces import pieces
from server.problem import Problem
from server.routes import Routes
from server.store import reading, writing

routes = Routes("calendar", __name__, description="What falls due, and when")
ICALENDAR = "text/calendar"


class Weeks(Schema):
    """How far ahead."""

    weeks = fields.Integer(
        load_default=8,
        validate=validate.Range(1, LONGEST_WEEKS),
        metadata={"description": "How many weeks, this one being the first"},
    )


class ThingDue(Schema):
    """A thing and the day by which it is due."""

    tag = fields.String(required=True, metadata={"description": "Its tag"})
    name = fields.String(required=True, metadata={"description": "What it is"})
    home = fields.String(required=True, allow_none=True, metadata={"description": "The locker it belongs in"})
    number = fields.String(required=True, metadata={"description": "How many there are of it"})
    due = fields.String(required=True, metadata={"description": "In date on this day, overdue after it"})
    of = fields.String(required=True, allow_none=True, metadata={"description": "What is examined or tested"})
    rule = fields.String(required=True, allow_none=True, metadata={"description": "Whose rule it is"})
    limb = fields.String(required=True, allow_none=True, metadata={"description": "The statute's limb"})


class WeekDue(Schema):
    """A week in which something falls due."""

    starts = fields.String(required=True, metadata={"description": "Its Monday"})
    due = fields.List(fields.Nested(ThingDue), required=True, metadata={"description": "By day, then tag"})


class Falling(Schema):
    """What is overdue, and what falls due week by week."""

    today = fields.String(required=True, metadata={"description": "The server's day, UTC"})
    until = fields.String(required=True, metadata={"description": "The last day looked at"})
    overdue = fields.List(
        fields.Nested(ThingDue), required=True, metadata={"description": "By day, then tag"}
    )
    weeks = fields.List(
        fields.Nested(WeekDue), required=True, metadata={"description": "Those with something"}
    )


class CalendarMade(Schema):
    """A new private address."""

    address = fields.String(
        required=True, metadata={"description": "Said this once; it replaces the old one"}
    )


class CalendarKnown(Schema):
    """Whether there is a private address."""

    made = fields.String(
        required=True, allow_none=True, metadata={"description": "When it was made, or null: there is none"}
    )


@routes.route("/api/kit/due", methods=["GET"])
@routes.response(200, Falling)
@routes.problems(401, 403, 422)
@needs_card
@routes.arguments(Weeks, location="query")
def list_falling(asked: dict[str, Any]) -> dict[str, Any]:
    """Say what falls due in the coming weeks."""
    with reading() as session:
        kit = current(session, writer().unit)
    return falling(pieces(kit), datetime.now(UTC).date(), asked["weeks"])


@routes.route("/api/kit/calendar", methods=["GET"])
@routes.response(200, CalendarKnown)
@routes.problems(401, 403)
@needs_chief
def look_at_calendar() -> dict[str, str | None]:
    """Say whether the calendar has a private address (chiefs only); the address itself is said once."""
    with reading() as session:
        made_s = address.made_s(session, writer().unit)
    return {"made": None if made_s is None else datetime.fromtimestamp(made_s, UTC).isoformat()}


@routes.route("/api/kit/calendar", methods=["POST"])
@routes.response(201, CalendarMade)
@routes.problems(401, 403)
@needs_chief
def renew_calendar() -> dict[str, str]:
    """Make a private address for the calendar (chiefs only); the one before it answers no more."""
    with writing() as session:
        token = address.renew(session, writer().unit)
    return {"address": f"{current_app.config['HANDLINE_SITE']}/calendar/{token}.ics"}


@routes.route("/api/kit/calendar", methods=["DELETE"])
@routes.response(204)
@routes.problems(401, 403)
@needs_chief
def withdraw_calendar() -> Response:
    """Take the calendar's private address away (chiefs only)."""
    with writing() as session:
        address.withdraw(session, writer().unit)
    return current_app.response_class(status=HTTPStatus.NO_CONTENT)


@routes.route("/calendar/<string:token>.ics", methods=["GET"])
@routes.response(200, {"type": "string"}, content_type=ICALENDAR)
@routes.problems(404)
def give_calendar(token: str) -> Response:
    """Give the calendar to whoever has its address."""
    with reading() as session:
        unit = address.unit_of(session, token)
        row = session.get(Unit, unit) if unit else None
        if unit is None or row is None:
            raise Problem(
                HTTPStatus.NOT_FOUND, "No calendar has this address. A chief makes a new one in the app."
            )
        name, kit = row.name, current(session, unit)
    octets = feed(unit, name, pieces(kit), current_app.config["HANDLINE_SITE"], datetime.now(UTC))
    response = current_app.response_class(octets, mimetype=ICALENDAR)
    response.headers["Cache-Control"] = "private, no-cache"
    return response
