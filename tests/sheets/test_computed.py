"""What a step's computation is filled in from is checked against its declaration and the unit."""

from pathlib import Path

import pytest

from server.sheets.check import check
from server.sheets.unit import load
from server.shows import demo
from tests.sheets.test_check import EVENTS, KIT, REASONS, UNIT

SHEET = """\
sheets:
  - sheet: position/{position}/rig
    each: position
    stage: rig
    title: "{position}: rig"
    signed_by: [rigger]
    statement: Done.
    steps:
      - step: figured
        do: Figure it
        done: Figured
        roles: [rigger]
        assess: ASSESS
"""


def said(tmp_path: Path, assess: str) -> list[str]:
    """The faults of a small unit whose one step has this `assess`."""
    (tmp_path / "sheets").mkdir()
    files = {"unit.yaml": UNIT, "kit.yaml": KIT, "events.yaml": EVENTS, "reasons.yaml": REASONS}
    for name, text in {**files, "sheets/all.yaml": SHEET.replace("ASSESS", assess)}.items():
        (tmp_path / name).write_text(text)
    return [str(fault) for fault in check(tmp_path)]


@pytest.mark.parametrize(
    "assess",
    [
        '{name: carry, from: {load_kg: "kit:HOOK.mass_kg", bearers: "4", handles: stretcher}}',
        '{name: sling, from: {gear: "kit:LINE kit:LINE", on_date: "show:ends"}}',
        '{name: sling, from: {gear: "chain:gear"}}',
        '{name: vehicle-load, from: {lockers: "vehicle:VAN"}}',
        '{name: continuity, from: {pins: "L: live, N: neutral"}}',
    ],
)
def test_what_can_be_filled_in_is_no_fault(tmp_path: Path, assess: str) -> None:
    assert said(tmp_path, assess) == []


@pytest.mark.parametrize(
    ("assess", "fault"),
    [
        ("{name: weather}", "'weather'"),
        ('{name: carry, from: {mass: "4"}}', "carry asks for no 'mass'; it asks for load_kg, bearers"),
        ('{name: carry, from: {bearers: "40"}}', "'bearers' \"40\" is beyond 2 to 4 people"),
        ("{name: carry, from: {handles: rope}}", "'handles' \"rope\" is not among the answers"),
        ('{name: carry, from: {load_kg: "kit:GONE.mass_kg"}}', "'load_kg' unknown tag 'GONE'"),
        ('{name: carry, from: {load_kg: "kit:LINE.mass_kg"}}', "no such thing of this unit says mass_kg"),
        ('{name: carry, from: {load_kg: "kit:HOOK"}}', "anything else from a field of one"),
        ('{name: carry, from: {load_kg: "chain:body.mass_kg"}}', "no such thing of this unit says mass_kg"),
        ('{name: carry, from: {load_kg: "chain:leg.mass_kg"}}', "unknown link 'leg'"),
        ('{name: carry, from: {load_kg: "kit:"}}', "'kit:': give kit:TAG.field"),
        ('{name: sling, from: {gear: "kit:HOOK.tag"}}', "a table is filled in from things"),
        ("{name: sling, from: {gear: HOOK}}", "'gear' is a table"),
        ('{name: sling, from: {on_date: "show:noon"}}', "a show has starts and ends"),
        (
            '{name: vehicle-load, from: {track_m: "vehicle:VAN.track_m"}}',
            "no vehicle of this unit says track_m",
        ),
        ('{name: vehicle-load, from: {lockers: "vehicle:CART"}}', "unknown vehicle 'CART'"),
        ('{name: vehicle-load, from: {lockers: "vehicle:{vehicle}"}}', "knows no {vehicle}"),
        ("{name: continuity, from: {pins: live}}", "'pins'"),
    ],
)
def test_what_cannot_be_filled_in_is_named_with_file_and_line(
    tmp_path: Path, assess: str, fault: str
) -> None:
    faults = said(tmp_path, assess)
    assert len(faults) == 1
    assert "all.yaml:13" in faults[0]
    assert fault in faults[0]


def test_a_sheet_without_a_position_has_no_chain(tmp_path: Path) -> None:
    sheet = SHEET.replace("each: position", "each: show").replace("position/{position}/rig", "truck/rig")
    (tmp_path / "sheets").mkdir()
    files = {"unit.yaml": UNIT, "kit.yaml": KIT, "events.yaml": EVENTS, "reasons.yaml": REASONS}
    assess = '{name: carry, from: {load_kg: "chain:body.mass_kg"}}'
    text = sheet.replace("ASSESS", assess).replace('"{position}: rig"', "Rig")
    for name, content in {**files, "sheets/all.yaml": text}.items():
        (tmp_path / name).write_text(content)
    assert [fault.text for fault in check(tmp_path)] == ["'load_kg' a sheet for each show has no chain"]


PLACED = {
    "hoist": {"tackle", "four-point"},
    "carry": {"carry"},
    "rig": {"condensation"},
    "lens": {"lens-tracking"},
    "line-up": {"registration"},
    "run": {"continuity", "insulation", "power-at-camera", "fibre"},
    "vehicle": {"vehicle-load"},
    "lift-plan": {"sling", "tackle", "four-point"},
}


@pytest.mark.parametrize("where", sorted(PLACED))
def test_the_demo_opens_each_computation_where_it_belongs(where: str) -> None:
    sheets = [sheet for sheet in load(demo.FOLDER).sheets if where in sheet.id.split("/")]
    opened = {str(step.assess.name) for sheet in sheets for step in sheet.steps if step.assess}
    assert opened >= PLACED[where]
