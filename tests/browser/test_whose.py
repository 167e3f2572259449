"""Whose an entry is and what becomes of it: several cards, other signers, a full phone, a revoked one."""

import json
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from jwcrypto.jwk import JWK
from jwcrypto.jws import JWS
from playwright.sync_api import Playwright, expect

from server.crew import jws
from server.logbook import entry
from tests.browser.conftest import HANDLINE, OpenPhone, Server
from tests.browser.rigger import Person, Rigger
from tests.browser.test_by_hand import SYNC, joined, photo_of, send, take_photo, to, write

pytestmark = pytest.mark.browser

BRAM = Person("bram", "Bram Oakley")
LENA = Person("lena", "Lena Sorrel")
PADS = "position/2/rig/pads"
LOG = "async () => (await import('/static/logbook/book.js')).book.show.value.log"
BY = """async (name) => {
  const { book } = await import("/static/logbook/book.js");
  return book.show.value.fold.entry(name).by;
}"""
KID = "async () => (await import('/static/logbook/book.js')).book.writer.value.kid"
# A full phone, as browsers say it: a request that fails, or a transaction that is aborted and gives no reason.
FILLS_UP = """
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...row) {
    if (globalThis.full === "refused") throw new DOMException("full", "QuotaExceededError");
    const request = put.apply(this, row);
    if (globalThis.full === "aborted") request.addEventListener("success", () => this.transaction.abort());
    return request;
  };
"""


@pytest.fixture(scope="module")
def bram(lasting_phones: OpenPhone, lasting_server: Server) -> Rigger:
    rigger = Rigger(lasting_phones, lasting_server, BRAM, LENA)
    rigger.context.add_init_script(FILLS_UP)
    return joined(rigger, "chief,rigger,engineer,lift-leader")


@pytest.fixture(scope="module")
def lena(lasting_phones: OpenPhone, lasting_server: Server) -> Rigger:
    return joined(Rigger(lasting_phones, lasting_server, LENA, BRAM), "camera,rigger")


class Colleague:
    """Somebody whose client is another: it enrols by the API and signs in Python."""

    def __init__(self, playwright: Playwright, server: Server) -> None:
        self.key = ec.generate_private_key(ec.SECP256R1())
        self.kid = jws.thumbprint(jws.public_jwk(self.key))
        self.web = playwright.request.new_context(base_url=server.site)
        code = server.invite("Mira Holt", "rigger")["code"]
        answer = self.web.post("/api/devices", data={"code": code, "public_key": jws.public_jwk(self.key)})
        assert answer.status == 201
        self.card = answer.json()["card"]
        self.person = json.loads(jws.split(self.card)[1])["person"]

    def payload(self, log: str, number: int, previous: str | None, text: str) -> dict[str, Any]:
        return {
            "log": log, "number": number, "previous": previous, "at": "2031-05-02T09:00:00+01:00",
            "by": self.person, "subject": PADS, "kind": "remark", "body": {"text": text},
        }  # fmt: skip

    def hand_in(self, log: str, *entries: str) -> None:
        answer = self.web.post(f"/api/logs/{log}/entries", data={"cards": [], "entries": list(entries)})
        assert [one["answer"] for one in answer.json()["answers"]] == ["stored"] * len(entries)


def test_what_was_signed_elsewhere_is_shown_with_whose_it_is(
    bram: Rigger, playwright: Playwright, lasting_server: Server
) -> None:
    mira = Colleague(playwright, lasting_server)
    log = bram.page.evaluate(LOG)
    here = entry.write(mira.payload(log, 1, None, "Pads are glazed"), mira.key)
    by_library = JWS(json.dumps(mira.payload(log, 2, entry.parse(here).name, "Two of them")))
    header = json.dumps({"alg": "ES256", "kid": mira.kid})
    by_library.add_signature(JWK.from_pyca(mira.key), protected=header)
    mira.hand_in(log, here, by_library.serialize(compact=True))
    send(bram)
    page = to(bram, f"step/{PADS}")
    for words in ("Pads are glazed", "Two of them"):
        slip = page.locator(".slip", has_text=words)
        expect(slip).to_contain_text("Mira Holt")


def test_several_people_on_one_phone_are_chosen_and_shown(bram: Rigger, lasting_server: Server) -> None:
    page = to(bram, "people")
    bram.touch("Put another card on this phone", "link")
    page.get_by_label("Code from the chief").fill(
        lasting_server.invite(LENA.name, "camera,rigger", LENA.id)["code"]
    )
    bram.touch("Make this phone mine")
    expect(bram.edge).to_contain_text("Lena Sorrel writing")
    assert page.evaluate(BY, write(bram, PADS, "remark", {"text": "Lena's"})) == "lena"
    other = bram.context.new_page()
    other.goto(lasting_server.site)
    expect(other.get_by_role("contentinfo")).to_contain_text("Lena Sorrel writing")
    to(bram, "people")
    bram.touch(BRAM.name)
    for tab in (page, other):  # whichever is looked at says who writes
        expect(tab.get_by_role("contentinfo")).to_contain_text("Bram Oakley writing")
    other.close()
    assert page.evaluate(BY, write(bram, PADS, "remark", {"text": "Bram's"})) == "bram"
    to(bram, "crew")  # the session is the chief's again, too
    expect(page.get_by_role("heading", name="Lena Sorrel")).to_be_visible()
    send(bram)


def test_a_session_that_is_gone_is_opened_again_and_nobody_is_asked(bram: Rigger) -> None:
    bram.context.clear_cookies()
    write(bram, PADS, "remark", {"text": "After sixty days"})
    send(bram)
    expect(bram.page.get_by_role("complementary")).to_have_text("")


def test_a_full_phone_says_so_and_shows_no_tick(bram: Rigger) -> None:
    page = to(bram, "sheet/truck/rig")
    card = page.locator("[aria-current=step]")
    subject = str(card.locator(".do a").get_attribute("href"))
    bram.lose_signal()  # what a sync could not keep would be said above, and move the button from under the hand
    for full in ("refused", "aborted"):
        page.evaluate("(how) => { globalThis.full = how; }", full)
        bram.press(card.locator("button.act.main"))
        expect(page.get_by_role("alert").first).to_contain_text("its storage is full. Nothing was written.")
        expect(card.locator(f'.do a[href="{subject}"]')).to_be_visible()
        page.evaluate("() => { globalThis.full = undefined; }")
        page.reload()
    bram.find_signal()
    bram.press(card.locator("button.act.main"))
    expect(card.locator(f'.do a[href="{subject}"]')).to_have_count(0)
    send(bram)
    to(bram, "unsent")
    expect(page.get_by_text("Forked")).to_have_count(0)
    expect(page.get_by_text("Written, not arrived")).to_have_count(0)


def test_a_tick_in_one_tab_is_seen_and_taken_back_in_the_other_with_no_signal(bram: Rigger) -> None:
    page = to(bram, "sheet/lifting/pack")
    other = bram.context.new_page()
    other.goto(page.url)
    expect(other.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
    bram.lose_signal()
    card = page.locator("[aria-current=step]")
    subject = str(card.locator(".do a").get_attribute("href")).removeprefix("#/step/")
    bram.press(card.locator("button.act.main"))
    row = other.locator("li.row", has=other.locator(f'a[href="#/step/{subject}"]'))
    row.get_by_role("button", name="Take back").click()
    for tab in (page, other):
        expect(tab.locator("[aria-current=step]").locator(f'.do a[href="#/step/{subject}"]')).to_be_visible()
    write(bram, PADS, "remark", {"text": "From the first tab"})
    expect(other.get_by_role("contentinfo")).to_contain_text("3 unsent")
    other.close()
    bram.find_signal()
    send(bram)
    to(bram, "unsent")
    expect(page.get_by_text("Forked")).to_have_count(0)


def amend(chief: Rigger, change: str, button: str) -> None:
    """Say why and write it; what is filled in before stands."""
    chief.page.get_by_label("Why").fill(change)
    chief.touch(button)
    expect(chief.page.get_by_role("status")).to_contain_text("Written.")


def test_what_the_chief_amends_reaches_another_phone_and_a_mistake_is_withdrawn(
    bram: Rigger, lena: Rigger, lasting_server: Server
) -> None:
    lasting_server.invite("Nils Fern", "driver")
    page = to(bram, "amend")
    page.get_by_label("Add a step").check()
    page.get_by_label("Sheet", exact=True).select_option("position/2/rig")
    page.get_by_label("What to do").fill("Sandbags on the legs")
    page.get_by_label("What the button says").fill("Bags on")
    page.get_by_label("rigger").check()
    amend(bram, "Gusts", "Add this step")
    page.get_by_label("Add a thing of kit").check()
    page.get_by_label("Tag, as on the thing").fill("BAG-9")
    page.get_by_label("What it is").fill("Sandbag")
    page.get_by_label("Type").select_option("rain-cover")
    page.get_by_label("Locker it belongs in").select_option("L2")
    amend(bram, "Bought on site", "Add this thing")
    page.get_by_label("Add somebody").check()
    page.get_by_label("Nils Fern").check()
    amend(bram, "Drives from Sunday", "Add to the show")
    send(bram)

    send(lena)
    added = "position/2/rig/sandbags-on-the-legs"
    other = to(lena, f"step/{added}")
    lena.touch("Bags on")
    expect(other.get_by_text("Done", exact=True)).to_be_visible()
    other.clock.fast_forward(2 * 60 * 1000)
    lena.touch("Take back: a mistake")
    other.get_by_label("Ticked by mistake").click()  # the list goes with the touch
    expect(other.get_by_text("Not done")).to_be_visible()
    expect(to(lena, "kit/BAG-9").get_by_text("Sandbag").first).to_be_visible()
    to(lena, "sheet/position/3/on-air")
    lena.touch("Write for somebody on talkback")
    expect(other.get_by_label("Nils Fern")).to_be_visible()
    send(lena)
    send(bram)
    struck = to(bram, f"step/{added}").locator("section", has=page.get_by_role("heading", name="Struck"))
    expect(struck).to_contain_text("Lena Sorrel")


def test_a_revoked_phone_is_told_so_sends_and_keeps_what_it_wrote(
    lena: Rigger, lasting_server: Server, tmp_path: Path
) -> None:
    lena.lose_signal()
    photo = photo_of(tmp_path)
    take_photo(lena, "position/5/rig/pads", photo)
    kid = lena.page.evaluate(KID)
    subprocess.run(
        (*HANDLINE, "revoke", kid), cwd=lasting_server.root, env=lasting_server.environ, check=True
    )
    write(lena, PADS, "remark", {"text": "Written afterwards"})
    lena.find_signal()
    lena.page.evaluate(SYNC)
    expect(lena.page.get_by_role("complementary")).to_contain_text("This phone was revoked")
    expect(lena.edge).to_contain_text("2 unsent")
    lena.page.reload()
    expect(lena.page.get_by_role("complementary")).to_contain_text("This phone was revoked")
    expect(to(lena, f"step/{PADS}").get_by_text("Written afterwards")).to_be_visible()
    arrived = {path.name for path in (lasting_server.data / "files").glob("*/*")}
    assert jws.sha256(photo.read_bytes()) in arrived  # for whoever admits what it wrote before


def test_what_is_refused_or_waits_is_shown_with_its_reason(bram: Rigger, tmp_path: Path) -> None:
    log = bram.page.evaluate(LOG)
    stranger = ec.generate_private_key(ec.SECP256R1())
    payload = {
        "log": log, "number": 1, "previous": None, "at": "2031-05-02T09:00:00+01:00", "by": "nobody",
        "subject": PADS, "kind": "tick", "body": {},
    }  # fmt: skip
    waits = entry.write(payload, stranger)
    false = entry.write({**payload, "number": 2}, stranger).rsplit(".", 1)[0] + "." + "A" * 86
    unread = {**payload, "kind": "tick", "subject": "not a subject"}
    header = {"alg": "ES256", "kid": jws.thumbprint(jws.public_jwk(stranger))}
    refused = jws.sign_compact(header, json.dumps(unread).encode(), stranger)
    with zipfile.ZipFile(tmp_path / "carried.zip", "w") as packed:
        packed.writestr("record.json", json.dumps({"cards": [], "entries": [waits, false, refused]}))
    page = to(bram, "hand-in")
    page.locator("input[type=file]").set_input_files(tmp_path / "carried.zip")
    expect(page.get_by_role("status")).to_contain_text("3 new entries")
    page.evaluate(SYNC)
    to(bram, "unsent")
    refusal = page.locator(
        "section", has=page.get_by_role("heading", name="Refused by the server, kept here: 1")
    )
    expect(refusal).to_contain_text("the entry's subject has characters that it may not have")
    waiting = page.locator("section", has=page.get_by_role("heading", name="Waiting to go: 2"))
    expect(waiting.get_by_text("until the card of the phone that wrote it comes")).to_have_count(2)
