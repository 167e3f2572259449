"""Who is asking: nonces, sessions and their cookie, and the checks that stand before a route."""

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from http import HTTPStatus
from typing import Any

from flask import Response, current_app, g, request
from sqlalchemy import delete
from sqlalchemy.orm import Session as Database

from server.crew import ijson, jws
from server.crew.card import Card, NotACard, parse
from server.crew.cards import roles_of, take, unit_keys
from server.crew.models import Device, Nonce, Session, Unit
from server.problem import Problem
from server.store import db, now_s

COOKIE = "handline"
NONCE_S = 300
SESSION_S = 60 * 24 * 3600

View = Callable[..., Any]


@dataclass(frozen=True)
class Writer:
    """The device that asks: its unit, key, the roles of all its cards, and whether it was revoked."""

    unit: str
    kid: str
    roles: frozenset[str]
    revoked: bool


def give_nonce(session: Database) -> str:
    """A nonce for one session, good for five minutes."""
    session.execute(delete(Nonce).where(Nonce.ends_s <= now_s()))
    nonce = secrets.token_urlsafe(24)
    session.add(Nonce(nonce=nonce, ends_s=now_s() + NONCE_S))
    return nonce


def sign_in(session: Database, signed: str, card_text: str) -> tuple[str, str]:
    """The unit and key that a session JWS (typ `session`, payload `{origin, nonce}`) proves, by its card.

    The nonce is used up. A revoked device may sign in too: it may hand in what it wrote. Raises Problem.
    """
    card = _card(session, card_text)
    try:
        header, octets, _ = jws.split(signed)
        claim = ijson.loads(octets)
    except ValueError as fault:
        raise _no_session(f"it cannot be read: {fault}") from None
    if header != {"alg": "ES256", "kid": card.kid, "typ": "session"}:
        raise _no_session("its header is not exactly alg ES256, the card's kid and typ session")
    if not isinstance(claim, dict) or set(claim) != {"origin", "nonce"}:
        raise _no_session("its payload is not exactly origin and nonce")
    if claim["origin"] != current_app.config["HANDLINE_SITE"]:
        raise _no_session(f"it is for another origin than {current_app.config['HANDLINE_SITE']}")
    if not jws.verify(signed, card.jwk):
        raise _no_session("its signature is false")
    _use_nonce(session, claim["nonce"])
    take(session, card.unit, [card_text])
    return card.unit, card.kid


def open_session(session: Database, unit: str, kid: str) -> str:
    """A new session's token, for the cookie."""
    token = secrets.token_urlsafe(32)
    session.execute(delete(Session).where(Session.ends_s <= now_s()))
    session.add(Session(token=jws.sha256(token.encode()), unit=unit, kid=kid, ends_s=now_s() + SESSION_S))
    return token


def set_cookie(response: Response, token: str) -> Response:
    """Put a session's token on a response."""
    secure = str(current_app.config["HANDLINE_SITE"]).startswith("https://")
    response.set_cookie(COOKIE, token, max_age=SESSION_S, httponly=True, samesite="Strict", secure=secure)
    return response


def needs_card(view: View) -> View:
    """Let in devices with a card that is not revoked; `g.writer` says whose."""
    return _guarded(view, None, revoked_too=False)


def needs_card_even_revoked(view: View) -> View:
    """Let in any device with a card: what a phone wrote before it was revoked may always be handed in."""
    return _guarded(view, None, revoked_too=True)


def needs_chief(view: View) -> View:
    """Let in chiefs only."""
    return _guarded(view, "chief", revoked_too=False)


def writer() -> Writer:
    """Who asks, in a route that needs a card."""
    found: Writer = g.writer
    return found


def check_origin() -> None:
    """Raises Problem where a page of another origin makes the browser send something here."""
    site = current_app.config["HANDLINE_SITE"]
    if request.method in {"GET", "HEAD", "OPTIONS"}:
        return
    origin = request.headers.get("Origin")
    if origin is not None and origin.lower() != site:
        raise Problem(HTTPStatus.FORBIDDEN, f"This was sent by a page of {origin}. Open the app at {site}.")
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in {"same-origin", "none"}:
        raise Problem(HTTPStatus.FORBIDDEN, f"This was sent by another site's page. Open the app at {site}.")


def _guarded(view: View, role: str | None, *, revoked_too: bool) -> View:
    @wraps(view)
    def guarded(*args: Any, **kwargs: Any) -> Any:
        asks = _writer_of_cookie()
        if asks.revoked and not revoked_too:
            raise Problem(
                HTTPStatus.FORBIDDEN,
                "This phone was revoked: it may hand in what it wrote, and read nothing. Ask the chief.",
            )
        if role is not None and role not in asks.roles:
            raise Problem(HTTPStatus.FORBIDDEN, f"Only a {role} may do this.")
        g.writer = asks
        return view(*args, **kwargs)

    return guarded


def _writer_of_cookie() -> Writer:
    token = request.cookies.get(COOKIE, "")
    database: Database = db.session()
    session = database.get(Session, jws.sha256(token.encode("utf-8", "surrogatepass")))
    if session is None or session.ends_s <= now_s():
        raise Problem(
            HTTPStatus.UNAUTHORIZED,
            "No card came with this. Enrol this phone, or open a new session with its card.",
            headers={"WWW-Authenticate": "Session"},
        )
    device = database.get(Device, (session.unit, session.kid))
    revoked = device is None or device.revoked_s is not None
    return Writer(session.unit, session.kid, roles_of(database, session.unit, session.kid), revoked)


def _card(session: Database, text: str) -> Card:
    try:
        stated = parse(text)
        if not isinstance(stated, Card) or session.get(Unit, stated.unit) is None:
            raise NotACard("it is not a card of a unit on this server")
        return unit_keys(session, stated.unit).card(text)
    except NotACard as fault:
        raise Problem(
            HTTPStatus.FORBIDDEN, f"This card opens nothing here: {fault}.", {"card": f"{fault}"}
        ) from None


def _use_nonce(session: Database, nonce: object) -> None:
    used = delete(Nonce).where(Nonce.nonce == str(nonce), Nonce.ends_s > now_s())
    if session.connection().execute(used).rowcount != 1:
        raise _no_session("its nonce is unknown, used, or older than five minutes; fetch a new one")


def _no_session(why: str) -> Problem:
    return Problem(HTTPStatus.FORBIDDEN, f"This session cannot be opened: {why}.", {"session": why})
