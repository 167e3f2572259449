"""Routes as every room writes them: strict JSON in, described answers out, problems for what goes wrong."""

from collections.abc import Callable
from functools import wraps
from http import HTTPStatus
from typing import Any

import flask
from flask_smorest import Blueprint
from marshmallow import fields, validate
from webargs.flaskparser import FlaskParser, abort, is_json_request
from werkzeug.exceptions import RequestEntityTooLarge

from server.crew import ijson
from server.problem import MEDIA_TYPE, Problem, ProblemDocument

DIGEST = r"^[A-Za-z0-9_-]{42}[AEIMQUYcgkosw048]$"
LOG_ID = r"^[A-Za-z0-9._-]{1,120}$"

View = Callable[..., Any]


class StrictParser(FlaskParser):
    """Reads bodies by the logbook's own profile of JSON, so that no other reading of them exists."""

    def _raw_load_json(self, req: flask.Request) -> Any:
        octets = req.get_data(cache=True)
        if not is_json_request(req):
            abort(415, detail="Send JSON, with the content type application/json.")
        try:
            return ijson.loads(octets)
        except ijson.NotIJson as fault:
            abort(400, messages={"body": [f"{fault}"]}, detail=f"The body cannot be read: {fault}.")

    def load_querystring(self, req: flask.Request, schema: Any) -> Any:
        """The query's members; text that no database can hold is nobody's cursor."""
        if any("\0" in value for value in req.args.values()):
            abort(422, messages={"query": ["a text holds U+0000"]})
        return super().load_querystring(req, schema)


class Routes(Blueprint):  # type: ignore[misc]  # flask-smorest carries no types
    """A room's routes."""

    ARGUMENTS_PARSER = StrictParser(unknown=None)

    def problems(self, *statuses: int) -> Callable[[View], View]:
        """Say in the description that a route may answer these with a problem document."""

        def describe(view: View) -> View:
            for status in statuses:
                view = self.alt_response(status, schema=ProblemDocument, content_type=MEDIA_TYPE)(view)
            return view

        return describe


def at_most(mib: int, advice: str) -> Callable[[View], View]:
    """Take a body of this many MiB at most; a larger one is a problem (413) with `advice`."""

    def limited(view: View) -> View:
        @wraps(view)
        def weighed(*args: Any, **kwargs: Any) -> Any:
            flask.request.max_content_length = mib * 1024 * 1024
            try:
                flask.request.get_data()
            except RequestEntityTooLarge:
                raise Problem(
                    HTTPStatus.REQUEST_ENTITY_TOO_LARGE, f"At most {mib} MiB are taken at once. {advice}"
                ) from None
            return view(*args, **kwargs)

        return weighed

    return limited


def text(description: str, longest: int = 200, **more: Any) -> fields.String:
    """A field of one line of text, not empty."""
    line = validate.Regexp(r"^[^\x00-\x1f\x7f]+$", error="Write one line of text without control characters.")
    return fields.String(
        validate=[validate.Length(1, longest), line], metadata={"description": description}, **more
    )


def digest(description: str, **more: Any) -> fields.String:
    """A field of a SHA-256 in base64url: a name, a thumbprint, a file's digest."""
    form = validate.Regexp(DIGEST, error="Not a SHA-256 in base64url (43 characters).")
    return fields.String(validate=form, metadata={"description": description}, **more)
