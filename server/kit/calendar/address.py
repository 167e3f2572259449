"""The private address of a unit's calendar: whoever has it reads the due dates, until a new one takes its place."""

import secrets

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from server.crew import jws
from server.kit.models import CalendarAddress
from server.store import now_s

TOKEN_BYTES = 32


def renew(session: Session, unit: str) -> str:
    """A new token in place of the old; only its SHA-256 is kept, so that it is said once."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    withdraw(session, unit)
    session.add(CalendarAddress(unit=unit, token=_digest(token), made_s=now_s()))
    return token


def withdraw(session: Session, unit: str) -> None:
    """No address any more."""
    session.execute(delete(CalendarAddress).where(CalendarAddress.unit == unit))


def made_s(session: Session, unit: str) -> int | None:
    """When the unit's address was made, in seconds since 1970; None where there is none."""
    return session.scalar(select(CalendarAddress.made_s).where(CalendarAddress.unit == unit))


def unit_of(session: Session, token: str) -> str | None:
    """The unit whose address has this token."""
    return session.scalar(select(CalendarAddress.unit).where(CalendarAddress.token == _digest(token)))


def _digest(token: str) -> str:
    return jws.sha256(token.encode("utf-8", "surrogatepass"))
