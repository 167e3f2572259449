"""Lifts, and kit that is not what it should be: what the app stops, what it lets pass on a name and a reason."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Playwright, expect

from tests.browser.conftest import CHROMIUM, Server
from tests.browser.show_at_work import Phone, phone_at_work

pytestmark = pytest.mark.browser

PLAN = "position/1/lift-plan/passed"
PLANNED = "position/1/hoist/planned"


@pytest.fixture
def phone(server: Server, playwright: Playwright) -> Iterator[Phone]:
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
    yield phone_at_work(browser.new_context(viewport={"width": 390, "height": 844}).new_page(), server)
    browser.close()


def test_gear_out_of_date_failed_or_unmarked_cannot_be_chosen(phone: Phone) -> None:
    page = phone.page
    phone.to("register")
    piece = page.get_by_role("region", name="CLIP-4")
    piece.get_by_role("button", name="Failed").click()
    page.get_by_label("What is wrong with CLIP-4").fill("gate does not shut")
    page.get_by_role("button", name="Write that CLIP-4 failed").click()
    expect(piece).to_contain_text("It failed a pre-use check, and nobody has passed it since.")
    bag = page.get_by_role("region", name="BAG-1")
    bag.get_by_role("button", name="Looked over, passed").click()
    expect(bag).not_to_contain_text("No lift leader")
    phone.to("gear/1")
    overdue = page.get_by_label("SLING-2, Round sling")
    expect(overdue).to_be_disabled()
    expect(
        page.get_by_text("Thorough examination due 2031-05-03, before the show ends on 2031-05-05.")
    ).to_be_visible()
    expect(page.get_by_label("CLIP-4, Clip 4")).to_be_disabled()
    for piece_name in ("BAG-1, Lifting bag", "ROPE-1, Hauling line"):
        page.get_by_label(piece_name).check()
    page.get_by_role("button", name="Write this gear: 2 pieces").click()
    phone.to(f"step/{PLAN}")
    expect(page.get_by_text("BAG-1, ROPE-1")).to_be_visible()


def test_a_hoist_waits_for_its_plan_and_other_gear_makes_the_plan_void(phone: Phone) -> None:
    page = phone.page
    phone.to(f"step/{PLANNED}")
    expect(page.get_by_role("button", name="Go on, on somebody's word")).to_be_visible()
    phone.write("position/1/chain/gear", "assign", {"tags": ["BAG-1", "ROPE-1"]})
    phone.write(PLAN, "tick", {})
    assert phone.view(PLAN)["done"]
    phone.write("position/1/chain/gear", "assign", {"tags": ["BAG-1", "ROPE-2"]})
    view = phone.view(PLAN)
    assert view["stale"]
    phone.to("sheet/position/1/hoist")
    expect(page.get_by_text("waits for").first).to_be_visible()
    assert phone.view(PLANNED)["gate"] == "shut"
    phone.to(f"step/{PLAN}")
    expect(page.get_by_text("another link or other gear stands there now")).to_be_visible()


def test_suspect_kit_is_used_on_a_name_and_a_reason_and_page_one_says_so(phone: Phone) -> None:
    page = phone.page
    phone.write("kit/LENS-6/state", "state", {"state": "suspect", "reason": "soft wide"})
    phone.to("chain/2")
    page.get_by_label("Stands there").first.select_option("LENS-6")
    page.get_by_role("button", name="Write it: LENS-6").click()
    card = page.get_by_role("group", name="Used though unfit")
    expect(card).to_contain_text("is suspect")
    card.get_by_label("Why it is used all the same").fill("no other long lens here")
    card.get_by_label("On whose word").fill("Tomas")
    card.get_by_role("button", name="Use it as lens though suspect").click()
    expect(card).to_have_count(0)
    phone.to("hand-over")
    expect(page.get_by_text("Used though unfit: 1")).to_be_visible()
    expect(page.get_by_text("no other long lens here, on the word of Tomas")).to_be_visible()


def test_what_failed_its_test_is_used_on_nobodys_word(phone: Phone) -> None:
    page = phone.page
    phone.to("k/CU-6")
    page.get_by_label("Failed").check()
    page.get_by_label("What was tested, how, and what was read").fill("earth continuity, 4.2 ohm")
    page.get_by_role("button", name="Write it: failed, unserviceable").click()
    expect(page.get_by_text("unserviceable: Test failed: earth continuity")).to_be_visible()
    phone.to("chain/2")
    page.get_by_label("Stands there").nth(2).select_option("CU-6")
    page.get_by_role("button", name="Write it: CU-6").click()
    card = page.get_by_role("group", name="Used though unfit")
    expect(card).to_contain_text("CU-6 failed a test and is not used.")
    expect(card.get_by_role("button")).to_have_count(0)


def test_a_hard_stop_on_the_road_is_asked_for_on_arrival(phone: Phone) -> None:
    page = phone.page
    shaken = "vehicle/VAN/travel/shaken"
    phone.write(shaken, "tick", {})
    phone.to("van/travel")
    page.get_by_role("link", name="Hard stop, knock: Camera vehicle").click()
    page.get_by_label("Hard stop or sharp swerve").check()
    expect(page.get_by_role("status").first).to_contain_text(
        "straps, trays, boxes and heavy things looked at"
    )
    page.get_by_role("button", name="Write it: Hard stop").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("travel")
    assert phone.view(shaken)["ended"]
