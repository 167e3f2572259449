"""Dates and the lifting register over HTTP: what entries say of a piece decides whether it may be assigned."""

from server.logbook.entry import parse
from tests.conftest import UNIT

YARD, SHOW, END = f"yard-{UNIT}", "show-regatta", "2031-05-05"


def register(phone, **query):
    answer = phone.web.get("/api/kit/register", query_string={"ends": END, "log": SHOW} | query)
    assert answer.status_code == 200, answer.text
    return {one["tag"]: one for one in answer.json["pieces"]}


def stops(phone, tag, **query):
    return [one["stop"] for one in register(phone, **query)[tag]["stops"]]


def test_the_demos_register(phone):
    rigger = phone("Bram", "rigger")
    found = register(rigger)
    assert {"BAG-1", "CLIP-4", "BLOCK-2", "ROPE-1", "SHACKLE-3"} <= set(found)
    assert not {"CAM-1", "EXT-1", "CAB-001"} & set(found)
    assert {tag for tag, one in found.items() if one["stops"]} == {"SLING-2"}
    assert found["SLING-2"]["stops"] == [
        {"stop": "overdue", "says": f"Thorough examination due 2031-05-03, before the show ends on {END}."}
    ]
    assert stops(rigger, "SLING-2", ends="2031-05-03") == []
    assert [one["stop"] for one in found["BAG-1"]["hoist_stops"]] == ["not-checked"]
    assert found["BAG-1"]["due"] == "2031-07-20"
    assert found["BAG-1"]["interval"]["limb"] == "6 months"


def test_a_pre_use_check_is_a_lift_leaders_and_kept_apart(phone):
    leader, rigger = phone("Lift", "lift-leader"), phone("Bram", "rigger")
    passed = {"choice": "passed"}
    by_rigger = rigger.write(SHOW, "kit/BAG-1/pre-use", "choice", body=passed)
    assert rigger.answers(SHOW, [by_rigger]) == ["stored"]
    assert [one["stop"] for one in register(rigger)["BAG-1"]["hoist_stops"]] == ["not-checked"]
    by_leader = leader.write(
        SHOW, "kit/BAG-1/pre-use", "choice", body=passed, replaces=[parse(by_rigger).name]
    )
    assert leader.answers(SHOW, [by_leader]) == ["stored"]
    bag = register(rigger)["BAG-1"]
    assert (bag["hoist_stops"], bag["dates"]["examined"]) == ([], "2031-01-20")
    assert [one["stop"] for one in register(rigger, log="show-next")["BAG-1"]["hoist_stops"]] == [
        "not-checked"
    ]
    failed = {"choice": "failed", "reason": "seam cut"}
    again = leader.write(SHOW, "kit/BAG-1/pre-use", "choice", body=failed, replaces=[parse(by_leader).name])
    assert leader.answers(SHOW, [again]) == ["stored"]
    assert stops(rigger, "BAG-1") == ["check-failed"]
    assert stops(rigger, "BAG-1", log="show-next") == ["check-failed"]


def test_a_dropped_piece_asks_for_an_examination_until_one_is_recorded(phone):
    chief, rigger = phone("Ines", "chief"), phone("Bram", "rigger")
    drop = rigger.write(SHOW, "kit/CLIP-1", "event", body={"event": "knocked", "text": "off the tower"})
    assert rigger.answers(SHOW, [drop]) == ["stored"]
    clip = register(rigger)["CLIP-1"]
    assert [one["stop"] for one in clip["stops"]] == ["exceptional"]
    assert clip["asks"] == [parse(drop).name]
    assert clip["stops"][0]["says"] == "Knocked or dropped on 2031-05-02: it asks for a thorough examination."
    fields = {
        "dates": {"made": "2029-03-01", "examined": "2031-05-02", "due": "2031-11-02"},
        "about": {**clip["about"], "limb": "exceptional"},
    }
    same_day = chief.write(YARD, "kit/CLIP-1/record", "record", body={"fields": fields})
    assert chief.answers(YARD, [same_day]) == ["stored"]
    assert stops(rigger, "CLIP-1") == ["exceptional"]
    knowing = chief.write(
        YARD,
        "kit/CLIP-1/record",
        "record",
        body={"fields": fields},
        replaces=[parse(same_day).name],
        rests_on=[parse(drop).name],
    )
    assert chief.answers(YARD, [knowing]) == ["stored"]
    assert stops(rigger, "CLIP-1") == []


def test_a_report_is_attached_as_a_file_and_named_while_it_has_not_arrived(phone):
    from server.crew import jws

    chief = phone("Ines", "chief")
    octets = b"%PDF-1.7 report of thorough examination"
    about = {**register(chief)["BAG-1"]["about"], "file": jws.sha256(octets)}
    entry = chief.write(YARD, "kit/BAG-1/record", "record", body={"fields": {"about": about}})
    assert chief.answers(YARD, [entry]) == ["stored"]
    assert register(chief)["BAG-1"]["report_here"] is False
    assert chief.fetch(YARD)["files_missing"] == [jws.sha256(octets)]
    assert chief.web.put(f"/api/files/{jws.sha256(octets)}", data=octets).status_code == 204
    bag = register(chief)["BAG-1"]
    assert (bag["report_here"], register(chief)["CLIP-1"]["report_here"]) == (True, None)
    assert "7" not in {one["paragraph"] for one in bag["lacking"] if one["at"] == "about.limb"}


def test_suspect_or_disputed_gear_is_stopped(phone):
    chief, other = phone("Ines", "chief"), phone("Edda", "chief")
    suspect = chief.write(SHOW, "kit/ROPE-1/state", "state", body={"state": "suspect", "reason": "glazed"})
    assert chief.answers(SHOW, [suspect]) == ["stored"]
    assert stops(chief, "ROPE-1") == ["unfit"]
    for one, mass in ((chief, "6.8"), (other, "7.0")):
        text = one.write(YARD, "kit/ROPE-2/record", "record", body={"fields": {"mass_kg": mass}})
        assert one.answers(YARD, [text]) == ["stored"]
    assert stops(chief, "ROPE-2") == ["disputed"]


def test_every_dated_thing_says_when_it_is_due(phone, problem):
    rigger = phone("Bram", "rigger")
    items = {one["tag"]: one for one in rigger.web.get("/api/kit", query_string={"ends": END}).json["items"]}
    dated = {tag: one for tag, one in items.items() if one["interval"]}
    assert {one["interval"]["id"] for one in dated.values()} >= {
        "lifting-accessory",
        "lifting-equipment",
        "portable-equipment",
        "drum-cores",
        "drum-fibre",
        "pressure-vessel",
        "extinguisher",
    }
    assert all(one["due"] == one["dates"]["due"] and one["doubts"] == [] for one in dated.values())
    late = {tag for tag, one in items.items() if one["overdue"] == "before the show ends"}
    assert late == {"SLING-2", "CAB-017"}
    problem(rigger.web.get("/api/kit", query_string={"ends": "soon"}), 422, "ends")
    problem(phone().web.get("/api/kit/register"), 401)
