"""How the report says things: whose names, which clock, what an entry states."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

View = dict[str, Any]


class Saying:
    """Names and clock of one show."""

    def __init__(self, definition: View) -> None:
        self._zone = ZoneInfo(definition["zone"])
        self._names = {one["person"]: one["name"] for one in definition["people"]}
        self._kit = {one["tag"]: one["name"] for one in definition["kit"]}

    def person(self, person: str) -> str:
        """How somebody is called; who wrote in a log and is not of the crew stands by their id."""
        return str(self._names.get(person, person))

    def item(self, tag: str) -> str:
        """What a tag hangs on."""
        return str(self._kit.get(tag, tag))

    def time(self, at: str) -> str:
        """A phone's time by the show's clock; as it was written where it is no time."""
        try:
            return datetime.fromisoformat(at).astimezone(self._zone).strftime("%-d %b %H:%M")
        except ValueError:
            return at

    def entry(self, shown: View) -> View:
        """An entry as the views show it, with its writer's name, time and what it states."""
        whose = self.person(shown["by"])
        if shown.get("for"):
            whose = f"{whose}, on the word of {self.person(shown['for'])}"
        return {**shown, "whose": whose, "when": self.time(shown["at"]), "states": states(shown)}


def states(shown: View) -> str:
    """What an entry states, in a few words."""
    body = shown["body"]
    if shown["kind"] == "reading":
        return f"{body.get('figure')} {body.get('unit')}"
    if shown["kind"] == "accept":
        exceptions = body.get("exceptions") or []
        told = "; ".join(
            f"{one.get('tag')}: {one.get('text')}" for one in exceptions if isinstance(one, dict)
        )
        return " ".join(part for part in (f"{body.get('locker')}:", str(body.get("seen", "")), told) if part)
    for member in ("text", "state", "choice", "reason", "where", "event", "number"):
        if body.get(member):
            said = str(body[member])
            return f"{said}: {body['reason']}" if member == "state" and body.get("reason") else said
    return str(shown["kind"])
