"""Routes of enrolment, sessions, invitations and the crew's list."""

import json
from http import HTTPStatus
from typing import Any

from flask import Response, current_app, jsonify, request
from marshmallow import Schema, fields, validate
from sqlalchemy import select

from server.crew import jws
from server.crew.cards import cards_of_unit, roles_of, unit_jwk
from server.crew.enrol import enrol, hold_guesses, note_guess
from server.crew.invite import ROLES, CannotInvite, Invited, invite, open_invitations
from server.crew.models import Device, Person
from server.crew.sessions import (
    give_nonce,
    needs_card,
    needs_chief,
    open_session,
    set_cookie,
    sign_in,
    writer,
)
from server.problem import Problem
from server.routes import Routes, text
from server.store import reading, writing

routes = Routes("crew", __name__, url_prefix="/api", description="People, phones, cards")


class PublicKey(Schema):
    """A P-256 public key as JWK (RFC 7517)."""

    kty = fields.String(required=True, validate=validate.Equal("EC"), metadata={"description": "EC"})
    crv = fields.String(required=True, validate=validate.Equal("P-256"), metadata={"description": "P-256"})
    x = fields.String(required=True, metadata={"description": "32 octets in base64url"})
    y = fields.String(required=True, metadata={"description": "32 octets in base64url"})


class Enrolment(Schema):
    """A code and the key of the phone that it was given to."""

    code = text("The invitation's code, as typed", 100, required=True)
    public_key = fields.Nested(PublicKey, required=True, metadata={"description": "The phone's key"})


class Enrolled(Schema):
    """What makes a phone somebody's."""

    card = fields.String(required=True, metadata={"description": "The card, a JWS by the unit's key"})
    unit_key = fields.Nested(PublicKey, required=True, metadata={"description": "The unit's key, to pin"})


class NonceAnswer(Schema):
    """A nonce for one session."""

    nonce = fields.String(required=True, metadata={"description": "Good once, for five minutes"})


class SignIn(Schema):
    """A session as a phone signs it."""

    session = text("JWS, header {alg, kid, typ: session}, payload {origin, nonce}", 4000, required=True)
    card = text("A card of that key", 8000, required=True)


class InvitationAsked(Schema):
    """Whom to invite."""

    name = text("How they are called", required=True)
    roles = fields.List(
        fields.String(validate=validate.OneOf(ROLES)),
        required=True,
        validate=validate.Length(1, len(ROLES)),
        metadata={"description": "Their roles"},
    )
    person = text("Id of somebody known already, for another phone of theirs", 60)


class InvitationMade(Schema):
    """An open invitation."""

    code = fields.String(required=True, metadata={"description": "To be typed"})
    link = fields.String(required=True, metadata={"description": "To be opened; pins the unit's key"})
    qr = fields.String(required=True, metadata={"description": "The link as a QR code, SVG"})
    person = fields.String(required=True, metadata={"description": "The person's id in entries"})
    name = fields.String(required=True, metadata={"description": "How they are called"})
    roles = fields.List(fields.String(), required=True, metadata={"description": "Their roles"})


class DeviceListed(Schema):
    """One phone of somebody's."""

    kid = fields.String(required=True, metadata={"description": "Thumbprint of its key"})
    roles = fields.List(fields.String(), required=True, metadata={"description": "Roles on its cards"})
    revoked = fields.Boolean(required=True, metadata={"description": "Whether it was revoked"})


class PersonListed(Schema):
    """Somebody of the crew."""

    person = fields.String(required=True, metadata={"description": "Their id in entries"})
    name = fields.String(required=True, metadata={"description": "How they are called"})
    devices = fields.List(
        fields.Nested(DeviceListed), required=True, metadata={"description": "Their phones"}
    )


class Crew(Schema):
    """The crew of the unit and the invitations that nobody used yet."""

    people = fields.List(fields.Nested(PersonListed), required=True, metadata={"description": "By id"})
    invitations = fields.List(
        fields.Nested(InvitationMade), required=True, metadata={"description": "Open ones; chiefs only"}
    )


@routes.route("/devices", methods=["POST"])
@routes.arguments(Enrolment)
@routes.response(201, Enrolled)
@routes.problems(400, 403, 409, 413, 415, 422, 429)
def enrol_device(asked: dict[str, Any]) -> Response:
    """Enrol a phone by its invitation's code: its card, and a session's cookie."""
    jwk = {member: str(asked["public_key"][member]) for member in ("kty", "crv", "x", "y")}
    try:
        kid = jws.thumbprint(jwk)
    except ValueError as fault:
        raise Problem(
            HTTPStatus.UNPROCESSABLE_ENTITY, "The key cannot be used.", {"public_key": str(fault)}
        ) from None
    address = request.remote_addr or "nowhere"
    try:
        with writing() as session:
            hold_guesses(session, address)
            unit, card = enrol(session, asked["code"], jwk)
            token = open_session(session, unit, kid)
    except Problem as problem:
        if "Unknown code." in problem.errors.values():
            with writing() as session:
                note_guess(session, address)
        raise
    answer = jsonify(card=card, unit_key=unit_jwk(unit))
    answer.status_code = HTTPStatus.CREATED
    return set_cookie(answer, token)


@routes.route("/nonce", methods=["GET"])
@routes.response(200, NonceAnswer)
def nonce() -> dict[str, str]:
    """Give a nonce for one session."""
    with writing() as session:
        return {"nonce": give_nonce(session)}


@routes.route("/sessions", methods=["POST"])
@routes.arguments(SignIn)
@routes.response(204)
@routes.problems(400, 403, 413, 415, 422)
def start_session(asked: dict[str, str]) -> Response:
    """Open a session by the phone's key: the cookie, in place of a lost one."""
    with writing() as session:
        unit, kid = sign_in(session, asked["session"], asked["card"])
        token = open_session(session, unit, kid)
    return set_cookie(current_app.response_class(status=HTTPStatus.NO_CONTENT), token)


@routes.route("/invitations", methods=["POST"])
@routes.arguments(InvitationAsked)
@routes.response(201, InvitationMade)
@routes.problems(400, 401, 403, 413, 415, 422)
@needs_chief
def make_invitation(asked: dict[str, Any]) -> Invited:
    """Invite somebody (chiefs only): a code for one phone of theirs."""
    unit = writer().unit
    try:
        with writing() as session:
            return invite(session, unit, asked["name"], asked["roles"], asked.get("person"))
    except CannotInvite as fault:
        raise Problem(HTTPStatus.UNPROCESSABLE_ENTITY, str(fault), {fault.field: str(fault)}) from None


@routes.route("/crew", methods=["GET"])
@routes.response(200, Crew)
@routes.problems(401, 403)
@needs_card
def list_crew() -> dict[str, object]:
    """Say who is in the crew, with their phones; chiefs also see the open invitations."""
    asks = writer()
    with reading() as session:
        devices = session.scalars(select(Device).where(Device.unit == asks.unit).order_by(Device.kid)).all()
        people = session.scalars(select(Person).where(Person.unit == asks.unit).order_by(Person.id)).all()
        held: dict[str, set[str]] = {}
        for card in cards_of_unit(session, asks.unit):
            payload = json.loads(jws.split(card)[1])
            if payload["type"] == "card":
                held.setdefault(payload["person"], set()).add(jws.thumbprint(payload["jwk"]))
        return {
            "people": [
                {
                    "person": person.id,
                    "name": person.name,
                    "devices": [
                        {
                            "kid": device.kid,
                            "roles": sorted(roles_of(session, asks.unit, device.kid, person.id)),
                            "revoked": device.revoked_s is not None,
                        }
                        for device in devices
                        if device.kid in held.get(person.id, set())
                    ],
                }
                for person in people
            ],
            "invitations": open_invitations(session, asks.unit) if "chief" in asks.roles else [],
        }
