"""The first line again on the engine of an iPhone: enrol, tick, kill, reopen with no network, send."""

import pytest

from tests.browser.conftest import OpenWebKit, Server
from tests.browser.webkit import kill_webkit, shown, touch

pytestmark = pytest.mark.browser

STEP = "locker/L1/pack/seal"
WORKER_READY = "navigator.serviceWorker.ready.then(() => arguments[0](true), () => arguments[0](false))"
HELD = """const done = arguments[0];
(async () => {
  const { keysWithCards } = await import("/static/logbook/keys.js");
  const { read } = await import("/static/logbook/store.js");
  const own = new Set((await keysWithCards()).map((key) => key.kid));
  const rows = await read(["entries"], (tx) => tx.objectStore("entries").getAll());
  return rows.filter((row) => own.has(row.kid)).map((row) => JSON.stringify([row.name, row.jws]));
})().then(done, (error) => done(String(error)));"""
KEY_LEAVES = """const done = arguments[0];
(async () => {
  const { keysWithCards } = await import("/static/logbook/keys.js");
  return crypto.subtle.exportKey("jwk", (await keysWithCards())[0].pair.privateKey);
})().then(() => done("it left"), (error) => done(error.name));"""


def test_a_tick_outlives_the_killed_webkit_with_no_network(server: Server, open_webkit: OpenWebKit) -> None:
    phone = open_webkit("ana")
    phone.get(server.invite("Ana", "rigger")["link"])
    touch(phone, "button", "Make this phone mine")
    touch(phone, "button", "Reservoir regatta")
    shown(phone, "h1", "Reservoir regatta")
    assert phone.execute_async_script(WORKER_READY)
    assert phone.execute_async_script(KEY_LEAVES) == "InvalidAccessError"

    server.stop()
    phone.get(f"{server.site}/#/step/{STEP}")
    touch(phone, "button", "Go on, on somebody's word")
    touch(phone, "label", "Who says that it is done?")
    phone.switch_to.active_element.send_keys("Bram")
    touch(phone, ".card .act.main", "Latched and tagged shut")
    shown(phone, "footer", "1 unsent")
    written = phone.execute_async_script(HELD)
    assert len(written) == 1
    kill_webkit(phone)

    again = open_webkit("ana")
    again.get(f"{server.site}/#/step/{STEP}")
    shown(again, "main", "Passed on somebody's word: Bram")
    shown(again, "footer", "1 unsent")
    assert again.execute_async_script(HELD) == written

    server.start()
    again.get(f"{server.site}/#/unsent")
    shown(again, "button", "Try to send now").click()
    shown(again, "footer", "Nothing unsent")
    assert again.execute_async_script(HELD) == written
    shown(again, "main", "The server answered within the last minute.")
