"""The report of a small show that phones wrote: printed, sealed, proved, and attacked layer by layer."""

import json
import subprocess
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from cryptography.hazmat.primitives.serialization import Encoding, pkcs12

from server.app import create_app
from server.crew.cards import set_up_unit
from server.crew.invite import invite
from server.handover.finding import Findings
from server.handover.gather import gather
from server.handover.record import Record, collect, folded, octets, tips_by_key
from server.handover.render import pages
from server.handover.seal import certificate_file, make_certificate, seal
from server.handover.verify import as_lines, verify
from server.logbook import views
from server.logbook.cases import PHONE
from server.logbook.entry import parse
from server.logbook.kinds import load as load_kinds
from server.settings import Settings
from server.setup import make_tables
from server.sheets.unit import load
from server.shows import demo, make, plan
from server.store import reading, writing
from tests.conftest import SITE, UNIT, Phone
from tests.handover.attacks import carrying, flipped, last_of, record_in, with_figure, without

BROKEN = {"state": "unserviceable", "reason": "two ways open"}
HOSTILE = "<script>alert(1)</script> ‮ " + "w" * 120 + " \U0001f3a5"


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Record:
    """The record of the demo's show after a chief and an engineer wrote in it and it was handed over."""
    data = tmp_path_factory.mktemp("server")
    app = create_app(Settings(f"sqlite:///{data / 'test.sqlite'}", data, SITE))
    with app.app_context():
        make_tables()
        with writing() as session:
            set_up_unit(session, UNIT, "Unit north", demo.FOLDER.name)
            log = make.begin(session, UNIT, plan.expand(load(demo.FOLDER), demo.plan()))
            chief_code = invite(session, UNIT, "Ines", ["chief", "rigger", "camera"]).code
            engineer_code = invite(session, UNIT, "Tomas", ["engineer"]).code
    chief, engineer = Phone(app), Phone(app)
    chief.enrol(chief_code)
    engineer.enrol(engineer_code)
    engineer.answers(
        log,
        [
            engineer.write(log, "position/2", "fault", body={"text": HOSTILE}),
            engineer.write(log, "kit/CAB-014/state", "state", body=BROKEN),
            engineer.write(log, "kit/VF-2/place", "place", body={"where": "position/2"}),
            engineer.write(log, "run/2/rig/level", "reading", body={"figure": "52.0", "unit": "V"}),
        ],
    )
    tips = {engineer.kid: engineer.fetch(log)["heads"][engineer.kid]["tips"]}
    told = {"text": "All in but one.", "heads": tips}
    assert chief.answers(log, [chief.write(log, "show", "hand-over", body=told)]) == ["stored"]
    with app.app_context(), reading() as session:
        return collect(session, UNIT, log)


@pytest.fixture(scope="module")
def unsealed(record: Record) -> bytes:
    return pages(gather(record), octets(record))


@pytest.fixture
def printed(unsealed: bytes, tmp_path: Path) -> Callable[[Record], bytes]:
    """The pages with a record in them, altered or not, sealed: what anybody with another certificate can do."""
    make_certificate(tmp_path, "Unit")

    def sealed(altered: Record) -> bytes:
        if octets(altered) == octets(record_in(unsealed)):
            return seal(unsealed, tmp_path)
        return carrying(unsealed, altered, tmp_path)

    return sealed


def failing(found: Findings) -> list[str]:
    return [one.layer for one in found.layers if not one.holds]


def test_a_report_proves_itself(printed: Callable[[Record], bytes], record: Record) -> None:
    found = verify(printed(record))
    assert failing(found) == [], as_lines(found)[7]
    assert "proves only that nothing changed since" in found.layers[0].says
    assert as_lines(found)[-1] == "Every layer holds."


def test_the_seal_is_valid_to_another_program(
    printed: Callable[[Record], bytes], record: Record, tmp_path: Path
) -> None:
    file = tmp_path / "report.pdf"
    file.write_bytes(printed(record))
    said = subprocess.run(["pdfsig", file], capture_output=True, text=True, check=False).stdout
    assert "Signature is Valid" in said
    assert "Total document signed" in said
    assert "ETSI.CAdES.detached" in said


def test_the_sealed_file_is_pdf_a_3a_with_its_record(
    printed: Callable[[Record], bytes], record: Record
) -> None:
    with pikepdf.open(BytesIO(printed(record))) as pdf:
        with pdf.open_metadata() as about:
            assert about["pdfaid:part"] == "3"
            assert about["pdfaid:conformance"] == "A"
        assert pdf.Root.Lang == "en"
        assert pdf.Root.MarkInfo.Marked
        attached = pdf.attachments["record.json"]
        assert attached.get_file().read_bytes() == octets(record)
        assert attached.obj.AFRelationship == "/Source"


def test_the_sealed_file_keeps_what_an_archive_asks(
    printed: Callable[[Record], bytes], record: Record
) -> None:
    """After ISO 19005-3, from memory: no validator of it could be had where this was written.

    Nothing is encrypted or runs; faces are embedded and map to Unicode; colours have an output intent; pages are
    tagged; the attachment is an associated file; the seal's field shows nothing and may print.
    """
    with pikepdf.open(BytesIO(printed(record))) as pdf:
        assert not pdf.is_encrypted
        assert "/OpenAction" not in pdf.Root
        assert "/JavaScript" not in pdf.Root.Names
        assert [one.S for one in pdf.Root.OutputIntents] == ["/GTS_PDFA1"]
        assert len(pdf.Root.StructTreeRoot.K) > 0
        assert {str(one.UF) for one in pdf.Root.AF} == {"record.json"}
        faces = [face for page in pdf.pages for face in page.Resources.get("/Font", {}).values()]
        assert len(faces) >= 2
        for face in faces:
            described = face.DescendantFonts[0].FontDescriptor
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(described.keys())
            assert "/ToUnicode" in face
        [field] = pdf.Root.AcroForm.Fields
        left, bottom, right, top = map(float, field.Rect)
        assert (right - left, top - bottom) == (0, 0)
        assert int(field.F) & 4


def test_a_flipped_byte_is_named_as_the_seal(printed: Callable[[Record], bytes], record: Record) -> None:
    assert "seal" in failing(verify(flipped(printed(record))))


def test_a_changed_reading_is_named_as_its_signature(
    printed: Callable[[Record], bytes], record: Record
) -> None:
    found = verify(printed(with_figure(record, last_of(record, "reading"), "55.0")))
    assert failing(found)[0] == "signatures"
    assert "(reading on run/2/rig/level by tomas" in next(one.says for one in found.layers if not one.holds)


def test_a_dropped_entry_is_named_as_a_gap(printed: Callable[[Record], bytes], record: Record) -> None:
    found = verify(printed(without(record, last_of(record, "place"))))
    assert failing(found) == ["chains", "heads"]
    assert any("entries are missing, and the record does not say so" in one.says for one in found.layers)


def test_a_gap_that_the_record_owns_to_is_told_from_the_pages(
    printed: Callable[[Record], bytes], record: Record
) -> None:
    dropped = last_of(record, "place")
    gap = without(record, dropped)
    altered = gap | {"gaps": {dropped.kid: [[3, 3]]}, "tips": tips_by_key(map(parse, gap["entries"]))}
    found = verify(printed(altered))
    assert failing(found) == ["pages"]


def test_a_dropped_last_entry_is_named_by_the_heads(
    printed: Callable[[Record], bytes], record: Record
) -> None:
    assert failing(verify(printed(without(record, last_of(record, "reading"))))) == ["heads"]


def test_other_sheets_are_named_as_the_definition(printed: Callable[[Record], bytes], record: Record) -> None:
    sheets = record["definition"]["sheets"][1:]
    altered = record | {"definition": record["definition"] | {"sheets": sheets}}
    assert failing(verify(printed(altered))) == ["definition"]


def test_another_certificate_is_named(
    printed: Callable[[Record], bytes], record: Record, tmp_path: Path
) -> None:
    other = tmp_path / "other"
    make_certificate(other, "Another")
    _, theirs, _ = pkcs12.load_key_and_certificates(certificate_file(other).read_bytes(), None)
    _, ours, _ = pkcs12.load_key_and_certificates(certificate_file(tmp_path).read_bytes(), None)
    assert theirs is not None
    assert ours is not None
    pdf = printed(record)
    assert failing(verify(pdf, theirs.public_bytes(Encoding.PEM))) == ["seal"]
    assert failing(verify(pdf, ours.public_bytes(Encoding.DER))) == []


def test_what_is_no_pdf_is_said_so() -> None:
    assert failing(verify(b"not a PDF at all")) == ["seal", "record"]


def test_the_pages_tell_what_the_next_crew_must_know(
    printed: Callable[[Record], bytes], record: Record, tmp_path: Path
) -> None:
    file = tmp_path / "report.pdf"
    file.write_bytes(printed(record))
    said_by_pages = subprocess.run(
        ["pdftotext", file, "-"], capture_output=True, text=True, check=True
    ).stdout
    text = " ".join(said_by_pages.split())
    for said in (
        "CAB-014",
        "two ways open",
        "All in but one.",
        "<script>alert(1)</script>",
        "Overdue",
        "SLING-2",
    ):
        assert said in text
    assert "DRAFT" not in text


def test_the_same_record_prints_the_same_bytes(record: Record, unsealed: bytes) -> None:
    assert pages(gather(record), octets(record)) == unsealed


def test_views_are_the_same_in_both_languages(record: Record, tmp_path: Path) -> None:
    definition = record["definition"]
    asked = [
        ["report"], ["gates"], ["signatures"], ["devices"],
        *(["locker", one["id"]] for one in definition["lockers"]),
        *(["position", one["id"]] for one in definition["positions"]),
        *(["sheet", json.loads(text)["id"]] for text in definition["sheets"]),
        *(["kit", tag] for tag in ("CAB-014", "VF-2", "CAM-1")),
    ]  # fmt: skip
    case: dict[str, Any] = {
        "name": "demo",
        "log": record["log"],
        "unit_key": record["unit_key"],
        "sheets": [{"id": json.loads(text)["id"], "text": text} for text in definition["sheets"]],
        "cards": record["cards"],
        "entries": record["entries"],
        "definition": definition,
        "views": asked,
    }
    file = tmp_path / "case.json"
    file.write_text(json.dumps({"kinds": load_kinds(), "cases": [case]}))
    done = subprocess.run(["node", PHONE, file], capture_output=True, text=True, check=True)
    theirs = json.loads(done.stdout)[0]["views"]
    fold = folded(record)
    for (view, *of), phone_view in zip(asked, theirs, strict=True):
        show = getattr(views, view)
        ours = show(fold) if view in {"gates", "signatures", "devices"} else show(fold, definition, *of)
        assert ours == phone_view, [view, *of]
