"""One entry as it travels: a compact JWS by a device's key, kept and passed on byte for byte."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from cryptography.hazmat.primitives.asymmetric import ec

from server.crew import ijson, jws
from server.crew.jws import Jwk
from server.logbook import instant

MAX_CHARACTERS = 64 * 1024
_LOG = re.compile(r"[A-Za-z0-9._-]+", re.ASCII)
_SUBJECT = re.compile(r"[A-Za-z0-9._-]+(/[A-Za-z0-9._-]+)*", re.ASCII)
_MAX_SUBJECT = 200


class Refused(ValueError):  # noqa: N818 - the receipt's own word for it
    """The text is not an entry, or its signature is false; the message says why in plain words."""


@dataclass(frozen=True)
class Entry:
    """An entry: `jws` as signed, its `name`, the key `kid` that signed it, and its payload.

    `replaces` and `rests_on` are names, `chain` is what stood at a position, or None.
    """

    jws: str = field(repr=False, compare=False)
    name: str
    kid: str
    log: str
    number: int
    previous: str | None
    at: str
    by: str
    for_: str | None
    witness: str | None
    subject: str
    kind: str
    body: dict[str, object] = field(hash=False, compare=False)
    replaces: tuple[str, ...]
    rests_on: tuple[str, ...]
    chain: dict[str, object] | None = field(hash=False, compare=False)

    def signed_by(self, jwk: Jwk) -> bool:
        """Whether this public key is the one the entry names and made its signature."""
        return jws.thumbprint(jwk) == self.kid and jws.verify(self.jws, jwk)


def parse(text: str, log: str | None = None) -> Entry:
    """Read an entry from the wire, strictly; its signature is looked at for its form only.

    With `log`, it must be an entry of that log. Raises Refused.
    """
    if len(text) > MAX_CHARACTERS:
        raise Refused("this entry is longer than 64 KiB")
    try:
        header, octets, signing_input = jws.split(text)
        payload = ijson.loads(octets)
    except ValueError as fault:
        raise Refused(f"this is not an entry: {fault}") from None
    kid = header.get("kid")
    if set(header) != {"alg", "kid"} or header["alg"] != "ES256" or not jws.is_digest(kid):
        raise Refused("this is not an entry: its header is not exactly alg ES256 and a key's thumbprint")
    if not isinstance(payload, dict):
        raise Refused("this is not an entry: its payload is not an object")
    entry = _read(text, jws.sha256(signing_input.encode("ascii")), str(kid), payload)
    if log is not None and entry.log != log:
        raise Refused(f"this entry is of the log {entry.log}, not of {log}")
    return entry


def write(payload: Mapping[str, object], key: ec.EllipticCurvePrivateKey) -> str:
    """Sign a payload as an entry by this device's key.

    Raises Refused where it would not be an entry.
    """
    octets = json.dumps(payload, separators=(",", ":"), ensure_ascii=False).encode("utf-8", "surrogatepass")
    text = jws.sign_compact({"alg": "ES256", "kid": jws.thumbprint(jws.public_jwk(key))}, octets, key)
    parse(text)
    return text


def _read(text: str, name: str, kid: str, payload: dict[str, object]) -> Entry:
    return Entry(
        jws=text,
        name=name,
        kid=kid,
        log=_text(payload, "log", _LOG),
        number=_number(payload),
        previous=_previous(payload),
        at=_at(payload),
        by=_text(payload, "by"),
        for_=_text(payload, "for") if "for" in payload else None,
        witness=_text(payload, "witness") if "witness" in payload else None,
        subject=_subject(payload),
        kind=_text(payload, "kind"),
        body=_object(payload, "body"),
        replaces=_names(payload, "replaces"),
        rests_on=_names(payload, "rests_on"),
        chain=_object(payload, "chain") if "chain" in payload else None,
    )


def _text(payload: dict[str, object], member: str, form: re.Pattern[str] | None = None) -> str:
    text = payload.get(member)
    if not isinstance(text, str) or not text:
        raise Refused(f"the entry's {member} is missing or is not text")
    if form is not None and not form.fullmatch(text):
        raise Refused(f"the entry's {member} has characters that it may not have")
    return text


def _subject(payload: dict[str, object]) -> str:
    subject = _text(payload, "subject", _SUBJECT)
    if len(subject) > _MAX_SUBJECT:
        raise Refused(f"the entry's subject is longer than {_MAX_SUBJECT} characters")
    return subject


def _number(payload: dict[str, object]) -> int:
    number = payload.get("number")
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise Refused("the entry's number is not a whole number from 1 on")
    return number


def _previous(payload: dict[str, object]) -> str | None:
    if "previous" not in payload:
        raise Refused("the entry does not say which one it follows: previous is missing")
    previous = payload["previous"]
    if previous is not None and not jws.is_digest(previous):
        raise Refused("the entry's previous is neither a name nor null")
    return None if previous is None else str(previous)


def _at(payload: dict[str, object]) -> str:
    at = _text(payload, "at")
    try:
        instant.parse(at)
    except ValueError as fault:
        raise Refused(f"the entry's at is not a time after RFC 3339: {fault}") from None
    return at


def _object(payload: dict[str, object], member: str) -> dict[str, object]:
    value = payload.get(member)
    if not isinstance(value, dict):
        raise Refused(f"the entry's {member} is missing or is not an object")
    return value


def _names(payload: dict[str, object], member: str) -> tuple[str, ...]:
    names = payload.get(member, [])
    if not isinstance(names, list) or not all(jws.is_digest(name) for name in names):
        raise Refused(f"the entry's {member} is not a list of names")
    return tuple(names)
