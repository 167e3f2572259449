"""Fetching over HTTP: cursors, heads and gaps, files that are missing, and a reader among writers."""

from threading import Barrier, Event, Thread

import pytest
from sqlalchemy import delete

from server.crew import jws
from server.logbook.entry import parse
from server.logbook.models import EntryRow, FileNamed, Log
from server.logbook.receipt import receive
from server.store import writing

LOG = "show-1"
PHOTO = b"\xff\xd8 a photo of the seal"


def name(text):
    return parse(text).name


def all_pages(phone, limit):
    entries, cursor, more = [], None, True
    while more:
        page = phone.fetch(LOG, limit=limit, **({} if cursor is None else {"cursor": cursor}))
        entries += page["entries"]
        cursor, more = page["cursor"], page["more"]
        assert len(page["entries"]) <= limit
    return entries, cursor


@pytest.mark.parametrize("limit", [1, 2, 5, 6])
def test_pages_hold_every_entry_once_in_order(phone, limit):
    one = phone("Bram", "rigger")
    texts = [one.write(LOG) for _ in range(5)]
    one.answers(LOG, texts)
    entries, cursor = all_pages(one, limit)
    assert entries == texts
    again = one.fetch(LOG, cursor=cursor)
    assert (again["entries"], again["more"], again["cursor"]) == ([], False, cursor)
    later = one.write(LOG)
    one.answers(LOG, [later])
    assert one.fetch(LOG, cursor=cursor)["entries"] == [later]


def test_a_cursor_of_another_history_restarts(phone):
    one = phone("Bram", "rigger")
    for log in (LOG, "show-2"):
        one.answers(log, [one.write(log), one.write(log)])
    elsewhere = one.fetch("show-2", limit=1)["cursor"]
    for cursor in (elsewhere, "nonsense", "", jws.b64(b"99 x"), jws.b64(b"-1 x"), jws.b64(b"9" * 40)):
        assert one.fetch(LOG, cursor=cursor) == {"restart": True}
    assert one.fetch("show-3", cursor=elsewhere) == {"restart": True}


def test_a_restored_server_restarts_and_takes_the_entries_again(app, phone, problem):
    one = phone("Bram", "rigger")
    texts = [one.write(LOG) for _ in range(3)]
    one.answers(LOG, texts)
    cursor = one.fetch(LOG)["cursor"]
    with app.app_context(), writing() as session:
        for table in (EntryRow, FileNamed, Log):
            session.execute(delete(table))
    problem(one.web.get(f"/api/logs/{LOG}/entries"), 404)
    assert one.fetch(LOG, cursor=cursor) == {"restart": True}
    assert one.answers(LOG, [texts[1]]) == ["stored"]
    assert one.fetch(LOG, cursor=cursor) == {"restart": True}
    assert one.answers(LOG, texts) == ["stored", "known", "stored"]
    assert sorted(one.fetch(LOG)["entries"]) == sorted(texts)


@pytest.mark.parametrize(("query", "field"), [({"limit": 0}, "limit"), ({"limit": "x"}, "limit")])
def test_a_page_that_cannot_be_is_said(phone, problem, query, field):
    one = phone("Bram", "rigger")
    one.answers(LOG, [one.write(LOG)])
    problem(one.web.get(f"/api/logs/{LOG}/entries", query_string=query), 422, field)


def test_heads_and_gaps_follow_what_arrives(phone):
    one = phone("Bram", "rigger")
    texts = [one.write(LOG) for _ in range(5)]
    one.answers(LOG, [texts[0], texts[2], texts[4]])
    assert one.fetch(LOG)["heads"] == {one.kid: {"tips": [name(texts[0])], "gaps": [[2, 2], [4, 4]]}}
    one.answers(LOG, [texts[3]])
    assert one.fetch(LOG)["heads"] == {one.kid: {"tips": [name(texts[0])], "gaps": [[2, 2]]}}
    one.answers(LOG, [texts[1]])
    assert one.fetch(LOG)["heads"] == {one.kid: {"tips": [name(texts[4])], "gaps": []}}


def test_a_forked_phone_has_both_tips(phone):
    one = phone("Bram", "rigger")
    first = one.write(LOG)
    second = one.write(LOG)
    other = one.write(LOG, number=2, previous=name(first), body={"after": "the battery"})
    one.answers(LOG, [first, second, other])
    assert one.fetch(LOG)["heads"] == {one.kid: {"tips": sorted([name(second), name(other)]), "gaps": []}}


def test_cards_are_those_of_the_writers_and_of_whom_they_wrote_for(phone):
    one, other, third = phone("Bram", "rigger"), phone("Lena", "camera"), phone("Petra", "engineer")
    one.answers(LOG, [one.write(LOG, **{"for": other.person})])
    assert sorted(third.fetch(LOG)["cards"]) == sorted([one.card, other.card])


def test_a_photo_is_missing_until_it_arrives_and_comes_back_octet_for_octet(phone, problem):
    one, other = phone("Bram", "rigger"), phone("Lena", "camera")
    digest = jws.sha256(PHOTO)
    one.answers(LOG, [one.write(LOG, kind="photo", body={"file": digest})])
    assert other.fetch(LOG)["files_missing"] == [digest]
    problem(other.web.get(f"/api/files/{digest}"), 404)
    for _ in range(2):
        assert one.web.put(f"/api/files/{digest}", data=PHOTO, content_type="image/jpeg").status_code == 204
    assert other.fetch(LOG)["files_missing"] == []
    got = other.web.get(f"/api/files/{digest}")
    assert (got.data, got.mimetype) == (PHOTO, "application/octet-stream")
    assert got.headers["Content-Disposition"] == "attachment"
    problem(phone("Mira", "sound", unit="south").web.get(f"/api/files/{digest}"), 404)


def test_a_file_under_another_digest_is_not_kept(phone, problem):
    one, digest = phone("Bram", "rigger"), jws.sha256(PHOTO)
    problem(one.web.put(f"/api/files/{digest}", data=PHOTO[:-1]), 422, "sha256")
    problem(one.web.get(f"/api/files/{digest}"), 404)
    problem(one.web.put("/api/files/short", data=PHOTO), 422, "sha256")
    problem(phone().web.put(f"/api/files/{digest}", data=PHOTO), 401)


def test_a_file_is_within_its_size_and_its_phones_quota(phone, problem, monkeypatch):
    one = phone("Bram", "rigger")
    largest = bytes(16 * 1024 * 1024)
    assert one.web.put(f"/api/files/{jws.sha256(largest)}", data=largest).status_code == 204
    larger = largest + b"\0"
    assert "16 MiB" in problem(one.web.put(f"/api/files/{jws.sha256(larger)}", data=larger), 413)
    monkeypatch.setattr("server.logbook.files.QUOTA", len(largest) + len(PHOTO) - 1)
    problem(one.web.put(f"/api/files/{jws.sha256(PHOTO)}", data=PHOTO), 507)
    other = phone("Lena", "camera")
    assert other.web.put(f"/api/files/{jws.sha256(PHOTO)}", data=PHOTO).status_code == 204


def test_a_reader_sees_nothing_of_a_post_before_it_is_whole_and_misses_nothing_after(app, phone):
    """One post is held open after its entries were given receipt numbers; another waits behind it."""
    one, other = phone("Bram", "rigger"), phone("Lena", "camera")
    first = one.write(LOG)
    one.answers(LOG, [first])
    cursor = one.fetch(LOG)["cursor"]
    slow, quick = one.write(LOG), other.write(LOG)
    behind = Thread(target=other.answers, args=(LOG, [quick]))
    with app.app_context(), writing() as session:
        assert receive(session, "north", LOG, [], [slow])[0].answer == "stored"
        behind.start()
        seen = []
        reader = Thread(target=lambda: seen.append(one.fetch(LOG, cursor=cursor)))
        reader.start()
        reader.join()
        assert seen[0]["entries"] == []
    behind.join()
    assert one.fetch(LOG, cursor=seen[0]["cursor"])["entries"] == [slow, quick]


def test_a_paging_reader_among_two_writers_misses_nothing(phone):
    writers, reader = [phone("Bram", "rigger"), phone("Lena", "camera")], phone("Petra", "engineer")
    opening = reader.write(LOG)
    reader.answers(LOG, [opening])
    batches = {one.kid: [[one.write(LOG) for _ in range(3)] for _ in range(8)] for one in writers}
    together, done, failures = Barrier(3), [Event(), Event()], []

    def write(one, ended):
        try:
            together.wait()
            for batch in batches[one.kid]:
                assert one.answers(LOG, batch) == ["stored"] * 3
        except BaseException as fault:
            failures.append(fault)
        finally:
            ended.set()

    threads = [Thread(target=write, args=pair) for pair in zip(writers, done, strict=True)]
    for thread in threads:
        thread.start()
    together.wait()
    read, cursor, last = [], None, False
    while not last:
        last = all(ended.is_set() for ended in done)
        more = True
        while more:
            page = reader.fetch(LOG, limit=4, **({} if cursor is None else {"cursor": cursor}))
            read += page["entries"]
            cursor, more = page["cursor"], page["more"]
    for thread in threads:
        thread.join()
    assert failures == []
    written = [text for of_one in batches.values() for batch in of_one for text in batch]
    assert sorted(read) == sorted([opening, *written])
    assert read == all_pages(reader, 1000)[0]
    assert {kid: head["gaps"] for kid, head in reader.fetch(LOG)["heads"].items()} == {
        kid: [] for kid in (*batches, reader.kid)
    }
