"""What a report's file proves by itself: layer by layer, without any database and without asking anybody.

The seal says that no byte was changed since it was put on, and by which certificate. The record inside is judged
whatever the seal says: whoever seals anew cannot make another's signature, nor fill a gap in a chain.
"""

import base64
import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext
from pypdf import PdfReader

from server.crew import jws
from server.crew.card import Card, NotACard, UnitKeys
from server.handover import RECORD
from server.handover.record import Record, heads_named, last_hand_over, tips_by_key
from server.logbook.entry import Entry, Refused, parse
from server.logbook.heads import heads
from server.sheets.expand import canonical

ONLY_SINCE = "a seal by an unknown certificate proves only that nothing changed since it was put on"


@dataclass(frozen=True)
class Finding:
    """What one layer showed: its name, whether it holds, and a sentence."""

    layer: str
    holds: bool
    says: str


@dataclass
class Findings:
    """All layers, in the order they were looked at."""

    layers: list[Finding] = field(default_factory=list)

    @property
    def hold(self) -> bool:
        """Whether every layer holds."""
        return all(finding.holds for finding in self.layers)

    def note(self, layer: str, says: str, *, holds: bool = True) -> None:
        """Add what a layer showed."""
        self.layers.append(Finding(layer, holds, says))


class _Broken(Exception):  # noqa: N818 - said of a layer
    """A layer does not hold; the message says how."""


def verify(pdf: bytes, certificate: bytes | None = None) -> Findings:
    """Look at a report's file; `certificate` is the one (PEM or DER) that it should be sealed by, where known."""
    found = Findings()
    with _layer(found, "seal") as says:
        says(_seal(pdf, certificate))
    record: Record = {}
    with _layer(found, "record") as says:
        record = _record(pdf)
        says(f"one {RECORD}, with {len(record['entries'])} entries and {len(record['cards'])} cards")
    if not found.layers[-1].holds:
        return found
    cards: dict[str, Card] = {}
    entries: list[Entry] = []
    with _layer(found, "cards") as says:
        cards = _cards(record)
        says(f"{len(cards)} keys have a card of the unit's key {jws.thumbprint(record['unit_key'])}")
    with _layer(found, "signatures") as says:
        entries = _entries(record)
        _signed(entries, cards)
        says(f"all {len(entries)} entries bear the signatures of their writers")
    with _layer(found, "chains") as says:
        says(_chains(entries))
    with _layer(found, "heads") as says:
        says(_heads(record, entries, pdf))
    with _layer(found, "definition") as says:
        says(_definition(record, entries))
    with _layer(found, "files") as says:
        says(_files(record))
    return found


def as_lines(found: Findings) -> list[str]:
    """The findings as printed, a line a layer and one to close."""
    lines = [f"{one.layer}: {'holds' if one.holds else 'FAILS'}: {one.says}" for one in found.layers]
    failing = ", ".join(one.layer for one in found.layers if not one.holds)
    return [*lines, f"Not to be relied on: {failing}." if failing else "Every layer holds."]


@contextmanager
def _layer(found: Findings, name: str) -> Iterator[Callable[[str], None]]:
    said: list[str] = []
    try:
        yield said.append
    except _Broken as fault:
        found.note(name, str(fault), holds=False)
    else:
        found.note(name, said[0])


def _seal(pdf: bytes, certificate: bytes | None) -> str:
    try:
        signatures = PdfFileReader(BytesIO(pdf)).embedded_signatures
    except Exception as fault:
        raise _Broken(f"the file cannot be read as a PDF: {fault}") from None
    if len(signatures) != 1:
        raise _Broken(f"the file bears {len(signatures)} seals where one is meant")
    signer = x509.load_der_x509_certificate(signatures[0].signer_cert.dump())
    fingerprint = signer.fingerprint(hashes.SHA256()).hex()
    whose = f"{signer.subject.rfc4514_string()}, SHA-256 {fingerprint}"
    try:
        trust = ValidationContext(trust_roots=[signatures[0].signer_cert], allow_fetching=False)
        status = validate_pdf_signature(signatures[0], trust)
    except Exception as fault:
        raise _Broken(f"the seal cannot be judged: {fault}") from None
    if not status.intact:
        raise _Broken(f"the file was changed since it was sealed by {whose}")
    if not status.valid:
        raise _Broken(f"the seal is not by the certificate it names: {whose}")
    if status.coverage is None or status.coverage.name != "ENTIRE_FILE":
        raise _Broken("something was added to the file after it was sealed")
    if certificate is None:
        return f"unchanged since it was sealed by {whose}; not compared with a certificate of yours: {ONLY_SINCE}"
    if _certificate(certificate) != signer.public_bytes(serialization.Encoding.DER):
        raise _Broken(f"sealed by another certificate than yours: {whose}; {ONLY_SINCE}")
    return f"unchanged since it was sealed by your certificate, {whose}"


def _certificate(octets: bytes) -> bytes:
    try:
        load = x509.load_pem_x509_certificate if b"-----BEGIN" in octets else x509.load_der_x509_certificate
        return load(octets).public_bytes(serialization.Encoding.DER)
    except ValueError as fault:
        raise _Broken(f"the certificate to compare with cannot be read: {fault}") from None


def _record(pdf: bytes) -> Record:
    try:
        attached = PdfReader(BytesIO(pdf)).attachments.get(RECORD, [])
    except Exception as fault:
        raise _Broken(f"the attachments cannot be read: {fault}") from None
    if len(attached) != 1:
        raise _Broken(f"there are {len(attached)} attachments named {RECORD}, and one is meant")
    try:
        record: Any = json.loads(attached[0])
    except ValueError as fault:
        raise _Broken(f"{RECORD} is not JSON: {fault}") from None
    if not isinstance(record, dict):
        raise _Broken(f"{RECORD} is not an object")
    shape = {
        "log": str, "unit_key": dict, "digest": str, "definition": dict, "cards": list,
        "entries": list, "heads": dict, "files": dict, "drawn": dict,
    }  # fmt: skip
    wrong = [name for name, kind in shape.items() if not isinstance(record.get(name), kind)]
    if wrong:
        raise _Broken(f"{RECORD} lacks, or has in another form: {', '.join(wrong)}")
    return record


def _cards(record: Record) -> dict[str, Card]:
    try:
        keys = UnitKeys(record["unit_key"])
        cards = [card for text in record["cards"] for card in keys.take(str(text))]
    except (NotACard, ValueError) as fault:
        raise _Broken(f"a card does not hold: {fault}") from None
    return {card.kid: card for card in cards}


def _entries(record: Record) -> list[Entry]:
    entries = []
    for place, text in enumerate(record["entries"], start=1):
        try:
            entries.append(parse(str(text), record["log"]))
        except Refused as fault:
            raise _Broken(f"entry {place} of the record is none: {fault}") from None
    return entries


def _signed(entries: list[Entry], cards: dict[str, Card]) -> None:
    for place, entry in enumerate(entries, start=1):
        what = f"entry {place} ({entry.kind} on {entry.subject} by {entry.by}, {entry.name})"
        card = cards.get(entry.kid)
        if card is None:
            raise _Broken(f"{what} is by a key without a card")
        if not entry.signed_by(card.jwk):
            raise _Broken(f"{what} does not bear its writer's signature: it was changed")


def _chains(entries: list[Entry]) -> str:
    found = heads(entries)
    missing = [
        f"{first} to {last} of {kid}" for kid, one in found.items() for first, last in map(tuple, _gaps(one))
    ]
    forked = [kid for kid, one in found.items() if len(one["tips"]) > 1]
    if missing:
        raise _Broken(f"written, not arrived, or taken out of the record: {'; '.join(missing)}")
    return f"{len(found)} chains without a gap" + (f"; forked: {', '.join(forked)}" if forked else "")


def _gaps(found: dict[str, list[object]]) -> list[list[int]]:
    return [gap for gap in found["gaps"] if isinstance(gap, list)]


def _heads(record: Record, entries: list[Entry], pdf: bytes) -> str:
    named = {str(key): sorted(map(str, tips)) for key, tips in record["heads"].items()}
    last = last_hand_over(entries)
    if last is None:
        if record.get("handed_over") is not None:
            raise _Broken("the record speaks of a hand-over that is not among its entries")
        if named != tips_by_key(entries):
            raise _Broken("the heads in the record are not those of its entries")
    elif named != heads_named(last):
        raise _Broken("the heads in the record are not those that the hand-over names")
    here = {entry.name for entry in entries}
    lost = sorted({name for tips in named.values() for name in tips} - here)
    if lost:
        raise _Broken(f"heads that the record names are not among its entries: {', '.join(lost)}")
    printed = "".join("".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages)
    unprinted = sorted(name for tips in named.values() for name in tips if name not in printed)
    if unprinted:
        raise _Broken(f"heads of the record are not printed on the pages: {', '.join(unprinted)}")
    whose = "that the hand-over names" if last else "of the entries; nothing was handed over yet"
    return f"the {sum(map(len, named.values()))} heads printed are those {whose}"


def _definition(record: Record, entries: list[Entry]) -> str:
    digest = jws.sha256(canonical(record["definition"]).encode())
    first = next((entry for entry in entries if entry.kind == "show"), None)
    if first is None or first.body.get("digest") != digest or record["digest"] != digest:
        raise _Broken("the definition of the show is not the one that its first entry names")
    return f"the sheets are those that the show was made with, {digest}"


def _files(record: Record) -> str:
    for digest, text in record["files"].items():
        if jws.sha256(str(text).encode()) != digest:
            raise _Broken(f"the file {digest} is another one")
    for digest, packed in record["drawn"].items():
        try:
            octets = base64.b64decode(str(packed), validate=True)
        except ValueError:
            raise _Broken(f"the drawn name {digest} cannot be read") from None
        if jws.sha256(octets) != digest:
            raise _Broken(f"the drawn name {digest} is another one")
    return f"{len(record['files'])} files and {len(record['drawn'])} drawn names are what their names say"
