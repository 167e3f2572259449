"""The first line of all: enrol, tick, kill, reopen with no network, and the tick is there."""

import json
from pathlib import Path
from typing import Any

import pytest
from jwcrypto.jwk import JWK
from jwcrypto.jws import JWS
from playwright.sync_api import Page, expect

from server.crew import jws
from server.crew.jws import unb64
from server.logbook import entry
from tests.browser.conftest import OpenPhone, Server, kill

pytestmark = pytest.mark.browser

WRITE = """async ([log, subject]) => {
  const { write } = await import("/static/logbook/book.js");
  return write({ log, subject, kind: "tick", body: {} });
}"""
START_WRITING = """async ([log, times]) => {
  const { write } = await import("/static/logbook/book.js");
  globalThis.writing = Promise.all(Array.from({ length: times }, (_, index) =>
    write({ log, subject: `locker/L1/pack/step-${index}`, kind: "tick", body: {} })));
}"""
WRITTEN = "() => globalThis.writing"
HELD = """async () => {
  const { read } = await import("/static/logbook/store.js");
  const { keysWithCards } = await import("/static/logbook/keys.js");
  const own = new Set((await keysWithCards()).map((key) => key.kid));
  const rows = await read(["entries"], (tx) => tx.objectStore("entries").getAll());
  return rows.filter((row) => own.has(row.kid));
}"""
PUBLIC_KEY = """async () => {
  const { keysWithCards } = await import("/static/logbook/keys.js");
  return (await keysWithCards())[0].jwk;
}"""
SHELLS = "async () => (await caches.keys()).filter((name) => name.includes('shell')).sort()"
VERSION_SCRIPT = "async () => (await fetch('/static/version.js')).text()"
UPDATE_UNTIL_GONE = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update();
  const leaving = registration.installing ?? registration.waiting ?? registration.active;
  await new Promise((done) => {
    const look = () => leaving.state === "redundant" || leaving.state === "activated" ? done() : null;
    leaving.addEventListener("statechange", look);
    look();
  });
}"""
LOG = "show-test-20310502"
WORKER_READY = "async () => { await navigator.serviceWorker.ready; }"


def enrol(page: Page, server: Server, name: str, roles: str) -> None:
    page.goto(server.invite(name, roles)["link"])
    page.get_by_role("button", name="Make this phone mine").click()
    expect(page.get_by_role("contentinfo")).to_contain_text(name)
    page.evaluate(WORKER_READY)


def tick(page: Page, subject: str) -> str:
    return str(page.evaluate(WRITE, [LOG, subject]))


def held(page: Page) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = page.evaluate(HELD)
    return rows


def test_a_tick_outlives_the_killed_browser_with_no_network(
    server: Server, open_phone: OpenPhone, tmp_path: Path
) -> None:
    phone = open_phone("ana")
    page = phone.pages[0]
    enrol(page, server, "Ana", "rigger")
    server.stop()
    name = tick(page, "locker/L1/pack/count")
    kill(tmp_path / "phone-ana")

    again = open_phone("ana").pages[0]
    again.goto(server.site)
    expect(again.get_by_role("contentinfo")).to_contain_text("1 unsent")
    assert [row["name"] for row in held(again)] == [name]


def test_two_tabs_that_write_at_once_make_one_chain(server: Server, open_phone: OpenPhone) -> None:
    phone = open_phone("ana")
    one = phone.pages[0]
    enrol(one, server, "Ana", "rigger")
    two = phone.new_page()
    two.goto(server.site)
    expect(two.get_by_role("contentinfo")).to_contain_text("Ana")
    server.stop()
    for page in (one, two):
        page.evaluate(START_WRITING, [LOG, 20])
    for page in (one, two):
        page.evaluate(WRITTEN)
    rows = sorted(held(one), key=lambda row: row["number"])
    assert [row["number"] for row in rows] == list(range(1, 41))
    payloads = [json.loads(unb64(row["jws"].split(".")[1])) for row in rows]
    assert [payload["previous"] for payload in payloads] == [None, *(row["name"] for row in rows[:-1])]
    expect(one.get_by_role("contentinfo")).to_contain_text("40 unsent")
    expect(two.get_by_role("contentinfo")).to_contain_text("40 unsent")


def test_a_definition_that_is_not_there_keeps_no_entry_back(server: Server, open_phone: OpenPhone) -> None:
    page = open_phone("ana").pages[0]
    enrol(page, server, "Ana", "rigger")
    for kept in (server.data / "files").glob("*/*"):
        kept.unlink()
    tick(page, "locker/L1/pack/count")
    expect(page.get_by_text("its definition has not arrived")).to_be_visible()
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")


def test_what_chromium_signed_verifies_here_and_with_another_library(
    server: Server, open_phone: OpenPhone
) -> None:
    page = open_phone("ana").pages[0]
    enrol(page, server, "Ana", "rigger")
    tick(page, "locker/L1/pack/count")
    row = held(page)[0]
    public = page.evaluate(PUBLIC_KEY)
    assert entry.parse(row["jws"]).name == row["name"]
    assert jws.verify(row["jws"], public)
    assert jws.thumbprint(public) == row["kid"]
    token = JWS()
    token.deserialize(row["jws"], JWK(**public))
    assert json.loads(token.payload)["subject"] == "locker/L1/pack/count"


def test_a_new_version_is_offered_and_not_forced(changeable_server: Server, open_phone: OpenPhone) -> None:
    server = changeable_server
    page = open_phone("ana").pages[0]
    enrol(page, server, "Ana", "rigger")
    page.reload()
    (before,) = page.evaluate(SHELLS)
    with (server.root / "static" / "version.js").open("a") as script:
        script.write("\n// another version\n")
    page.evaluate("async () => { await (await navigator.serviceWorker.getRegistration()).update(); }")
    button = page.get_by_role("button", name="Start it now")
    expect(button).to_be_visible()
    assert before in page.evaluate(SHELLS)
    assert "another version" not in page.evaluate(VERSION_SCRIPT)
    with page.expect_navigation():
        button.click()
    expect(page.get_by_role("contentinfo")).to_contain_text("Ana")
    expect(button).to_have_count(0)
    assert "another version" in page.evaluate(VERSION_SCRIPT)


def test_a_bad_worker_is_withdrawn(server: Server, open_phone: OpenPhone) -> None:
    page = open_phone("ana").pages[0]
    enrol(page, server, "Ana", "rigger")
    name = tick(page, "locker/L1/pack/count")
    (server.data / "withdraw-worker").touch()
    page.evaluate(UPDATE_UNTIL_GONE)
    assert page.evaluate(SHELLS) == []
    page.reload()
    expect(page.get_by_role("contentinfo")).to_contain_text("Ana")
    assert [row["name"] for row in held(page)] == [name]
