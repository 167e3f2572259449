"""What the server answers to raw inputs: for phones that cannot run the arithmetic themselves."""

from http import HTTPStatus
from typing import Any

from marshmallow import Schema, fields, validate

from server.problem import Problem
from server.trade import register
from server.trade.errors import InputError

LARGEST_MIB = 1
NAMES = list(register.assessments())
INPUT = {"anyOf": [register.schema(name) for name in NAMES]}
"""The inputs of each computation, from its declaration; `title` is the computation's name."""


class OfComputation(Schema):
    """A computation's address."""

    form = validate.OneOf(NAMES, error="Not the name of a computation.")
    name = fields.String(required=True, validate=form, metadata={"description": "The computation's name"})


class FigureAnswer(Schema):
    """A figure of an answer."""

    value = fields.Raw(
        required=True,
        allow_none=True,
        metadata={"description": "A number or a text; null where there is none"},
    )
    unit = fields.String(required=True, metadata={"description": "Its unit; empty where it has none"})


class AssessmentAnswer(Schema):
    """A verdict with all that it rests on."""

    assessment = fields.String(required=True, metadata={"description": "The computation's name"})
    core = fields.String(required=True, metadata={"description": "Version of the arithmetic"})
    verdict = fields.String(required=True, metadata={"description": "The verdict's words"})
    figures = fields.Dict(
        keys=fields.String(),
        values=fields.Nested(FigureAnswer),
        required=True,
        metadata={"description": "Figures by name"},
    )
    findings = fields.List(fields.String(), required=True, metadata={"description": "What was found"})
    advice = fields.List(fields.String(), required=True, metadata={"description": "What to turn or do"})
    cautions = fields.List(fields.String(), required=True, metadata={"description": "How it can hurt"})
    basis = fields.List(fields.String(), required=True, metadata={"description": "Formulas, whose limits"})
    svg = fields.String(
        required=True, allow_none=True, metadata={"description": "The figure; null where none is drawn"}
    )


def answer(name: str, octets: bytes) -> dict[str, Any]:
    """The answer to a body as sent, with its figure; raises Problem naming the fields that cannot be read."""
    raw = _input(octets)
    try:
        return {**register.assess(name, raw), "svg": register.drawing(name, raw)}
    except InputError as bad:
        raise _problem(HTTPStatus.UNPROCESSABLE_ENTITY, bad) from None


def _input(octets: bytes) -> Any:
    try:
        return register.loads(octets.decode())
    except UnicodeDecodeError:
        raise Problem(HTTPStatus.BAD_REQUEST, "The body is not UTF-8 text. Send JSON.") from None
    except InputError as bad:
        raise _problem(HTTPStatus.BAD_REQUEST, bad) from None


def _problem(status: HTTPStatus, bad: InputError) -> Problem:
    errors: dict[str, str] = {}
    for field, sentence in bad.problems:
        errors[field] = f"{errors[field]}; {sentence}" if field in errors else sentence
    return Problem(status, "These inputs cannot be read; each field says what it wants.", errors)
