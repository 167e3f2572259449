"""Keeps the table of shows beside the `show` entries as they are stored."""

from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.cards import roles_of
from server.logbook.entry import Entry
from server.logbook.receipt import stored
from server.shows.models import Show
from server.store import insert_new

MAKERS = {"chief", "server"}


def note_show(entry: Entry, session: Session, unit: str) -> None:
    """Enter a show as its `show` entry is stored; the first one of a log that a chief or the server wrote."""
    if entry.kind != "show" or not roles_of(session, unit, entry.kid, entry.by) & MAKERS:
        return
    said = {member: str(entry.body.get(member, "")) for member in ("title", "site", "zone", "starts", "ends")}
    digest = entry.body.get("digest")
    if jws.is_digest(digest):
        insert_new(session, Show, {"unit": unit, "id": entry.log, "digest": str(digest), **said})


stored.connect(note_show)
