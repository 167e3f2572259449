"""Receipt over HTTP, after section 4 of the logbook's page: what is said of each entry and what is kept."""

import json
from threading import Barrier, Thread

import pytest

from server.crew import jws
from server.crew.cards import key_files
from server.logbook.entry import parse

LOG = "show-1"
# The order of P-256's group: FIPS 186-4, D.1.2.3. (r, n - s) is a second signature of the same input (X9.62).
ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551


def signed_otherwise(text):
    signing_input, _, signature = text.rpartition(".")
    raw = jws.unb64(signature)
    s = ORDER - int.from_bytes(raw[32:], "big")
    return f"{signing_input}.{jws.b64(raw[:32] + s.to_bytes(32, 'big'))}"


def signed_falsely(text):
    signing_input, _, signature = text.rpartition(".")
    raw = jws.unb64(signature)
    return f"{signing_input}.{jws.b64(raw[:-1] + bytes([raw[-1] ^ 1]))}"


@pytest.fixture
def stranger(app, phone):
    """A phone whose card this server lost: signed by the unit, and not kept here."""
    one = phone()
    payload = {
        "type": "card", "unit": "north", "jwk": one.jwk, "person": "yusuf", "name": "Yusuf",
        "roles": ["camera"], "date": "2031-05-01",
    }  # fmt: skip
    with app.app_context():
        key = key_files("north").unit
    header = {"alg": "ES256", "kid": jws.thumbprint(jws.public_jwk(key))}
    one.hold(jws.sign_compact(header, json.dumps(payload).encode(), key))
    return one


def test_each_entry_is_answered_in_the_order_sent_and_none_blocks_the_next(phone, stranger):
    one = phone("Bram", "rigger")
    first, second, third = (one.write(LOG) for _ in range(3))
    assert one.answers(LOG, [first]) == ["stored"]
    elsewhere, waits = phone("Lena", "camera").write("show-2"), stranger.write(LOG)
    sent = [first, "nonsense", second, signed_falsely(third), waits, elsewhere, third, second]
    response = one.post(LOG, sent)
    assert [answer["answer"] for answer in response.json["answers"]] == [
        "known", "refused", "stored", "refused", "wait", "refused", "stored", "known",
    ]  # fmt: skip
    assert [answer["name"] for answer in response.json["answers"][2:5]] == [
        parse(text).name for text in (second, third, waits)
    ]
    reasons = [answer.get("reason") for answer in response.json["answers"]]
    assert "not an entry" in reasons[1]
    assert "signature is false" in reasons[3]
    assert "of the log show-2" in reasons[5]
    assert [reason is not None for reason in reasons] == [
        answer["answer"] == "refused" for answer in response.json["answers"]
    ]
    assert one.fetch(LOG)["entries"] == [first, second, third]


def test_a_second_signature_of_one_name_is_known_and_the_first_is_kept(phone):
    one = phone("Bram", "rigger")
    text = one.write(LOG)
    other = signed_otherwise(text)
    assert other != text
    assert parse(other).signed_by(one.jwk)
    assert one.answers(LOG, [text, other, signed_falsely(text)]) == ["stored", "known", "refused"]
    assert one.fetch(LOG)["entries"] == [text]


def test_what_waits_is_not_here_until_its_card_comes(phone, stranger):
    one = phone("Bram", "rigger")
    waiting = [stranger.write(LOG), stranger.write(LOG)]
    assert one.answers(LOG, [one.write(LOG)]) == ["stored"]
    assert one.answers(LOG, waiting) == ["wait", "wait"]
    assert one.answers(LOG, waiting[:1]) == ["wait"]
    before = one.fetch(LOG)
    assert len(before["entries"]) == 1
    assert set(before["heads"]) == {one.kid}
    assert one.answers(LOG, [], [stranger.card]) == []
    after = one.fetch(LOG)
    assert sorted(after["entries"][1:]) == sorted(waiting)
    assert stranger.card in after["cards"]
    assert after["heads"][stranger.kid] == {"tips": [parse(waiting[1]).name], "gaps": []}
    assert one.answers(LOG, waiting) == ["known", "known"]


def test_a_card_takes_in_what_waited_in_every_log(phone, stranger):
    one = phone("Bram", "rigger")
    here, there = stranger.write(LOG), stranger.write("show-2")
    assert one.answers("show-2", [there]) == ["wait"]
    assert one.answers(LOG, [here], [stranger.card]) == ["stored"]
    assert one.fetch("show-2")["entries"] == [there]


def test_a_false_signature_that_waited_takes_nobodys_place(phone, stranger):
    one = phone("Bram", "rigger")
    text = stranger.write(LOG)
    assert one.answers(LOG, [signed_falsely(text), text]) == ["wait", "wait"]
    one.answers(LOG, [], [stranger.card])
    assert one.fetch(LOG)["entries"] == [text]


def test_a_card_that_the_unit_did_not_sign_is_left_aside(phone, stranger):
    one = phone("Bram", "rigger")
    forged = jws.sign_compact(*jws.split(stranger.card)[:2], one.key)
    assert one.answers(LOG, [stranger.write(LOG)], [forged, "nonsense"]) == ["wait"]


def test_anybody_hands_in_what_another_signed(phone):
    one, other = phone("Bram", "rigger"), phone("Lena", "camera")
    text = one.write(LOG)
    assert other.answers(LOG, [text]) == ["stored"]
    assert other.fetch(LOG)["cards"] == [one.card]


def test_units_with_a_log_of_one_name_share_nothing(phone):
    north, south = phone("Bram", "rigger"), phone("Lena", "camera", unit="south")
    mine, theirs = north.write(LOG), south.write(LOG)
    assert north.answers(LOG, [mine]) == ["stored"]
    assert south.answers(LOG, [theirs]) == ["stored"]
    assert south.answers(LOG, [mine], [north.card]) == ["wait"]
    assert north.fetch(LOG)["entries"] == [mine]
    assert south.fetch(LOG)["entries"] == [theirs]


def test_five_hundred_entries_are_taken_and_one_more_is_not(phone, problem):
    one = phone("Bram", "rigger")
    assert one.answers(LOG, ["x"] * 500) == ["refused"] * 500
    assert "500" in problem(one.post(LOG, [one.write(LOG), *["x"] * 500]), 413, "entries")
    assert one.fetch(LOG)["entries"] == []


def test_four_mebibytes_are_taken_and_one_octet_more_is_not(phone, problem):
    one = phone("Bram", "rigger")
    address, around = f"/api/logs/{LOG}/entries", len(b'{"entries":["%s",""]}')
    text = one.write(LOG).encode()
    filling = b"x" * (4 * 1024 * 1024 - around + 2 - len(text))
    fits, larger = (b'{"entries":["%s","%s"]}' % (text, more) for more in (filling, filling + b"x"))
    assert len(fits) == 4 * 1024 * 1024
    refused = one.web.post(address, data=larger, content_type="application/json")
    assert "4 MiB" in problem(refused, 413)
    problem(one.web.get(address), 404)
    taken = one.web.post(address, data=fits, content_type="application/json")
    assert [answer["answer"] for answer in taken.json["answers"]] == ["stored", "refused"]


def test_a_post_that_fails_keeps_nothing_and_says_so(phone, problem, monkeypatch):
    one = phone("Bram", "rigger")
    text = one.write(LOG)
    with monkeypatch.context() as patched:
        patched.setattr("server.logbook.receipt.files_named", lambda _: 1 / 0)
        assert "Nothing was kept" in problem(one.post(LOG, [text]), 500)
    problem(one.web.get(f"/api/logs/{LOG}/entries"), 404)
    assert one.answers(LOG, [text]) == ["stored"]


def test_a_failure_after_a_post_is_logged_and_the_receipts_stand(phone, monkeypatch, caplog):
    one = phone("Bram", "rigger")
    text = one.write(LOG)
    monkeypatch.setattr("server.logbook.api.repeat_revocations", lambda *_: 1 / 0)
    assert one.answers(LOG, [text]) == ["stored"]
    assert "the next post does it again" in caplog.text
    assert one.fetch(LOG)["entries"] == [text]


def test_of_two_who_send_the_same_at_once_one_stores(phone):
    one, other = phone("Bram", "rigger"), phone("Lena", "camera")
    texts = [one.write(LOG) for _ in range(8)]
    together, said = Barrier(2), {}

    def send(by):
        together.wait()
        said[by.kid] = by.answers(LOG, texts)

    threads = [Thread(target=send, args=(by,)) for by in (one, other)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [sorted(pair) for pair in zip(said[one.kid], said[other.kid], strict=True)] == [
        ["known", "stored"]
    ] * 8
    assert one.fetch(LOG)["entries"] == texts
