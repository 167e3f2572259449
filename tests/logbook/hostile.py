"""Hypothesis strategies of what a hostile phone signs: its signature is good, what it is over need not be."""

import copy
import json
from typing import Any

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature
from hypothesis import strategies as st

from server.crew import jws
from tests.logbook.book import Device, step

LOG = "show-2"
NAMES = [jws.sha256(f"name {n}".encode()) for n in range(3)]
RIG = "position/2/rig"
LEVEL = {"figure": "0.7", "unit": "V", "low": "0.68", "high": None, "limit_of": "the truck"}
CLIPS = step(f"{RIG}/clips", asks="count", items={"A": "1"})
GAUGE = step(f"{RIG}/gauge", asks="reading", minutes=5)
BODIES: dict[str, list[dict[str, Any]]] = {
    "tick": [{}, {"passed": [{"subject": f"{RIG}/legs", "told_by": "bram"}]}],
    "reopen": [{"reason": "slipped"}],
    "count": [{"number": "2"}],
    "choice": [{"choice": "holds"}],
    "place": [{"where": "locker/L1"}],
    "assign": [{"tag": "LEN-1"}, {"tags": ["DRM-1", "DRM-2"]}],
    "state": [{"state": "suspect", "reason": "haze"}],
    "record": [{"fields": {"mass_kg": "4"}}],
    "reading": [LEVEL],
    "remark": [{"text": "in rain"}],
    "photo": [{"file": NAMES[0]}],
    "fault": [{"text": "no picture", "about": "LEN-1"}],
    "test": [{"test": "continuity", "passed": True}],
    "event": [{"event": "knocked"}],
    "witness": [{}],
    "withdraw": [{"entries": NAMES[:1], "reason": "mistyped"}],
    "sign": [{"sheet": RIG, "digest": NAMES[0], "covers": NAMES[:2], "drawn": NAMES[1]}],
    "hand-over": [{"heads": {NAMES[0]: NAMES[:1]}, "files": []}],
    "accept": [{"locker": "L1", "seen": "as the report says", "exceptions": []}],
    "show": [
        {"title": "x", "zone": "UTC", "starts": "2031-05-02", "ends": "2031-05-05", "site": "y", "digest": NAMES[0]}
    ],
    "amend": [
        {"change": "withdraw-step", "sheet": RIG, "step": f"{RIG}/legs", "reason": "x"},
        {"change": "add-step", "sheet": RIG, "added": CLIPS, "reason": "x"},
        {"change": "add-step", "sheet": RIG, "added": GAUGE, "reason": "x"},
        {"change": "add-sheets", "digest": NAMES[0], "reason": "x"},
        {"change": "move-end", "ends": "2031-05-09", "reason": "x"},
    ],
    "close": [{"heads": {}, "given_up": {}}],
    "revoke": [{"device": NAMES[0], "head": None}],
    "admit": [{"device": NAMES[0], "head": NAMES[1]}, {"device": NAMES[0], "entries": NAMES[:1]}],
    "waltz": [{}],
}  # fmt: skip
SUBJECTS = [
    f"{RIG}/legs",
    f"{RIG}/level",
    f"{RIG}/count/A",
    f"{RIG}/count",
    "kit/LEN-1/state",
    "kit/LEN-1",
    "show",
]
SLOTS = ["position/2/chain/lens", "position/2/chain/run", "position/2/given-up", "locker/L1"]

words = st.sampled_from(
    ["", "0", "-0.0", "1e3", "01", "1.50", "9" * 33, "constructor", "__proto__", "L1", "\ud83d\ude00", "é", *NAMES]
)  # fmt: skip
whole = st.sampled_from([0, -1, 1, 2**31, 2**53 - 1, -(2**53) + 1, 2**53, 10**30])
values = st.recursive(
    st.none() | st.booleans() | whole | words | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(words | st.text(max_size=4), inner, max_size=3)
    ),
    max_leaves=6,
)


@st.composite
def payloads(draw: st.DrawFn, person: str) -> dict[str, Any]:
    """A payload that is an entry, or was before something in it was put out of place."""
    kind = draw(st.sampled_from(sorted(BODIES)))
    made: dict[str, Any] = {
        "log": LOG,
        "number": draw(st.integers(1, 5)),
        "previous": draw(st.sampled_from([None, *NAMES])),
        "at": "2031-05-02T09:00:00+01:00",
        "by": draw(st.sampled_from([person, person, "nobody"])),
        "subject": draw(st.sampled_from([*SUBJECTS, *SLOTS])),
        "kind": kind,
        "body": copy.deepcopy(draw(st.sampled_from(BODIES[kind]))),
        "replaces": draw(st.lists(st.sampled_from(NAMES), max_size=2)),
        "rests_on": draw(st.lists(st.sampled_from(NAMES), max_size=2)),
        "chain": {"lens": "LEN-1", "run": ["DRM-1"]},
    }
    for _ in range(draw(st.integers(0, 2))):
        _put_out_of_place(draw, made)
    return made


def _put_out_of_place(draw: st.DrawFn, made: dict[str, Any]) -> None:
    inside = draw(st.sampled_from(["whole", "body", "body", "body"]))
    at: Any = made if inside == "whole" else made.get("body")
    while isinstance(at, dict) and at:
        member = draw(st.sampled_from(sorted(at)))
        if isinstance(at[member], dict) and at[member] and draw(st.booleans()):
            at = at[member]
            continue
        if draw(st.integers(0, 3)) == 0:
            del at[member]
        else:
            at[member] = draw(values)
        return


SPOILT = [
    (b'"number":', b'"number":1,"number":'),
    (b'"body":{', b'"body":{"x":1.0,'),
    (b'"body":{', b'"body":{"x":1e2,'),
    (b'"body":{', b'"body":{"x":NaN,'),
    (b'"body":{', b'"body":{"x":"\\ud800",'),
    (b'"body":{', b'"body":{"x":"\\u0000",'),
    (b'"body":{', b'"body":{"x":"\\ufdd0",'),
    (b'"body":{', b'"body":{"x":"\xff",'),
    (b'"body":{', b'"body":{"x":' + b"[" * 14 + b"]" * 14 + b","),
    (b'"body":{', b'"body":{"x":' + b"[" * 15 + b"]" * 15 + b","),
    (b'"body":{', b'"body":{"\\u0078":1,"x":2,'),
    (b'"at":"2031', b'"at":"0000'),
    (b"09:00:00", b"09:00:60"),
    (b"+01:00", b"-00:00"),
    (b"{", b"\xef\xbb\xbf{"),
    (b"{", b" {\n"),
    (b"{", b"\x0b{"),
    (b"{", b"[{"),
]


@st.composite
def texts(draw: st.DrawFn, device: Device) -> str:
    """An entry's text, its signature good over whatever it is over."""
    payload = draw(payloads(device.person))
    octets = json.dumps(payload, ensure_ascii=draw(st.booleans()), separators=(",", ":")).encode(
        "utf-8", "surrogatepass"
    )
    if draw(st.integers(0, 3)) == 0:
        old, new = draw(st.sampled_from(SPOILT))
        octets = octets.replace(old, new, 1)
    header = f'{{"alg":"ES256","kid":"{device.kid}"}}'
    if draw(st.integers(0, 5)) == 0:
        header = draw(
            st.sampled_from(
                [
                    f'{{"kid":"{device.kid}","alg":"ES256"}}',
                    f'{{ "alg" : "ES256", "k\\u0069d":"{device.kid}" }}',
                    f'{{"alg":"ES256","alg":"ES256","kid":"{device.kid}"}}',
                    f'{{"alg":"none","kid":"{device.kid}"}}',
                    f'{{"alg":"ES256","kid":"{device.kid}","typ":"session"}}',
                    f'{{"alg":"ES256","kid":"{device.kid[:-1]}"}}',
                    f'{{"alg":"ES256","kid":"{NAMES[0]}"}}',
                    f'{{"alg":["ES256"],"kid":"{device.kid}"}}',
                    '{"alg":"ES256","kid":null}',
                    "[]",
                    "",
                ]
            )
        )
    signed = f"{jws.b64(header.encode())}.{jws.b64(octets)}"
    if draw(st.integers(0, 9)) == 0:
        signed = draw(
            st.sampled_from(
                [f"{signed}=", f" {signed}", f"{signed}\n", signed.replace(".", "=.", 1), signed[:-1]]
            )
        )
    return f"{signed}.{_signature(signed, device.key)}"


def _signature(signed: str, key: ec.EllipticCurvePrivateKey) -> str:
    r, s = decode_dss_signature(key.sign(signed.encode(), ec.ECDSA(hashes.SHA256())))
    return jws.b64(r.to_bytes(32, "big") + s.to_bytes(32, "big"))
