"""What another log says of a thing of kit stands on its screen, with no signal too, until it is replaced here."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenPhone, Server
from tests.browser.show_at_work import phone_at_work

pytestmark = pytest.mark.browser

IN_THE_YARD = """async (touched) => {
  const { book, syncNow, write } = await import("/static/logbook/book.js");
  const log = book.show.value.yardLog;
  await write({ log, replaces: [], rests_on: [], ...touched });
  await syncNow();
  await syncNow();
}"""
REPLACES = """async (name) => {
  const { book } = await import("/static/logbook/book.js");
  return book.show.value.fold.entry(name).replaces.length;
}"""
STATE = "kit/CAB-009/state"


def test_the_yard_is_heard_on_a_things_screen_until_somebody_replaces_it(
    server: Server, open_phone: OpenPhone
) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    suspect = {"state": "suspect", "reason": "One way open at the vehicle end"}
    phone.page.evaluate(IN_THE_YARD, {"subject": STATE, "kind": "state", "body": suspect})
    fault = {"text": "Sheath cut at 40 m"}
    phone.page.evaluate(IN_THE_YARD, {"subject": "kit/CAB-009", "kind": "fault", "body": fault})
    phone.page.context.set_offline(True)
    phone.to("hand-over")
    told = phone.page.locator("details", has_text="Carried over: 1")
    expect(told).to_contain_text("suspect: One way open at the vehicle end (The yard log, between shows,")
    phone.to("kit/CAB-009")
    expect(phone.page.locator("p.verdict")).to_have_text("suspect, carried over")
    carried = phone.page.get_by_role("region", name="Carried over")
    expect(carried).to_contain_text("The yard log, between shows")
    expect(carried).to_contain_text("suspect: One way open at the vehicle end")
    expect(carried).to_contain_text("Sheath cut at 40 m")
    name = phone.write(STATE, "state", {"state": "serviceable", "reason": "Mended and rung out"})
    assert phone.page.evaluate(REPLACES, name) == 1
    expect(phone.page.locator("p.verdict")).to_have_text("serviceable")
    expect(carried).not_to_contain_text("suspect")
    expect(carried).to_contain_text("Sheath cut at 40 m")
