"""Signatures and thumbprints against published vectors and an independent library."""

import json

import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from jwcrypto.jwk import JWK
from jwcrypto.jws import JWS

from server.crew import jws

# RFC 7515, appendix A.3: ES256; key and JWS as printed there.
RFC_7515_A3_KEY = {
    "kty": "EC",
    "crv": "P-256",
    "x": "f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU",
    "y": "x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0",
}
RFC_7515_A3 = (
    "eyJhbGciOiJFUzI1NiJ9"
    "."
    "eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFt"
    "cGxlLmNvbS9pc19yb290Ijp0cnVlfQ"
    "."
    "DtEhU3ljbEg8L38VWAfUAqOyKAM6-Xx-F4GawxaepmXFCgfTjDxw5djxLa8ISlSA"
    "pmWQxfKTUJqPP3-Kg6NU1Q"
)


def test_rfc_7515_a3_verifies():
    header, payload, _ = jws.split(RFC_7515_A3)
    assert header == {"alg": "ES256"}
    assert json.loads(payload)["iss"] == "joe"
    assert jws.verify(RFC_7515_A3, RFC_7515_A3_KEY)


def test_rfc_7515_a3_with_one_octet_changed_does_not_verify():
    head, payload, signature = RFC_7515_A3.split(".")
    octets = bytearray(jws.unb64(payload))
    octets[0] ^= 1
    assert not jws.verify(f"{head}.{jws.b64(bytes(octets))}.{signature}", RFC_7515_A3_KEY)


def test_rfc_7638_section_3_1_thumbprint_is_a_hash_of_the_required_members():
    # RFC 7638, section 3.1, prints an RSA key; what is hashed there, as printed, and its thumbprint.
    n = (
        "0vx7agoebGcQSuuPiLJXZptN9nndrQmbXEps2aiAFbWhM78LhWx4cbbfAAtVT86zwu1RK7aPFFxuhDR1L6tSoc_"
        "BJECPebWKRXjBZCiFV4n3oknjhMstn64tZ_2W-5JsGY4Hc5n9yBXArwl93lqt7_RN5w6Cf0h4QyQ5v-65YGjQR0_FDW2Qv"
        "zqY368QQMicAtaSqzs8KJZgnYb9c7d0zgdAZHzu6qMQvRL5hajrn1n91CbOpbISD08qNLyrdkt-bFTWhAI4vMQFh6WeZu0"
        "fM4lFd2NcRwr3XPksINHaQ-G_xBniIqbw0Ls1jF44-csFCur-kEgU8awapJzKnqDKgw"
    )
    hashed = f'{{"e":"AQAB","kty":"RSA","n":"{n}"}}'
    assert jws.sha256(hashed.encode()) == "NzbLsXh8uDCcd-6MNwXF4W_7noWXFZAfHkxZsRGC9Xs"
    with pytest.raises(ValueError, match="P-256"):
        jws.thumbprint({"kty": "RSA", "n": n, "e": "AQAB"})


def test_thumbprint_of_a_p256_key_as_an_independent_library_has_it():
    key = RFC_7515_A3_KEY | {"use": "sig", "kid": "anything"}
    assert jws.thumbprint(key) == JWK(**RFC_7515_A3_KEY).thumbprint()


def test_what_we_sign_verifies_in_an_independent_library():
    key = ec.generate_private_key(ec.SECP256R1())
    text = jws.sign_compact({"alg": "ES256", "kid": "k"}, b'{"a":1}', key)
    other = JWS()
    other.deserialize(text)
    other.verify(JWK(**jws.public_jwk(key)))
    assert other.payload == b'{"a":1}'


def test_what_an_independent_library_signs_verifies_here():
    key = JWK.generate(kty="EC", crv="P-256")
    other = JWS(b'{"a":1}')
    other.add_signature(key, protected='{"alg":"ES256","kid":"k"}')
    text = other.serialize(compact=True)
    public = key.export_public(as_dict=True)
    assert jws.verify(text, public)
    assert jws.split(text)[1] == b'{"a":1}'
    assert not jws.verify(text, RFC_7515_A3_KEY)


@pytest.mark.parametrize("text", ["A", "AA==", "AB", "AAB", "A A", "AA\n", "+/8A", "ÄÄ"])
def test_base64url_is_canonical(text):
    with pytest.raises(ValueError, match="base64url"):
        jws.unb64(text)


def test_base64url_as_in_rfc_4648_section_10():
    for octets, text in [(b"", ""), (b"f", "Zg"), (b"fo", "Zm8"), (b"foo", "Zm9v"), (b"foobar", "Zm9vYmFy")]:
        assert jws.b64(octets) == text
        assert jws.unb64(text) == octets


@pytest.mark.parametrize(
    "text", ["", "a.b", "e30.e30.", "e30.e30.AAAA", "W10.e30." + "A" * 86, "e30.e30.x.y"]
)
def test_what_is_no_compact_jws(text):
    with pytest.raises(ValueError):
        jws.split(text)


@pytest.mark.parametrize(
    "key",
    [
        {},
        {"kty": "EC", "crv": "P-384", "x": "", "y": ""},
        {"kty": "EC", "crv": "P-256", "x": 1, "y": 2},
        RFC_7515_A3_KEY | {"x": "AAAA"},
        RFC_7515_A3_KEY | {"y": RFC_7515_A3_KEY["x"]},
    ],
)
def test_what_is_no_key(key):
    with pytest.raises(ValueError):
        jws.thumbprint(key)
    assert not jws.verify(RFC_7515_A3, key)
