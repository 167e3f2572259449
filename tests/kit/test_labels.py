"""Labels: their codes are read back by another library from the printed page, also turned and blurred."""

import subprocess
from pathlib import Path

import cv2
import numpy as np
import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from server.app import create_app
from server.cli import main
from server.kit.label_pages import address, print_labels
from server.kit.labels import CannotLabel, Label, labels_of
from server.kit.papers import SHEETS, NoPaper, paper_of
from server.settings import Settings
from server.setup import make_tables, seed_demo
from server.sheets.unit import load
from server.shows import demo

SITE = "https://handline.example"
DPI = 300
UNIT = load(demo.FOLDER)


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    """The first page of a sheet of lockers and drums, at 300 dpi."""
    folder = tmp_path_factory.mktemp("labels")
    octets = print_labels(labels_of(UNIT, ["lockers", "drums"]), paper_of("a4-63x38"), SITE)
    return rendered(folder, octets)


def rendered(folder: Path, octets: bytes, page: int = 1):
    (folder / "labels.pdf").write_bytes(octets)
    pages = ["-f", str(page), "-l", str(page), "-singlefile"]
    subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-gray", "-png", *pages, folder / "labels.pdf", folder / "page"],
        check=True,
    )
    picture = cv2.imread(str(folder / "page.png"), cv2.IMREAD_GRAYSCALE)
    assert picture is not None
    return picture


def label(picture, paper, place):
    """The part of a page that is one label."""
    left, top = paper.at(place)
    wide, high = paper.label_mm
    x, y, w, h = (round(mm / 25.4 * DPI) for mm in (left, top, wide, high))
    return picture[y : y + h, x : x + w]


def read(picture):
    text, _, _ = cv2.QRCodeDetector().detectAndDecode(picture)
    return text


def turned_and_blurred(picture):
    """A picture as a hand takes it: turned by 10 degrees, out of focus, with some noise."""
    padded = cv2.copyMakeBorder(picture, 200, 200, 200, 200, cv2.BORDER_CONSTANT, value=255)
    high, wide = padded.shape
    turn = cv2.getRotationMatrix2D((wide / 2, high / 2), 10, 1)
    turned = cv2.warpAffine(padded, turn, (wide, high), borderValue=255)
    blurred = cv2.GaussianBlur(turned, (0, 0), 2.5)
    noise = np.random.default_rng(7).normal(0, 6, blurred.shape)
    return np.clip(blurred + noise, 0, 255).astype(np.uint8)


def test_every_code_of_a_page_is_read_back(sheet):
    paper = paper_of("a4-63x38")
    wanted = [address(SITE, one.tag) for one in labels_of(UNIT, ["lockers", "drums"])][: paper.on_a_page]
    assert len(wanted) == 21
    assert wanted[0] == "https://handline.example/k/L1"
    assert [read(label(sheet, paper, place)) for place in range(paper.on_a_page)] == wanted


def test_codes_are_read_from_a_turned_and_blurred_picture(sheet):
    paper = paper_of("a4-63x38")
    for place in (0, 4, 20):
        picture = turned_and_blurred(label(sheet, paper, place))
        assert read(picture) == address(SITE, labels_of(UNIT, ["lockers", "drums"])[place].tag)


@pytest.mark.parametrize("name", [*SHEETS, "roll-25x25", "roll-60x30", "roll-40x80", "roll-100x150"])
def test_each_paper_carries_its_labels_inside_and_readable(name, tmp_path):
    paper = paper_of(name)
    place = paper.on_a_page - 1
    octets = print_labels(
        [Label("CAB-014", "Drum 014, hybrid fibre, 200 m", "home T2")], paper, SITE, skip=place
    )
    picture = rendered(tmp_path, octets)
    assert read(label(picture, paper, place)) == f"{SITE}/k/CAB-014"
    page = PdfReader(tmp_path / "labels.pdf").pages
    assert len(page) == 1
    wide, high = (float(side) / 72 * 25.4 for side in (page[0].mediabox.width, page[0].mediabox.height))
    assert (wide, high) == pytest.approx(paper.page_mm, abs=0.1)
    left, top = paper.at(place)
    assert left + paper.label_mm[0] <= paper.page_mm[0] + 0.01
    assert top + paper.label_mm[1] <= paper.page_mm[1] + 0.01
    outside = picture.copy()
    x, y = round(left / 25.4 * DPI), round(top / 25.4 * DPI)
    outside[y : y + round(paper.label_mm[1] / 25.4 * DPI), x : x + round(paper.label_mm[0] / 25.4 * DPI)] = (
        255
    )
    assert outside.min() == 255


def test_the_tag_is_in_words_and_in_the_stencil_face(tmp_path):
    octets = print_labels(labels_of(UNIT, tags=["CAB-014", "GLOVES"]), paper_of("a4-70x37"), SITE)
    (tmp_path / "labels.pdf").write_bytes(octets)
    reader = PdfReader(tmp_path / "labels.pdf")
    sizes = {}

    def note(text, _user, matrix, font, size):
        for tag in ("CAB-014", "GLOVES", "home"):
            if tag in text:
                sizes[tag] = (font["/BaseFont"], abs(size * matrix[0]))

    text = reader.pages[0].extract_text(visitor_text=note)
    assert "Rigging gloves, pair" in text
    assert "× 8, home L3" in text
    for tag in ("CAB-014", "GLOVES"):
        assert "Stencil" in sizes[tag][0]
        assert sizes[tag][1] > 1.8 * sizes["home"][1]


def test_what_is_printed():
    tags = [one.tag for one in labels_of(UNIT)]
    assert len(tags) == len(set(tags)) == len(UNIT.lockers) + len(UNIT.kit)
    assert [one.tag for one in labels_of(UNIT, ["drums"])] == [f"CAB-{number:03}" for number in range(1, 21)]
    assert not {"L1", "CAB-001"} & {one.tag for one in labels_of(UNIT, ["kit"])}
    assert labels_of(UNIT, tags=["L1"]) == [Label("L1", "Camera 1", "Camera vehicle")]
    with pytest.raises(CannotLabel, match="nothing tagged CAM-99"):
        labels_of(UNIT, tags=["CAM-1", "CAM-99"])


def test_what_cannot_be_printed_is_said():
    one = [Label("A", "a")]
    with pytest.raises(CannotLabel, match="nothing to label"):
        print_labels([], paper_of("a4-70x37"), SITE)
    with pytest.raises(CannotLabel, match="skip from 0 to 23"):
        print_labels(one, paper_of("a4-70x37"), SITE, skip=24)
    with pytest.raises(CannotLabel, match="at most 1200"):
        print_labels(one * 1201, paper_of("a4-70x37"), SITE)
    for name in ("a4-1x1", "roll-10x10", "roll-300x30", "letter"):
        with pytest.raises(NoPaper, match=f"no paper '{name}': one of a4-63x38.*such as roll-60x30"):
            paper_of(name)


def test_the_chief_prints_labels_over_http(phone, problem):
    chief = phone("Ines", "chief")
    answer = chief.web.get(
        "/api/kit/labels.pdf", query_string={"tag": ["CAM-1", "L1"], "paper": "roll-60x30"}
    )
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf")
    assert answer.data.startswith(b"%PDF")
    problem(chief.web.get("/api/kit/labels.pdf?paper=letter"), 422, "paper")
    problem(chief.web.get("/api/kit/labels.pdf?what=shoes"), 422, "what.0")
    assert "nothing tagged X" in problem(chief.web.get("/api/kit/labels.pdf?tag=X"), 422)
    problem(phone("Bram", "rigger").web.get("/api/kit/labels.pdf?tag=CAM-1"), 403)


def test_the_commands_write_and_take_files_of_the_servers_unit(tmp_path, monkeypatch):
    for name, value in (
        ("DATABASE", f"sqlite:///{tmp_path / 'one.sqlite'}"),
        ("DATA", tmp_path),
        ("SITE", SITE),
    ):
        monkeypatch.setenv(f"HANDLINE_{name}", str(value))
    app = create_app(Settings.read())
    with app.app_context():
        make_tables()
        seed_demo()

    def run(*words):
        return CliRunner().invoke(main, [str(word) for word in words])

    out, table = tmp_path / "labels.pdf", tmp_path / "kit.csv"
    done = run("labels", out, "--drums", "--paper", "a4-105x74", "--skip", "7")
    assert (
        done.output
        == f"Wrote {out}: 20 labels on a4-105x74. Print at full size, with no scaling to the page.\n"
    )
    assert len(PdfReader(out).pages) == 4
    refused = run("labels", out, "--paper", "letter")
    assert (refused.exit_code, "there is no paper 'letter'" in refused.output) == (1, True)
    assert run("export", table).output == f"Wrote {table}: {len(UNIT.kit)} things.\n"
    assert run("import", table).output.startswith("Took in kit.csv: 0 new, 0 changed")
    table.write_text("tag,mass_kg\nCAM-1,40.5\nCAM-2,much\n")
    bad = run("import", table, "--dry-run")
    assert bad.exit_code == 1
    assert "kit.csv:3: column mass_kg: 'much' must be a decimal" in bad.output
    table.write_text("tag,mass_kg\nCAM-1,40.5\n")
    assert run("import", table, "--dry-run").output.startswith("Would take in kit.csv: 0 new, 1 changed")
    assert run("import", table).exit_code == 0
    assert run("rebuild").output == "Made the index of the kit again: 1 subjects.\n"
    assert (
        run("export", tmp_path / "kit.txt").exit_code,
        run("export", tmp_path / "kit.json").exit_code,
    ) == (1, 0)
