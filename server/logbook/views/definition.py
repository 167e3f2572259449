"""What a show is made of as it stands: its definition with what amends add and move."""

from collections.abc import Sequence
from typing import Any

from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.steps import added_by, amends

Definition = dict[str, Any]
NAMED_BY = {"positions": "id", "kit": "tag", "people": "person"}
"""What amends add to, and by what one of each is known: what is there is not added again, nor changed."""


def amended(fold: Fold, definition: Definition) -> Definition:
    """The definition as it stands, from the one that the show was made with."""
    held = fold.held
    now = dict(definition)
    for amend in amends(held):
        if amend.body["change"] == "add-sheets":
            added = added_by(held, amend)
            now |= {part: _joined(now[part], added.get(part, []), key) for part, key in NAMED_BY.items()}
        if amend.body["change"] == "move-end":
            now["ends"] = _latest(held, definition["ends"])
    return now


def _joined(there: Sequence[Definition], added: Sequence[Definition], key: str) -> list[Definition]:
    known = {one[key] for one in there}
    return [*there, *(one for one in added if one[key] not in known)]


def _latest(held: Held, ends: str) -> str:
    """Two ends moved without sight of each other leave the later one: nobody is sent home by a race."""
    moves = [amend for amend in amends(held) if amend.body["change"] == "move-end"]
    replaced = {name for move in moves for name in (*move.replaces, *move.rests_on)}
    return max((str(move.body["ends"]) for move in moves if move.name not in replaced), default=ends)
