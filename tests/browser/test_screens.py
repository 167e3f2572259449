"""The screens at work: what a hand does, and what the rope, the doors and the words then say."""

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import HANDLINE, ROOT, OpenPhone, Server
from tests.browser.show_at_work import Phone, fill, phone_at_work

pytestmark = pytest.mark.browser

EARTHED = "truck/rig/earthed"
PINNED = "position/2/rig/column-pinned"
PADS = "position/2/rig/pads"
CARRIED = "position/2/carry/set-down"
SHOW = """async () => (await import("/static/logbook/book.js")).book.show.value.id"""


@pytest.fixture
def phone(server: Server, open_phone: OpenPhone) -> Iterator[Phone]:
    page = open_phone("ana").pages[0]
    page.clock.install()  # the page's time moves when a test says so
    yield phone_at_work(page, server)


def row(page: Page, subject: str) -> Locator:
    return page.locator("li.row", has=page.locator(f'a[href="#/step/{subject}"]'))


def happened(page: Page, words: str) -> None:
    """Write the picked event; the screen goes back to where it was opened from."""
    page.get_by_role("button", name=f"Write it: {words}").click()
    expect(page.get_by_role("heading", level=1)).not_to_have_text("Happened")


def door(page: Page, locker: str) -> Locator:
    return page.get_by_role("link", name=re.compile(f"^{locker} "))


def first_word(phone: Phone, subject: str) -> str:
    sheet, _ = subject.rsplit("/", 1)
    steps = phone.sheet(sheet)["steps"]
    return str(next(step["do"] for step in steps if step["subject"] == subject))


def test_a_hazard_is_held_for_a_second_and_taken_back_in_one_touch(phone: Phone) -> None:
    phone.to("sheet/truck/rig")
    page = phone.page
    hold = page.get_by_role("button", name="Hold:")
    hold.hover()
    page.mouse.down()
    page.clock.run_for(600)
    expect(page.get_by_role("button", name="Keep holding")).to_be_visible()
    page.mouse.up()
    assert not phone.view(EARTHED)["done"]
    page.mouse.down()
    page.clock.run_for(1100)
    page.mouse.up()
    back = page.get_by_role("button", name="Take back")
    expect(back).to_have_count(1)
    assert phone.view(EARTHED)["done"]
    back.click()
    expect(row(page, EARTHED)).to_contain_text("Struck")
    assert not phone.view(EARTHED)["done"]


def test_a_hazard_is_held_with_a_key_and_offered_back_for_a_minute_only(phone: Phone) -> None:
    phone.to("sheet/truck/rig")
    page = phone.page
    page.get_by_role("button", name="Hold:").focus()
    page.keyboard.down("Enter")
    page.clock.run_for(1100)
    page.keyboard.up("Enter")
    expect(page.get_by_role("button", name="Take back")).to_have_count(1)
    page.clock.run_for(62_000)
    expect(page.get_by_role("button", name="Take back")).to_have_count(0)
    assert phone.view(EARTHED)["done"]
    phone.to(f"step/{EARTHED}")
    page.get_by_role("button", name="No longer so").click()
    page.get_by_label("Found loose or wrong").click()  # the list goes with the touch
    expect(page.get_by_text("No longer so: Found loose or wrong")).to_be_visible()
    assert not phone.view(EARTHED)["done"]


def test_what_is_not_on_this_phone_is_passed_on_a_name_and_stays_marked(phone: Phone) -> None:
    phone.to(f"step/{PADS}")
    page = phone.page
    done = page.locator(".card .act.main")
    expect(done).to_be_disabled()
    page.get_by_role("button", name="Go on, on somebody's word").click()
    page.get_by_label("Who says that it is done?").fill("Bram at the water")
    done.click()
    expect(page.get_by_text("Passed on somebody's word: Bram at the water").first).to_be_visible()
    [value] = phone.view(PADS)["values"]
    assert value["body"]["passed"] == [{"subject": CARRIED, "told_by": "Bram at the water"}]


def test_what_waits_says_for_what_and_offers_no_button(phone: Phone) -> None:
    phone.write(CARRIED, "tick", {})
    phone.write(CARRIED, "reopen", {"reason": "Found loose or wrong"})
    phone.to(f"step/{PADS}")
    expect(phone.page.get_by_text("Waits for:")).to_be_visible()
    expect(phone.page.locator(f'a[href="#/step/{CARRIED}"]')).to_be_visible()
    expect(phone.page.locator(".card .act.main")).to_have_count(0)


def test_a_second_pair_of_eyes_is_named_before_the_tick(phone: Phone) -> None:
    phone.write(CARRIED, "tick", {})
    phone.write(PADS, "tick", {})
    phone.to(f"step/{PINNED}")
    page = phone.page
    hold = page.get_by_role("button", name="Hold:")
    expect(hold).to_be_disabled()
    page.get_by_label("Who else sees it?").select_option("bram")
    hold.focus()
    page.keyboard.down("Enter")
    page.clock.run_for(1100)
    page.keyboard.up("Enter")
    expect(page.get_by_text("seen by Bram Oakley").first).to_be_visible()
    assert [value["witness"] for value in phone.view(PINNED)["values"]] == ["bram"]


def test_a_dispute_shows_both_sides_and_is_settled_by_stating_it_again(phone: Phone) -> None:
    fill(phone)
    phone.to("sheet/position/2/rig")
    page = phone.page
    disputed = row(page, PADS)
    expect(disputed).to_contain_text("Disputed")
    expect(disputed).to_contain_text("No longer so: Found loose or wrong")
    disputed.get_by_role("link").first.click()
    page.get_by_role("link", name="See both sides and settle").click()
    expect(page.get_by_role("button", name="It is so:")).to_have_count(2)
    page.get_by_role("button", name="It is so: Stands on boards").click()
    expect(page.get_by_text("Done", exact=True)).to_be_visible()
    view = phone.view(PADS)
    assert (view["state"], view["done"]) == ("settled", True)


def test_doors_stand_where_they_are_and_say_how_they_are(phone: Phone) -> None:
    fill(phone)
    phone.to("van/de-rig")
    page = phone.page
    van = page.get_by_role("region", name="Camera vehicle")
    left = [door(page, locker).bounding_box() for locker in ("L1", "L2", "L3")]
    assert [box["x"] for box in left if box] == sorted(box["x"] for box in left if box)
    expect(door(page, "L2")).to_have_accessible_name(re.compile("1 of 7.*short"))
    expect(door(page, "L3")).to_have_accessible_name(re.compile("stranger"))
    expect(van.get_by_text("is not in L2")).to_be_visible()
    expect(van.get_by_text("is in L3, belongs in L1")).to_be_visible()
    van.get_by_role("button", name="Walk round").click()
    van.get_by_role("button", name="Walk round").click()
    right = [door(page, locker).bounding_box() for locker in ("R1", "R2", "R3")]
    # Its front is to the right on its right side, so the first locker from the front is the rightmost.
    assert [box["x"] for box in right if box] == sorted((box["x"] for box in right if box), reverse=True)


def test_a_locker_is_counted_item_by_item(phone: Phone) -> None:
    count = phone.asking("locker/L2/pack", "count")
    phone.to(f"count/{count['subject']}")
    page = phone.page
    page.get_by_role("button", name="Go on, on somebody's word").click()
    page.get_by_label("Who says that it is done?").fill("Bram")
    items = page.locator("li.item")
    for index in range(len(count["items"])):
        items.nth(index).get_by_role("button", name="There", exact=False).first.click()
        expect(items.nth(index).get_by_role("button", name="Count again")).to_be_visible()
    expect(page.get_by_role("status").first).to_have_text(f"{len(count['items'])} of {len(count['items'])}")
    assert phone.view(count["subject"])["done"]


def test_a_reading_stands_under_its_limit_and_whose(phone: Phone) -> None:
    phone.write(EARTHED, "tick", {})
    phone.to("reading/truck/rig/supply")
    page = phone.page
    for key in "260":
        page.get_by_role("button", name=key, exact=True).click()
    expect(page.get_by_text("beyond limits", exact=True)).to_be_visible()
    expect(
        page.get_by_text("7 V above. Limit: not below 216.2, not above 253 V, the house limit")
    ).to_be_visible()
    page.get_by_role("button", name="Rub out one").click()
    page.get_by_role("button", name="Rub out one").click()
    page.get_by_role("button", name="3", exact=True).click()
    page.get_by_role("button", name="0", exact=True).click()
    expect(page.get_by_text("within limits", exact=True)).to_be_visible()
    page.get_by_role("button", name="Hold:").focus()
    page.keyboard.down(" ")
    page.clock.run_for(1100)
    page.keyboard.up(" ")
    expect(page.get_by_role("heading", level=1)).to_have_text("Truck: power and control units")
    [reading] = phone.view("truck/rig/supply")["readings"]
    assert (reading["body"]["figure"], reading["body"]["unit"]) == ("230", "V")


def test_a_name_covers_what_is_shown_and_frays_when_an_event_ends_it(phone: Phone) -> None:
    phone.write(CARRIED, "tick", {})
    phone.write(PADS, "tick", {})
    phone.to("sign/position/2/rig")
    page = phone.page
    expect(page.locator(".slip", has_text=first_word(phone, PADS))).to_contain_text("Done")
    page.get_by_role("button", name="Sign as Ana").click()
    expect(page.get_by_role("alert")).to_contain_text("Draw your name")
    field = page.locator("canvas")
    field.scroll_into_view_if_needed()
    box = field.bounding_box()
    assert box
    page.mouse.move(box["x"] + 20, box["y"] + 90)
    page.mouse.down()
    for step in range(12):
        page.mouse.move(box["x"] + 20 + 18 * step, box["y"] + 90 + 30 * (step % 2))
        page.clock.run_for(20)
    page.mouse.up()
    page.get_by_role("button", name="Sign as Ana").click()
    expect(page.get_by_text("Signed", exact=True)).to_be_visible()
    phone.to("event/position/2")
    page.get_by_label("Moved to another place").check()
    expect(page.get_by_role("status")).to_contain_text(first_word(phone, PADS))
    happened(page, "Moved")
    phone.to("sheet/position/2/rig")
    expect(page.get_by_text("Changed since signed")).to_be_visible()
    expect(row(page, PADS)).to_contain_text("To be looked at again: ended by: Moved")


def test_somebody_on_talkback_is_named_as_the_one_who_spoke(phone: Phone) -> None:
    phone.to("event/position/3")
    page = phone.page
    page.get_by_role("button", name="Write for somebody on talkback").click()
    page.get_by_label("Yusuf Dane").click()  # the list folds up with the pick
    page.get_by_label("Knocked or dropped").check()
    happened(page, "Knocked")
    phone.to("position/3")
    expect(page.get_by_text("for Yusuf Dane")).to_be_visible()


def test_a_fault_is_raised_in_two_touches(phone: Phone) -> None:
    phone.to("positions/on-air")
    page = phone.page
    page.get_by_role("link", name="Raise a fault").first.click()
    page.get_by_role("button", name="No picture", exact=True).click()
    expect(page.get_by_role("status")).to_contain_text("Written: No picture")
    phone.to("positions/on-air")
    expect(page.get_by_text("Fault: No picture")).to_be_visible()


def test_the_next_crew_answers_door_by_door(phone: Phone) -> None:
    phone.to("accept/L2")
    page = phone.page
    page.get_by_role("button", name="Otherwise").click()
    page.get_by_label("CAM-2", exact=True).check()
    page.get_by_label("CAM-2: what was seen").fill("Dent in the side")
    page.get_by_role("button", name="Accept with 1 exception").click()
    expect(door(page, "L2")).to_have_accessible_name(re.compile("1 not.*otherwise than the report says"))
    phone.to("accept/L1")
    page.get_by_role("button", name="As the report says").click()
    expect(door(page, "L1")).to_have_accessible_name(re.compile("as said"))


def test_the_next_crew_answers_from_the_reports_file_with_no_signal(
    phone: Phone, server: Server, tmp_path: Path
) -> None:
    page = phone.page
    phone.to("hand-over")
    page.get_by_label("What the next crew must be told").fill("Mind drum 009")
    page.get_by_role("button", name="Hand over with gaps").click()
    expect(page.get_by_text("Handed over", exact=True)).to_be_visible()
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
    report = tmp_path / "report.pdf"
    show = str(page.evaluate(SHOW))
    command = (*HANDLINE, "handover", show, str(report))
    subprocess.run(command, cwd=ROOT, env=server.environ, check=True)
    phone.to("settings")
    expect(page.get_by_text("The arithmetic is on this phone")).to_be_visible(timeout=60_000)
    server.stop()
    phone.to("accept-report")
    page.get_by_label("Open the report's PDF").set_input_files(report)
    expect(page.get_by_role("status")).to_contain_text("It is by the unit whose key this phone keeps.")
    door(page, "L2").click()
    page.get_by_role("button", name="As the report says").click()
    expect(door(page, "L2")).to_have_accessible_name(re.compile("as said"))
    expect(page.get_by_role("contentinfo")).to_contain_text("1 unsent, on this phone only")


def test_a_file_that_is_no_report_is_told_so(phone: Phone, tmp_path: Path) -> None:
    phone.to("accept-report")
    file = tmp_path / "picture.pdf"
    file.write_bytes(b"not a PDF")
    phone.page.get_by_label("Open the report's PDF").set_input_files(file)
    expect(phone.page.get_by_role("alert")).to_contain_text("cannot be read as a PDF")


def test_a_step_is_withdrawn_with_a_reason_and_leaves_its_sheet(phone: Phone) -> None:
    words = first_word(phone, PADS)
    phone.to("amend")
    page = phone.page
    page.get_by_label("Why").fill("Hard standing here")
    page.get_by_label("Sheet").select_option("position/2/rig")
    page.get_by_label(words).check()
    page.get_by_role("button", name="Withdraw this step").click()
    expect(page.get_by_role("status")).to_contain_text("Written")
    phone.to("sheet/position/2/rig")
    expect(row(page, PADS)).to_have_count(0)


def plan_position(page: Page, name: str, chain: dict[str, str], drum: str) -> None:
    """Fill in the form of one position on the ground."""
    page.get_by_label("Where", exact=True).fill(name)
    page.get_by_label("Height, m").fill("1.6")
    page.get_by_label("Distance, m").fill("60")
    page.get_by_label("How it gets there").select_option("ground")
    for label, tag in chain.items():
        page.get_by_label(label, exact=True).select_option(tag)
    page.get_by_text("Run: no drum yet").click()
    page.get_by_label(re.compile(f"^{drum}")).check()


def test_a_show_is_made_and_a_position_added_while_it_runs(phone: Phone) -> None:
    phone.to("make-show")
    page = phone.page
    for label, text in {
        "Show": "Market quiz",
        "Site": "Old market hall",
        "Time zone": "Europe/London",
    }.items():
        page.get_by_label(label, exact=True).fill(text)
    page.get_by_label("Starts").fill("2031-05-09")
    page.get_by_label("Ends").fill("2031-05-11")
    page.get_by_role("button", name="Make this show").click()
    expect(page.get_by_role("alert")).to_contain_text("positions.0")  # the server names what is missing
    chain = {"Body": "CAM-5", "Lens": "LENS-5", "Control unit": "CU-5", "Column": "COL-2"}
    plan_position(page, "Floor", chain, "CAB-016")
    page.get_by_role("button", name="Make this show").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Market quiz")
    phone.to("amend")
    page.get_by_label("Why").fill("The director wants the scoreboard")
    page.get_by_label("Add a position").check()
    chain = {"Body": "CAM-4", "Lens": "LENS-4", "Control unit": "CU-4", "Legs": "LEGS-2"}
    plan_position(page, "Scoreboard", chain, "CAB-017")
    page.get_by_role("button", name="Add position 2").click()
    expect(page.get_by_role("status")).to_contain_text("Written")
    phone.to("positions/rig")
    expect(page.get_by_role("link", name="Scoreboard")).to_be_visible()
    expect(page.get_by_role("link", name="Position 2: rig")).to_be_visible()


def test_the_positions_fill_the_wall(phone: Phone) -> None:
    phone.page.set_viewport_size({"width": 1920, "height": 1080})
    phone.to("positions/on-air")
    cards = phone.page.locator("section.card")
    expect(cards).to_have_count(5)
    tops = {round(box["y"]) for box in (card.bounding_box() for card in cards.all()) if box}
    assert len(tops) == 1


def test_day_has_the_contrast_the_look_asks_for_and_night_is_picked_by_hand(phone: Phone) -> None:
    phone.page.emulate_media(color_scheme="light")
    phone.to("settings")
    assert contrast(phone.page) >= 12  # look.md: by day ink on canvas at 12:1 or better
    phone.page.get_by_label("Night", exact=True).check()
    assert luminance(shown(phone.page, "backgroundColor")) < 0.02
    phone.page.get_by_label("Night, dimmer").check()
    assert contrast(phone.page) >= 4.5  # WCAG 2.2, success criterion 1.4.3
    phone.page.reload()
    expect(phone.page.get_by_label("Night, dimmer")).to_be_checked()


def shown(page: Page, what: str) -> list[int]:
    rgb = page.evaluate("(what) => getComputedStyle(document.documentElement)[what]", what)
    return [int(part) for part in re.findall(r"\d+", rgb)[:3]]


def luminance(rgb: list[int]) -> float:
    """Relative luminance, WCAG 2.2 glossary."""
    parts = [part / 255 for part in rgb]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(page: Page) -> float:
    """Contrast ratio of ink on canvas, WCAG 2.2 glossary."""
    light, dark = sorted(
        (luminance(shown(page, what)) for what in ("color", "backgroundColor")), reverse=True
    )
    return (light + 0.05) / (dark + 0.05)
