"""Enrolment, sessions, who may do what, and what a revocation takes away, over HTTP."""

import json

import pytest
from cryptography.hazmat.primitives.asymmetric import ec

from server.crew import jws
from server.crew.cards import key_files
from server.logbook.entry import parse
from server.store import now_s

SITE = "http://127.0.0.1:8000"
UNIT = "north"
YARD = "yard-north"


def session_of(phone, nonce, origin=SITE, typ="session", key=None, **more):
    payload = json.dumps({"origin": origin, "nonce": nonce, **more}).encode()
    header = {"alg": "ES256", "kid": phone.kid} | ({"typ": typ} if typ else {})
    return {"session": jws.sign_compact(header, payload, key or phone.key), "card": phone.card}


def revoke(chief, device, head=None):
    text = chief.write(YARD, f"device/{device}", "revoke", body={"device": device, "head": head})
    assert chief.answers(YARD, [text]) == ["stored"]


def test_a_code_gives_its_key_the_same_card_again(phone, invited):
    code, one = invited("Bram", "rigger", "driver"), phone()
    first = one.enrol(code)
    again = one.enrol(f" {code.lower()} ")
    assert again.status_code == 201
    assert again.json == first.json
    card = json.loads(jws.split(first.json["card"])[1])
    assert (card["unit"], card["person"], card["roles"]) == (UNIT, "bram", ["rigger", "driver"])
    assert card["jwk"] == one.jwk
    assert jws.verify(first.json["card"], first.json["unit_key"])


def test_a_used_code_is_no_code_for_another_key(phone, invited, problem):
    code = invited("Bram", "rigger")
    assert phone().enrol(code).status_code == 201
    other = phone()
    assert "another phone" in problem(other.enrol(code), 409, "code")
    problem(other.web.get("/api/crew"), 401)


def test_a_wrong_code_is_said_and_guessing_is_held(phone, invited, problem):
    one, code = phone(), invited("Bram", "rigger")
    for _ in range(10):
        problem(one.enrol("AAAAA-AAAAA"), 403, "code")
    assert "Wait 10 minutes" in problem(one.enrol(code), 429)
    assert one.enrol(code).headers["Retry-After"] == "600"


@pytest.mark.parametrize("member", ["x", "y"])
def test_a_key_off_the_curve_is_named(phone, invited, problem, member):
    one = phone()
    public_key = one.jwk | {member: jws.b64(bytes(32))}
    response = one.web.post(
        "/api/devices", json={"code": invited("Bram", "rigger"), "public_key": public_key}
    )
    problem(response, 422, "public_key")


def test_a_lost_cookie_is_replaced_once_by_nonce(phone, problem):
    one = phone("Bram", "rigger")
    one.web.delete_cookie("handline")
    problem(one.web.get("/api/crew"), 401)
    asked = session_of(one, one.web.get("/api/nonce").json["nonce"])
    answer = one.web.post("/api/sessions", json=asked)
    assert answer.status_code == 204
    assert "HttpOnly" in answer.headers["Set-Cookie"]
    assert "SameSite=Strict" in answer.headers["Set-Cookie"]
    assert one.web.get("/api/crew").status_code == 200
    assert "used" in problem(one.web.post("/api/sessions", json=asked), 403, "session")


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"origin": "http://elsewhere.example"}, "another origin"),
        ({"typ": None}, "header"),
        ({"typ": "card"}, "header"),
        ({"key": ec.generate_private_key(ec.SECP256R1())}, "signature is false"),
        ({"also": 1}, "payload"),
    ],
)
def test_what_is_no_session_of_this_key_opens_nothing_and_uses_no_nonce(phone, problem, wrong, why):
    one = phone("Bram", "rigger")
    one.web.delete_cookie("handline")
    nonce = one.web.get("/api/nonce").json["nonce"]
    refused = one.web.post("/api/sessions", json=session_of(one, nonce, **wrong))
    assert why in problem(refused, 403, "session")
    problem(one.web.get("/api/crew"), 401)
    assert one.web.post("/api/sessions", json=session_of(one, nonce)).status_code == 204


def test_an_unknown_nonce_opens_nothing(phone, problem):
    one = phone("Bram", "rigger")
    problem(one.web.post("/api/sessions", json=session_of(one, "made-up")), 403, "session")


def test_a_card_that_the_unit_did_not_sign_opens_nothing(phone, problem):
    one = phone("Bram", "rigger")
    forged = ec.generate_private_key(ec.SECP256R1())
    one.card = jws.sign_compact(jws.split(one.card)[0], jws.split(one.card)[1], forged)
    nonce = one.web.get("/api/nonce").json["nonce"]
    problem(one.web.post("/api/sessions", json=session_of(one, nonce)), 403, "card")


def test_only_a_chief_invites(phone, problem):
    asked = {"name": "Lena", "roles": ["camera"]}
    problem(phone().web.post("/api/invitations", json=asked), 401)
    assert "chief" in problem(phone("Bram", "rigger").web.post("/api/invitations", json=asked), 403)
    made = phone("Ines", "chief").web.post("/api/invitations", json=asked)
    assert made.status_code == 201
    assert made.json["link"].startswith(f"{SITE}/join#{made.json['code']}.")
    lena = phone()
    assert lena.enrol(made.json["code"]).status_code == 201
    assert lena.person == made.json["person"]
    assert made.json["link"].endswith("." + jws.split(lena.card)[0]["kid"])


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"roles": []}, "roles"),
        ({"roles": ["server"]}, "roles.0"),
        ({"name": ""}, "name"),
        ({"name": "a\nb"}, "name"),
        ({"person": "nobody"}, "person"),
    ],
)
def test_an_invitation_says_which_field_is_at_fault(phone, problem, wrong, field):
    asked = {"name": "Lena", "roles": ["camera"]} | wrong
    problem(phone("Ines", "chief").web.post("/api/invitations", json=asked), 422, field)


def test_open_invitations_are_for_chiefs_eyes(phone, invited):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    code = invited("Lena", "camera")
    assert [one["name"] for one in chief.web.get("/api/crew").json["invitations"]] == ["Lena"]
    assert rigger.web.get("/api/crew").json["invitations"] == []
    phone().enrol(code)
    assert chief.web.get("/api/crew").json["invitations"] == []


def test_a_revoked_phone_hands_in_and_reads_nothing(phone, problem):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    first = rigger.write("show-1")
    assert rigger.answers("show-1", [first]) == ["stored"]
    revoke(chief, rigger.kid)
    for address in ("/api/crew", "/api/shows", "/api/logs/show-1/entries", f"/api/files/{rigger.kid}"):
        assert "revoked" in problem(rigger.web.get(address), 403)
    assert rigger.answers("show-1", [rigger.write("show-1")]) == ["stored"]
    octets = b"a photo"
    assert rigger.web.put(f"/api/files/{jws.sha256(octets)}", data=octets).status_code == 204
    rigger.web.delete_cookie("handline")
    nonce = rigger.web.get("/api/nonce").json["nonce"]
    assert rigger.web.post("/api/sessions", json=session_of(rigger, nonce)).status_code == 204
    assert rigger.answers("show-1", [rigger.write("show-1")]) == ["stored"]
    problem(rigger.web.get("/api/crew"), 403)
    listed = {one["person"]: one["devices"] for one in chief.web.get("/api/crew").json["people"]}
    assert [device["revoked"] for device in listed["bram"]] == [True]
    assert [device["revoked"] for device in listed["ines"]] == [False]


def test_a_revoked_key_is_not_enrolled_again(phone, invited, problem):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    revoke(chief, rigger.kid)
    problem(rigger.enrol(invited("Bram", "rigger")), 403, "public_key")


def test_the_server_repeats_a_revocation_once_in_each_open_log(app, phone):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    stands = rigger.write("show-1")
    rigger.answers("show-1", [stands])
    chief.answers("show-2", [chief.write("show-2", "show", "close")])
    revoke(chief, rigger.kid)
    chief.answers("show-1", [chief.write("show-1")])
    with app.app_context():
        own = key_files(UNIT).device_kid
    said = [parse(text) for text in chief.fetch("show-1")["entries"]]
    repeated = [one for one in said if one.kind == "revoke"]
    assert [(one.kid, one.body) for one in repeated] == [
        (own, {"device": rigger.kid, "head": parse(stands).name})
    ]
    assert [parse(text).kind for text in chief.fetch("show-2")["entries"]] == ["close"]


def test_in_a_log_opened_since_nothing_of_a_revoked_phone_stands(phone, monkeypatch):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    revoke(chief, rigger.kid)
    later = now_s() + 60
    monkeypatch.setattr("server.logbook.receipt.now_s", lambda: later)
    rigger.answers("show-9", [rigger.write("show-9")])
    kinds = {parse(text).kind: parse(text) for text in chief.fetch("show-9")["entries"]}
    assert kinds["revoke"].body == {"device": rigger.kid, "head": None}


def test_only_a_chief_revokes_and_never_the_server(app, phone):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    with app.app_context():
        own = key_files(UNIT).device_kid
    revoke(rigger, chief.kid)
    revoke(chief, own)
    devices = [one for person in chief.web.get("/api/crew").json["people"] for one in person["devices"]]
    assert len(devices) == 3
    assert not any(one["revoked"] for one in devices)


@pytest.mark.parametrize(
    "headers",
    [{"Origin": "http://elsewhere.example"}, {"Origin": "null"}, {"Sec-Fetch-Site": "cross-site"}],
)
def test_another_origins_page_sends_nothing_here(phone, problem, headers):
    one = phone("Ines", "chief")
    asked = {"name": "Lena", "roles": ["camera"]}
    assert SITE in problem(one.web.post("/api/invitations", json=asked, headers=headers), 403)
    assert one.web.get("/api/crew").json["invitations"] == []
    own = {"Origin": SITE, "Sec-Fetch-Site": "same-origin"}
    assert one.web.post("/api/invitations", json=asked, headers=own).status_code == 201
