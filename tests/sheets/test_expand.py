"""The demo's show, expanded: whole, in an order that can be worked, in the contract of a step."""

import json
from typing import Any

import networkx as nx
import pytest

from server.sheets import words
from server.sheets.expand import DEFERS, canonical
from server.sheets.unit import load
from server.shows import demo
from server.shows.plan import expand

UNIT = load(demo.FOLDER)
STEP = {
    "id", "subject", "asks", "roles", "after", "hazard", "minutes", "ended_by", "about", "do", "done",
    "caution", "second", "unit", "low", "high", "limit_of", "choices", "assess",
}  # fmt: skip


@pytest.fixture(scope="module", params=[demo.plan, demo.next_plan])
def show(request: pytest.FixtureRequest) -> dict[str, Any]:
    return expand(UNIT, request.param())


def sheets_of(show: dict[str, Any]) -> dict[str, Any]:
    return {sheet["id"]: sheet for sheet in map(json.loads, show["sheets"])}


def steps_of(show: dict[str, Any]) -> dict[str, Any]:
    return {step["subject"]: step for sheet in sheets_of(show).values() for step in sheet["steps"]}


def test_every_awaited_step_exists_and_nothing_goes_round(show: dict[str, Any]) -> None:
    steps = steps_of(show)
    graph = nx.DiGraph((subject, awaited) for subject, step in steps.items() for awaited in step["after"])
    assert graph.number_of_edges() > len(steps) / 2
    assert set(graph) <= set(steps)
    assert nx.is_directed_acyclic_graph(graph)


def test_every_step_has_somebody_and_every_sheet_a_signer(show: dict[str, Any]) -> None:
    roles = {role for person in show["people"] for role in person["roles"]}
    assert all(roles & set(step["roles"]) for step in steps_of(show).values())
    assert all(roles & set(sheet["signed_by"]) and sheet["statement"] for sheet in sheets_of(show).values())


def test_ids_are_one_each_and_subjects_begin_with_their_sheet(show: dict[str, Any]) -> None:
    sheets = sheets_of(show)
    assert len(sheets) == len(show["sheets"])
    assert len(steps_of(show)) == sum(len(sheet["steps"]) for sheet in sheets.values())
    for sheet in sheets.values():
        for step in sheet["steps"]:
            assert step["subject"].rpartition("/")[0] == sheet["id"]
            assert step["id"] == step["subject"].replace("/", ".")


def test_steps_have_the_members_that_folds_and_screens_read(show: dict[str, Any]) -> None:
    events = {event["id"] for event in show["events"]}
    for step in steps_of(show).values():
        assert set(step) == STEP | ({"items", "names"} if step["asks"] == "count" else set())
        assert step["asks"] in words.ASKS
        assert step["second"] in (None, "sees", "other-end")
        assert set(step["ended_by"]) <= events
        assert set(step["about"]) <= set(words.ABOUT)
        assert "{" not in step["do"] + step["done"] + step["caution"]
        assert step["done"].lower() not in ("ok", "done")
        assert (step["asks"] == "choice") == bool(step["choices"])
        assert (step["asks"] == "reading") == (step["unit"] is not None)


def test_a_hazard_says_what_hurts_and_who_decides(show: dict[str, Any]) -> None:
    hazards = [step for step in steps_of(show).values() if step["hazard"]]
    assert hazards
    assert all(step["caution"].endswith(DEFERS) and step["caution"] != DEFERS for step in hazards)


def test_lockers_are_counted_at_pack_at_de_rig_and_at_stow(show: dict[str, Any]) -> None:
    steps, kit = steps_of(show), {item["tag"]: item for item in show["kit"]}
    for stage in ("pack", "de-rig", "stow"):
        total: dict[str, int] = {}
        for locker in show["lockers"]:
            items = steps[f"locker/{locker['id']}/{stage}/count"]["items"]
            assert items == {line["tag"]: line["number"] for line in locker["holds"]}
            for tag, number in items.items():
                total[tag] = total.get(tag, 0) + int(number)
        assert total == {tag: int(item["number"]) for tag, item in kit.items()}


def test_a_position_counts_what_stands_there() -> None:
    items = steps_of(expand(UNIT, demo.plan()))["position/2/de-rig/counted"]["items"]
    assert {"CAM-1", "LENS-1", "COL-1", "CAB-001", "CAB-002", "CAB-003", "VF-1", "HEAD-1"} <= set(items)
    assert not {"CU-1", "CAM-2", "VF-2", "LEGS-1"} & set(items)


def test_sheets_are_canonical_text(show: dict[str, Any]) -> None:
    assert all(text == canonical(json.loads(text)) for text in show["sheets"])
    assert expand(UNIT, demo.plan()) == expand(UNIT, demo.plan())


def test_every_stage_has_its_sheets() -> None:
    sheets = sheets_of(expand(UNIT, demo.plan()))
    wanted = {
        "pack": ["locker/L2/pack", "locker/LB/pack", "lifting/pack", "vehicle/VAN/pack"],
        "travel": ["vehicle/VAN/travel", "vehicle/TENDER/travel", "vehicle/TRUCK/travel"],
        "rig": ["position/2/rig", "position/2/carry", "position/1/hoist", "run/2/rig", "tower/A/rig",
                "truck/rig", "talkback/rig", "position/2/column"],
        "line-up": ["position/2/line-up", "position/2/lens", "truck/line-up"],
        "on-air": ["position/2/on-air", "truck/on-air"],
        "de-rig": ["position/2/de-rig", "run/2/de-rig", "locker/L2/de-rig", "truck/de-rig"],
        "stow": ["locker/L2/stow", "report/stow", "monday/stow"],
    }  # fmt: skip
    assert list(wanted) == list(words.STAGES)
    for stage, ids in wanted.items():
        assert all(sheets[name]["stage"] == stage for name in ids)


def test_the_demo_can_be_worked_in_a_weekend() -> None:
    sheets = sheets_of(expand(UNIT, demo.plan()))
    assert 350 <= sum(len(sheet["steps"]) for sheet in sheets.values()) <= 600
    assert max(len(sheet["steps"]) for sheet in sheets.values()) <= 25


def test_what_does_not_apply_gives_its_place_to_what_it_waits_for() -> None:
    steps = steps_of(expand(UNIT, demo.plan()))
    # On legs there is no column to pin: the head waits for what the pin would have waited for.
    assert steps["position/1/rig/head-on"]["after"] == ["position/1/rig/legs", "position/1/rig/pads"]
    assert steps["position/1/rig/pads"]["after"] == ["position/1/hoist/landed"]
    assert steps["position/2/rig/pads"]["after"] == ["position/2/carry/set-down"]
    # A three-sensor camera has no optical focus of tubes: the lens waits for its black and its chart.
    assert steps["position/1/lens/quick-look"]["after"] == [
        "position/1/line-up/black",
        "position/1/line-up/chart",
    ]
    assert "position/2/line-up/optical-focus" in steps["position/2/lens/quick-look"]["after"]


def test_camera_types_have_their_own_steps() -> None:
    steps = steps_of(expand(UNIT, demo.plan()))
    assert "position/2/line-up/registration-luminance" in steps
    assert "position/3/line-up/registration-luminance" not in steps
    assert "position/3/line-up/registration" in steps
    assert "position/1/line-up/registration" not in steps
    assert "run/1/rig/fibre-mated" in steps
    assert "run/2/rig/fibre-mated" not in steps
    assert steps["position/2/line-up/warm-four-tube"]["low"] == "60"
    assert steps["position/3/line-up/warm-three-tube"]["low"] == "45"


def awaits(steps: dict[str, Any], subject: str, awaited: str) -> bool:
    graph = nx.DiGraph((name, before) for name, step in steps.items() for before in step["after"])
    return bool(nx.has_path(graph, subject, awaited))


@pytest.mark.parametrize(
    ("subject", "awaited"),
    [
        ("position/1/hoist/hauled", "tower/A/rig/taken-over"),
        ("position/1/hoist/hauled", "lifting/pack/marks"),
        ("position/1/hoist/planned", "position/1/lift-plan/gear"),
        ("vehicle/VAN/travel/flaps", "vehicle/VAN/travel/shaken"),
        ("position/2/talkback/powered", "run/2/rig/dead-proved"),
        ("position/2/talkback/powered", "truck/rig/earthed"),
        ("run/2/rig/insulation", "run/2/rig/unplugged"),
        ("run/2/rig/dead-proved", "run/2/rig/discharged"),
        ("position/2/rig/body-on", "position/2/rig/column-pinned"),
        ("position/2/column/pin-out", "position/2/rig/lens-on"),
        ("position/2/line-up/registration", "position/2/lens/back-focus"),
        ("position/2/line-up/registration", "position/2/line-up/warm-four-tube"),
        ("position/2/de-rig/body-off", "position/2/de-rig/column-pinned"),
        ("position/2/de-rig/body-off", "position/2/de-rig/lens-off"),
        ("position/2/de-rig/unplugged", "truck/de-rig/locked-off"),
        ("position/1/de-rig/lowered", "position/1/de-rig/lower-looked"),
    ],
)
def test_order_that_keeps_people_whole(subject: str, awaited: str) -> None:
    """The order of the trade (common practice, no source)."""
    assert awaits(steps_of(expand(UNIT, demo.plan())), subject, awaited)
