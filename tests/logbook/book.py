"""An invented unit whose devices write entries, for cases in the form of the shared vectors. Keys come from labels."""

import hashlib
import json
from typing import Any

from cryptography.hazmat.primitives.asymmetric import ec

from server.crew import jws
from server.logbook import entry

ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
"""Of the group of P-256: FIPS 186-4, D.1.2.3."""


def key_of(label: str) -> ec.EllipticCurvePrivateKey:
    """The same key for the same label."""
    number = int.from_bytes(hashlib.sha256(label.encode()).digest(), "big") % (ORDER - 1) + 1
    return ec.derive_private_key(number, ec.SECP256R1())


class Device:
    """A phone: its key, its person, and its place in each log. What it writes is kept in `written`, by log."""

    def __init__(self, label: str, person: str) -> None:
        self.key = key_of(label)
        self.jwk = jws.public_jwk(self.key)
        self.kid = jws.thumbprint(self.jwk)
        self.person = person
        self.written: dict[str, list[str]] = {}
        self.minute = 0
        self._heads: dict[str, tuple[int, str | None]] = {}

    def write(
        self, log: str, subject: str, kind: str, body: dict[str, Any] | None = None, **more: Any
    ) -> str:
        """Sign the next entry of this device's chain in a log; its name."""
        number, previous = self._heads.get(log, (0, None))
        self.minute += 1
        payload = {
            "log": log,
            "number": number + 1,
            "previous": previous,
            "at": f"2031-05-02T{9 + self.minute // 60 % 12:02d}:{self.minute % 60:02d}:00+01:00",
            "by": self.person,
            "subject": subject,
            "kind": kind,
            "body": body or {},
            **more,
        }
        text = entry.write(payload, self.key)
        name = entry.parse(text).name
        self._heads[log] = (payload["number"], name)
        self.written.setdefault(log, []).append(text)
        return name

    def go_back(self, log: str, number: int, previous: str | None) -> None:
        """Lose what came after an entry of the chain, as a phone does whose battery died before the flush."""
        self._heads[log] = (number, previous)


class Crew:
    """A unit's key, the cards it signed, and its devices."""

    def __init__(self, label: str) -> None:
        self.key = key_of(f"unit {label}")
        self.jwk = jws.public_jwk(self.key)
        self.cards: list[str] = []
        self.devices: list[Device] = []
        self._label = label

    def device(self, person: str, *roles: str) -> Device:
        """One more device with a card."""
        made = Device(f"{self._label} {person} {len(self.devices)}", person)
        self.devices.append(made)
        self.cards.append(self.card(made, person, *roles))
        return made

    def card(self, device: Device, person: str, *roles: str) -> str:
        """A card of this unit."""
        stated = {"type": "card", "unit": "unit-1", "jwk": device.jwk, "person": person, "name": person}
        payload = json.dumps(stated | {"roles": list(roles), "date": "2031-05-01"}).encode()
        return jws.sign_compact({"alg": "ES256", "kid": jws.thumbprint(self.jwk)}, payload, self.key)

    def entries(self, log: str) -> list[str]:
        """What its devices wrote in a log."""
        return [text for device in self.devices for text in device.written.get(log, [])]


def step(subject: str, **members: Any) -> dict[str, Any]:
    """A step with the members that a case does not care for filled in."""
    plain = {
        "id": subject.replace("/", "."),
        "subject": subject,
        "asks": "tick",
        "roles": ["rigger", "camera", "engineer", "chief"],
        "after": [],
        "hazard": False,
        "minutes": None,
        "ended_by": [],
        "about": [],
    }
    return plain | members


def sheet(sheet_id: str, *steps: dict[str, Any]) -> dict[str, str]:
    """A sheet as served."""
    stated = {
        "id": sheet_id,
        "stage": sheet_id.rpartition("/")[2],
        "title": f"The sheet {sheet_id}",
        "signed_by": ["engineer"],
        "statement": "It is as written.",
        "steps": list(steps),
    }
    return {"id": sheet_id, "text": json.dumps(stated, sort_keys=True, separators=(",", ":"))}
