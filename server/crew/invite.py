"""Invitations: a code for one person and their roles, as a link, to be typed, and as a QR code."""

import json
import re
import secrets
from dataclasses import dataclass
from io import BytesIO

import segno
from flask import current_app
from sqlalchemy import select
from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import unit_jwk
from server.crew.models import Invitation, Person, Unit
from server.store import insert_new, now_s

ROLES = ("rigger", "camera", "engineer", "sound", "driver", "lift-leader", "chief")
LIFE_S = 14 * 24 * 3600
_LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # none that is read as another
_CODE_LENGTH = 10


class CannotInvite(ValueError):  # noqa: N818 - the sentence is shown as it stands
    """Nobody can be invited so; `field` is at fault, the message says why."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True)
class Invited:
    """An open invitation: `code` to type, `link` to open, both good for one phone."""

    code: str
    link: str
    person: str
    name: str
    roles: tuple[str, ...]

    @property
    def qr(self) -> str:
        """The link as a QR code, an SVG document."""
        out = BytesIO()
        segno.make(self.link, error="m").save(out, kind="svg", scale=6, border=4, xmldecl=False)
        return out.getvalue().decode()


def invite(session: Session, unit: str, name: str, roles: list[str], person: str | None = None) -> Invited:
    """Invite somebody; with `person`, another phone of somebody who is known already.

    Raises CannotInvite.
    """
    name = name.strip()
    if not name or len(name) > 200 or not name.isprintable():
        raise CannotInvite("name", "Give the name on one line, at most 200 characters.")
    unknown = [role for role in roles if role not in ROLES]
    if unknown or not roles:
        raise CannotInvite("roles", f"Give one role or more of: {', '.join(ROLES)}.")
    if session.get(Unit, unit) is None:
        raise CannotInvite("unit", f"There is no unit {unit} on this server.")
    if person is not None and not session.get(Person, (unit, person)):
        raise CannotInvite("person", f"Nobody in this unit has the id {person}.")
    whose = person or _new_person(session, unit, name)
    row = Invitation(
        code="".join(secrets.choice(_LETTERS) for _ in range(_CODE_LENGTH)),
        unit=unit,
        person=whose,
        name=name,
        roles=json.dumps(roles),
        ends_s=now_s() + LIFE_S,
    )
    session.add(row)
    session.flush()
    return _invited(row)


def open_invitations(session: Session, unit: str) -> list[Invited]:
    """The invitations of a unit that nobody has used yet and that have not run out."""
    is_open = (Invitation.unit == unit, Invitation.kid.is_(None), Invitation.ends_s > now_s())
    return [
        _invited(row) for row in session.scalars(select(Invitation).where(*is_open).order_by(Invitation.code))
    ]


def typed(code: str) -> str:
    """A code as it is kept, from how somebody typed it."""
    return re.sub(r"[\s-]", "", code).upper()


def _invited(row: Invitation) -> Invited:
    half = _CODE_LENGTH // 2
    code = f"{row.code[:half]}-{row.code[half:]}"
    pinned = jws.thumbprint(unit_jwk(row.unit))
    link = f"{current_app.config['HANDLINE_SITE']}/join#{code}.{pinned}"
    return Invited(code, link, row.person, row.name, tuple(json.loads(row.roles)))


def _new_person(session: Session, unit: str, name: str) -> str:
    word = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40] or "person"
    person, number = word, 2
    while not insert_new(session, Person, {"unit": unit, "id": person, "name": name}):
        person, number = f"{word}-{number}", number + 1
    return person
