"""A show's definition as it stands: with what the counting amends of its log add, move and withdraw."""

import json
from collections.abc import Iterable

from sqlalchemy.orm import Session

from server.crew.cards import cards_of_unit, unit_jwk
from server.logbook import kinds
from server.logbook.entry import Entry, parse
from server.logbook.files import octets_of
from server.logbook.fold import Fold
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
    files = dict(_files(session, unit, entries))
    fold = Fold(log=show, unit_key=unit_jwk(unit), kinds=kinds.load(), sheets=made, files=files)
    fold.add_cards(cards_of_unit(session, unit))
    fold.add_entries([entry.jws for entry in entries])
    return amended(fold, definition) | {"sheets": [sheet["text"] for sheet in sheets(fold.held).values()]}


def _texts(definition: Definition) -> list[str]:
    texts = definition["sheets"]
    return [str(text) for text in texts] if isinstance(texts, list) else []


def _files(session: Session, unit: str, entries: Iterable[Entry]) -> Iterable[tuple[str, str]]:
    """The files that amends name, as text; what is no text is no such file."""
    for entry in entries:
        digest = entry.body.get("digest") if entry.kind == "amend" else None
        octets = octets_of(session, unit, digest) if isinstance(digest, str) else None
        if isinstance(digest, str) and octets is not None:
            yield digest, octets.decode("utf-8", "replace")
