"""What falls due: by weeks, and as a feed that another library reads, at an address that a new one replaces."""

import re
from datetime import UTC, date, datetime, timedelta

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from server.kit.calendar.falling import falling, monday
from server.kit.calendar.feed import feed
from server.kit.current import overlaid
from server.kit.due import due
from server.kit.pieces import pieces
from server.sheets.unit import load
from server.shows import demo
from tests.conftest import SITE, UNIT

PIECES = pieces(overlaid(load(demo.FOLDER), {}))
NOW = datetime(2031, 4, 28, 6, 30, tzinfo=UTC)


def read(octets):
    """The events of a feed as another library reads them."""
    calendar = vobject.readOne(octets.decode())
    assert calendar.name == "VCALENDAR"
    return list(calendar.vevent_list)


def test_another_library_reads_each_thing_on_its_day():
    events = read(feed("heron", "Heron unit", PIECES, "https://handline.example", NOW))
    found = {
        (line.split()[0], str(event.dtstart.value))
        for event in events
        for line in event.description.value.splitlines()
        if ", home " in line
    }
    assert found == {(one["tag"], due(one)) for one in PIECES if due(one)}
    assert len(found) > 40
    for event in events:
        assert isinstance(event.dtstart.value, date)
        assert event.dtend.value - event.dtstart.value == timedelta(days=1)
        assert event.dtstamp.value == NOW
        assert event.transp.value == "TRANSPARENT"
    uids = [event.uid.value for event in events]
    assert len(uids) == len(set(uids))
    assert "heron-2031-05-03-lifting-accessory@handline.example" in uids
    [sling] = [event for event in events if str(event.dtstart.value) == "2031-05-03"]
    assert sling.summary.value.startswith("1 due: Lifting accessories - bag, clips")
    assert sling.description.value.startswith("SLING-2 Round sling, 2 m, home L3\nLOLER 1998")


def test_lines_end_and_fold_as_the_standard_says():
    """RFC 5545, 3.1: lines end in CRLF and are folded at 75 octets; a calendar has PRODID and VERSION (3.6)."""
    octets = feed("heron", "Heron unit", PIECES, "https://handline.example", NOW)
    lines = octets.split(b"\r\n")
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert {b"VERSION:2.0", b"PRODID:-//Handline//Kit//EN"} <= set(lines)


def test_text_with_commas_and_breaks_comes_through():
    odd = {**PIECES[0], "name": 'Body; "spare", with a \\ and é', "dates": {"due": "2031-06-01"}}
    [event] = read(feed("u", "Unit, one; two", [odd], "http://127.0.0.1:8000", NOW))
    assert event.description.value.splitlines()[0] == f"{odd['tag']} {odd['name']}, home L1"


def test_the_coming_weeks():
    told = falling(PIECES, date(2031, 5, 4), 3)
    assert (told["today"], told["until"]) == ("2031-05-04", "2031-05-18")
    assert [one["tag"] for one in told["overdue"]] == ["SLING-2"]
    assert [(week["starts"], len(week["due"])) for week in told["weeks"]] == [
        ("2031-04-28", 1),
        ("2031-05-12", 19),
    ]
    assert told["weeks"][0]["due"][0]["tag"] == "CAB-017"
    assert told["weeks"][1]["due"][0] | {"rule": ""} == {
        "tag": "CAB-001",
        "name": "Drum 001, 101-way, 60 m",
        "home": "T1",
        "number": "1",
        "due": "2031-05-18",
        "of": "Drums of 101-way cable - continuity and insulation",
        "rule": "",
        "limb": None,
    }


@given(st.dates(date(2030, 1, 1), date(2032, 12, 31)), st.integers(1, 104))
def test_nothing_is_left_out_or_said_twice(today, weeks):
    told = falling(PIECES, today, weeks)
    said = [one["tag"] for one in told["overdue"]] + [
        one["tag"] for week in told["weeks"] for one in week["due"]
    ]
    assert sorted(said) == sorted(one["tag"] for one in PIECES if due(one) and due(one) <= told["until"])
    for week in told["weeks"]:
        starts = date.fromisoformat(week["starts"])
        assert starts.isoweekday() == 1
        assert all(monday(date.fromisoformat(one["due"])) == starts for one in week["due"])


@pytest.fixture
def chief(phone):
    return phone("Ines", "chief")


def path(answer):
    assert answer.status_code == 201, answer.text
    address = answer.json["address"]
    assert re.fullmatch(rf"{SITE}/calendar/[A-Za-z0-9_-]{{43}}\.ics", address)
    return address.removeprefix(SITE)


def test_the_address_needs_no_card_and_a_new_one_replaces_it(chief, phone, problem):
    assert chief.web.get("/api/kit/calendar").json == {"made": None}
    first = path(chief.web.post("/api/kit/calendar"))
    stranger = phone()
    answer = stranger.web.get(first)
    assert (answer.status_code, answer.mimetype) == (200, "text/calendar")
    assert len(read(answer.data)) > 5
    assert chief.web.get("/api/kit/calendar").json["made"].startswith("20")
    second = path(chief.web.post("/api/kit/calendar"))
    assert first != second
    problem(stranger.web.get(first), 404)
    assert stranger.web.get(second).status_code == 200
    assert chief.web.delete("/api/kit/calendar").status_code == 204
    problem(stranger.web.get(second), 404)
    problem(stranger.web.get("/calendar/guess.ics"), 404)


def test_the_address_is_kept_as_a_digest_only(chief, app):
    from sqlalchemy import select

    from server.kit.models import CalendarAddress
    from server.store import reading

    token = path(chief.web.post("/api/kit/calendar")).removeprefix("/calendar/").removesuffix(".ics")
    with app.app_context(), reading() as session:
        [row] = session.scalars(select(CalendarAddress)).all()
        assert (row.unit, token in row.token) == (UNIT, False)


def test_a_feed_is_of_its_own_unit_and_follows_the_records(chief, phone):
    south = phone("Mira", "chief", unit="south")
    mine, others = (path(one.web.post("/api/kit/calendar")) for one in (chief, south))
    entry = chief.write(
        f"yard-{UNIT}",
        "kit/SLING-2/record",
        "record",
        body={"fields": {"dates": {"examined": "2031-04-30", "due": "2031-10-30"}}},
    )
    assert chief.answers(f"yard-{UNIT}", [entry]) == ["stored"]
    days = [{str(event.dtstart.value) for event in read(phone().web.get(one).data)} for one in (mine, others)]
    assert ["2031-10-30" in found for found in days] == [True, False]
    assert ["2031-05-03" in found for found in days] == [False, True]


def test_only_a_chief_makes_addresses_and_any_card_sees_what_falls_due(phone, problem):
    rigger = phone("Bram", "rigger")
    problem(rigger.web.post("/api/kit/calendar"), 403)
    problem(rigger.web.delete("/api/kit/calendar"), 403)
    problem(phone().web.get("/api/kit/due"), 401)
    told = rigger.web.get("/api/kit/due?weeks=104").json
    assert set(told) == {"today", "until", "overdue", "weeks"}
    problem(rigger.web.get("/api/kit/due?weeks=0"), 422, "weeks")
