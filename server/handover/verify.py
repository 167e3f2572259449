"""What a report's file proves by itself: layer by layer, without any database and without asking anybody.

The seal says that no byte was changed since it was put on, and by which certificate. The record inside is judged
whatever the seal says: whoever seals anew cannot make another's signature, nor fill a gap in a chain.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from server.crew import jws
from server.handover import RECORD
from server.handover.finding import Broken, Findings
from server.handover.verify_pages import pages_hold
from server.handover.verify_record import (
    attached_record,
    believed,
    carried_entries,
    chains,
    defined,
    entries_of,
    files_hold,
    heads_hold,
    sheets_hold,
    signed,
)
from server.handover.verify_seal import sealed


def verify(pdf: bytes, certificate: bytes | None = None) -> Findings:
    """Look at a report's file; `certificate` is the one (PEM or DER) that it should be sealed by, where known.

    A layer that rests on another which fails is not looked at: what it would say would mean nothing.
    """
    found = Findings()
    with _layer(found, "seal") as says:
        says(sealed(pdf, certificate))
    with _layer(found, "record") as says:
        record = attached_record(pdf)
        says(f"one {RECORD}, with {len(record['entries'])} entries and {len(record['cards'])} cards")
    if not found.layers[-1].holds:
        return found
    with _layer(found, "cards") as says:
        cards = believed(record)
        says(f"{len(cards)} keys have a card of the unit's key {jws.thumbprint(record['unit_key'])}")
    if not found.layers[-1].holds:
        return found
    with _layer(found, "entries") as says:
        entries = entries_of(record["entries"], record["log"])
        carried = carried_entries(record)
        says(
            f"{len(entries)} entries, and {len(carried)} carried over from other logs, are written as they must be"
        )
    if not found.layers[-1].holds:
        return found
    with _layer(found, "signatures") as says:
        signed([*entries, *carried], cards)
        says("every entry bears its writer's signature")
    with _layer(found, "chains") as says:
        says(chains(record, entries))
    with _layer(found, "heads") as says:
        says(heads_hold(record, entries))
    with _layer(found, "pages") as says:
        says(pages_hold(pdf, record))
    with _layer(found, "definition") as says:
        says(defined(record, entries))
    if found.layers[-1].holds:
        with _layer(found, "sheets") as says:
            says(sheets_hold(record))
    with _layer(found, "files") as says:
        says(files_hold(record))
    return found


def as_lines(found: Findings) -> list[str]:
    """The findings as printed, a line a layer and one to close."""
    lines = [f"{one.layer}: {'holds' if one.holds else 'FAILS'}: {one.says}" for one in found.layers]
    failing = ", ".join(one.layer for one in found.layers if not one.holds)
    return [*lines, f"Not to be relied on: {failing}." if failing else "Every layer holds."]


@contextmanager
def _layer(found: Findings, name: str) -> Iterator[Callable[[str], None]]:
    said: list[str] = []
    try:
        yield said.append
    except Broken as fault:
        found.note(name, str(fault), holds=False)
    except Exception as fault:  # whoever makes a file to deceive writes what no reader foresees
        found.note(
            name, f"cannot be judged, for nothing that this program writes reads so: {fault!r}", holds=False
        )
    else:
        found.note(name, said[0])
