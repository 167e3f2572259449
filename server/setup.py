"""A server's first start: tables, keys, a unit; the demo's with its shows. What is there already stays."""

from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from server.crew.cards import set_up_unit
from server.crew.invite import Invited, invite, open_invitations
from server.crew.models import Person, Unit
from server.logbook.receipt import locked
from server.migrations import migrate
from server.settings import CHECKLISTS
from server.sheets.definitions import Unit as Defined
from server.sheets.unit import BadDefinitions, load
from server.shows import demo, make, plan
from server.shows.models import Show
from server.store import insert_new, writing

INVITED = ("ines", "bram", "lena", "tomas")
"""The four of the demo's crew who hold every role between them."""


class NoUnit(Exception):  # noqa: N818 - said to whoever runs the command, by this name
    """This server holds no unit, or more than one where one was meant; the message says what to do."""


class CannotBegin(ValueError):  # noqa: N818 - said to whoever runs the command, by this name
    """No unit can be set up here from this folder; the message says why and what to do."""


def make_tables() -> None:
    """Make the tables that are missing and change those that are old. Raises NewerDatabase."""
    migrate()


def seed_demo() -> list[Invited]:
    """Make the demo's unit, crew and shows where they are missing; the invitations that are open.

    Somebody whose invitation was used is invited again, so that there is always one for each of the four.
    """
    unit = load(demo.FOLDER)
    with writing() as session:
        _set_up(session, unit, demo.FOLDER)
        for person in demo.PEOPLE:
            insert_new(session, Person, {"unit": unit.id, "id": person["person"], "name": person["name"]})
        if session.scalar(select(Show.id).where(Show.unit == str(unit.id))) is None:
            for planned in (demo.plan(), demo.next_plan()):
                make.begin(session, str(unit.id), plan.expand(unit, planned))
        return [_invited(session, str(unit.id), person) for person in INVITED]


def begin_unit(folder: Path, chief: str, roles: list[str]) -> Invited:
    """Set up the unit that a folder of `checklists/` defines, and invite its first chief. Raises CannotBegin."""
    folder = folder.resolve()
    if folder.parent != CHECKLISTS.resolve():
        raise CannotBegin(f"{folder} is no folder in {CHECKLISTS}: put the unit's definitions there")
    try:
        unit = load(folder)
    except BadDefinitions as bad:
        raise CannotBegin(f"{bad}\nMend these first; `handline check {folder}` names them again.") from None
    with writing() as session:
        for there in session.scalars(select(Unit.name)):
            raise CannotBegin(f"This server holds {there} already: give another HANDLINE_DATA and _DATABASE")
        _set_up(session, unit, folder)
        return invite(session, str(unit.id), chief, roles)


def only_unit(session: Session) -> str:
    """The unit of a server that has one. Raises NoUnit."""
    units = session.scalars(select(Unit.id).order_by(Unit.id)).all()
    if len(units) != 1:
        raise NoUnit(
            f"this server holds {len(units)} units, and one is needed: run `handline begin` or `handline demo` first"
        )
    return units[0]


def _set_up(session: Session, unit: Defined, folder: Path) -> None:
    set_up_unit(session, str(unit.id), unit.name, folder.name)
    locked(session, str(unit.id), f"yard-{unit.id}")


def _invited(session: Session, unit: str, person: str) -> Invited:
    standing = [one for one in open_invitations(session, unit) if one.person == person]
    known = next(one for one in demo.PEOPLE if one["person"] == person)
    return (
        standing[0] if standing else invite(session, unit, str(known["name"]), list(known["roles"]), person)
    )
