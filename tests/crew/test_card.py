"""Cards and the unit's keys, in any order of arrival."""

import itertools
import json

import pytest
from cryptography.hazmat.primitives.asymmetric import ec

from server.crew import jws
from server.crew.card import Card, NotACard, UnitKeys, parse


def key():
    return ec.generate_private_key(ec.SECP256R1())


def signed(payload, by):
    header = {"alg": "ES256", "kid": jws.thumbprint(jws.public_jwk(by))}
    return jws.sign_compact(header, json.dumps(payload).encode(), by)


def card(of, by, **more):
    payload = {"type": "card", "unit": "u", "jwk": jws.public_jwk(of), "person": "ann", "name": "Ann"}
    return signed(payload | {"roles": ["rigger"], "date": "2031-05-01"} | more, by)


def next_key(of, by):
    return signed({"type": "unit-key", "jwk": jws.public_jwk(of)}, by)


@pytest.fixture(scope="module")
def unit():
    return key()


def test_a_card_says_whose_the_key_is(unit):
    phone = key()
    read = UnitKeys(jws.public_jwk(unit)).card(card(phone, unit))
    assert read.kid == jws.thumbprint(jws.public_jwk(phone))
    assert (read.unit, read.person, read.name, read.roles) == ("u", "ann", "Ann", ("rigger",))
    assert read == parse(read.jws)


def test_cards_by_new_unit_keys_in_any_order(unit):
    second, third = key(), key()
    texts = [next_key(second, unit), next_key(third, second), card(key(), third), card(key(), unit)]
    for order in itertools.permutations(texts):
        keys = UnitKeys(jws.public_jwk(unit))
        believed = [c.jws for text in order for c in keys.take(text)]
        assert sorted(believed) == sorted(texts[2:])
        assert len(keys.thumbprints) == 3


def test_a_key_that_signs_itself_is_not_believed(unit):
    stranger = key()
    keys = UnitKeys(jws.public_jwk(unit))
    assert keys.take(next_key(stranger, stranger)) == []
    assert keys.take(card(key(), stranger)) == []
    with pytest.raises(NotACard, match="not signed by a key of this unit"):
        keys.card(card(key(), stranger))


def test_a_false_signature_is_said(unit):
    keys = UnitKeys(jws.public_jwk(unit))
    head, payload, _ = card(key(), unit).split(".")
    forged = f"{head}.{payload}.{card(key(), unit).split('.')[2]}"
    for ask in (keys.card, keys.take):
        with pytest.raises(NotACard, match="signature on this card is false"):
            ask(forged)


@pytest.mark.parametrize(
    "more",
    [
        {"type": "session"},
        {"jwk": None},
        {"jwk": {"kty": "EC"}},
        {"person": ""},
        {"roles": "rigger"},
        {"roles": [1]},
        {"name": 5},
    ],
)
def test_what_is_no_card(unit, more):
    with pytest.raises(NotACard, match="cannot be read"):
        UnitKeys(jws.public_jwk(unit)).card(card(key(), unit, **more))


def test_the_private_half_of_a_key_is_not_carried_on(unit):
    phone = key()
    read = parse(card(phone, unit, jwk=jws.public_jwk(phone) | {"d": "secret"}))
    assert isinstance(read, Card)
    assert "d" not in read.jwk
