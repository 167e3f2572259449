"""One thing left behind and one in the wrong locker: found on two phones with no signal, named on page one."""

import re
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Playwright, expect

from tests.browser.conftest import Server, phones_in
from tests.browser.rigger import Rigger
from tests.browser.weekend import BRAM, LENA, agreed, kept_report

pytestmark = pytest.mark.browser

ROLES = "chief,rigger,camera"
LEFT_BEHIND, ASTRAY = "BARS-1", "VF-2"
DE_RIGGED = "{}: what came back"


def test_what_is_not_back_is_found_named_and_on_page_one(
    server: Server, playwright: Playwright, tmp_path: Path
) -> None:
    with phones_in(playwright, tmp_path) as open_phone:
        bram = Rigger(open_phone, server, BRAM, LENA)
        lena = Rigger(open_phone, server, LENA, BRAM)
        for one in (bram, lena):
            one.enrol(ROLES)
        for one in (bram, lena):
            one.lose_signal()
        packed_in_halves(bram, lena)
        on_air(lena)
        came_back(bram, lena)
        for one in (bram, lena):
            one.find_signal()
        agreed(bram, lena)
        for one in (bram, lena):
            named(one)
        pages = handed_over(bram, tmp_path)
    assert "1 missing, 1 in the wrong locker" in pages[0]
    assert re.search(r"Missing 1 BARS-1 .* from L1: 0 of 1; last at locker L1, Lena Sorrel", pages[0])
    assert re.search(r"In the wrong locker 1 VF-2 .* from L2: .*last at locker R1, Bram Oakley", pages[0])


def packed_in_halves(bram: Rigger, lena: Rigger) -> None:
    """Two people count halves of one locker, and each a locker of their own."""
    tags = counting(bram, "pack", "L3: pack")
    counting(lena, "pack", "L3: pack")
    half = len(tags) // 2
    for one, part in ((bram, tags[:half]), (lena, tags[half:])):
        for tag in part:
            counted(one, tag, "There")
        expect(one.page.locator("p.verdict")).to_contain_text(f"{len(part)} of {len(tags)}")
    for one in (bram, lena):
        one.find_signal()
    agreed(bram, lena)
    for one in (bram, lena):
        one.lose_signal()
    bram.go_to("pack", "L3: pack")
    expect(bram.row("locker/L3/pack/count")).to_contain_text(f"{len(tags)} of {len(tags)}")
    assert lena.work("pack", "L1: pack") == 3
    assert lena.work("pack", "L2: pack") == 3
    assert bram.work("pack", "R1: pack") == 3


def on_air(lena: Rigger) -> None:
    """The show is on; a knock is written while everything stands where it was rigged."""
    lena.home()
    lena.touch("Something happened", "link")
    lena.page.get_by_label("Knocked or dropped").check()
    lena.touch("Write it: Knocked or dropped")
    expect(lena.heading).not_to_have_text("Happened")


def came_back(bram: Rigger, lena: Rigger) -> None:
    """Each is told at once, from what this phone holds, where the thing was last seen and by whom."""
    counting(bram, "de-rig", DE_RIGGED.format("L1"))
    counted(bram, LEFT_BEHIND, "Not there")
    expect(gaps(bram)).to_contain_text(f"Short: {LEFT_BEHIND}")

    counting(lena, "de-rig", DE_RIGGED.format("L2"))
    counted(lena, ASTRAY, "Not there")
    expect(gaps(lena)).to_contain_text(
        re.compile(rf"Short: {ASTRAY}.*last: locker L2, \d\d:\d\d Lena Sorrel")
    )

    for tag in counting(bram, "de-rig", DE_RIGGED.format("R1")):
        counted(bram, tag, "There")
    bram.touch("Read codes")
    bram.page.get_by_label("Or type the tag").fill(ASTRAY)
    bram.touch(f"Take {ASTRAY}")
    expect(bram.page.get_by_text("does not belong here: it belongs in L2")).to_be_visible()
    bram.touch(f"Write that {ASTRAY} is in locker R1")
    expect(gaps(bram)).to_contain_text(f"In the wrong locker: {ASTRAY}")
    assert lena.work("de-rig", DE_RIGGED.format("R2")) == 2


def named(phone: Rigger) -> None:
    """What is not back stands on every phone, and on the doors."""
    phone.home()
    phone.touch("Hand over", "link")
    phone.touch("What is not back", "link")
    expect(phone.page.get_by_text("Counted short: 1")).to_be_visible()
    expect(phone.page.get_by_text("In the wrong locker: 1")).to_be_visible()
    expect(
        phone.page.get_by_text(re.compile(rf"{ASTRAY}.*last: locker R1, \d\d:\d\d Bram Oakley"))
    ).to_be_visible()
    phone.page.goto(f"{phone.server.site}/#/van/de-rig")
    expect(phone.heading).to_have_text("de-rig")
    expect(door(phone, "L1")).to_have_accessible_name(re.compile("short"))
    for locker, words in (("R1", "holds a stranger"), ("R2", "full")):
        while door(phone, locker).count() == 0:
            phone.touch(re.compile("^Walk round"))
        expect(door(phone, locker)).to_have_accessible_name(re.compile(words))


def handed_over(chief: Rigger, folder: Path) -> list[str]:
    """The words of each page of the report that the chief hands over with what is open."""
    chief.home()
    chief.touch("Hand over", "link")
    chief.page.get_by_label("What the next crew must be told").fill("Looked for until dark")
    chief.touch("Hand over with gaps")
    expect(chief.page.get_by_text("Handed over", exact=True)).to_be_visible()
    chief.send()
    report = kept_report(chief, folder / "report.pdf")
    said = subprocess.run(["pdftotext", "-layout", report, "-"], capture_output=True, text=True, check=True)
    return [" ".join(page.split()) for page in said.stdout.split("\f")]


def counting(phone: Rigger, stage: str, title: str) -> list[str]:
    """Go to a locker's count; the tags that are listed."""
    phone.go_to(stage, title)
    phone.touch("Count, item by item", "link")
    expect(phone.heading).to_have_text("Count")
    names = phone.page.locator("li.item").get_by_role("link").all_inner_texts()
    return [name.split(",")[0] for name in names]


def counted(phone: Rigger, tag: str, word: str) -> None:
    item = phone.page.locator("li.item", has=phone.page.get_by_role("link", name=re.compile(f"^{tag},")))
    item.get_by_role("button", name=re.compile(f"^({word}|All {word.lower()})")).click()
    expect(item.get_by_role("button", name="Count again")).to_be_visible()


def gaps(phone: Rigger) -> Locator:
    return phone.page.get_by_role("list", name="What is not as listed")


def door(phone: Rigger, locker: str) -> Locator:
    return phone.page.get_by_role("link", name=re.compile(f"^{locker} "))
