"""A phone in the middle of the demo show, with one of everything that a screen must tell."""

from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Page, expect

from tests.browser.conftest import Server

ALL_ROLES = "chief,rigger,camera,engineer,sound,driver,lift-leader"
WRITE = """async (touched) => {
  const { book, write } = await import("/static/logbook/book.js");
  return write({ log: book.show.value.log, ...touched });
}"""
SHEET = """async (id) => {
  const { sheetOf } = await import("/static/parts/show.js");
  return sheetOf(id);
}"""
VIEW = """async (subject) => {
  const { stepView } = await import("/static/parts/show.js");
  return stepView(subject);
}"""


@dataclass
class Phone:
    """A page of a phone that somebody with every role holds, the demo show open on it."""

    page: Page
    site: str

    def to(self, path: str) -> None:
        """Go to a screen and wait for its name."""
        self.page.goto(f"{self.site}/#/{path}")
        expect(self.page.locator("h1")).to_be_visible()

    def write(self, subject: str, kind: str, body: dict[str, Any], **more: Any) -> str:
        """Write an entry as a screen does."""
        touched = {"subject": subject, "kind": kind, "body": body, **more}
        return str(self.page.evaluate(WRITE, touched))

    def sheet(self, sheet: str) -> dict[str, Any]:
        """A sheet of the show, as it stands."""
        found: dict[str, Any] = self.page.evaluate(SHEET, sheet)
        return found

    def view(self, subject: str) -> dict[str, Any]:
        """How a step stands on this phone."""
        found: dict[str, Any] = self.page.evaluate(VIEW, subject)
        return found

    def asking(self, sheet: str, asks: str) -> dict[str, Any]:
        """The first step of a sheet that asks for this."""
        found: dict[str, Any] = next(step for step in self.sheet(sheet)["steps"] if step["asks"] == asks)
        return found


def phone_at_work(page: Page, server: Server) -> Phone:
    """Enrol with every role and open the demo show."""
    page.goto(server.invite("Ana", ALL_ROLES)["link"])
    page.get_by_role("button", name="Make this phone mine").click()
    page.get_by_role("button", name="Reservoir regatta").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Reservoir regatta")
    return Phone(page, server.site)


def fill(phone: Phone) -> None:
    """A dispute, something short, a stranger, a bad drum, a fault, an event, a signature that it frayed."""
    pads = "position/2/rig/pads"
    phone.write(pads, "tick", {"passed": [{"subject": "position/2/carry/set-down", "told_by": "Bram"}]})
    phone.write(pads, "reopen", {"reason": "Found loose or wrong"}, replaces=[])
    count = phone.asking("locker/L2/de-rig", "count")
    first, second, *_ = count["items"]
    phone.write(f"{count['subject']}/{first}", "count", {"number": "0"})
    phone.write(f"{count['subject']}/{second}", "count", {"number": count["items"][second]})
    phone.write("kit/VF-1/place", "place", {"where": "locker/L3"})
    phone.write("kit/CAB-009/state", "state", {"state": "unserviceable", "reason": "Two ways open"})
    phone.write("position/3", "fault", {"text": "No picture"})
    phone.write("truck/rig/earthed", "tick", {})
    phone.write("position/4/given-up", "choice", {"choice": "picture only", "told": {"who": "the director"}})
