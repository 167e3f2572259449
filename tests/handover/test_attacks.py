"""What somebody may do to a report who has another certificate: print it anew, drop what came late, swap a text."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from server.crew import jws
from server.handover.finding import Broken
from server.handover.gather import gather
from server.handover.record import Record, octets, tips_by_key
from server.handover.render import pages
from server.handover.seal import make_certificate, seal
from server.handover.verify import as_lines, verify
from server.handover.verify_pages import pages_hold
from server.handover.verify_record import attached_record, chains, entries_of, heads_hold, sheets_hold
from server.handover.verify_seal import ONLY_SINCE
from server.logbook.entry import parse
from tests.handover import worked

OTHER = jws.sha256(b"a head of another record")


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> worked.Show:
    """A show with a signature, handed over, and one entry since."""
    show = worked.begin(tmp_path_factory.mktemp("small"))
    covers = [show.write("Bram", "lifting/pack/marks")]
    show.sign("Bram", "lifting/pack", covers)
    show.write("Tomas", "position/1", "remark", {"text": f"A word as long as a name: {jws.sha256(b'said')}"})
    show.hand_over("All in.")
    show.write("Tomas", "position/2", "fault", {"text": "Found on Sunday"})
    return show


@pytest.fixture(scope="module")
def record(small: worked.Show) -> Record:
    return small.record()


def said(look: Callable[[], str]) -> str:
    """What a layer says that does not hold."""
    with pytest.raises(Broken) as fault:
        look()
    return str(fault.value)


def print_anew(record: Record, **other: Any) -> bytes:
    """The pages with other things on them than the record's, the record attached as it was."""
    return pages(gather(record) | other, octets(record))


def test_the_pages_of_the_record_hold(record: Record) -> None:
    pdf = pages(gather(record), octets(record))
    assert attached_record(pdf) == record
    assert pages_hold(pdf, record).endswith("pages print the record's heads and no others")


@pytest.mark.parametrize("which", ["heads", "tips"])
def test_pages_printed_anew_with_other_heads_are_named(record: Record, which: str) -> None:
    key = next(iter(record[which]))
    pdf = print_anew(record, **{which: record[which] | {key: [OTHER]}})
    assert (
        said(lambda: pages_hold(pdf, record)) == f"the pages print names that are not in the record: {OTHER}"
    )


def test_heads_of_earlier_entries_are_named_though_they_are_the_records_own(record: Record) -> None:
    key = next(key for key, [tip] in record["tips"].items() if record["heads"].get(key, [tip]) != [tip])
    pdf = print_anew(record, tips=record["tips"] | {key: record["heads"][key]})
    assert said(lambda: pages_hold(pdf, record)) == (
        "under “Held when this was printed” the pages print other heads: " + record["heads"][key][0]
    )


def test_pages_with_fewer_heads_are_named(record: Record) -> None:
    [key, *_] = record["heads"]
    pdf = print_anew(record, heads={key: record["heads"][key]})
    assert "fewer, or in another order" in said(lambda: pages_hold(pdf, record))


def test_pages_without_the_heads_are_named(record: Record) -> None:
    pdf = pages(gather(record), octets(record))
    shorter = record | {"handed_over": None}  # then but one list is meant
    assert "where it is meant" in said(lambda: pages_hold(pdf, shorter))


def test_entries_dropped_after_the_heads_are_named(record: Record) -> None:
    fault = next(text for text in record["entries"] if parse(text).kind == "fault")
    altered = record | {"entries": [text for text in record["entries"] if text != fault]}
    entries = entries_of(altered["entries"], altered["log"])
    assert chains(altered, entries).endswith("without a gap")  # it was the last of its chain
    assert said(lambda: heads_hold(altered, entries)).startswith(
        "the last entries that the record names are not"
    )
    tidied = altered | {"tips": tips_by_key(entries)}
    assert heads_hold(tidied, entries)
    pdf = pages(gather(record), octets(tidied))
    assert parse(fault).name in said(lambda: pages_hold(pdf, tidied))


def test_a_name_put_to_another_text_is_named(small: worked.Show) -> None:
    body = {"sheet": "lifting/pack", "digest": jws.sha256(b"another text"), "covers": []}
    name = small.write("Bram", "lifting/pack", "sign", body)
    record = small.record()
    assert said(lambda: sheets_hold(record)) == (
        f"bram signed lifting/pack in another text than the record's (entry {name})"
    )
    small.write("Bram", "lifting/pack", "withdraw", {"entries": [name], "reason": "Said in error"})
    assert sheets_hold(small.record()) == "1 names were put to sheets as they stand in the record"


def test_whoever_seals_other_heads_anew_is_named_by_the_page_that_anybody_asks(
    small: worked.Show, record: Record, tmp_path: Path
) -> None:
    """The record is whole and its pages print another head, sealed by a certificate of the forger's own."""
    make_certificate(tmp_path, "Heron unit")
    key = next(iter(record["tips"]))
    forged = seal(print_anew(record, tips=record["tips"] | {key: [OTHER]}), tmp_path)
    found = verify(forged)
    assert [one.layer for one in found.layers if not one.holds] == ["pages"]
    assert ONLY_SINCE in found.layers[0].says
    assert as_lines(found)[-1] == "Not to be relied on: pages."
    sent = {"report": (BytesIO(forged), "report.pdf")}
    page = small.app.test_client().post("/verify", data=sent).text
    assert "Not to be relied on" in page
    assert (
        f'<strong class="alarm">pages: fails.</strong> the pages print names that are not in the record: {OTHER}'
        in page
    )
    assert '<strong class="">seal: holds.</strong>' in page
    assert ONLY_SINCE in page
