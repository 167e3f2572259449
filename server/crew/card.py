"""Cards: what makes a key somebody's, signed by the unit; and the unit's own keys."""

from dataclasses import dataclass
from typing import cast

from server.crew import ijson, jws


class NotACard(ValueError):  # noqa: N818 - named for what it says of the text
    """Neither a card nor a statement of a next unit key that this unit vouches for; the message says why."""


@dataclass(frozen=True)
class Card:
    """A person, their roles and a device's key (`kid` its thumbprint), as the unit signed it."""

    jws: str
    kid: str
    unit: str
    jwk: dict[str, str]
    person: str
    name: str
    roles: tuple[str, ...]
    date: str


@dataclass(frozen=True)
class NextUnitKey:
    """A unit key as the one before it signed it."""

    jws: str
    kid: str
    jwk: dict[str, str]


def parse(text: str) -> Card | NextUnitKey:
    """Read a card or a statement of a next unit key; who signed it is not looked at.

    Raises NotACard.
    """
    try:
        header, octets, _ = jws.split(text)
        payload = ijson.loads(octets)
    except ValueError as fault:
        raise NotACard(f"this card cannot be read: {fault}") from None
    if set(header) != {"alg", "kid"} or header["alg"] != "ES256" or not jws.is_digest(header["kid"]):
        raise NotACard("this card cannot be read: its header is not exactly alg ES256 and kid")
    if not isinstance(payload, dict):
        raise NotACard("this card cannot be read: it is not an object")
    if payload.get("type") == "unit-key":
        key, kid = _key(payload)
        return NextUnitKey(text, kid, key)
    if payload.get("type") == "card":
        return _card(text, payload)
    raise NotACard("this card cannot be read: its type is neither card nor unit-key")


class UnitKeys:
    """The unit keys that are believed: the pinned one, and each that a believed one signed.

    Cards and statements come in any order: what is signed by a key not yet believed waits for it.
    """

    def __init__(self, pinned: jws.Jwk) -> None:
        self._believed: dict[str, jws.Jwk] = {jws.thumbprint(pinned): pinned}
        self._waiting: dict[str, list[str]] = {}

    @property
    def thumbprints(self) -> frozenset[str]:
        """Thumbprints of the believed keys."""
        return frozenset(self._believed)

    def card(self, text: str) -> Card:
        """One card, verified.

        Raises NotACard, also where its signer is not believed (yet).
        """
        card = parse(text)
        if not isinstance(card, Card):
            raise NotACard("this is a statement of a unit key, not a card")
        signer = self._believed.get(_signer(text))
        if signer is None:
            raise NotACard("this card is not signed by a key of this unit")
        if not jws.verify(text, signer):
            raise NotACard("the signature on this card is false")
        return card

    def take(self, text: str) -> list[Card]:
        """Take a card or statement; the cards that are believed now and were not before.

        Raises NotACard where it cannot be read or its signature is false; one by a key that is not
        believed waits for that key.
        """
        stated = parse(text)
        signer = _signer(text)
        if signer not in self._believed:
            self._waiting.setdefault(signer, []).append(text)
            return []
        if not jws.verify(text, self._believed[signer]):
            raise NotACard("the signature on this card is false")
        if isinstance(stated, Card):
            return [stated]
        if stated.kid in self._believed:
            return []
        self._believed[stated.kid] = stated.jwk
        return self._take_waiting(stated.kid)

    def _take_waiting(self, kid: str) -> list[Card]:
        cards = []
        for text in self._waiting.pop(kid, []):
            try:
                cards += self.take(text)
            except NotACard:
                continue
        return cards


def _signer(text: str) -> str:
    return cast(str, jws.split(text)[0]["kid"])


def _card(text: str, payload: dict[str, object]) -> Card:
    key, kid = _key(payload)
    roles = payload.get("roles")
    if not isinstance(roles, list) or not all(isinstance(role, str) for role in roles):
        raise NotACard("this card cannot be read: its roles are not a list of words")
    unit, person, name, date = (_word(payload, member) for member in ("unit", "person", "name", "date"))
    return Card(text, kid, unit, key, person, name, tuple(roles), date)


def _word(payload: dict[str, object], member: str) -> str:
    word = payload.get(member)
    if not isinstance(word, str) or not word:
        raise NotACard(f"this card cannot be read: {member} is missing or is not text")
    return word


def _key(payload: dict[str, object]) -> tuple[dict[str, str], str]:
    jwk = payload.get("jwk")
    if not isinstance(jwk, dict):
        raise NotACard("this card cannot be read: jwk is missing")
    try:
        kid = jws.thumbprint(jwk)
    except ValueError as fault:
        raise NotACard(f"this card cannot be read: {fault}") from None
    return {member: jwk[member] for member in ("crv", "kty", "x", "y")}, kid
