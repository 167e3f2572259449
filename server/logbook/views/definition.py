"""What a show is made of as it stands: its definition with what amends add and move."""

import json
from typing import Any

from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.steps import amends

Definition = dict[str, Any]
ADDED = ("positions", "kit", "people")


def amended(fold: Fold, definition: Definition) -> Definition:
    """The definition as it stands, from the one that the show was made with."""
    held = fold.held
    now = dict(definition)
    for amend in amends(held):
        if amend.body["change"] == "add-sheets":
            file = held.file(str(amend.body["digest"]))
            added = {} if file is None else json.loads(file)
            now |= {part: [*now[part], *added.get(part, [])] for part in ADDED}
        if amend.body["change"] == "move-end":
            now["ends"] = _latest(held, definition["ends"])
    return now


def _latest(held: Held, ends: str) -> str:
    """Two ends moved without sight of each other leave the later one: nobody is sent home by a race."""
    moves = [amend for amend in amends(held) if amend.body["change"] == "move-end"]
    replaced = {name for move in moves for name in (*move.replaces, *move.rests_on)}
    return max((str(move.body["ends"]) for move in moves if move.name not in replaced), default=ends)
