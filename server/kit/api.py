"""Routes of the kit: each thing as it stands."""

from typing import Any

from flask import Response, jsonify

from server.crew.sessions import needs_card, writer
from server.kit.current import current
from server.kit.serving import served_kit
from server.routes import Routes
from server.store import reading

routes = Routes("kit", __name__, url_prefix="/api", description="Kit: what is where, in what state")

KIT: dict[str, Any] = {
    "type": "object",
    "description": "The unit's kit as its definitions and entries say: items, lockers, faults (sentences).",
    "required": ["unit", "items", "lockers", "faults"],
}


@routes.route("/kit", methods=["GET"])
@routes.response(200, KIT)
@routes.problems(401, 403)
@needs_card
def fetch_kit() -> Response:
    """Give each thing of the unit's kit as it stands."""
    unit = writer().unit
    with reading() as session:
        kit = current(session, unit)
    return jsonify(unit=unit, **served_kit(kit))
