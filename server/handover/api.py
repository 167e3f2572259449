"""Routes of the report: the file itself, and proof of one by anybody."""

from http import HTTPStatus
from pathlib import Path
from typing import Any

from flask import Response, current_app, render_template_string, request
from marshmallow import Schema, fields

from server.crew.sessions import needs_card, writer
from server.handover.finding import Findings
from server.handover.record import NoShow
from server.handover.render import TEMPLATES, CannotPrint
from server.handover.report import report
from server.handover.seal import NoCertificate
from server.problem import Problem
from server.routes import Routes
from server.store import reading

routes = Routes("handover", __name__, description="The handover report, and its proof")
PDF = "application/pdf"


class LayerFound(Schema):
    """What one layer of a report showed."""

    layer = fields.String(
        required=True, metadata={"description": "seal, record, cards, signatures, chains, ..."}
    )
    holds = fields.Boolean(required=True, metadata={"description": "Whether it holds"})
    says = fields.String(required=True, metadata={"description": "In a sentence"})


class Verified(Schema):
    """What a report's file proves by itself."""

    hold = fields.Boolean(required=True, metadata={"description": "Whether every layer holds"})
    layers = fields.List(fields.Nested(LayerFound), required=True, metadata={"description": "In order"})


@routes.route("/api/shows/<string:show>/handover.pdf", methods=["GET"])
@routes.response(200, {"type": "string", "format": "binary"}, content_type=PDF)
@routes.problems(401, 403, 404, 500)
@needs_card
def give_report(show: str) -> Response:
    """Give the report of a show, sealed; a draft until somebody hands over."""
    unit = writer().unit
    try:
        with reading() as session:
            octets = report(session, unit, show, Path(current_app.config["HANDLINE_DATA"]))
    except (NoShow, ValueError) as fault:
        raise Problem(HTTPStatus.NOT_FOUND, f"There is no report: {fault}.") from None
    except (CannotPrint, NoCertificate) as fault:
        raise Problem(HTTPStatus.INTERNAL_SERVER_ERROR, f"There is no report: {fault}.") from None
    response = current_app.response_class(octets, mimetype=PDF)
    response.headers["Content-Disposition"] = f'attachment; filename="{show}.pdf"'
    return response


@routes.route("/api/verify", methods=["POST"])
@routes.response(200, Verified)
@routes.problems(400, 413, 422)
def verify_sent() -> dict[str, object]:
    """Say what a report's file proves: a form with the file as `report` and, where known, `certificate`."""
    found = _sent()
    return {"hold": found.hold, "layers": found.layers}


@routes.route("/verify", methods=["GET", "POST"])
@routes.response(200, {"type": "string"}, content_type="text/html")
@routes.problems(400, 413, 422)
def verify_page() -> Response:
    """Show a page on which anybody proves a report's file; it works without script."""
    found = _sent() if request.method == "POST" else None
    page = render_template_string((TEMPLATES / "verify.html").read_text(), found=found)
    response = current_app.response_class(page, mimetype="text/html")
    response.headers["Content-Security-Policy"] = (
        "default-src 'none'; style-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'"
    )
    response.headers["Referrer-Policy"] = (
        "same-origin"  # else its form names no origin, and is refused as a stranger's
    )
    return response


def _sent() -> Findings:
    # Only who proves a report waits for what reads one: its import takes longer than all of the server's start.
    from server.handover.verify import verify

    sent: Any = request.files
    if "report" not in sent or not sent["report"].filename:
        raise Problem(
            HTTPStatus.UNPROCESSABLE_ENTITY,
            "No file came. Choose the report's PDF.",
            {"report": "Send the file as a form's field."},
        )
    certificate = sent["certificate"].read() if "certificate" in sent else b""
    return verify(sent["report"].read(), certificate or None)
