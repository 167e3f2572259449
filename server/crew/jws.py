"""JSON Web Signatures in the one form that the logbook knows: compact, ES256 (RFC 7515, RFC 7518)."""

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from functools import lru_cache

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature, encode_dss_signature

from server.crew import ijson

_ALPHABET = re.compile(r"[A-Za-z0-9_-]*", re.ASCII)
_COORDINATE_BYTES = 32
_SIGNATURE_BYTES = 64
_ES256 = ec.ECDSA(hashes.SHA256())

Jwk = Mapping[str, object]


def b64(octets: bytes) -> str:
    """Base64url without padding."""
    return base64.urlsafe_b64encode(octets).rstrip(b"=").decode("ascii")


def unb64(text: str) -> bytes:
    """Octets of canonical base64url.

    Raises ValueError at padding, other characters, an impossible length, or spare bits that are set.
    """
    if not _ALPHABET.fullmatch(text) or len(text) % 4 == 1:
        raise ValueError("not base64url without padding")
    octets = base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    if b64(octets) != text:
        raise ValueError("base64url with spare bits set")
    return octets


def is_digest(text: object) -> bool:
    """Whether this is a SHA-256 in canonical base64url: a name, a thumbprint, a file's digest."""
    if not isinstance(text, str) or len(text) != 43:
        return False
    try:
        unb64(text)
    except ValueError:
        return False
    return True


def sha256(octets: bytes) -> str:
    """SHA-256 in base64url, 43 characters."""
    return b64(hashlib.sha256(octets).digest())


def thumbprint(jwk: Jwk) -> str:
    """RFC 7638 thumbprint (SHA-256) of a P-256 public key.

    Raises ValueError where the JWK is not one.
    """
    public_key(jwk)
    members = {member: jwk[member] for member in ("crv", "kty", "x", "y")}
    return sha256(json.dumps(members, sort_keys=True, separators=(",", ":")).encode("ascii"))


def public_key(jwk: Jwk) -> ec.EllipticCurvePublicKey:
    """The P-256 public key that a JWK (RFC 7517) holds.

    Raises ValueError where it holds none.
    """
    if jwk.get("kty") != "EC" or jwk.get("crv") != "P-256":
        raise ValueError("not a P-256 key")
    x, y = jwk.get("x"), jwk.get("y")
    if not isinstance(x, str) or not isinstance(y, str):
        raise ValueError("a key without x and y")
    return _point(x, y)


def public_jwk(key: ec.EllipticCurvePrivateKey | ec.EllipticCurvePublicKey) -> dict[str, str]:
    """The public JWK of a P-256 key."""
    public = key.public_key() if isinstance(key, ec.EllipticCurvePrivateKey) else key
    if not isinstance(public.curve, ec.SECP256R1):
        raise ValueError("not a P-256 key")
    numbers = public.public_numbers()
    x, y = (b64(n.to_bytes(_COORDINATE_BYTES, "big")) for n in (numbers.x, numbers.y))
    return {"crv": "P-256", "kty": "EC", "x": x, "y": y}


def sign_compact(header: Mapping[str, object], payload: bytes, key: ec.EllipticCurvePrivateKey) -> str:
    """A compact JWS over these octets; the header is written as it is given."""
    head = json.dumps(header, separators=(",", ":"), ensure_ascii=False).encode()
    signing_input = f"{b64(head)}.{b64(payload)}"
    r, s = decode_dss_signature(key.sign(signing_input.encode("ascii"), _ES256))
    raw = r.to_bytes(_COORDINATE_BYTES, "big") + s.to_bytes(_COORDINATE_BYTES, "big")
    return f"{signing_input}.{b64(raw)}"


def split(jws: str) -> tuple[dict[str, object], bytes, str]:
    """Header, payload octets and signing input of a compact JWS; of its signature only the form is judged.

    Raises ValueError (ijson.NotIJson among them) where it is no compact JWS with a signature of 64 octets.
    """
    parts = jws.split(".")
    if len(parts) != 3:
        raise ValueError("not three parts with two dots between them")
    header = ijson.loads(unb64(parts[0]))
    if not isinstance(header, dict):
        raise ValueError("a header that is not an object")
    payload = unb64(parts[1])
    if len(unb64(parts[2])) != _SIGNATURE_BYTES:
        raise ValueError("a signature that is not 64 octets long")
    return header, payload, f"{parts[0]}.{parts[1]}"


def verify(jws: str, jwk: Jwk) -> bool:
    """Whether the ES256 signature of a compact JWS was made with this public key."""
    signing_input, _, signature = jws.rpartition(".")
    try:
        raw = unb64(signature)
        key = public_key(jwk)
    except ValueError:
        return False
    if len(raw) != _SIGNATURE_BYTES:
        return False
    r, s = (int.from_bytes(half, "big") for half in (raw[:32], raw[32:]))
    try:
        key.verify(encode_dss_signature(r, s), signing_input.encode("ascii"), _ES256)
    except (InvalidSignature, UnicodeEncodeError):
        return False
    return True


@lru_cache(maxsize=1024)
def _point(x: str, y: str) -> ec.EllipticCurvePublicKey:
    return ec.EllipticCurvePublicNumbers(_coordinate(x), _coordinate(y), ec.SECP256R1()).public_key()


def _coordinate(text: str) -> int:
    octets = unb64(text)
    if len(octets) != _COORDINATE_BYTES:
        raise ValueError("a coordinate that is not 32 octets long")
    return int.from_bytes(octets, "big")
