"""Routes of logs and files: entries in, entries out, photos."""

from http import HTTPStatus
from typing import Any

from flask import Response, current_app, request
from marshmallow import Schema, fields, validate

from server.crew import jws
from server.crew.sessions import needs_card, needs_card_even_revoked, writer
from server.logbook import assess, sync
from server.logbook.files import LARGEST_MIB, keep, octets_of
from server.logbook.models import Log
from server.logbook.own import repeat_revocations
from server.logbook.receipt import Receipt, logs_waiting_for_cards_held, receive
from server.problem import Problem
from server.routes import LOG_ID, Routes, at_most, digest
from server.store import reading, writing

MOST_ENTRIES = 500
LARGEST_POST_MIB = 4
LONGEST_PAGE = 1000

routes = Routes("logbook", __name__, url_prefix="/api", description="Logs of signed entries, and their files")


class InLog(Schema):
    """A log's address."""

    form = validate.Regexp(LOG_ID, error="A log's id has letters, digits, '.', '_', '-', at most 120.")
    log = fields.String(required=True, validate=form, metadata={"description": "The log's id"})


class OfFile(Schema):
    """A file's address."""

    sha256 = digest("SHA-256 of the file's octets, base64url", required=True)


class Post(Schema):
    """Entries to hand in, with cards of those who wrote them."""

    cards = fields.List(fields.String(), load_default=list, metadata={"description": "Cards, JWS each"})
    entries = fields.List(
        fields.String(), required=True, metadata={"description": "Entries, JWS each, at most 500"}
    )


class ReceiptAnswer(Schema):
    """What became of one entry."""

    name = fields.String(required=True, metadata={"description": "The entry's name"})
    answer = fields.String(
        required=True,
        validate=validate.OneOf(["stored", "known", "wait", "refused"]),
        metadata={"description": "A receipt only: an entry is there when a fetch brings it back"},
    )
    reason = fields.String(metadata={"description": "Why it was refused"})


class Receipts(Schema):
    """An answer for each entry, in the order sent."""

    answers = fields.List(
        fields.Nested(ReceiptAnswer), required=True, metadata={"description": "In the order sent"}
    )


class From(Schema):
    """Where to go on."""

    cursor = fields.String(metadata={"description": "The cursor of the last page; absent: from the start"})
    limit = fields.Integer(
        load_default=500,
        validate=validate.Range(1, LONGEST_PAGE),
        metadata={"description": "How many entries at most"},
    )


class Heads(Schema):
    """What a device's chain leads to."""

    tips = fields.List(fields.String(), required=True, metadata={"description": "Names; two: forked"})
    gaps = fields.List(
        fields.List(fields.Integer(), validate=validate.Length(2, 2)),
        required=True,
        metadata={"description": "[first, last] of numbers written, not arrived"},
    )


class Page(Schema):
    """Entries after the cursor, or `restart` alone: fetch from the start, offer what does not come back."""

    restart = fields.Boolean(metadata={"description": "This server's history is another one"})
    entries = fields.List(fields.String(), metadata={"description": "Entries, verbatim, in order of receipt"})
    cards = fields.List(fields.String(), metadata={"description": "Cards of their writers, verbatim"})
    cursor = fields.String(metadata={"description": "Where the next page begins; opaque"})
    more = fields.Boolean(metadata={"description": "Whether more is here already"})
    heads = fields.Dict(
        keys=fields.String(), values=fields.Nested(Heads), metadata={"description": "By key's thumbprint"}
    )
    files_missing = fields.List(fields.String(), metadata={"description": "Digests of files not arrived"})


@routes.route("/logs/<string:log>/entries", methods=["POST"])
@routes.response(200, Receipts)
@routes.problems(400, 401, 403, 413, 415, 422)
@needs_card_even_revoked
@at_most(LARGEST_POST_MIB, "Send the entries in smaller parts.")
@routes.arguments(InLog, location="path")
@routes.arguments(Post)
def hand_in(address: dict[str, str], sent: dict[str, Any], log: str) -> dict[str, object]:
    """Hand in entries; anybody with a card may hand in what another signed."""
    del address
    if len(sent["entries"]) > MOST_ENTRIES:
        raise Problem(
            HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
            f"At most {MOST_ENTRIES} entries are taken at once. Send them in smaller parts.",
            {"entries": f"{len(sent['entries'])} entries."},
        )
    unit = writer().unit
    with writing() as session:
        answers = receive(session, unit, log, sent["cards"], sent["entries"])
    _follow_up(unit)
    return {"answers": [_answer(receipt) for receipt in answers]}


@routes.route("/logs/<string:log>/entries", methods=["GET"])
@routes.response(200, Page)
@routes.problems(401, 403, 404, 422)
@needs_card
@routes.arguments(InLog, location="path")
@routes.arguments(From, location="query")
def fetch(address: dict[str, str], wanted: dict[str, Any], log: str) -> dict[str, object]:
    """Fetch what came after a cursor."""
    del address
    unit = writer().unit
    with reading() as session:
        if session.get(Log, (unit, log)) is None:
            if wanted.get("cursor") is not None:
                return {"restart": True}
            raise Problem(
                HTTPStatus.NOT_FOUND, f"This unit has no log {log} here. Entries sent to it open it."
            )
        return sync.page(session, unit, log, wanted.get("cursor"), wanted["limit"])


@routes.route("/files/<string:sha256>", methods=["PUT"])
@routes.response(204)
@routes.problems(401, 403, 413, 422, 507)
@needs_card_even_revoked
@at_most(LARGEST_MIB, "Take a smaller picture.")
@routes.arguments(OfFile, location="path")
def put_file(address: dict[str, str], sha256: str) -> Response:
    """Keep a file under its SHA-256."""
    del address
    octets = request.get_data()
    if jws.sha256(octets) != sha256:
        raise Problem(
            HTTPStatus.UNPROCESSABLE_ENTITY,
            "This is not the file of that SHA-256: it was changed or cut short on its way. Send it again.",
            {"sha256": f"What came has {jws.sha256(octets)}."},
        )
    asks = writer()
    with writing() as session:
        keep(session, asks.unit, asks.kid, octets, (request.mimetype or "application/octet-stream")[:100])
    return current_app.response_class(status=HTTPStatus.NO_CONTENT)


@routes.route("/files/<string:sha256>", methods=["GET"])
@routes.response(200, {"type": "string", "format": "binary"}, content_type="application/octet-stream")
@routes.problems(401, 403, 404, 422)
@needs_card
@routes.arguments(OfFile, location="path")
def get_file(address: dict[str, str], sha256: str) -> Response:
    """Give a file's octets, as a download that no browser runs."""
    del address
    unit = writer().unit
    with reading() as session:
        octets = octets_of(session, unit, sha256)
    if octets is None:
        raise Problem(HTTPStatus.NOT_FOUND, "This file has not arrived.")
    response = current_app.response_class(octets, mimetype="application/octet-stream")
    response.headers["Content-Disposition"] = "attachment"
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return response


@routes.route("/assess/<string:name>", methods=["POST"])
@routes.response(200, assess.AssessmentAnswer)
@routes.problems(400, 401, 403, 413, 422)
@routes.doc(requestBody={"required": True, "content": {"application/json": {"schema": assess.INPUT}}})
@needs_card
@at_most(assess.LARGEST_MIB, "Send fewer readings.")
@routes.arguments(assess.OfComputation, location="path")
def compute(address: dict[str, str], name: str) -> dict[str, Any]:
    """Compute a verdict from raw inputs; numbers may be decimal strings. Nothing is kept."""
    del address
    return assess.answer(name, request.get_data())


def _follow_up(unit: str) -> None:
    """Take in what waited in other logs, and repeat revocations.

    Each is a transaction of its own, since two posts that hold several logs could wait for each other. What
    was sent is kept by now, so a failure here is not the phone's: it is logged, and the next post does it again.
    """
    try:
        with reading() as session:
            logs = logs_waiting_for_cards_held(session, unit)
        for log in logs:
            with writing() as session:
                receive(session, unit, log, [], [])
        with writing() as session:
            repeat_revocations(session, unit)
    except Exception:
        current_app.logger.exception("What follows a post failed for %s; the next post does it again.", unit)


def _answer(receipt: Receipt) -> dict[str, str]:
    answer = {"name": receipt.name, "answer": receipt.answer}
    return answer if receipt.reason is None else {**answer, "reason": receipt.reason}
