"""Records of the kit: written by a chief or the server, indexed on receipt, made again, laid over the definitions."""

import json
import secrets

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from server.crew.cards import cards_of_unit, issue, unit_jwk
from server.kit.current import current
from server.kit.index import rebuild
from server.kit.models import KitSaid
from server.logbook import kinds, own
from server.logbook.entry import parse
from server.logbook.fold import Fold
from server.logbook.together import together
from server.shows import demo
from server.store import reading, writing
from tests.conftest import UNIT

YARD = f"yard-{UNIT}"


def record(phone, tag, fields, **more):
    return phone.write(YARD, f"kit/{tag}/record", "record", body={"fields": fields}, **more)


def name_of(entry):
    return parse(entry).name


def kit_of(phone):
    response = phone.web.get("/api/kit")
    assert response.status_code == 200, response.text
    return response.json


def item(phone, tag):
    return next((one for one in kit_of(phone)["items"] if one["tag"] == tag), None)


def indexed(app):
    with app.app_context(), reading() as session:
        rows = session.scalars(select(KitSaid).order_by(KitSaid.unit, KitSaid.log, KitSaid.subject))
        return [(r.unit, r.log, r.subject, r.standing, r.said, r.replaced) for r in rows]


def rebuilt(app):
    with app.app_context(), writing() as session:
        rebuild(session, UNIT)
    return indexed(app)


@pytest.fixture
def chief(phone):
    return phone("Ines", "chief")


def test_without_records_the_kit_is_as_defined(chief):
    kit = kit_of(chief)
    assert len(kit["items"]) > 100
    assert kit["faults"] == []
    assert item(chief, "SLING-2")["dates"]["due"] == "2031-05-03"
    assert {one["record"] for one in kit["items"]} == {None}


def test_a_chiefs_record_stands_in_place_of_the_definition(chief, app):
    dates = {"made": "2029-08-01", "examined": "2031-04-30", "due": "2031-10-30"}
    entry = record(chief, "SLING-2", {"mass_kg": "1.1", "dates": dates})
    assert chief.answers(YARD, [entry]) == ["stored"]
    said = item(chief, "SLING-2")
    assert (said["mass_kg"], said["dates"], said["name"]) == ("1.1", dates, "Round sling, 2 m")
    assert said["record"]["standing"] == "settled"
    assert said["record"]["values"][0]["by"] == chief.person
    unit = chief.web.get("/api/unit").json
    assert next(one for one in unit["kit"] if one["tag"] == "SLING-2")["dates"] == dates
    assert rebuilt(app) == indexed(app)


def test_a_show_is_made_of_the_kit_as_it_stands(chief):
    entries = [
        record(chief, "CAB-101", {"name": "Drum 101", "type": "drum", "about": {"cable": "101-way"}}),
        chief.write(
            YARD,
            "locker/T1/record",
            "record",
            body={
                "fields": {"holds": [{"tag": "CAB-101", "number": "1"}, {"tag": "CAB-001", "number": "1"}]}
            },
        ),
        record(chief, "CAB-002", {"gone": "Crushed, scrapped"}),
    ]
    assert chief.answers(YARD, entries) == ["stored"] * 3
    plan = demo.plan()
    plan["positions"][1]["chain"]["run"] = ["CAB-001", "CAB-101"]
    made = chief.web.post("/api/shows", json={"plan": plan})
    assert made.status_code == 201, made.text
    octets = chief.web.get(f"/api/files/{made.json['show']['digest']}").data
    definition = json.loads(octets)
    locker = next(one for one in definition["lockers"] if one["id"] == "T1")
    assert locker["holds"] == [{"tag": "CAB-101", "number": "1"}, {"tag": "CAB-001", "number": "1"}]
    assert "CAB-002" not in {one["tag"] for one in definition["kit"]}
    pack = next(json.loads(text) for text in definition["sheets"] if '"id":"locker/T1/pack"' in text)
    count = next(step for step in pack["steps"] if step["asks"] == "count")
    assert count["items"] == {"CAB-101": "1", "CAB-001": "1"}
    plan["positions"][1]["chain"]["run"] = ["CAB-002"]
    refused = chief.web.post("/api/shows", json={"plan": plan})
    assert [one["field"] for one in refused.json["errors"]] == ["plan.positions.1.chain.run.0"]


def test_two_chiefs_who_differ_are_disputed_and_the_definition_stands(chief, phone, app):
    other = phone("Edda", "chief")
    first, second = record(chief, "CAM-1", {"mass_kg": "40"}), record(other, "CAM-1", {"mass_kg": "42"})
    assert chief.answers(YARD, [first]) + other.answers(YARD, [second]) == ["stored", "stored"]
    said = item(chief, "CAM-1")
    assert (said["mass_kg"], said["record"]["standing"]) == ("41.0", "disputed")
    [fault] = kit_of(chief)["faults"]
    assert fault.startswith("kit/CAM-1/record: disputed, ")
    settled = record(chief, "CAM-1", {"mass_kg": "41.5"}, replaces=[name_of(first), name_of(second)])
    assert chief.answers(YARD, [settled]) == ["stored"]
    assert item(chief, "CAM-1")["mass_kg"] == "41.5"
    assert rebuilt(app) == indexed(app)


def test_only_a_chiefs_or_the_servers_record_in_the_yard_log_counts(chief, phone, app):
    rigger = phone("Bram", "rigger")
    assert rigger.answers(YARD, [record(rigger, "CAM-1", {"mass_kg": "1"})]) == ["stored"]
    elsewhere = chief.write("show-x", "kit/CAM-1/record", "record", body={"fields": {"mass_kg": "2"}})
    assert chief.answers("show-x", [elsewhere]) == ["stored"]
    assert item(chief, "CAM-1")["mass_kg"] == "41.0"
    with app.app_context(), writing() as session:
        own.write(session, UNIT, YARD, "kit/CAM-1/record", "record", {"fields": {"mass_kg": "3"}})
    assert item(chief, "CAM-1")["mass_kg"] == "3"


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"mass_kg": "heavy"}, "mass_kg: 'heavy' must be a decimal"),
        ({"mass_kg": "-1"}, "mass_kg: '-1' is below 0"),
        ({"dates": {"due": "2031-02-30"}}, "dates.due: '2031-02-30' must be a date"),
        ({"dates": {"bought": "2031-02-03"}}, "dates.bought: is not one of made"),
        ({"type": "gadget"}, "type: 'gadget' is not one of body"),
        ({"number": "0"}, "number: '0' must be a whole number above 0"),
        ({"about": {"wll_kg": 5}}, "about.wll_kg: must be some text"),
        ({"name": " x"}, "name: begins or ends with a space"),
    ],
)
def test_a_record_that_cannot_be_used_is_said_and_the_definition_stands(chief, fields, says):
    before = item(chief, "SLING-1")
    assert chief.answers(YARD, [record(chief, "SLING-1", fields)]) == ["stored"]
    [fault] = kit_of(chief)["faults"]
    assert fault.startswith(f"kit/SLING-1/record: cannot be used, {says}")
    after = item(chief, "SLING-1")
    assert {**after, "record": None} == before


def test_a_withdrawn_record_is_out_and_a_revoked_chiefs_too(chief, phone, app):
    one = record(chief, "CAM-1", {"mass_kg": "40"})
    assert chief.answers(YARD, [one]) == ["stored"]
    withdraw = chief.write(
        YARD, "kit/CAM-1/record", "withdraw", body={"entries": [name_of(one)], "reason": "mistyped"}
    )
    assert chief.answers(YARD, [withdraw]) == ["stored"]
    assert item(chief, "CAM-1")["mass_kg"] == "41.0"
    thief = phone("Otto", "chief")
    good, bad = record(thief, "CAM-2", {"mass_kg": "33"}), record(thief, "CAM-3", {"mass_kg": "1"})
    assert thief.answers(YARD, [good, bad]) == ["stored", "stored"]
    assert item(chief, "CAM-3")["mass_kg"] == "1"
    revoke = chief.write(
        YARD, f"device/{thief.kid}", "revoke", body={"device": thief.kid, "head": name_of(good)}
    )
    assert chief.answers(YARD, [revoke]) == ["stored"]
    assert (item(chief, "CAM-2")["mass_kg"], item(chief, "CAM-3")["mass_kg"]) == ("33", "18.6")
    assert rebuilt(app) == indexed(app)


def test_state_and_place_of_all_logs_stand_side_by_side_unless_one_replaces_the_other(chief, app):
    suspect = chief.write("show-a", "kit/CAM-1/state", "state", body={"state": "suspect", "reason": "hums"})
    assert chief.answers("show-a", [suspect]) == ["stored"]
    other = chief.write("show-b", "kit/CAM-1/state", "state", body={"state": "serviceable"})
    assert chief.answers("show-b", [other]) == ["stored"]
    said = [(one["log"], one["state"]) for one in item(chief, "CAM-1")["states"]]
    assert said == [("show-a", "suspect"), ("show-b", "serviceable")]
    proved = chief.write(
        "show-b",
        "kit/CAM-1/state",
        "state",
        body={"state": "serviceable", "reason": "hum gone with a new fuse"},
        replaces=[name_of(suspect), name_of(other)],
    )
    assert chief.answers("show-b", [proved]) == ["stored"]
    assert [one["log"] for one in item(chief, "CAM-1")["states"]] == ["show-b"]
    assert rebuilt(app) == indexed(app)


def test_a_units_kit_is_not_anothers(chief, phone, problem):
    south = phone("Mira", "chief", unit="south")
    assert chief.answers(YARD, [record(chief, "CAM-1", {"mass_kg": "40"})]) == ["stored"]
    assert item(south, "CAM-1")["mass_kg"] == "41.0"
    problem(phone().web.get("/api/kit"), 401)


def test_an_entry_that_came_before_its_card_is_indexed_with_it(chief, phone, app):
    late = phone()
    late.person = "late"
    text = record(late, "CAM-1", {"mass_kg": "39"})
    assert chief.answers(YARD, [text]) == ["wait"]
    with app.app_context(), writing() as session:
        issue(session, UNIT, late.jwk, "late", "Late", ["rigger"])
    later = chief.write(YARD, "note/1", "remark", body={"text": "card is here"})
    assert chief.answers(YARD, [later]) == ["stored"]
    assert item(chief, "CAM-1")["mass_kg"] == "41.0"
    with app.app_context(), writing() as session:
        issue(session, UNIT, late.jwk, "late", "Late", ["rigger", "chief"])
    assert item(chief, "CAM-1")["mass_kg"] == "39"
    assert rebuilt(app) == indexed(app)


WORDS = ("serviceable", "suspect", "unserviceable")


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["show-a", "show-b", "show-c"]),
            st.sampled_from(WORDS),
            st.sets(st.integers(0, 7), max_size=3),
            st.sampled_from(["state", "withdraw"]),
        ),
        min_size=1,
        max_size=8,
    )
)
def test_the_index_says_of_all_logs_what_the_fold_of_all_logs_says(app, chief, written):
    """Against `server/logbook/together.py`, for histories in which logs replace each other's entries in any way."""
    tag = f"T-{secrets.token_hex(6)}"
    subject, names, logs = f"kit/{tag}/state", [], {}
    for log, word, over, kind in written:
        replaces = [names[n] for n in over if n < len(names)]
        own = [name for name in replaces if name in {name_of(one) for one in logs.get(log, [])}]
        body = {"entries": own, "reason": "mistyped"} if kind == "withdraw" and own else {"state": word}
        text = chief.write(
            log, subject, "withdraw" if "entries" in body else "state", body=body, replaces=replaces
        )
        names.append(name_of(text))
        logs.setdefault(log, []).append(text)
        assert chief.answers(log, [text]) == ["stored"]
    with app.app_context(), reading() as session:
        indexed_values = [(log, one["name"]) for log, one in current(session, UNIT).values_of(subject)]
        fold = Fold(log="show-z", unit_key=unit_jwk(UNIT), kinds=kinds.load(), sheets=[])
        fold.add_cards(cards_of_unit(session, UNIT))
        fold.add_carried([{"log": log, "entries": entries} for log, entries in logs.items()])
    told = [(one.log, one.entry.name) for one in together(fold.held, subject).values]
    assert indexed_values == told
