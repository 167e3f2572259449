"""The cards that this server holds: made, taken from phones, and looked up. Callers hold the transaction."""

import json
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from blinker import Signal
from flask import current_app
from sqlalchemy import select
from sqlalchemy.orm import Session

from server.crew import jws
from server.crew.card import Card, NotACard, UnitKeys, parse
from server.crew.keys import UnitKeyFiles
from server.crew.models import CardRow, Device, Person, Unit
from server.store import insert_new

kept = Signal("Sent for each card as it is first kept, in its transaction: sender Card; session, unit.")


def key_files(unit: str) -> UnitKeyFiles:
    """The unit's keys in this server's data folder."""
    return UnitKeyFiles(Path(current_app.config["HANDLINE_DATA"]), unit)


def unit_jwk(unit: str) -> dict[str, str]:
    """The unit's public key, which phones pin."""
    return jws.public_jwk(key_files(unit).unit)


def set_up_unit(session: Session, unit: str, name: str, checklists: str) -> None:
    """Make a unit, its keys and the card of the server's own device; what is there stays."""
    key_files(unit).make()
    insert_new(session, Unit, {"id": unit, "name": name, "checklists": checklists})
    device = jws.public_jwk(key_files(unit).device)
    if session.get(Device, (unit, jws.thumbprint(device))) is None:
        issue(session, unit, device, "server", "The server", ["server"])


def issue(
    session: Session, unit: str, jwk: dict[str, str], person: str, name: str, roles: Iterable[str]
) -> Card:
    """Sign a card for a device's public key, and keep it."""
    payload = {
        "type": "card",
        "unit": unit,
        "jwk": jwk,
        "person": person,
        "name": name,
        "roles": list(roles),
        "date": datetime.now(UTC).date().isoformat(),
    }
    key = key_files(unit).unit
    header = {"alg": "ES256", "kid": jws.thumbprint(jws.public_jwk(key))}
    card = parse(jws.sign_compact(header, json.dumps(payload, separators=(",", ":")).encode(), key))
    if not isinstance(card, Card):
        raise TypeError("a card was signed and something else came out")
    _keep(session, unit, card)
    return card


def take(session: Session, unit: str, texts: Iterable[str]) -> None:
    """Keep the cards and statements of next unit keys that this unit's keys vouch for; others are left aside.

    A device whose card came back to a restored server is known again by it.
    """
    unseen = [text for text in dict.fromkeys(texts) if not _held(session, unit, text)]
    if not unseen:
        return
    # two that take the same new cards in another order would wait for each other
    session.execute(select(Unit.id).where(Unit.id == unit).with_for_update(key_share=True))
    believed = unit_keys(session, unit)
    for text in unseen:
        try:
            cards = believed.take(text)
            stated = parse(text)
        except NotACard:
            continue
        if not isinstance(stated, Card) and stated.kid in believed.thumbprints:
            row = {"unit": unit, "name": _name(text), "kid": None, "person": None, "jws": text}
            insert_new(session, CardRow, row)
        for card in cards:
            if card.unit == unit:
                _keep(session, unit, card)


def unit_keys(session: Session, unit: str) -> UnitKeys:
    """The unit's keys that are believed: the one in the data folder, and those that kept statements add."""
    keys = UnitKeys(unit_jwk(unit))
    statements = select(CardRow.jws).where(CardRow.unit == unit, CardRow.kid.is_(None))
    for text in session.scalars(statements):
        keys.take(text)
    return keys


def cards_of_keys(session: Session, unit: str, kids: Iterable[str]) -> list[str]:
    """Cards of these keys, verbatim, with the unit's statements of next keys."""
    wanted = CardRow.kid.in_(list(kids)) | CardRow.kid.is_(None)
    return list(
        session.scalars(select(CardRow.jws).where(CardRow.unit == unit, wanted).order_by(CardRow.name))
    )


def cards_of_people(session: Session, unit: str, people: Iterable[str]) -> list[str]:
    """Cards of these people, verbatim."""
    wanted = CardRow.person.in_(list(people))
    return list(
        session.scalars(select(CardRow.jws).where(CardRow.unit == unit, wanted).order_by(CardRow.name))
    )


def cards_of_unit(session: Session, unit: str) -> list[str]:
    """All cards of the unit, verbatim."""
    return list(session.scalars(select(CardRow.jws).where(CardRow.unit == unit).order_by(CardRow.name)))


def roles_of(session: Session, unit: str, kid: str, person: str | None = None) -> frozenset[str]:
    """The union of a key's roles over its cards; with `person`, over those that are this person's."""
    of_key = select(CardRow).where(CardRow.unit == unit, CardRow.kid == kid)
    rows = session.scalars(of_key if person is None else of_key.where(CardRow.person == person))
    cards = (parse(row.jws) for row in rows)
    return frozenset(role for card in cards if isinstance(card, Card) for role in card.roles)


def jwk_of(session: Session, unit: str, kid: str) -> dict[str, str] | None:
    """The public key of a device with a card, or None."""
    device = session.get(Device, (unit, kid))
    return None if device is None else dict(json.loads(device.jwk))


def _held(session: Session, unit: str, text: str) -> bool:
    row = session.get(CardRow, (unit, _name(text)))
    return row is not None and row.jws == text


def _name(text: str) -> str:
    return jws.sha256(text.rpartition(".")[0].encode("utf-8", "surrogatepass"))


def _keep(session: Session, unit: str, card: Card) -> None:
    jwk = json.dumps(card.jwk, sort_keys=True)
    insert_new(session, Person, {"unit": unit, "id": card.person, "name": card.name})
    insert_new(session, Device, {"unit": unit, "kid": card.kid, "jwk": jwk, "revoked_s": None})
    row = {"unit": unit, "name": _name(card.jws), "kid": card.kid, "person": card.person, "jws": card.jws}
    if insert_new(session, CardRow, row):
        kept.send(card, session=session, unit=unit)
