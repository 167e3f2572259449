"""The lifting register's rule, the same in both languages; dates by months; the statutory fields of a report."""

import json
import subprocess
from copy import deepcopy
from datetime import date
from pathlib import Path

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from server.kit import due, register
from server.kit.due import add_months, allowed, doubts, overdue
from server.kit.intervals import intervals
from server.kit.pieces import served_interval
from server.kit.schedule import FIELDS, lacking
from server.sheets.folder import read
from server.shows import demo
from tests.kit.make_register_vectors import ACCESSORY, CASES, FILE, KNOCK, SLING, vectors

VECTORS = json.loads(FILE.read_text())
WHOLE = {
    "employer": "Heron unit, 3 Weir Lane",
    "premises": "The yard, 3 Weir Lane",
    "identity": "SLING-1",
    "last_examined": "2030-07-20",
    "wll_kg": "1000",
    "configuration": "Straight 1, choked 0.8, basket 2",
    "limb": "6 months",
    "safe_to_operate": "yes",
    "defect": "none",
    "test": "none",
    "examiner": "O. Marsh, chartered engineer",
    "examiner_employer": "self-employed",
    "authenticated_by": "O. Marsh",
    "report_date": "2031-01-21",
}


def test_the_vectors_are_as_written_here():
    assert vectors() == VECTORS


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_servers_rule(case):
    piece, end = case["piece"], case["show_end"]
    assert due.due(piece) == case["due"]
    assert register.lift_stops(piece, end) == case["stops"]
    assert register.hoist_stops(piece, end, case["log"]) == case["hoist"]


def test_the_phones_rule():
    done = subprocess.run(
        ["node", "--test", str(Path(__file__).parent / "register.test.mjs")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@given(st.dates(max_value=date(9990, 1, 1)), st.integers(0, 100))
def test_months_are_added_as_dateutil_adds_them(day, months):
    assert add_months(day, months) == day + relativedelta(months=months)


def test_beyond_the_last_year_is_an_error():
    with pytest.raises(ValueError, match="beyond the year 9999"):
        add_months(date(9999, 8, 31), 6)


def test_months_are_no_number_of_days():
    """Three months after January 31 needs month arithmetic; due date is not day 183 (lifting.md, traps)."""
    assert add_months(date(2031, 1, 31), 3) == date(2031, 4, 30)
    assert add_months(date(2031, 1, 20), 6) == date(2031, 7, 20)
    assert (date(2031, 7, 20) - date(2031, 1, 20)).days == 181


def test_lif_1_due_dates_from_the_unit_s_own_intervals():
    """LOLER 9(3)(a): published (interval), computed."""
    for name, day in (("lifting-accessory", "2026-07-15"), ("lifting-equipment", "2027-01-15")):
        piece = {**SLING, "interval": served_interval(intervals()[name]), "dates": {"examined": "2026-01-15"}}
        assert allowed(piece) == day


def test_overdue_now_before_the_show_ends_and_on_the_day():
    piece = deepcopy(SLING)
    assert overdue(piece, "2031-07-20", "2031-07-20") is None
    assert overdue(piece, "2031-07-20", "2031-07-21") == "before the show ends"
    assert overdue(piece, "2031-07-21", "2031-07-25") == "now"
    assert overdue(piece, "2031-07-20") is None
    assert overdue({**piece, "dates": {}}, "2031-07-20") is None


def test_dates_that_do_not_fit_are_said():
    later = {**SLING, "dates": {"examined": "2031-01-20", "due": "2031-08-20"}}
    [said] = doubts(later)
    assert said.startswith(
        "Due 2031-08-20 is written, and 6 months after 2031-01-20 end on 2031-07-20, which governs"
    )
    assert doubts({**SLING, "dates": {}}) == ["Lifting accessories: no date of the last one is written."]
    other_limb = {**SLING, "about": {**SLING["about"], "limb": "12 months"}}
    assert [
        one.startswith("Examined under the limb of 12 months, and LOLER") for one in doubts(other_limb)
    ] == [True]
    for limb in ("scheme", "exceptional"):
        assert doubts({**SLING, "about": {**SLING["about"], "limb": limb}}) == []
    assert doubts(SLING) == []


def test_lif_2_a_report_without_its_limb_is_incomplete():
    """LOLER Sch. 1, paragraph 7: published."""
    whole = {**SLING, "about": WHOLE}
    assert lacking(whole) == []
    without = {**whole, "about": {key: text for key, text in WHOLE.items() if key != "limb"}}
    assert [(field.paragraph, field.at) for field in lacking(without)] == [("7", "about.limb")]


@pytest.mark.parametrize(
    "field", [one for one in FIELDS if one.paragraph not in {"6", "8(b), (c)"}], ids=lambda f: f.at
)
def test_each_field_of_the_schedule_is_asked_for(field):
    piece = {**SLING, "about": dict(WHOLE), "dates": dict(SLING["dates"])}
    group, key = field.at.split(".")
    del piece[group][key]
    assert lacking(piece) == [field]


def test_fields_that_are_asked_for_by_the_case():
    first = {**WHOLE, "first_after_installation": "yes"}
    del first["limb"]
    assert [one.at for one in lacking({**SLING, "about": first})] == ["about.installed_rightly"]
    assert lacking({**SLING, "about": {**first, "installed_rightly": "yes"}}) == []
    worn = {**WHOLE, "defect": "label worn"}
    assert [one.at for one in lacking({**SLING, "about": worn})] == ["about.repair"]
    assert lacking({**SLING, "about": {**worn, "repair": "new label by 2031-06-01"}}) == []


def test_events_that_ask_for_an_examination_are_events_of_the_unit():
    known = {event.id for event in read(demo.FOLDER, []).events}
    asked = {name for interval in intervals().values() for name in interval.after}
    assert asked <= known
    assert {"knocked", "overloaded", "idle"} <= set(intervals()["lifting-accessory"].after)


def test_asking_names_each_event_once():
    two = {**SLING, "interval": ACCESSORY, "events": [KNOCK, {**KNOCK, "name": "b", "event": "overloaded"}]}
    assert register.asking(two) == ["knock-1", "b"]
