"""A plan becomes a show, or an error that names its field."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from server.sheets.unit import load
from server.shows import demo
from server.shows.plan import PlanError, add_position, expand

UNIT = load(demo.FOLDER)
Plan = dict[str, Any]


def test_definition_has_what_a_phone_needs() -> None:
    show = expand(UNIT, demo.plan())
    assert set(show) == {
        "title", "site", "zone", "starts", "ends", "unit", "positions", "vehicles", "lockers", "kit",
        "people", "events", "intervals", "reasons", "sheets",
    }  # fmt: skip
    assert show["unit"] == {"id": "heron", "name": "Heron unit"}
    assert show == json.loads(json.dumps(show))


def test_demo_unit_is_as_large_as_it_should_be() -> None:
    kit = expand(UNIT, demo.plan())["kit"]
    cameras = sorted(item["about"]["camera"] for item in kit if item["type"] == "body")
    assert cameras == ["four-tube", "three-sensor", "three-sensor", "three-sensor", "three-tube"]
    assert sum(item["type"] == "drum" for item in kit) >= 18
    assert sum(item["type"] == "control-unit" for item in kit) == 6
    assert sum(item["about"].get("kind") == "clip" for item in kit) == 4
    assert [p["way_up"] for p in demo.plan()["positions"]].count("hoisted") == 2


def test_runs_reach_their_positions() -> None:
    for plan in (demo.plan(), demo.next_plan()):
        for position in plan["positions"]:
            run = sum(float(UNIT.items[tag].about["length_m"]) for tag in position["chain"]["run"])
            assert run >= float(position["distance_m"]) + float(position["height_m"])


def put(*path: str | int, value: object) -> Callable[[Plan], None]:
    def change(plan: Plan) -> None:
        inner: Any = plan
        for key in path[:-1]:
            inner = inner[key]
        inner[path[-1]] = value

    return change


BAD = {
    "title": put("title", value="  "),
    "site": put("site", value="x" * 201),
    "zone": put("zone", value="Europe/Nowhere"),
    "starts": put("starts", value="2 May"),
    "ends": put("ends", value="2031-05-01"),
    "people": put("people", value=[demo.PEOPLE[0]]),
    "people.0.roles.0": put("people", value=[{"person": "a", "name": "A", "roles": ["juggler"]}]),
    "people.0.roles": put("people", value=[{"person": "a", "name": "A", "roles": []}]),
    "people.0.person": put("people", value=[{"person": "a/b", "name": "A", "roles": ["chief"]}]),
    "positions": put("positions", value=[]),
    "positions.0.id": put("positions", 0, "id", value="a/b"),
    "positions.0": put("positions", 0, value="tower"),
    "positions.1.camera": put("positions", 1, "camera", value="three-tube"),
    "positions.1.height_m": put("positions", 1, "height_m", value="-1"),
    "positions.2.way_up": put("positions", 2, "way_up", value="thrown"),
    "positions.0.tower": put("positions", 0, "tower", value=None),
    "positions.0.chain": put("positions", 0, "chain", value=None),
    "positions.0.chain.lens": put("positions", 0, "chain", "lens", value="LENS-99"),
    "positions.0.chain.body": put("positions", 0, "chain", "body", value="LENS-3"),
    "positions.0.chain.run": put("positions", 0, "chain", "run", value=[]),
    "positions.0.chain.run.0": put("positions", 0, "chain", "run", value=["CAB-001"]),
    "positions.0.chain.control": put("positions", 0, "chain", "control", value="CU-1"),
    "positions.1.column": put("positions", 1, "column", value="LEGS-1"),
}


@pytest.mark.parametrize("field", BAD)
def test_bad_plan_names_its_field(field: str) -> None:
    plan = copy.deepcopy(demo.plan())
    BAD[field](plan)
    with pytest.raises(PlanError) as raised:
        expand(UNIT, plan)
    assert raised.value.field == field
    assert raised.value.reason


@pytest.mark.parametrize("plan", [None, [], "show", 7])
def test_a_plan_is_an_object(plan: object) -> None:
    with pytest.raises(PlanError, match="plan: must be an object"):
        expand(UNIT, plan)


def test_missing_role_names_the_step_that_needs_it() -> None:
    plan = copy.deepcopy(demo.plan())
    for person in plan["people"]:
        person["roles"] = [role for role in person["roles"] if role != "lift-leader"] or ["chief"]
    with pytest.raises(PlanError, match="nobody is lift-leader"):
        expand(UNIT, plan)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (put("positions", 3, "chain", "lens", value="LENS-3"), "LENS-3 stands at 1 and at 4"),
        (put("positions", 3, "chain", "run", value=["CAB-012", "CAB-012"]), "CAB-012 is twice in the run"),
        (put("positions", 3, "id", value="1"), "the id '1' stands twice"),
        (put("positions", 3, "legs", value="LEGS-1"), "LEGS-1 stands at 3 and at 4"),
    ],
)
def test_nothing_stands_in_two_places(change: Callable[[Plan], None], reason: str) -> None:
    plan = copy.deepcopy(demo.plan())
    change(plan)
    with pytest.raises(PlanError, match=reason):
        expand(UNIT, plan)


def test_a_position_is_added_with_only_its_own_sheets() -> None:
    whole = expand(UNIT, demo.plan())
    plan = copy.deepcopy(demo.plan())
    last = plan["positions"].pop(3)
    before = expand(UNIT, plan)
    added = add_position(UNIT, before, last)
    ids = {json.loads(text)["id"] for text in added["sheets"]}
    assert added["positions"] == [last]
    assert added["kit"] == []
    assert added["people"] == []
    assert {name.split("/")[0] for name in ids} == {"position", "run", "tower"}
    assert not ids & {json.loads(text)["id"] for text in before["sheets"]}
    made = {json.loads(text)["id"]: text for text in whole["sheets"]}
    assert all(made[json.loads(text)["id"]] == text for text in added["sheets"])


def test_an_added_position_cannot_take_what_stands_elsewhere() -> None:
    show = expand(UNIT, demo.plan())
    second = copy.deepcopy(demo.plan()["positions"][1]) | {"id": "6"}
    with pytest.raises(PlanError, match="LENS-1 stands at 2 and at 6"):
        add_position(UNIT, show, second)
