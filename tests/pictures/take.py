"""The pictures of README.md, taken anew from the demo: `python -m tests.pictures.take`."""

import subprocess
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.conftest import CHROMIUM, serving
from tests.browser.show_at_work import Phone, fill, phone_at_work
from tests.handover import worked
from tests.handover.conftest import printed

PICTURES = Path(__file__).parent
PHONE_PX = {"width": 360, "height": 740}
PAGE_DPI = 80
SCREENS = {"van": "van/de-rig", "sheet": "sheet/truck/rig"}


def take_screens(phone: Phone) -> None:
    """The screens that README.md shows, as a phone shows them."""
    for name, path in SCREENS.items():
        phone.to(path)
        phone.page.screenshot(path=PICTURES / f"{name}.png")


def worked_report(folder: Path) -> Path:
    """The report of a show that was worked from packing to the hand-over."""
    (folder / "worked").mkdir()
    show = worked.begin(folder / "worked")
    worked.work(show)
    show.hand_over(
        "VF-2 is still on the bank at the finish. The ramp at the slipway goes back to the club on Monday.",
        at="2031-05-05T00:20:00+01:00",
    )
    return printed(show, folder).file


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
            browser.close()
        take_first_page(worked_report(folder))


if __name__ == "__main__":
    main()
