"""Routes of the kit: each thing as it stands, the lifting register, loads, labels."""

from datetime import UTC, date, datetime
from http import HTTPStatus
from typing import Any

from flask import Response, current_app, jsonify
from marshmallow import Schema, fields, validate
from sqlalchemy import select

from server.crew.sessions import needs_card, needs_chief, writer
from server.kit.current import current
from server.kit.labels import WHAT, CannotLabel, labels_of
from server.kit.loading import served_loads
from server.kit.papers import NoPaper, paper_of
from server.kit.serving import served_kit, served_register
from server.logbook.models import File
from server.problem import Problem
from server.routes import LOG_ID, Routes
from server.store import reading

routes = Routes("kit", __name__, url_prefix="/api", description="Kit: what is where, in what state, in date")

PDF = "application/pdf"
MOST_ON_THE_WEB = 300
"""As many labels as one request prints: more would take longer than anybody waits for a page."""

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


LOADS: dict[str, Any] = {
    "type": "object",
    "description": "Each vehicle's load as `vehicle-load` takes it, what is not known of it, and the answer.",
    "required": ["vehicles"],
}


class UntilDay(Schema):
    """What dates are judged against."""

    ends = fields.Date(metadata={"description": "The show's last day; absent: today"})


class OfShow(UntilDay):
    """The show that the register is asked for."""

    form = validate.Regexp(LOG_ID, error="A log's id has letters, digits, '.', '_', '-', at most 120.")
    log = fields.String(validate=form, metadata={"description": "The show's log, for pre-use checks in it"})


class LabelsAsked(Schema):
    """Which labels, on which paper."""

    what = fields.List(
        fields.String(validate=validate.OneOf(WHAT)),
        load_default=list,
        metadata={"description": "lockers, kit, drums; may be given again; absent: all"},
    )
    tag = fields.List(
        fields.String(validate=validate.Length(1, 60)),
        load_default=list,
        metadata={"description": "These tags only; may be given again"},
    )
    paper = fields.String(
        load_default="a4-70x37", metadata={"description": "A grid of A4 or a roll, such as roll-60x30"}
    )
    skip = fields.Integer(load_default=0, metadata={"description": "Labels of the first sheet that are used"})


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


@routes.route("/kit/loads", methods=["GET"])
@routes.response(200, LOADS)
@routes.problems(401, 403)
@needs_card
def fetch_loads() -> Response:
    """Give what each vehicle carries by its lockers' lists, and what that does to its axles."""
    with reading() as session:
        stands = current(session, writer().unit).unit
    return jsonify(vehicles=served_loads(stands))


@routes.route("/kit/labels.pdf", methods=["GET"])
@routes.response(200, {"type": "string", "format": "binary"}, content_type=PDF)
@routes.problems(401, 403, 422)
@needs_chief
@routes.arguments(LabelsAsked, location="query")
def fetch_labels(asked: dict[str, Any]) -> Response:
    """Print labels (chiefs only): a code for each thing, its tag in large letters."""
    from server.kit.label_pages import print_labels

    unit = writer().unit
    with reading() as session:
        stands = current(session, unit).unit
    try:
        paper = paper_of(asked["paper"])
    except NoPaper as fault:
        raise Problem(HTTPStatus.UNPROCESSABLE_ENTITY, f"{fault}.", {"paper": str(fault)}) from None
    try:
        found = labels_of(stands, asked["what"] or WHAT, asked["tag"])
        if len(found) > MOST_ON_THE_WEB:
            raise CannotLabel(
                f"at most {MOST_ON_THE_WEB} labels here, not {len(found)}: ask for fewer, or run `handline labels`"
            )
        octets = print_labels(found, paper, current_app.config["HANDLINE_SITE"], asked["skip"])
    except CannotLabel as fault:
        raise Problem(HTTPStatus.UNPROCESSABLE_ENTITY, f"{fault}.") from None
    response = current_app.response_class(octets, mimetype=PDF)
    response.headers["Content-Disposition"] = 'attachment; filename="labels.pdf"'
    return response


def _today() -> date:
    return datetime.now(UTC).date()
