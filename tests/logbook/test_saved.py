"""A file that a phone saved, taken in at the server."""

import json
import zipfile
from io import BytesIO

import pytest

from server.crew import jws
from server.logbook.saved import NotSaved, hand_in
from server.store import writing

LOG = "show-1"
PHOTO = b"\xff\xd8 a photo"
STRAY = b"named by nobody"


def saved(phone, entries, files=()):
    """As the phone's own save writes it: record.json, and files by their digest."""
    octets = BytesIO()
    with zipfile.ZipFile(octets, "w") as packed:
        packed.writestr("record.json", json.dumps({"cards": [phone.card], "entries": entries, "types": {}}))
        for content in files:
            packed.writestr(f"files/{jws.sha256(content)}", content)
    return octets.getvalue()


def taken(app, octets):
    with app.app_context(), writing() as session:
        return hand_in(session, "north", octets)


def test_entries_of_all_logs_and_the_files_they_name_are_taken_in_and_twice_does_nothing(app, phone):
    one, other = phone("Bram", "rigger"), phone("Lena", "camera")
    photo = one.write(LOG, "position/2", "photo", body={"file": jws.sha256(PHOTO)})
    entries = [photo, one.write("yard-north", "kit/CAB-001", "fault", body={"text": "Cut"}), "nonsense"]
    said = taken(app, saved(one, entries, [PHOTO, STRAY]))
    assert said.startswith("2 new entries and 1 files taken in; 0 were here already, 0 wait")
    assert "1 are no entries" in said
    assert other.fetch(LOG)["entries"] == [photo]
    assert other.fetch("yard-north")["entries"] == [entries[1]]
    assert other.web.get(f"/api/files/{jws.sha256(PHOTO)}").data == PHOTO
    assert other.web.get(f"/api/files/{jws.sha256(STRAY)}").status_code == 404
    assert taken(app, saved(one, entries, [PHOTO])).startswith("0 new entries and 0 files taken in; 2 were")


def test_what_a_stranger_signed_waits_and_what_was_changed_is_refused(app, phone):
    one = phone("Bram", "rigger")
    header, payload, signature = one.write(LOG).split(".")
    false = f"{header}.{payload}.{'A' * len(signature)}"
    assert "1 are no entries" in taken(app, saved(one, [false]))
    south = phone("Mira", "chief", unit="south")
    assert "1 wait for a card" in taken(app, saved(south, [south.write(LOG)]))
    assert one.fetch(LOG)["entries"] == []


@pytest.mark.parametrize("octets", [b"", b"PK", b"a picture", saved.__doc__.encode()])
def test_a_file_that_is_none_is_told_so(app, octets):
    with pytest.raises(NotSaved, match="not a file that a phone saved"):
        taken(app, octets)


@pytest.mark.parametrize("record", [b"[]", b"{}", b'{"entries": 1, "cards": []}', b"\xff"])
def test_a_file_without_a_record_is_told_so(app, record):
    octets = BytesIO()
    with zipfile.ZipFile(octets, "w") as packed:
        packed.writestr("record.json", record)
    with pytest.raises(NotSaved):
        taken(app, octets.getvalue())


def test_a_file_cut_short_takes_nothing_in(app, phone):
    one = phone("Bram", "rigger")
    entries = [one.write(LOG) for _ in range(3)]
    with pytest.raises(NotSaved):
        taken(app, saved(one, entries)[:-40])
    assert one.web.get(f"/api/logs/{LOG}/entries").status_code == 404
