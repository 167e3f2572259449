"""What a vehicle carries, figured with no signal: axles, sides, and what one heavy thing out does to them."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenPhone, Server
from tests.browser.show_at_work import phone_at_work

pytestmark = pytest.mark.browser

LOADED_MS = 90_000
NO_WEBASSEMBLY = "delete globalThis.WebAssembly"


def test_a_vehicle_is_figured_with_no_signal(server: Server, open_phone: OpenPhone) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    page = phone.page
    phone.to("settings")
    expect(page.get_by_text("The arithmetic is on this phone")).to_be_visible(timeout=LOADED_MS)
    page.context.set_offline(True)
    phone.to("van/pack")
    page.get_by_role("link", name="Loading: Camera vehicle").click()
    verdict = page.get_by_role("status", name="Verdict")
    expect(verdict).to_contain_text("58.6 % of the load on the left, house limit 55 %.")
    expect(verdict).to_contain_text("CAM-1, 41.0 kg")
    expect(verdict).to_contain_text(
        "front 2400 kg, rear 2442 kg"
    )  # by moments: CAM-1 lies 2.9 of 4.0 m forward
    expect(verdict.get_by_role("img")).to_be_visible()
    phone.to("loading/TRUCK")
    expect(verdict).to_contain_text("As loaded within gross and both axles of the plate.")


def test_without_webassembly_the_masses_still_stand(server: Server, open_phone: OpenPhone) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    phone.page.add_init_script(NO_WEBASSEMBLY)
    phone.page.reload()
    phone.to("loading/VAN")
    expect(phone.page.get_by_text("433.3 kg")).to_be_visible()
    verdict = phone.page.get_by_role("status", name="Verdict")
    expect(verdict).to_contain_text("No verdict here")
    expect(verdict).to_contain_text("WebAssembly is switched off in this browser")
