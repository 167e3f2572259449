"""Intervals, and the demo's dates against them."""

from datetime import date
from pathlib import Path

from dateutil.relativedelta import relativedelta

from server.sheets.check import check
from server.sheets.intervals import read_intervals
from server.sheets.lines import Fault
from server.sheets.unit import load
from server.shows import demo

INTERVALS = demo.FOLDER.parent / "intervals.yaml"


def test_statutory_months() -> None:
    """LOLER 1998 reg 9(3)(a): 6 months for accessories and persons, 12 for the rest.

    Published in the Northern Ireland twin (SR 1999/304), GB text second-hand.
    """
    faults: list[Fault] = []
    intervals = read_intervals(INTERVALS, faults)
    assert faults == []
    statutory = {name: i.months for name, i in intervals.items() if i.rule.startswith("LOLER")}
    assert statutory == {"lifting-accessory": 6, "lifting-persons": 6, "lifting-equipment": 12}
    assert all(i.status == "house" for i in intervals.values() if i.limb is None)


def test_due_dates_follow_from_examinations() -> None:
    """Month arithmetic against python-dateutil."""
    intervals = read_intervals(INTERVALS, [])
    dated = [item for item in load(demo.FOLDER).kit if "interval" in item.about]
    assert len(dated) > 40
    for item in dated:
        last = date.fromisoformat(item.dates.get("examined") or item.dates["tested"])
        months = intervals[item.about["interval"]].months
        assert date.fromisoformat(item.dates["due"]) == last + relativedelta(months=months), item.tag


def test_lifting_gear_names_its_limb_as_its_interval_does() -> None:
    intervals = read_intervals(INTERVALS, [])
    gear = [item for item in load(demo.FOLDER).kit if item.type == "lifting-gear"]
    assert gear
    assert all(item.about["limb"] == intervals[item.about["interval"]].limb for item in gear)


def test_something_falls_due_during_the_show_so_that_the_demo_can_show_it() -> None:
    plan = demo.plan()
    due = [i.tag for i in load(demo.FOLDER).kit if plan["starts"] <= i.dates.get("due", "") <= plan["ends"]]
    assert due == ["SLING-2", "CAB-017"]


def test_unknown_interval_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "intervals.yaml").write_text("intervals: []\n", encoding="utf-8")
    (tmp_path / "unit").mkdir()
    kit = "kit:\n  - {tag: A, name: A, type: board, about: {interval: weekly}}\n"
    (tmp_path / "unit" / "kit.yaml").write_text(kit, encoding="utf-8")
    assert Fault("kit.yaml", 2, "A: unknown interval 'weekly'") in check(tmp_path / "unit")
