"""The chief's pages of kit: things and lists changed with no signal, what falls due, labels, the calendar."""

import csv
import subprocess
from pathlib import Path
from urllib.request import urlopen

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import HANDLINE, OpenPhone, Server
from tests.browser.show_at_work import Phone, phone_at_work

pytestmark = pytest.mark.browser

DUE, EXAMINED = "2031-10-28", "2031-04-28"


def exported(server: Server, folder: Path) -> dict[str, dict[str, str]]:
    """The kit as `handline export` has it, by tag, after the index was made again."""
    out = folder / "kit.csv"
    for command in (("rebuild",), ("export", str(out))):
        subprocess.run((*HANDLINE, *command), cwd=server.root, env=server.environ, check=True)
    with out.open(newline="") as rows:
        return {row["tag"]: row for row in csv.DictReader(rows)}


def sent(page: Page) -> None:
    page.context.set_offline(False)
    page.goto(page.url.split("#")[0] + "#/unsent")
    page.get_by_role("button", name="Try to send now").click()
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")


def examined(phone: Phone, report: Path) -> None:
    """The chief copies a new report of thorough examination, and attaches it."""
    page = phone.page
    phone.to("k/SLING-2")
    expect(page.get_by_text("Report incomplete, lacks:")).to_be_visible()
    page.get_by_role("link", name="Change what SLING-2 is").click()
    expect(page.get_by_text("Incomplete, lacks 1.")).to_be_visible()
    page.get_by_label("(11) date of the report").fill("2031-04-29")
    expect(page.get_by_text("Nothing of the schedule is lacking.")).to_be_visible()
    page.get_by_label("Last thorough examination").fill(EXAMINED)
    page.get_by_label("Next due").fill(DUE)
    mass = page.get_by_label("Mass of one, kg")
    mass.fill("-2")
    expect(page.get_by_text("Not so: '-2' kg is below 0.")).to_be_visible()
    expect(page.get_by_role("button", name="Write it")).to_be_disabled()
    mass.fill("1.1")
    page.get_by_label("Attach the report, PDF or picture").set_input_files(report)
    expect(page.get_by_text("A report is attached.")).to_be_visible()
    page.get_by_role("button", name="Write it: mass, dates, what is told of it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("SLING-2")


def in_date(phone: Phone) -> None:
    """What the register says of the sling on this phone."""
    phone.to("register")
    sling = phone.page.get_by_role("region", name="SLING-2")
    expect(sling).to_contain_text(f"Next due{DUE}")
    expect(sling).not_to_contain_text("Thorough examination due")
    expect(sling).not_to_contain_text("Report incomplete")


def test_a_thing_is_changed_with_no_signal_and_every_phone_hears_it(
    server: Server, open_phone: OpenPhone, tmp_path: Path
) -> None:
    report = tmp_path / "TE-2031-SLING-2.pdf"
    report.write_bytes(b"%PDF-1.7 the examiner's own")
    other = phone_at_work(open_phone("bram").pages[0], server)
    chief = phone_at_work(open_phone("ana").pages[0], server)
    chief.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    chief.page.context.set_offline(True)
    examined(chief, report)
    in_date(chief)
    chief.page.context.close()

    chief.page = open_phone("ana").pages[0]
    chief.page.context.set_offline(True)
    chief.page.goto(server.site)
    in_date(chief)
    sent(chief.page)
    row = exported(server, tmp_path)["SLING-2"]
    assert (row["mass_kg"], row["dates.examined"], row["dates.due"]) == ("1.1", EXAMINED, DUE)

    sent(other.page)
    in_date(other)
    attached = other.page.get_by_role("region", name="SLING-2").get_by_role(
        "button", name="The report that is"
    )
    attached.click()
    expect(other.page.get_by_role("link", name="Open the report")).to_be_visible()


def changed_mass(phone: Phone, mass: str) -> None:
    phone.to("change/HEAD-3")
    phone.page.get_by_label("Mass of one, kg").fill(mass)
    differs = phone.page.get_by_role("region", name="What you change")
    expect(differs).to_contain_text(f"mass of one, kg: {mass}, was")
    phone.page.get_by_role("button", name="Write it: mass").click()
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("HEAD-3")


def test_two_chiefs_differ_and_one_settles_it_by_what_stands_on_the_screen(
    server: Server, open_phone: OpenPhone, tmp_path: Path
) -> None:
    one = phone_at_work(open_phone("ana").pages[0], server)
    two = phone_at_work(open_phone("bram").pages[0], server)
    before = exported(server, tmp_path)["HEAD-3"]
    for phone, mass in ((one, "20.5"), (two, "21.5")):
        phone.page.context.set_offline(True)
        changed_mass(phone, mass)
    for phone in (one, two, one):
        sent(phone.page)
    assert exported(server, tmp_path)["HEAD-3"] == before
    one.to("change/HEAD-3")
    page = one.page
    expect(page.get_by_text("Disputed: two records differ")).to_be_visible()
    for mass in ("20.5", "21.5"):
        expect(page.get_by_text(f"mass of one, kg: {mass}, was {before['mass_kg']}")).to_be_visible()
    expect(page.get_by_label("Mass of one, kg")).to_have_value(before["mass_kg"])
    page.get_by_label("What it is called").fill("Pan head, weighed twice")
    page.get_by_role("button", name="Write it: name").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("HEAD-3")
    sent(page)
    assert exported(server, tmp_path)["HEAD-3"] == before | {"name": "Pan head, weighed twice"}


def test_what_is_gone_comes_back(server: Server, open_phone: OpenPhone, tmp_path: Path) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    page = phone.page
    before = exported(server, tmp_path)["HEAD-3"]
    phone.to("change/HEAD-3")
    page.get_by_label("It is the unit's no longer, because").fill("sold")
    page.get_by_role("button", name="Write that HEAD-3 is gone").click()
    expect(page.get_by_role("link", name="What falls due")).to_be_visible()
    sent(page)
    assert "HEAD-3" not in exported(server, tmp_path)
    phone.to("change/HEAD-3")
    expect(page.get_by_text("Gone: sold.")).to_be_visible()
    page.get_by_role("button", name="Write it: name").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("HEAD-3")
    sent(page)
    assert exported(server, tmp_path)["HEAD-3"] == before


def test_a_new_thing_goes_on_a_list(server: Server, open_phone: OpenPhone, tmp_path: Path) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    page = phone.page
    page.context.set_offline(True)
    phone.to("change")
    page.get_by_label("Tag", exact=True).fill("CAM-1")
    expect(page.get_by_text("this tag is something else's")).to_be_visible()
    page.get_by_label("Tag", exact=True).fill("FLAG-1")
    page.get_by_label("What it is called").fill("Lens flag")
    page.get_by_label("Sort").select_option("carrying")
    page.get_by_role("button", name="Write it: name, type").click()
    expect(page.get_by_role("heading", level=2).first).to_have_text("Lens flag")
    phone.to("locker/L1")
    page.get_by_role("link", name="Change the list of L1").click()
    page.get_by_role("button", name="Take RAIN-1 out").click()
    page.get_by_label("One thing more").select_option("FLAG-1")
    page.get_by_label("One thing more").select_option("VF-2")
    expect(page.get_by_text("VF-2: number 1, but the lockers hold 2 (L1 1, L2 1).")).to_be_visible()
    page.get_by_role("button", name="Take VF-2 out").click()
    expect(page.get_by_text("RAIN-1 has no home: no locker's list holds it.")).to_be_visible()
    page.get_by_role("button", name="Write this list: 7 things").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Locker L1")
    following = page.get_by_role("region", name="From the next show on")
    expect(following).to_contain_text("FLAG-1, Lens flag: 1, was not there")
    expect(following).to_contain_text("taken out, was 1")
    phone.to("change-list/L1")
    expect(page.get_by_text("FLAG-1: 1, was not there")).to_be_visible()
    sent(page)
    rows = exported(server, tmp_path)
    assert (rows["FLAG-1"]["name"], rows["FLAG-1"]["lockers"]) == ("Lens flag", "L1")


def test_what_falls_due_stands_week_by_week_and_in_a_calendar(server: Server, open_phone: OpenPhone) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    page = phone.page
    phone.to("van/pack")
    page.get_by_role("link", name="What falls due").click()
    expect(page.get_by_text("From the show's first day, 2031-05-02, to 2031-06-22.")).to_be_visible()
    first = page.get_by_role("region", name="Week of 2031-04-28")
    expect(first).to_contain_text("SLING-2, Round sling, 2 m in L3")
    expect(first).to_contain_text("by 2031-05-03")
    page.get_by_role("button", name="Make a new address").click()
    address = page.get_by_text("/calendar/")
    expect(address).to_be_visible()
    with urlopen(address.inner_text(), timeout=10) as answer:  # noqa: S310 - the server just started
        assert answer.read().startswith(b"BEGIN:VCALENDAR")


def test_labels_come_as_a_pdf(server: Server, open_phone: OpenPhone, tmp_path: Path) -> None:
    phone = phone_at_work(open_phone("ana").pages[0], server)
    page = phone.page
    phone.to("labels")
    page.get_by_label("Or these tags only").fill("CAM-1 NO-1")
    page.get_by_role("button", name="Make the labels").click()
    expect(page.get_by_role("alert")).to_contain_text("nothing tagged NO-1")
    page.get_by_label("Or these tags only").fill("CAM-1, L1")
    page.get_by_label("A roll of single labels").check()
    page.get_by_role("button", name="Make the labels").click()
    link = page.get_by_role("link", name="The labels as a PDF")
    expect(link).to_be_visible(timeout=60_000)
    with page.expect_download() as given:
        link.click()
    given.value.save_as(tmp_path / "labels.pdf")
    said = subprocess.run(
        ["pdftotext", tmp_path / "labels.pdf", "-"], capture_output=True, text=True, check=True
    )
    assert "CAM-1" in said.stdout
    page.context.set_offline(True)
    page.get_by_role("button", name="Make the labels").click()
    expect(page.get_by_role("alert")).to_contain_text("Labels are set with the server in reach.")
