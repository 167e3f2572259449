"""Errors as problem details (RFC 9457), each saying what is wrong, in which field, and what to do."""

from http import HTTPStatus

from flask import Flask, Response, json
from marshmallow import Schema, fields
from werkzeug.exceptions import HTTPException, InternalServerError

MEDIA_TYPE = "application/problem+json"


class Problem(Exception):  # noqa: N818 - RFC 9457's word
    """An error to answer with: `status`, a sentence `detail`, and for each field at fault a sentence."""

    def __init__(
        self,
        status: HTTPStatus,
        detail: str,
        errors: dict[str, str] | None = None,
        headers: dict[str, str] | None = None,
    ) -> None:
        super().__init__(detail)
        self.status = status
        self.detail = detail
        self.errors = errors or {}
        self.headers = headers or {}

    def response(self) -> Response:
        """The problem document."""
        document: dict[str, object] = {
            "type": "about:blank",
            "title": self.status.phrase,
            "status": self.status.value,
            "detail": self.detail,
        }
        if self.errors:
            document["errors"] = [{"field": field, "detail": text} for field, text in self.errors.items()]
        return Response(json.dumps(document), self.status, self.headers, content_type=MEDIA_TYPE)


class FieldFault(Schema):
    """One field at fault."""

    field = fields.String(required=True, metadata={"description": "Path of the field, such as entries.3"})
    detail = fields.String(required=True, metadata={"description": "What is wrong with it"})


class ProblemDocument(Schema):
    """RFC 9457 problem details."""

    type = fields.String(
        required=True, metadata={"description": "Always about:blank: the status says the kind"}
    )
    title = fields.String(required=True, metadata={"description": "The status in words"})
    status = fields.Integer(required=True, metadata={"description": "The HTTP status"})
    detail = fields.String(required=True, metadata={"description": "What is wrong and what to do"})
    errors = fields.List(fields.Nested(FieldFault), metadata={"description": "The fields at fault"})


DETAILS = {
    HTTPStatus.NOT_FOUND: "There is nothing at this address.",
    HTTPStatus.METHOD_NOT_ALLOWED: "This address does not take this method.",
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE: "This is larger than is taken here. Send it in smaller parts.",
    HTTPStatus.UNPROCESSABLE_ENTITY: "Some fields cannot be taken as they are.",
    HTTPStatus.INTERNAL_SERVER_ERROR: "The server failed at this. Nothing was kept of it; send it again.",
}


def say_all_as_problems(app: Flask) -> None:
    """Make every error of the app a problem document."""
    app.register_error_handler(Problem, Problem.response)
    app.register_error_handler(HTTPException, of_http)


def of_http(error: HTTPException) -> Response:
    """The problem document of an HTTP error, with the fields that validation named."""
    if error.response is not None or (error.code or 500) < 400:
        sent = error.get_response()
        return Response(sent.get_data(), sent.status, sent.headers)
    status = HTTPStatus(error.code or 500)
    data = getattr(error, "data", None) or {}
    errors = dict(_flat(data.get("messages", {})))
    detail = data.get("detail") or DETAILS.get(status) or error.description or status.phrase
    if isinstance(error, InternalServerError):
        errors = {}
    headers = {name: value for name, value in error.get_headers() if name in {"Allow", "Retry-After"}}
    return Problem(status, detail, errors, headers).response()


def _flat(messages: object, path: tuple[str, ...] = ()) -> list[tuple[str, str]]:
    if isinstance(messages, dict):
        return [pair for key, inner in messages.items() for pair in _flat(inner, (*path, str(key)))]
    texts = messages if isinstance(messages, list) else [messages]
    field = ".".join(part for part in path if part not in {"json", "query", "path", "_schema"}) or "body"
    return [(field, " ".join(str(text) for text in texts))]
