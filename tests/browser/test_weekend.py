"""The whole weekend on two phones and a third, then its report against whoever tampers with it."""

import subprocess
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import sync_playwright

from server.handover.seal import make_certificate
from tests.browser.conftest import HANDLINE, ROOT, serving
from tests.browser.weekend import CALLUM, Weekend, everything
from tests.handover.attacks import carrying, flipped, last_of, record_in, with_figure, without

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def weekend(tmp_path_factory: pytest.TempPathFactory) -> Weekend:
    """Worked once, on a server of its own; nothing of the browsers is left when the reports are looked at."""
    folder = tmp_path_factory.mktemp("weekend")
    photo = folder / "pontoon.jpg"
    Image.effect_noise((640, 480), 60).convert("RGB").save(photo)
    with serving(folder) as server, sync_playwright() as playwright:
        return everything(playwright, server, folder, photo)


@pytest.fixture
def forged(tmp_path: Path) -> Path:
    """Where a forger seals: a folder with a certificate of their own."""
    make_certificate(tmp_path, "Another")
    return tmp_path


def words(pdf: Path) -> str:
    said = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True).stdout
    return " ".join(said.split())


def proved(pdf: bytes, folder: Path) -> tuple[int, str]:
    """What `handline verify` answers and says of a file."""
    file = folder / "looked-at.pdf"
    file.write_bytes(pdf)
    done = subprocess.run((*HANDLINE, "verify", file), cwd=ROOT, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout


def failing(said: str) -> dict[str, str]:
    """What is said of each layer that does not hold."""
    lines = (line.split(": ", 2) for line in said.splitlines())
    return {parts[0]: parts[2] for parts in lines if len(parts) == 3 and parts[1] == "FAILS"}


def test_the_report_holds(weekend: Weekend, tmp_path: Path) -> None:
    for report in (weekend.report, weekend.next_report):
        code, said = proved(report.read_bytes(), tmp_path)
        assert code == 0, said
        assert "Every layer holds." in said


def test_another_program_says_that_the_seal_is_valid(weekend: Weekend) -> None:
    said = subprocess.run(["pdfsig", weekend.report], capture_output=True, text=True, check=False).stdout
    assert "Signature is Valid" in said
    assert "Total document signed" in said


def test_the_pages_say_what_the_phones_wrote(weekend: Weekend) -> None:
    said = words(weekend.report)
    for what in ("Pan bars of camera 5 are not back", "BARS-5", "Power dip", "Chart at 12 m", "-9.4"):
        assert what in said


def test_the_next_report_says_what_the_next_crew_found(weekend: Weekend) -> None:
    said = words(weekend.next_report)
    assert "Handle cracked" in said
    assert CALLUM.name in said


def test_one_flipped_byte_is_named(weekend: Weekend, tmp_path: Path) -> None:
    code, said = proved(flipped(weekend.report.read_bytes()), tmp_path)
    assert code == 1
    assert "seal" in failing(said)


def test_one_changed_reading_is_named(weekend: Weekend, forged: Path) -> None:
    pdf = weekend.report.read_bytes()
    record = record_in(pdf)
    reading = last_of(record, "reading")
    code, said = proved(carrying(pdf, with_figure(record, reading, "21"), forged), forged)
    assert code == 1
    assert f"reading on {reading.subject} by {reading.by}" in failing(said)["signatures"]


def test_one_dropped_entry_is_named(weekend: Weekend, forged: Path) -> None:
    pdf = weekend.report.read_bytes()
    record = record_in(pdf)
    dropped = last_of(record, "photo")
    code, said = proved(carrying(pdf, without(record, dropped), forged), forged)
    assert code == 1
    assert f"{dropped.number} to {dropped.number} of {dropped.kid}" in failing(said)["chains"]
