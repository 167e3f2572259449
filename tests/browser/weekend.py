"""From packing to Monday on two phones, and on a third: what each person does, in the order of the weekend."""

from dataclasses import dataclass, replace
from pathlib import Path

from playwright.sync_api import Playwright, expect

from tests.browser.conftest import Server, phones_in
from tests.browser.rigger import Answers, Person, Rigger

BRAM = Person("bram", "Bram Oakley")
LENA = Person("lena", "Lena Sorrel")
CALLUM = Person("callum", "Callum Reed")
ROLES = {
    BRAM: "chief,rigger,lift-leader,driver,engineer",
    LENA: "camera,sound,rigger",
    CALLUM: "chief,rigger",
}
PACK = "R3: pack"
RIG = "Position 5: rig"
LENS = "Position 5: lens"
LINE_UP = "Position 5: line-up"
DE_RIG = "Position 5: de-rig"

TOLD = Answers(on_word=True)
TRUCK = Answers(figures={"supply": "231", "rcd-tested": "28"})
CABLE = Answers(
    asked={"insulation-power": {"Read, Mohm": "210"}, "optical-level": {"Received, as read": "-9.4"}},
    on_word=True,
)
LINED_UP = Answers(
    figures={"warm-sensor": "25"},
    asked={"light-left": {"Iris now": "8", "Level now": "0"}},
    choices={"quick-look": "Holds", "fringes": "None"},
    remark="Chart at 12 m",
)
BARS_LOST = Answers(not_there=frozenset({"BARS-5"}))


@dataclass
class Weekend:
    """What the weekend left behind."""

    report: Path
    next_report: Path


def enrolled(bram: Rigger, lena: Rigger) -> None:
    for one in (bram, lena):
        one.enrol(ROLES[one.person])
    for one in (bram, lena):
        one.lose_signal()


def packed(bram: Rigger, lena: Rigger) -> None:
    """Both count the same locker, neither seeing the other's count: one item is disputed."""
    assert lena.work("pack", PACK, Answers(not_there=frozenset({"RAIN-5"}))) == 2
    assert bram.work("pack", PACK, TOLD) == 2  # on Lena's word that the body is in its tray
    assert bram.work("pack", "Lifting gear: pre-use check") == 8


def rigged(bram: Rigger, lena: Rigger, photo: Path) -> None:
    """The lift leader and the truck on one phone, the camera on the other; each takes the other's word."""
    assert bram.work("rig", "Position 5: carried", TOLD) == 3
    assert bram.work("rig", "Truck: power and control units", TRUCK) == 6
    assert lena.work("rig", RIG, Answers(choices={"aired": "Dry"}, photo=photo, on_word=True)) == 12
    assert bram.work("rig", "Run 5: cable", CABLE) == 12
    assert lena.work("rig", "Position 5: column", Answers(figures={"charge": "8"})) == 3
    assert lena.work("rig", "Talkback: truck end", TOLD) == 3
    assert bram.work("rig", "Position 5: talkback", TOLD) == 1
    assert lena.work("rig", "Position 5: talkback", TOLD) == 2


def lined_up(bram: Rigger, lena: Rigger) -> None:
    """The engineer in the truck and the camera on the pontoon, told each other on talkback."""
    assert bram.work("line-up", "Truck: all cameras together") == 1
    assert bram.work("line-up", LINE_UP, replace(LINED_UP, on_word=True)) == 8
    assert lena.work("line-up", LENS, replace(LINED_UP, on_word=True)) == 4


def driven_on(bram: Rigger, lena: Rigger) -> None:
    """Both apps are closed, and opened with no signal: all that was written is there."""
    for one in (bram, lena):
        unsent = str(one.edge.locator("strong").first.text_content())
        one.reopen(offline=True)
        expect(one.edge).to_contain_text(unsent)
    bram.go_to("line-up", LINE_UP)
    expect(bram.page.get_by_text("8 of 8 done")).to_be_visible()
    lena.go_to("rig", RIG)
    expect(lena.page.get_by_text("12 of 12 done")).to_be_visible()


def met(bram: Rigger, lena: Rigger) -> None:
    """The signal is back: both hold the same, and both see the same dispute."""
    for one in (bram, lena):
        one.find_signal()
    agreed(bram, lena)
    for one in (bram, lena):
        one.go_to("pack", PACK)
        row = one.row("locker/R3/pack/count")
        expect(row).to_contain_text("Disputed")
        expect(row).to_contain_text("RAIN-5")
        for side in ("counted 0", "counted 1", BRAM.name, LENA.name):
            expect(row).to_contain_text(side)
    lena.go_to("rig", "Position 5: carried")
    expect(lena.row("position/5/carry/briefed")).to_contain_text(f"Passed on somebody's word: {LENA.name}")


def settled(bram: Rigger, lena: Rigger) -> None:
    """Lena looks again: the cover was under the tray. Both sides stay in the log, and the dispute is over."""
    lena.go_to("pack", PACK)
    lena.row("locker/R3/pack/count").get_by_role("link").first.click()
    lena.touch("See both sides and settle", "link")
    item = lena.page.locator("li.item", has_text="RAIN-5")
    expect(item).to_contain_text("Disputed")
    item.get_by_role("button", name="There", exact=False).first.click()
    expect(item.get_by_text("Disputed")).to_have_count(0)
    agreed(lena, bram)
    for one in (lena, bram):
        one.go_to("pack", PACK)
        expect(one.page.get_by_text("3 of 3 done")).to_be_visible()
        expect(one.page.get_by_text("Disputed")).to_have_count(0)


def agreed(*phones: Rigger) -> None:
    """Each in turn sends and fetches; then all hold the same."""
    for one in (*phones, phones[0]):
        one.send()
    first, *others = [one.word() for one in phones]
    expect(first).not_to_be_empty()
    for other in others:
        expect(other).to_have_text(first.inner_text())


def signed(bram: Rigger, lena: Rigger) -> None:
    """Everybody puts a name to what is theirs."""
    bram.sign("pack", PACK)
    bram.sign("rig", "Position 5: carried")
    bram.sign("line-up", LINE_UP)
    lena.sign("rig", RIG)
    lena.sign("line-up", LENS)
    agreed(bram, lena)


def power_dipped(bram: Rigger, lena: Rigger) -> None:
    """What ends the line-up frays the name under it on every phone, until it was looked at again and signed."""
    bram.go_to("line-up", LINE_UP)
    bram.touch("Something happened", "link")
    bram.page.get_by_label("Power dip").check()
    expect(bram.page.get_by_role("status").first).to_contain_text("To be looked at again")
    bram.touch("Write it: Power dip")
    expect(bram.heading).to_have_text(LINE_UP)
    agreed(bram, lena)
    for one in (bram, lena):
        one.go_to("line-up", LINE_UP)
        expect(one.page.get_by_text("Changed since signed")).to_be_visible()
        expect(one.page.get_by_text("To be looked at again: ended by: Power dip").first).to_be_visible()
    bram.work("rig", "Position 5: talkback")
    lena.work("rig", "Position 5: talkback")
    agreed(lena, bram)
    assert bram.work("line-up", LINE_UP, LINED_UP) > 0
    bram.sign("line-up", LINE_UP)
    agreed(bram, lena)
    lena.go_to("line-up", LINE_UP)
    expect(lena.page.get_by_text("Signed", exact=True)).to_be_visible()


def de_rigged(bram: Rigger, lena: Rigger) -> None:
    """Dead is proved before a plug is opened; everything is counted where it stood and where it goes."""
    assert bram.work("de-rig", DE_RIG) == 1
    told_off = replace(TOLD, last="locked-off")  # the other cameras are off, Lena says
    assert bram.work("de-rig", "Truck: supplies off", told_off) == 1
    assert bram.work("de-rig", "Run 5: cable in", Answers(choices={"guilty": "None bad, none wet"})) == 4
    assert bram.work("de-rig", "Truck: supplies off", TOLD) == 2
    agreed(bram, lena)
    assert lena.work("de-rig", DE_RIG, Answers(choices={"wet": "All dry"})) == 9
    assert lena.work("de-rig", "R3: what came back") == 2
    assert lena.work("stow", "R3: stow", BARS_LOST) == 2
    lena.sign("de-rig", DE_RIG)
    agreed(lena, bram)


def handed_over(bram: Rigger, folder: Path) -> Path:
    """The chief says what is open and hands over; the report is printed from that."""
    bram.home()
    bram.touch("Hand over", "link")
    expect(bram.page.get_by_text("BARS-5").first).to_be_visible()
    bram.page.get_by_label("What the next crew must be told").fill("Pan bars of camera 5 are not back")
    bram.touch("Hand over with gaps")
    expect(bram.page.get_by_text("Handed over", exact=True)).to_be_visible()
    bram.send()
    return kept_report(bram, folder / "report.pdf")


def kept_report(phone: Rigger, file: Path) -> Path:
    """Touch the report's link and keep the file."""
    phone.home()
    phone.touch("Hand over", "link")
    phone.download("The report as a PDF").save_as(file)
    return file


def accepted(callum: Rigger, report: Path, photo: Path) -> None:
    """Monday: two doors by the show on the phone, one by the report's file alone, all with no signal."""
    callum.enrol(ROLES[CALLUM])
    callum.lose_signal()
    callum.reopen(offline=True)
    callum.touch("Accept, door by door", "link")
    callum.touch_door("L1")
    callum.touch("As the report says")
    callum.touch_door("R3")
    expect(callum.page.get_by_text("Not in it:")).to_be_visible()
    expect(callum.page.get_by_text("BARS-5").first).to_be_visible()
    callum.touch("Otherwise")
    callum.page.get_by_label("CAM-5", exact=True).check()
    callum.page.get_by_label("CAM-5: what was seen").fill("Handle cracked")
    callum.take_photo(photo)
    callum.touch("Accept with 1 exception")
    callum.touch("Open a report's PDF instead", "link")
    callum.page.get_by_label("Open the report's PDF").set_input_files(report)
    expect(callum.page.get_by_role("status")).to_contain_text("It is by the unit whose key this phone keeps.")
    callum.touch_door("L2")
    callum.touch("As the report says")
    expect(callum.page.get_by_role("link", name="L2 as said")).to_be_visible()
    expect(callum.edge).to_contain_text("3 unsent")
    callum.find_signal()
    callum.send()


def everything(playwright: Playwright, server: Server, folder: Path, photo: Path) -> Weekend:
    """The whole weekend; what it asserts on the way is what each screen must have said."""
    with phones_in(playwright, folder) as open_phone:
        bram = Rigger(open_phone, server, BRAM, LENA)
        lena = Rigger(open_phone, server, LENA, BRAM)
        enrolled(bram, lena)
        packed(bram, lena)
        rigged(bram, lena, photo)
        lined_up(bram, lena)
        driven_on(bram, lena)
        met(bram, lena)
        settled(bram, lena)
        signed(bram, lena)
        power_dipped(bram, lena)
        de_rigged(bram, lena)
        report = handed_over(bram, folder)
        callum = Rigger(open_phone, server, CALLUM, BRAM)
        accepted(callum, report, photo)
        bram.send()
        next_report = kept_report(bram, folder / "next-report.pdf")
    return Weekend(report, next_report)
