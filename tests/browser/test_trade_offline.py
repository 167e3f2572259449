"""The arithmetic where the person stands: verdicts with no signal, and readings kept where none can be computed."""

from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from server.logbook.assessed import assessed
from server.trade.register import assess
from tests.browser.conftest import OpenPhone, Server
from tests.browser.show_at_work import Phone, phone_at_work

pytestmark = pytest.mark.browser

TRACKING = "position/3/lens/quick-look"
REGISTRATION = "position/2/line-up/registration"


def with_arithmetic(phone: Phone) -> None:
    """Wait until the arithmetic is on this phone."""
    phone.to("settings")
    expect(phone.page.get_by_text("The arithmetic is on this phone")).to_be_visible(timeout=60_000)


def work_out(phone: Phone, subject: str) -> None:
    """Open a step's computation, passing what is not on this phone on somebody's word."""
    phone.to(f"reading/{subject}")
    phone.page.get_by_role("button", name="Go on, on somebody's word").click()
    phone.page.get_by_label("Who says that it is done?").fill("Bram")


def verdict(page: Page) -> Any:
    return page.get_by_role("status", name="Verdict").locator(".verdict")


def reopened(open_phone: OpenPhone, context: BrowserContext, site: str) -> Phone:
    """The same phone, closed and opened again."""
    context.close()
    page = open_phone("ana").pages[0]
    page.goto(site)
    expect(page.get_by_role("heading", level=1)).to_have_text("Reservoir regatta")
    return Phone(page, site)


def test_tracking_and_registration_are_judged_with_no_signal_after_a_restart(
    server: Server, open_phone: OpenPhone
) -> None:
    context = open_phone("ana")
    phone = phone_at_work(context.pages[0], server)
    with_arithmetic(phone)
    server.stop()
    phone = reopened(open_phone, context, server.site)
    page = phone.page

    work_out(phone, TRACKING)
    expect(page.get_by_text("picture height on the sensor 12.8 mm, from CAM-2")).to_be_visible()
    page.get_by_text("holds", exact=True).click()
    expect(verdict(page)).to_have_text("within limits", timeout=60_000)
    page.get_by_role("button", name="Write it: within limits").click()
    expect(page.get_by_role("heading", name="Readings")).to_be_visible()
    step = phone.view(TRACKING)
    kept = step["readings"][0]["body"]["assessment"]
    assert not step["done"]
    assert kept["name"] == "lens-tracking"
    assert kept["verdict"] == "within limits"
    assert kept["inputs"]["answer"] == "holds"
    limit = assess("lens-tracking", kept["inputs"])["figures"]["limit_um"]
    assert float(kept["figures"]["limit_um"]["value"]) == pytest.approx(limit["value"], rel=1e-9)
    assert kept["figures"]["limit_um"]["unit"] == limit["unit"]

    work_out(phone, REGISTRATION)
    for zone in ("Zone 2", "Zone 3"):
        page.get_by_role("group", name=zone).get_by_text("none", exact=True).click()
    page.get_by_role("group", name="Zone 1").get_by_text("line or more").click()
    expect(verdict(page)).to_have_text("adjust", timeout=60_000)
    page.get_by_role("button", name="Write it: adjust").click()
    expect(page.get_by_role("heading", name="Readings")).to_be_visible()
    expect(page.get_by_text("3 answers")).to_be_visible()
    assert phone.view(REGISTRATION)["readings"][0]["body"]["figure"] == "3"


def test_without_webassembly_the_reading_is_kept_and_the_server_judges_it_later(
    server: Server, open_phone: OpenPhone
) -> None:
    context = open_phone("ana")
    context.add_init_script("delete globalThis.WebAssembly")
    phone = phone_at_work(context.pages[0], server)
    page = phone.page
    phone.to("settings")
    page.evaluate("navigator.serviceWorker.ready.then(() => null)")
    server.stop()

    work_out(phone, TRACKING)
    page.get_by_text("soft wide", exact=True).click()
    expect(verdict(page)).to_have_text("No verdict here")
    expect(page.get_by_text("WebAssembly is switched off in this browser")).to_be_visible()
    page.get_by_role("button", name="Write it: as read, without a verdict").click()
    expect(page.get_by_text("not computed here. Kept as it was read.")).to_be_visible()
    expect(page.get_by_text("The server has not judged it yet.")).to_be_visible()
    kept = phone.view(TRACKING)["readings"][0]["body"]
    assert kept["assessment"]["core"] == "none"
    assert kept["assessment"]["inputs"]["answer"] == "soft-wide"
    assert kept["assessment"]["figures"] == {}

    server.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.get_by_text("The server's verdict, not this phone's:")).to_be_visible(timeout=60_000)
    expect(page.locator(".verdict")).to_have_text("adjust")
    again = assessed(kept)
    assert again is not None
    assert again.word == "computed here"
