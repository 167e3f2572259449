"""The pictures of README.md, taken anew from the demo: `python -m tests.pictures.take`."""

import subprocess
import tempfile
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from tests.browser.conftest import CHROMIUM, HANDLINE, ROOT, serving
from tests.browser.show_at_work import Phone, fill, phone_at_work

PICTURES = Path(__file__).parent
PHONE_PX = {"width": 360, "height": 740}
PAGE_DPI = 80
SHOW = """async () => (await import("/static/logbook/book.js")).book.show.value.id"""
SCREENS = {"van": "van/de-rig", "sheet": "sheet/truck/rig"}


def take_screens(phone: Phone) -> None:
    """The screens that README.md shows, as a phone shows them."""
    for name, path in SCREENS.items():
        phone.to(path)
        phone.page.screenshot(path=PICTURES / f"{name}.png")


def take_first_page(report: Path) -> None:
    """The report's first page."""
    command = ("pdftoppm", "-png", "-r", str(PAGE_DPI), "-singlefile", report, PICTURES / "report")
    subprocess.run(command, check=True)


def main() -> None:
    """Write `van.png`, `sheet.png` and `report.png` beside this file."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        with serving(folder) as server, sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            phone = phone_at_work(browser.new_page(viewport=PHONE_PX), server)
            fill(phone)
            take_screens(phone)
            expect(phone.page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
            command = (*HANDLINE, "handover", phone.page.evaluate(SHOW), folder / "report.pdf")
            subprocess.run(command, cwd=ROOT, env=server.environ, check=True)
            browser.close()
        take_first_page(folder / "report.pdf")


if __name__ == "__main__":
    main()
