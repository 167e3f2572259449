"""Codes on labels and tags on doors: what a label opens with no network, what another door tag puts in doubt."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenPhone, Server
from tests.browser.show_at_work import ALL_ROLES, Phone, phone_at_work

pytestmark = pytest.mark.browser

DOORS = ("L1", "L2", "L3", "R1", "R2", "R3", "LB")


def test_a_label_opens_what_it_names_with_no_network(server: Server, open_phone: OpenPhone) -> None:
    context = open_phone("ana")
    phone_at_work(context.pages[0], server)
    context.pages[0].evaluate("navigator.serviceWorker.ready.then(() => true)")
    context.close()
    context = open_phone("ana")
    server.stop()
    page = context.pages[0]
    heading = page.get_by_role("heading", level=1)
    for code, title in (("CAM-1", "CAM-1"), ("L2", "Locker L2"), ("100%", "100%"), ("X-99", "X-99")):
        page.goto(f"{server.site}/k/{code}")
        expect(heading).to_have_text(title)
    expect(page.get_by_text("Nothing of this show carries this tag.")).to_be_visible()


def test_a_label_opened_with_no_show_open_asks_for_one_and_goes_on(
    server: Server, open_phone: OpenPhone
) -> None:
    page = open_phone("ana").pages[0]
    page.goto(server.invite("Ana", ALL_ROLES)["link"])
    page.get_by_role("button", name="Make this phone mine").click()
    expect(page.get_by_role("button", name="Reservoir regatta")).to_be_visible()
    page.goto(f"{server.site}/k/L2")
    expect(page.get_by_text("No show is open on this phone. Pick one.")).to_be_visible()
    page.get_by_role("button", name="Reservoir regatta").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Locker L2")


def test_another_door_tag_puts_its_lockers_count_in_doubt(server: Server, open_phone: OpenPhone) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    page = phone.page
    for item, number in phone.asking("locker/L2/pack", "count")["items"].items():
        phone.write(f"locker/L2/pack/count/{item}", "count", {"number": number})
    phone.write("locker/L2", "event", {"event": "opened", "text": "For the spare battery"})
    for item, number in phone.asking("locker/L2/pack", "count")["items"].items():
        phone.write(f"locker/L2/pack/count/{item}", "count", {"number": number})
    counted = phone.view("locker/L2/pack/count")
    assert (counted["done"], counted["ended"]) == (True, False)
    phone.to("van/travel")
    page.get_by_role("link", name="Door tags: Camera vehicle").click()
    read_tags(phone, "Leaving", {door: f"04{place}" for place, door in enumerate(DOORS)})
    arriving = page.get_by_role("region", name="Arriving")
    for door in DOORS:
        if door != "L2":
            arriving.get_by_role("button", name=re.compile(rf"^The same: .* on {door}$")).click()
    other = arriving.get_by_text("Another tag than the one that left.")
    arriving.get_by_label("L2,").fill("04")
    expect(arriving.get_by_label("L2,")).to_have_value("04")
    expect(other).to_have_count(0)
    arriving.get_by_label("L2,").fill("0777")
    expect(other).to_be_visible()
    arriving.get_by_role("button", name="All tags read, arriving").click()
    doubt = page.get_by_role("region", name="Tag of L2")
    expect(doubt).to_contain_text("L2: 041 on leaving, 0777 on arriving.")
    doubt.get_by_role("button", name="Write that L2 was opened").click()
    expect(doubt).to_contain_text("What was counted before holds no longer.")
    assert phone.view("locker/L2/pack/count")["ended"]
    doubt.get_by_role("link", name="Count L2 again").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Count")


def test_a_hard_stop_is_two_touches_and_is_asked_after_on_arriving(
    server: Server, open_phone: OpenPhone
) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    shaken = "vehicle/VAN/travel/shaken"
    told = [{"subject": "vehicle/VAN/travel/road", "told_by": "Bram"}]
    phone.write(shaken, "tick", {"passed": told})
    assert not phone.view(shaken)["ended"]
    phone.to("tags/VAN")
    phone.page.get_by_role("link", name="Hard stop, knock on the road").click()
    phone.page.get_by_label("Hard stop or sharp swerve").check()
    phone.page.get_by_role("button", name="Write it: Hard stop or sharp swerve").click()
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("Door tags")
    assert phone.view(shaken)["ended"]


def read_tags(phone: Phone, words: str, numbers: dict[str, str]) -> None:
    """Walk round once, on somebody's word that the vehicle is loaded."""
    page = phone.page
    page.get_by_role("button", name="Go on, on somebody's word").click()
    page.get_by_label("Who says that it is done?").fill("Bram")
    for door, number in numbers.items():
        page.get_by_label(f"{door},").fill(number)
    page.get_by_role("button", name=f"All tags read, {words.lower()}").click()
    expect(page.get_by_role("region", name=f"{words}, as read")).to_contain_text(numbers["LB"])
