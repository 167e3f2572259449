"""Shows over HTTP: a chief plans, the phone signs, everybody fetches; errors name the field."""

import json
from copy import deepcopy

import pytest

from server.crew import jws
from server.sheets.unit import load
from server.shows import demo, make, plan, zone
from server.store import writing


def planned(chief):
    response = chief.web.post("/api/shows", json={"plan": demo.plan()})
    assert response.status_code == 201, response.text
    return response.json


def begin(chief, made):
    entries = [chief.write(made["log"], "show", "show", body=made["show"])]
    entries += [
        chief.write(made["log"], one["subject"], "assign", body=one["body"]) for one in made["assigns"]
    ]
    assert chief.answers(made["log"], entries) == ["stored"] * len(entries)


def test_a_plan_becomes_a_show_once_its_entry_is_signed(phone, problem):
    chief, other = phone("Ines", "chief"), phone("Lena", "camera")
    made = planned(chief)
    assert made["log"] == "show-reservoir-regatta-20310502"
    assert other.web.get("/api/shows").json == {"shows": []}
    problem(other.web.get(f"/api/shows/{made['log']}"), 404)
    begin(chief, made)
    assert other.web.get("/api/shows").json["shows"] == [{"id": made["log"], **made["show"]}]
    show = other.web.get(f"/api/shows/{made['log']}").json
    assert (show["id"], show["log"], show["yard_log"]) == (made["log"], made["log"], "yard-north")
    octets = other.web.get(f"/api/files/{show['digest']}").data
    assert jws.sha256(octets) == show["digest"] == made["show"]["digest"]
    definition = json.loads(octets)
    assert definition == {member: show[member] for member in definition}
    assert [position["id"] for position in show["positions"]] == ["1", "2", "3", "4", "5"]
    assert all(isinstance(sheet, str) for sheet in show["sheets"])
    assert {chief.card, other.card} <= set(show["cards"])
    assert jws.verify(chief.card, show["unit_key"])
    assert other.fetch(made["log"])["files_missing"] == []


def test_assigns_state_each_positions_chain(phone):
    made = planned(phone("Ines", "chief"))
    stated = {one["subject"]: one["body"] for one in made["assigns"]}
    assert len(made["assigns"]) == len(stated) == 5 * 4
    assert stated["position/2/chain/lens"] == {"tag": "LENS-1"}
    assert stated["position/2/chain/run"] == {"tags": ["CAB-001", "CAB-002", "CAB-003"]}


def test_a_second_show_of_one_name_and_day_has_its_own_log(phone):
    chief = phone("Ines", "chief")
    begin(chief, planned(chief))
    assert planned(chief)["log"] == "show-reservoir-regatta-20310502-2"


def test_only_a_chief_plans_and_only_a_chiefs_show_is_listed(phone, problem):
    rigger = phone("Bram", "rigger")
    problem(phone().web.post("/api/shows", json={"plan": demo.plan()}), 401)
    problem(rigger.web.post("/api/shows", json={"plan": demo.plan()}), 403)
    made = planned(phone("Ines", "chief"))
    assert rigger.answers(made["log"], [rigger.write(made["log"], "show", "show", body=made["show"])]) == [
        "stored"
    ]
    assert rigger.web.get("/api/shows").json == {"shows": []}


def test_a_units_shows_are_not_anothers(phone, problem):
    chief, south = phone("Ines", "chief"), phone("Mira", "chief", unit="south")
    made = planned(chief)
    begin(chief, made)
    assert south.web.get("/api/shows").json == {"shows": []}
    problem(south.web.get(f"/api/shows/{made['log']}"), 404)


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        (["title"], "", "plan.title"),
        (["zone"], "Europe/Nowhere", "plan.zone"),
        (["starts"], "2031-02-30", "plan.starts"),
        (["ends"], "2031-05-01", "plan.ends"),
        (["positions"], [], "plan.positions"),
        (["positions", 1, "chain", "lens"], "LENS-99", "plan.positions.1.chain.lens"),
        (["positions", 0, "height_m"], "high", "plan.positions.0.height_m"),
        (["positions", 2, "camera"], "box", "plan.positions.2.camera"),
    ],
)
def test_a_plan_that_cannot_be_names_its_field(phone, problem, path, value, field):
    asked = deepcopy(demo.plan())
    place = asked
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    problem(phone("Ines", "chief").web.post("/api/shows", json={"plan": asked}), 422, field)


@pytest.mark.parametrize("body", [{}, {"plan": None}, {"plan": []}])
def test_a_post_without_a_plan_names_it(phone, problem, body):
    problem(phone("Ines", "chief").web.post("/api/shows", json=body), 422, "plan")


def test_what_the_yard_says_of_kit_is_carried_over_verbatim(phone):
    chief = phone("Ines", "chief")
    made = planned(chief)
    begin(chief, made)
    said = chief.write("yard-north", "kit/CAB-014/state", "state", body={"state": "suspect"})
    other = chief.write("yard-north", "locker/L2", "remark", body={"text": "swept"})
    own = chief.write(made["log"], "kit/CAB-015/state", "state", body={"state": "suspect"})
    chief.answers("yard-north", [said, other])
    chief.answers(made["log"], [own])
    carried = chief.web.get(f"/api/shows/{made['log']}").json["carried_over"]
    assert carried == [{"log": "yard-north", "entries": [said]}]


def test_the_servers_own_device_begins_a_show_too(app, phone):
    with app.app_context(), writing() as session:
        log = make.begin(session, "north", plan.expand(load(demo.FOLDER), demo.next_plan()))
    listed = phone("Lena", "camera").web.get("/api/shows").json["shows"]
    assert [(show["id"], show["title"]) for show in listed] == [(log, "Market hall quiz")]


def test_the_units_own_definition_is_for_its_people(phone, problem):
    problem(phone().web.get("/api/unit"), 401)
    unit = phone("Lena", "camera").web.get("/api/unit").json
    assert unit["id"] == "north"
    assert {"L1", "L2"} <= {locker["id"] for locker in unit["lockers"]}


def test_clock_offsets_change_when_summer_time_ends():
    # Directive 2000/84/EC, article 3 (from memory): summer time ends at 01:00 UTC on the last Sunday of
    # October; in 2031 that is the 26th.
    assert zone.offsets("Europe/Berlin", "2031-10-24", "2031-10-27") == [
        {"from": "2031-10-10T00:00:00+00:00", "offset": "+02:00"},
        {"from": "2031-10-26T01:00:00+00:00", "offset": "+01:00"},
    ]


def test_one_more_position_is_planned_for_a_show_that_runs(phone, problem):
    chief, other = phone("Ines", "chief"), phone("Lena", "camera")
    whole = demo.plan()
    last = whole["positions"].pop()
    made = chief.web.post("/api/shows", json={"plan": whole}).json
    begin(chief, made)
    route = f"/api/shows/{made['log']}/positions"
    problem(other.web.post(route, json={"position": last}), 403)
    problem(chief.web.post("/api/shows/show-none/positions", json={"position": last}), 404)
    problem(chief.web.post(route, json={"position": whole["positions"][0]}), 422, "position")
    answer = chief.web.post(route, json={"position": last})
    assert answer.status_code == 201, answer.text
    octets = other.web.get(f"/api/files/{answer.json['digest']}").data
    assert jws.sha256(octets) == answer.json["digest"]
    added = json.loads(octets)
    assert [position["id"] for position in added["positions"]] == [last["id"]]
    assert f"position/{last['id']}/rig" in {json.loads(text)["id"] for text in added["sheets"]}
    stated = {one["subject"]: one["body"] for one in answer.json["assigns"]}
    assert stated[f"position/{last['id']}/chain/lens"] == {"tag": last["chain"]["lens"]}
    body = {"change": "add-sheets", "digest": answer.json["digest"], "reason": "one more camera"}
    chief.post(made["log"], [chief.write(made["log"], "show", "amend", body=body)])
    twice = problem(chief.web.post(route, json={"position": last}), 422, "position")
    assert "stands twice" in twice


def test_a_show_that_the_phone_holds_as_it_is_costs_a_header(phone):
    chief, other = phone("Ines", "chief"), phone("Lena", "camera")
    made = planned(chief)
    begin(chief, made)
    path = f"/api/shows/{made['log']}"
    first = other.web.get(path)
    held = {"If-None-Match": first.headers["ETag"]}
    again = other.web.get(path, headers=held)
    assert (again.status_code, again.data) == (304, b"")
    phone("Bram", "rigger")  # one more card
    changed = other.web.get(path, headers=held)
    assert changed.status_code == 200
    assert len(changed.json["cards"]) == len(first.json["cards"]) + 1
    chief.answers("yard-north", [chief.write("yard-north", "kit/CAB-001", "fault", body={"text": "Cut"})])
    carried = other.web.get(path, headers={"If-None-Match": changed.headers["ETag"]})
    assert carried.status_code == 200
    assert carried.json["carried_over"] != changed.json["carried_over"]
