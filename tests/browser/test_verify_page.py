"""The page on which anybody proves a report: its form is taken from a browser, and keeps nobody out."""

import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import HANDLINE, OpenPhone, Server
from tests.browser.show_at_work import phone_at_work
from tests.browser.test_axe import AXE, LOW, RUN, WIDER
from tests.handover.attacks import flipped

pytestmark = pytest.mark.browser

SHOW = """async () => (await import("/static/logbook/book.js")).book.show.value.id"""


def test_a_report_is_proved_on_a_phone_and_each_failing_layer_is_named(
    server: Server, open_phone: OpenPhone, tmp_path: Path
) -> None:
    page = open_phone("ana").pages[0]
    phone_at_work(page, server)
    file = tmp_path / "report.pdf"
    command = (*HANDLINE, "handover", page.evaluate(SHOW), str(file))
    subprocess.run(command, cwd=server.root, env=server.environ, check=True, capture_output=True)
    whole = file.read_bytes()
    page.set_viewport_size({"width": 320, "height": 780})
    for look in ("light", "dark"):
        page.emulate_media(color_scheme="dark" if look == "dark" else "light")
        page.goto(f"{server.site}/verify")
        for octets, words, failing in (
            (whole, "Every layer holds", []),
            (flipped(whole), "Not to be relied on", ["seal: fails."]),
        ):
            file.write_bytes(octets)
            page.get_by_label("The report's PDF").set_input_files(file)
            page.get_by_role("button", name="Prove").click()
            expect(page.get_by_role("heading", level=2)).to_have_text(words)
            assert page.locator("li strong.alarm").all_inner_texts() == failing
            page.evaluate(AXE.read_text())
            assert [*page.evaluate(RUN), *page.evaluate(LOW)] == []
            assert page.evaluate(WIDER) <= 0
