"""An entry on the wire: what is read, and what is refused in plain words."""

import json

import pytest
from cryptography.hazmat.primitives.asymmetric import ec

from server.crew import jws
from server.logbook.entry import Refused, parse, write

KEY = ec.generate_private_key(ec.SECP256R1())
KID = jws.thumbprint(jws.public_jwk(KEY))
NAME = jws.sha256(b"an entry")
PAYLOAD = {
    "log": "show-1",
    "number": 2,
    "previous": NAME,
    "at": "2031-05-01T09:01:00.25+01:00",
    "by": "ann",
    "for": "bob",
    "subject": "locker/L2/pack/seal",
    "kind": "tick",
    "body": {"note": "Größe 5"},
    "replaces": [NAME],
    "chain": {"lens": "LEN-1"},
}


def test_an_entry_is_read_as_written():
    text = write(PAYLOAD, KEY)
    entry = parse(text, "show-1")
    assert entry.jws == text
    assert entry.kid == KID
    assert entry.name == jws.sha256(text.rpartition(".")[0].encode())
    assert (entry.number, entry.previous, entry.by, entry.for_) == (2, NAME, "ann", "bob")
    assert (entry.replaces, entry.rests_on) == ((NAME,), ())
    assert entry.chain == {"lens": "LEN-1"}
    assert entry.witness is None
    assert entry.body == {"note": "Größe 5"}
    assert entry.signed_by(jws.public_jwk(KEY))
    assert not entry.signed_by(jws.public_jwk(ec.generate_private_key(ec.SECP256R1())))


def test_an_entry_of_another_log_is_refused():
    with pytest.raises(Refused, match="log show-1, not of show-2"):
        parse(write(PAYLOAD, KEY), "show-2")


@pytest.mark.parametrize(
    ("member", "value", "why"),
    [
        ("log", "show 1", "log"),
        ("log", None, "log"),
        ("number", 0, "number"),
        ("number", True, "number"),
        ("number", "2", "number"),
        ("previous", "x", "previous"),
        ("at", "2031-05-01T09:01:00", "at is not a time"),
        ("at", "2031-05-01t09:01:00Z", "at is not a time"),
        ("at", "2031-W18-4T09:01:00Z", "at is not a time"),
        ("at", "2031-02-30T09:01:00Z", "at is not a time"),
        ("at", "2031-05-01T09:01:00+24:00", "at is not a time"),
        ("at", "2031-05-01T09:01:00.Z", "at is not a time"),
        ("at", "٢٠31-05-01T09:01:00Z", "at is not a time"),
        ("by", "", "by"),
        ("for", None, "for"),
        ("witness", 3, "witness"),
        ("subject", "a//b", "subject"),
        ("subject", "a/", "subject"),
        ("subject", "a\n", "subject"),
        ("subject", "x" * 201, "subject is longer"),
        ("kind", None, "kind"),
        ("body", [], "body"),
        ("replaces", None, "replaces"),
        ("rests_on", [NAME[:-1] + "B"], "rests_on"),
        ("chain", None, "chain"),
        ("body", {"figure": 5.5}, "fraction"),
        ("body", {"text": "x" * 64 * 1024}, "64 KiB"),
    ],
)
def test_refused(member, value, why):
    with pytest.raises(Refused, match=why):
        write(PAYLOAD | {member: value}, KEY)


@pytest.mark.parametrize("member", ["log", "number", "previous", "at", "by", "subject", "kind", "body"])
def test_refused_without(member):
    with pytest.raises(Refused, match=member):
        write({name: value for name, value in PAYLOAD.items() if name != member}, KEY)


@pytest.mark.parametrize("optional", ["for", "replaces", "chain"])
def test_read_without(optional):
    assert parse(write({name: value for name, value in PAYLOAD.items() if name != optional}, KEY))


@pytest.mark.parametrize(
    "header",
    [
        {"alg": "ES256"},
        {"alg": "none", "kid": KID},
        {"alg": "ES256", "kid": KID, "typ": "session"},
        {"alg": "ES256", "kid": KID[:-1]},
        {"alg": "ES256", "kid": 1},
    ],
)
def test_refused_for_its_header(header):
    with pytest.raises(Refused, match="header"):
        parse(jws.sign_compact(header, json.dumps(PAYLOAD).encode(), KEY))


def test_a_session_nonce_is_no_entry():
    with pytest.raises(Refused):
        parse(jws.sign_compact({"alg": "ES256", "kid": KID}, b'{"origin":"o","nonce":"n"}', KEY))
