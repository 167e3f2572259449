"""What is carried by hand or lost on the way: photos, a file from phone to phone, a server put back from a copy."""

import shutil
import subprocess
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.conftest import HANDLINE, OpenPhone, Server
from tests.browser.rigger import SHOW, Person, Rigger
from tests.browser.show_at_work import WRITE

pytestmark = pytest.mark.browser

BRAM = Person("bram", "Bram Oakley")
LENA = Person("lena", "Lena Sorrel")
SYNC = """async () => {
  const { syncNow } = await import("/static/logbook/book.js");
  await syncNow();
}"""
FILES = """async () => {
  const { read } = await import("/static/logbook/store.js");
  return read(["files"], (tx) => tx.objectStore("files").getAllKeys());
}"""
MAKE_SHOW = """async (title) => {
  const { book, syncNow, write } = await import("/static/logbook/book.js");
  const { post } = await import("/static/parts/server.js");
  const { zone, people, positions } = book.show.value.definition;
  const plan = {
    title, site: "Quay", zone, starts: "2031-06-01", ends: "2031-06-02", people, positions: positions.slice(0, 1),
  };
  const { log, show } = await post("/api/shows", { plan });
  await write({ log, subject: "show", kind: "show", body: show });
  await syncNow();
  await syncNow();
}"""


@pytest.fixture(scope="module")
def bram(lasting_phones: OpenPhone, lasting_server: Server) -> Rigger:
    return joined(Rigger(lasting_phones, lasting_server, BRAM, LENA), "chief,rigger")


@pytest.fixture(scope="module")
def lena(lasting_phones: OpenPhone, lasting_server: Server) -> Rigger:
    return joined(Rigger(lasting_phones, lasting_server, LENA, BRAM), "camera,rigger")


@pytest.fixture(scope="module")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    taken = tmp_path_factory.mktemp("photo") / "pontoon.jpg"
    Image.effect_noise((320, 240), 60).convert("RGB").save(taken)
    return taken


def joined(one: Rigger, roles: str) -> Rigger:
    """Enrol and open the show; the arithmetic is not waited for."""
    one.page.goto(one.server.invite(one.person.name, roles, one.person.id)["link"])
    one.touch("Make this phone mine")
    one.touch(SHOW)
    expect(one.heading).to_have_text(SHOW)
    return one


def to(one: Rigger, path: str) -> Page:
    one.page.goto(f"{one.server.site}/#/{path}")
    return one.page


def write(one: Rigger, subject: str, kind: str, body: dict[str, object]) -> str:
    return str(one.page.evaluate(WRITE, {"subject": subject, "kind": kind, "body": body}))


def send(one: Rigger) -> None:
    one.page.evaluate(SYNC)
    expect(one.edge).to_contain_text("Nothing unsent")


def shown(page: Page) -> None:
    """The photo is drawn, and not only its frame."""
    picture = page.get_by_alt_text("The photo")
    expect(picture).to_be_visible()
    expect(picture).to_have_js_property("naturalWidth", 320)


def take_photo(one: Rigger, subject: str, photo: Path) -> None:
    to(one, f"photo/{subject}")
    one.take_photo(photo)
    one.touch("Keep this photo")
    expect(one.heading).not_to_have_text("Photo")


def test_a_photo_taken_with_no_signal_is_seen_with_no_signal_on_the_other_phone(
    bram: Rigger, lena: Rigger, photo: Path
) -> None:
    lena.lose_signal()
    take_photo(lena, "position/2/rig/pads", photo)
    lena.find_signal()
    send(lena)
    before = len(bram.page.evaluate(FILES))
    send(bram)
    while len(bram.page.evaluate(FILES)) == before:  # fetched behind the ticks, asked for by nobody
        bram.page.evaluate(SYNC)
    bram.lose_signal()
    shown(to(bram, "step/position/2/rig/pads"))
    bram.find_signal()


def test_a_file_carries_entries_and_photos_to_a_phone_and_to_the_server(
    bram: Rigger, lena: Rigger, tmp_path: Path
) -> None:
    lena.lose_signal()
    write(lena, "position/3", "fault", {"text": "No picture on three"})
    take_photo(lena, "position/3/rig/pads", photo_of(tmp_path))
    to(lena, "unsent")
    with lena.page.expect_download() as given:
        lena.touch("Save to file")
    saved = tmp_path / given.value.suggested_filename
    given.value.save_as(saved)

    bram.lose_signal()
    to(bram, "unsent")
    bram.touch("Hand in a file that a phone saved", "link")
    for words in ("2 new entries and 1 photo or drawn name taken in", "Nothing new in it"):
        bram.page.locator("input[type=file]").set_input_files(saved)
        expect(bram.page.get_by_role("status")).to_contain_text(words)
    for broken in (saved.read_bytes()[:-60], b"a picture"):
        (tmp_path / "broken.zip").write_bytes(broken)
        bram.page.locator("input[type=file]").set_input_files(tmp_path / "broken.zip")
        expect(bram.page.get_by_role("alert")).to_contain_text("Nothing was taken in")
    expect(bram.edge).to_contain_text("2 unsent")
    shown(to(bram, "step/position/3/rig/pads"))

    said = at_the_server(bram.server, saved)
    assert said.startswith("2 new entries and 1 files taken in")
    bram.find_signal()
    send(bram)
    assert at_the_server(bram.server, saved).startswith("0 new entries and 0 files taken in")
    lena.find_signal()
    send(lena)


def photo_of(folder: Path) -> Path:
    """Another picture than the first."""
    Image.effect_noise((320, 240), 90).convert("RGB").save(folder / "three.jpg")
    return folder / "three.jpg"


def at_the_server(server: Server, saved: Path) -> str:
    command = (*HANDLINE, "hand-in", str(saved))
    done = subprocess.run(
        command, cwd=server.root, env=server.environ, capture_output=True, text=True, check=True
    )
    return done.stdout


def test_a_server_put_back_from_an_older_copy_is_given_all_of_it_again(
    bram: Rigger, lena: Rigger, tmp_path: Path
) -> None:
    server = bram.server
    server.stop()
    shutil.copytree(server.data, tmp_path / "copy")
    server.start()
    bram.page.evaluate(MAKE_SHOW, "Quay concert")
    write(bram, "truck/rig/earthed", "remark", {"text": "Spike by the gate"})
    take_photo(bram, "position/4/rig/pads", photo_of(tmp_path))
    send(bram)
    send(lena)
    server.stop()
    shutil.rmtree(server.data)
    shutil.copytree(tmp_path / "copy", server.data)
    server.start()

    to(lena, "unsent")
    lena.touch("Try to send now")
    expect(lena.page.get_by_text("The server had lost")).to_contain_text("This phone has given")
    expect(lena.edge).to_contain_text("Nothing unsent")
    send(bram)
    third = joined(Rigger(bram.open_phone, server, Person("callum", "Callum Reed"), BRAM), "rigger")
    third.page.evaluate(SYNC)
    shown(to(third, "step/position/4/rig/pads"))
    to(third, "shows")
    third.touch("Quay concert")
    expect(third.heading).to_have_text("Quay concert")
