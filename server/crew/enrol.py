"""Enrolment: code and key in, card out; the same code with the same key gets the same answer for a day."""

import json
from http import HTTPStatus

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import issue
from server.crew.invite import typed
from server.crew.models import Device, Guess, Invitation
from server.problem import Problem
from server.store import now_s

AGAIN_S = 24 * 3600
GUESSES = 10
GUESSES_WITHIN_S = 600


def enrol(session: Session, code: str, jwk: dict[str, str]) -> tuple[str, str]:
    """The unit and the card for a device's public key.

    Raises Problem where the code is not (or no longer) good for this key, or the key is revoked.
    """
    row = session.scalar(select(Invitation).where(Invitation.code == typed(code)).with_for_update())
    if row is None:
        raise Problem(
            HTTPStatus.FORBIDDEN,
            "This code is not one of ours. Look again at each letter, or ask the chief for a new one.",
            {"code": "Unknown code."},
        )
    kid = jws.thumbprint(jwk)
    device = session.get(Device, (row.unit, kid))
    if device is not None and device.revoked_s is not None:
        raise Problem(
            HTTPStatus.FORBIDDEN,
            "This phone's key was revoked. Take the app off this phone, put it on again, ask for a new code.",
            {"public_key": "Revoked key."},
        )
    if row.card is not None:
        return row.unit, _again(row, kid)
    if row.ends_s <= now_s():
        raise Problem(
            HTTPStatus.FORBIDDEN, "This code has run out. Ask the chief for a new one.", {"code": "Run out."}
        )
    card = issue(session, row.unit, jwk, row.person, row.name, json.loads(row.roles))
    row.kid, row.card, row.used_s = kid, card.jws, now_s()
    return row.unit, card.jws


def hold_guesses(session: Session, address: str) -> None:
    """Raises Problem (429) where too many wrong codes came from an address lately."""
    since = now_s() - GUESSES_WITHIN_S
    lately = select(func.count()).select_from(Guess).where(Guess.address == address, Guess.at_s > since)
    if (session.scalar(lately) or 0) >= GUESSES:
        raise Problem(
            HTTPStatus.TOO_MANY_REQUESTS,
            f"Too many wrong codes came from here. Wait {GUESSES_WITHIN_S // 60} minutes, then try again.",
            headers={"Retry-After": str(GUESSES_WITHIN_S)},
        )


def note_guess(session: Session, address: str) -> None:
    """Count a wrong code against the address it came from."""
    session.add(Guess(address=address, at_s=now_s()))


def _again(row: Invitation, kid: str) -> str:
    if row.kid != kid:
        raise Problem(
            HTTPStatus.CONFLICT,
            "This code was used by another phone already. Each phone needs its own: ask the chief for one.",
            {"code": "Used by another key."},
        )
    if row.card is None or row.used_s is None or row.used_s + AGAIN_S <= now_s():
        raise Problem(
            HTTPStatus.FORBIDDEN,
            "This code was used more than a day ago. Ask the chief for a new one.",
            {"code": "Run out."},
        )
    return row.card
