"""Tags read from labels: through the browser's fake camera, from a photo of a code, and typed."""

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest
import segno
from playwright.sync_api import Playwright, expect

from tests.browser.conftest import CHROMIUM, Server
from tests.browser.show_at_work import Phone, phone_at_work

pytestmark = pytest.mark.browser

WIDE, HIGH = 640, 480
FRAMES_EACH = 20
COUNT = "locker/L2/de-rig/count"


def label(site: str, tag: str) -> np.ndarray:
    """A label before the camera: the code in the middle of a light wall, as luminance."""
    modules = np.array([list(row) for row in segno.make(f"{site}/k/{tag}", error="m").matrix], dtype=np.uint8)
    code = np.kron(1 - modules, np.ones((10, 10), dtype=np.uint8)) * 200 + 30
    picture = np.full((HIGH, WIDE), 230, dtype=np.uint8)
    top, left = (HIGH - code.shape[0]) // 2, (WIDE - code.shape[1]) // 2
    picture[top : top + code.shape[0], left : left + code.shape[1]] = code
    return picture


def film(file: Path, pictures: Sequence[np.ndarray]) -> None:
    """What the fake camera shows, over and over: YUV4MPEG2, grey."""
    grey = np.full(WIDE * HIGH // 2, 128, dtype=np.uint8).tobytes()
    frames = [b"FRAME\n" + one.tobytes() + grey for one in pictures for _ in range(FRAMES_EACH)]
    file.write_bytes(f"YUV4MPEG2 W{WIDE} H{HIGH} F10:1 Ip A1:1 C420\n".encode() + b"".join(frames))


@pytest.fixture
def phone(server: Server, playwright: Playwright, tmp_path: Path) -> Iterator[Phone]:
    seen = tmp_path / "seen.y4m"
    film(seen, [label(server.site, tag) for tag in ("HEAD-2", "VF-1", "CLIPS-99")])
    browser = playwright.chromium.launch(
        executable_path=CHROMIUM,
        args=[
            "--no-sandbox",
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
            f"--use-file-for-fake-video-capture={seen}",
        ],
    )
    yield phone_at_work(browser.new_context(viewport={"width": 390, "height": 844}).new_page(), server)
    browser.close()


def test_a_label_before_the_camera_counts_its_thing_and_names_what_belongs_elsewhere(phone: Phone) -> None:
    page = phone.page
    phone.to(f"count/{COUNT}")
    page.get_by_role("button", name="Read codes").click()
    said = page.get_by_role("region", name="Read tags").get_by_role("status")
    expect(said).to_have_text("Nothing of this show carries the tag CLIPS-99", timeout=60_000)
    expect(page.get_by_role("listitem").filter(has_text="HEAD-2")).to_contain_text("1 of 1")
    expect(said).to_contain_text("VF-1, Viewfinder 1 does not belong here: it belongs in L1", timeout=60_000)
    page.get_by_role("button", name="Enough read").click()
    view = phone.view(COUNT)
    assert {one["item"] for one in view["items"] if one["state"] == "settled"} == {"HEAD-2"}


def test_a_stranger_is_put_where_it_was_found(phone: Phone) -> None:
    page = phone.page
    phone.to(f"count/{COUNT}")
    page.get_by_role("button", name="Read codes").click()
    page.get_by_label("Or type the tag").fill(f"{phone.site}/k/ZF-1")
    page.get_by_role("button", name="Take ZF-1").click()
    page.get_by_role("button", name="Write that ZF-1 is in locker L2").click()
    expect(page.get_by_role("list", name="What is not as listed")).to_contain_text("ZF-1")
    phone.to("locker/L2")
    expect(page.get_by_text("belongs in L1")).to_be_visible()


def test_a_photo_of_a_code_is_read_where_there_is_no_camera(phone: Phone, tmp_path: Path) -> None:
    page = phone.page
    photo = tmp_path / "label.png"
    segno.make(f"{phone.site}/k/BARS-2").save(str(photo), scale=8)
    page.add_init_script("delete Navigator.prototype.mediaDevices")
    page.reload()
    phone.to(f"count/{COUNT}")
    page.get_by_role("button", name="Read codes").click()
    card = page.get_by_role("region", name="Read tags")
    expect(card.get_by_role("alert")).to_contain_text("No camera is to be had here")
    page.locator("input[type=file]").set_input_files(photo)
    expect(card.get_by_role("status")).to_have_text("BARS-2, Pan bars 2, pair: there")
    page.locator("input[type=file]").set_input_files(__file__)
    expect(card.get_by_role("alert")).to_contain_text("no picture that the phone can read")
