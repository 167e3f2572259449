"""What phones may send and the report must bear: bombs, false pictures, addresses of elsewhere, floods of words."""

import base64
import resource
import socket
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from PIL import Image

from server.handover import pictures, press
from server.handover.first_page import BOLD, LENGTHS, WIDE, WIDTHS_EM, fitted, lines_of, room, shorten, width
from server.handover.gather import gather
from server.handover.open_points import Heading
from server.handover.record import octets
from server.handover.render import FACES, FONTS, CannotPrint, pages
from tests.handover import worked
from tests.handover.conftest import printed

SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/passwd"/></svg>'
NO_PICTURE = "its file is no picture that can be read (JPEG or PNG or WEBP)"


@pytest.mark.parametrize(
    ("octets_sent", "says"),
    [
        pytest.param(worked.bomb(60_000, 60_000), NO_PICTURE, id="more than the decoder itself takes"),
        pytest.param(
            worked.bomb(9_000, 9_000),
            "its file claims 9000 by 9000 pixels, and 50 million are printed at most",
            id="more than is printed",
        ),
        pytest.param(worked.picture("half")[:9_000], NO_PICTURE, id="broken off"),
        pytest.param(SVG, NO_PICTURE, id="a drawing"),
        pytest.param(b"\x89PNG\r\n\x1a\n" + SVG, NO_PICTURE, id="a drawing that says it is PNG"),
        pytest.param(b"GIF89a" + bytes(100), NO_PICTURE, id="another kind"),
        pytest.param(b"", NO_PICTURE, id="nothing"),
    ],
)
def test_a_hostile_photo_is_named(octets_sent: bytes, says: str) -> None:
    assert pictures.photo(octets_sent) == pictures.Picture(None, says)


def test_a_claim_of_many_pixels_is_judged_before_any_is_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    def unpacked(*_: object) -> None:
        raise AssertionError("it was unpacked")

    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", unpacked)
    assert "claims 9000 by 9000" in pictures.photo(worked.bomb(9_000, 9_000)).says
    assert "claims 2100 by 2000" in pictures.drawn_name(worked.bomb(2_100, 2_000)).says


def test_a_drawn_name_is_a_png_and_nothing_else() -> None:
    assert pictures.drawn_name(worked.picture("a photo")).octets is None
    assert pictures.drawn_name(worked.name_drawn()).octets is not None


def test_a_photo_is_printed_upright_without_metadata_and_no_larger_than_paper_shows() -> None:
    image = Image.new("RGB", (400, 200), "white")
    about = Image.Exif()
    about[0x0112] = 6  # turned by a quarter, as a phone held upright writes it
    about[0x010E] = "METADATA-OF-THE-PHONE"
    out = BytesIO()
    image.save(out, "JPEG", exif=about)
    made = pictures.photo(out.getvalue()).octets
    assert made is not None
    with Image.open(BytesIO(made)) as upright:
        assert upright.size == (200, 400)
        assert not upright.getexif()
    assert pictures.photo(out.getvalue()).octets == made
    large = pictures.photo(worked.picture("large", (4000, 3000))).octets
    assert large is not None
    with Image.open(BytesIO(large)) as small:
        assert small.size == (720, 540)


def test_hostile_files_break_no_report_and_are_named_in_it(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    for sent in (worked.bomb(9_000, 9_000), SVG, worked.picture("half")[:9_000]):
        show.write("Bram", "run/2/rig/crossings", "photo", {"file": show.file("Bram", sent, "image/png")})
    ticks = [show.write("Bram", "lifting/pack/marks")]
    show.sign("Bram", "lifting/pack", ticks, show.file("Bram", worked.bomb(3_000, 3_000), "image/png"))
    found = printed(show, tmp_path)
    assert "its file claims 9000 by 9000 pixels" in found.words
    assert found.words.count(NO_PICTURE) == 2
    assert "its file claims 3000 by 3000 pixels" in found.words


@pytest.mark.parametrize(
    "fields",
    [
        {"dates": {"examined": "soon", "due": "never"}},
        {"dates": "2031-05-02"},
        {"about": {"wll_kg": ["many"]}},
        {"about": "all of it", "name": 7, "type": "no such"},
    ],
)
def test_a_record_that_cannot_be_read_stops_its_piece_and_no_report(
    tmp_path: Path, fields: dict[str, Any]
) -> None:
    show = worked.begin(tmp_path)
    show.write("Ines", "kit/SLING-1/record", "record", {"fields": fields})
    sling = next(one for one in gather(show.record())["lifting"] if one["tag"] == "SLING-1")
    assert sling["stops"][0]["says"].startswith("What is recorded of it cannot be read: ")
    assert {one["stop"] for one in sling["stops"]} >= {"unreadable", "not-examined", "no-mark"}


def test_a_record_stands_in_place_of_the_list(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    dates = {"examined": "2031-04-20", "due": "2031-10-20"}
    show.write("Ines", "kit/SLING-2/record", "record", {"fields": {"dates": dates}})
    sling = next(one for one in gather(show.record())["lifting"] if one["tag"] == "SLING-2")
    assert (sling["due"], sling["overdue"], sling["stops"]) == ("2031-10-20", False, [])


def order(html: str) -> dict[str, Any]:
    return {"html": html, "record": base64.b64encode(b"{}").decode(), "resources": {}}


def test_the_press_serves_what_it_was_given_and_asks_nobody(tmp_path: Path) -> None:
    secret = tmp_path / "secret.png"
    secret.write_bytes(worked.name_drawn())
    with socket.create_server(("127.0.0.1", 0)) as elsewhere:
        elsewhere.setblocking(False)
        at = f"http://127.0.0.1:{elsewhere.getsockname()[1]}"
        pdf = press.print_order(
            order(
                f'<link rel="stylesheet" href="{at}/a.css"><style>@import url({at}/b.css); p '
                f"{{ background: url({at}/c.png) }}</style><p>words</p>"
                f'<img src="{at}/d.png"><img src="{secret.as_uri()}"><object data="{at}/e"></object>'
            )
        )
        with pytest.raises(BlockingIOError):
            elsewhere.accept()
    with pikepdf.open(BytesIO(pdf)) as opened:
        assert not any(page.get_images() for page in opened.pages)


def test_what_a_hostile_file_says_inside_a_drawing_is_not_fetched() -> None:
    held = base64.b64encode(SVG).decode()
    pdf = press.print_order(
        order('<html lang="en"><img src="handline:x.svg" alt="x">') | {"resources": {"x.svg": held}}
    )
    assert b"root:" not in pdf


def test_the_press_stops_at_its_limits() -> None:
    asked = "import sys, resource; from server.handover import press; press.MOST_MEMORY = 300 * 2**20; press.main()"
    done = subprocess.run(
        [sys.executable, "-c", asked], input=b'{"html": "' + b"<p>w" * 400_000 + b'", "record": "", "resources": {}}',
        capture_output=True, check=False, timeout=300,
    )  # fmt: skip
    assert done.returncode != 0
    assert not done.stdout


def test_a_press_that_fails_is_said_with_its_reason(
    monkeypatch: pytest.MonkeyPatch, show: worked.Show
) -> None:
    told = gather(show.record())
    monkeypatch.setattr("server.handover.render.LONGEST_S", 0.01)
    with pytest.raises(CannotPrint, match=r"took longer than 0\.01 s"):
        pages(told, b"{}")


def test_a_report_of_five_hundred_steps_stays_within_a_gibibyte(tmp_path: Path) -> None:
    """At the time of writing it took some 20 s and 400 MiB on one core."""
    show = worked.begin(tmp_path)
    steps = [step for sheet in show.sheets() for step in sheet["steps"]]
    assert len(steps) >= 500
    chief = show.phones["Ines"]
    texts = [
        chief.write(show.log, one["subject"], "remark", body={"text": f"Seen at {number}"})
        for number, one in enumerate(steps)
    ]
    for first in range(0, len(texts), 500):
        assert set(chief.answers(show.log, texts[first : first + 500])) == {"stored"}
    record = show.record()
    pdf = pages(gather(record), octets(record))
    assert pdf.startswith(b"%PDF")
    assert resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss < 1024**2  # in KiB


def flood(number: int) -> list[Heading]:
    words = "Drum 014, hybrid fibre, 200 m: two ways open, 41 m from the truck end, tagged at both ends"
    return [
        Heading(
            f"h{place}",
            f"Heading {place}",
            [f"{count} {words} {'w' * 80} 漢字{'𝄞' * 20}" for count in range(number)],
        )
        for place in range(14)
    ]


def test_each_heading_keeps_one_point_and_counts_the_rest() -> None:
    rows = fitted(flood(40), 30)
    assert all(row["count"] == 40 and len(row["shown"]) + row["more"] == 40 for row in rows)
    assert all(width(point) <= LENGTHS[-1] for row in rows for point in row["shown"])


def test_what_is_cut_says_so() -> None:
    assert shorten("short", 10) == "short"
    assert shorten("w" * 11, 10) == "w" * 8 + " …"
    assert width("漢e\N{COMBINING ACUTE ACCENT}") == 3


def test_no_character_of_the_face_is_wider_than_it_is_taken_for() -> None:
    """Against the advance widths in the face's own tables, read by fontTools."""
    plain, bold = (TTFont(FONTS / FACES[name]) for name in ("read-400.woff2", "read-700.woff2"))
    taken = {one: WIDTHS_EM.get(one, WIDE) for one in map(chr, range(0x20, 0x250))}
    for face, times in ((plain, 1.0), (bold, BOLD)):
        names, widths, em = face.getBestCmap(), face["hmtx"], face["head"].unitsPerEm
        for one, most in taken.items():
            if ord(one) in names:
                assert widths[names[ord(one)]][0] / em <= most * times, one


def test_lines_are_filled_as_a_page_fills_them() -> None:
    assert lines_of("short") == 1
    assert lines_of("W" * 24 + " " + "W" * 24) == 2  # two that do not stand on one line
    assert lines_of("W" * 100) == 3  # a word broken where the line ends: 92 of the 40.5 that a line holds
    assert lines_of("i " * 56) == 1
    assert lines_of("i " * 57) == 2


@pytest.mark.parametrize("number", [1, 3, 60])
def test_however_much_is_open_the_first_page_is_one(show: worked.Show, number: int) -> None:
    told = gather(show.record())
    none = ["Away"] * 4
    said = told["told"] or [{"states": "w " * 300, "whose": "Ines Calder", "when": "", "notes": []}]
    headings = flood(number)
    flooded = told | {
        "title": shorten("W" * 60, 44), "draft": True, "none": none, "told": said,
        "open": fitted(headings, room("W" * 44, told["vehicles"], "", none, said)),
        "lockers": [], "positions": [], "others": [], "drums": [], "lifting": [], "kit": [], "signatures": [],
    }  # fmt: skip
    words = worked.words_of(pages(flooded, b"{}"))
    assert all(one.word in words[0] for one in headings)
    assert "In full" not in words[0]
    assert words[1].startswith("In full")
    assert "on page 2" in words[0]
    if number == 60:
        assert "and 59 more on page 2" in words[0]
