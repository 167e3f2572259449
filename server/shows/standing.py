"""A show's definition as it stands: with what the counting amends of its log add, move and withdraw."""

import json

from sqlalchemy.orm import Session

from server.crew.cards import cards_of_unit, unit_jwk
from server.logbook import kinds
from server.logbook.entry import parse
from server.logbook.files import named_by
from server.logbook.fold import History, fold
from server.logbook.models import EntryRow
from server.logbook.steps import sheets
from server.logbook.sync import of_log
from server.logbook.views import amended
from server.shows.make import Definition


def standing(session: Session, unit: str, show: str, definition: Definition) -> Definition:
    """The definition that a show was made with, as it stands by what this server holds of its log."""
    rows = session.scalars(of_log(unit, show).order_by(EntryRow.receipt)).all()
    entries = [parse(row.jws) for row in rows]
    made = [{"id": json.loads(text)["id"], "text": text} for text in _texts(definition)]
    named = named_by(session, unit, entries, "amend", "digest")
    files = {digest: octets.decode("utf-8", "replace") for digest, octets in named}
    now = fold(
        History(
            log=show,
            unit_key=unit_jwk(unit),
            cards=cards_of_unit(session, unit),
            kinds=kinds.load(),
            sheets=made,
            entries=[entry.jws for entry in entries],
            files=files,
        )
    )
    return amended(now, definition) | {"sheets": [sheet["text"] for sheet in sheets(now.held).values()]}


def _texts(definition: Definition) -> list[str]:
    texts = definition["sheets"]
    return [str(text) for text in texts] if isinstance(texts, list) else []
