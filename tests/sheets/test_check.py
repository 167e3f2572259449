"""Every fault of a definitions folder is found at its file and line."""

import shutil
from pathlib import Path

import pytest

from server.sheets.check import check, print_faults
from server.sheets.unit import BadDefinitions, load
from server.shows import demo

UNIT = """\
id: small
name: Small unit
vehicles:
  - {id: VAN, name: Van, drawn: van}
lockers:
  - id: L1
    vehicle: VAN
    name: Only locker
    side: left
    row: 1
    place: 1
    width: 1.2
    holds:
      HOOK: 2
      LINE: 1
"""
KIT = """\
kit:
  - {tag: HOOK, name: Hook, type: lifting-gear, number: 2, mass_kg: 0.5}
  - {tag: LINE, name: Line, type: lifting-gear,
     dates: {due: 2031-05-02}}
"""
EVENTS = """\
events:
  - {id: knocked, label: Knocked, ends: All}
"""
REASONS = "take-back: [Mistake]\nreopen: [Undone]\n"
SHEETS = """\
sheets:
  - sheet: locker/{locker}/pack
    each: locker
    stage: pack
    title: "{locker}: pack"
    signed_by: [rigger]
    statement: Counted.
    steps:
      - step: count
        do: Count it
        done: Counted
        asks: count
        count: list
        roles: [rigger]
      - step: weigh
        do: Weigh it
        done: Weighed
        asks: reading
        unit: kg
        low: "0.5"
        high: "2"
        limit_of: the house
        roles: [rigger]
        after: [count]
        ended_by: [knocked]
      - step: look
        do: Look at it
        done: Looked at
        asks: choice
        choices:
          - {id: good, label: Good, done: true}
          - {id: bad, label: Bad, done: false}
        roles: [rigger]
        after: [weigh]
        hazard: true
        caution: Fingers.
"""
FILES = {
    "unit.yaml": UNIT,
    "kit.yaml": KIT,
    "events.yaml": EVENTS,
    "reasons.yaml": REASONS,
    "sheets/only.yaml": SHEETS,
}


def folder_with(path: Path, name: str = "", old: str = "", new: str = "") -> Path:
    (path / "sheets").mkdir()
    for file, text in FILES.items():
        if file == name:
            assert text.count(old) == 1, f"'{old}' must stand once in {name}"
            text = text.replace(old, new)
        (path / file).write_text(text, encoding="utf-8")
    return path


def test_small_folder_is_clean(tmp_path: Path) -> None:
    assert check(folder_with(tmp_path)) == []


BAD = {
    "unknown tag in a list": (
        "unit.yaml",
        "      HOOK: 2\n",
        "      HOOK: 2\n      ROPE: 1\n",
        15,
        "unknown tag 'ROPE'",
    ),
    "item named twice in a list": (
        "unit.yaml",
        "      LINE: 1",
        "      LINE: 1\n      HOOK: 1",
        16,
        "'HOOK' stands here twice",
    ),
    "item with no home": ("unit.yaml", "      LINE: 1\n", "", None, "LINE has no home"),
    "counts that do not add up": (
        "unit.yaml",
        "HOOK: 2",
        "HOOK: 3",
        None,
        "number 2, but the lockers hold 3",
    ),
    "count below one": ("unit.yaml", "HOOK: 2", "HOOK: 0", 14, "whole number above 0"),
    "unknown vehicle": ("unit.yaml", "vehicle: VAN", "vehicle: CART", 7, "unknown vehicle 'CART'"),
    "unknown side": ("unit.yaml", "side: left", "side: top", 9, "unknown side 'top'"),
    "bad width": ("unit.yaml", "width: 1.2", "width: wide", 12, "'width' must be a decimal"),
    "unknown key": ("unit.yaml", "    row: 1", "    row: 1\n    colour: red", 11, "unknown key 'colour'"),
    "missing key": ("unit.yaml", "    side: left\n", "", 6, "'side' is missing"),
    "not YAML": ("unit.yaml", "vehicles:", "vehicles: [", 4, "not YAML"),
    "tag twice": (
        "kit.yaml",
        "{tag: LINE",
        "{tag: HOOK, name: Hook, type: board}\n  - {tag: LINE",
        3,
        "tag 'HOOK' stands here and at line 2",
    ),
    "unknown type": ("kit.yaml", "type: lifting-gear, number", "type: hat, number", 2, "unknown type 'hat'"),
    "bad mass": ("kit.yaml", "mass_kg: 0.5", "mass_kg: 0.5kg", 2, "'mass_kg' must be a decimal"),
    "negative mass": ("kit.yaml", "mass_kg: 0.5", "mass_kg: -0.5", 2, "'mass_kg' is below 0"),
    "bad date": ("kit.yaml", "2031-05-02", "2031-02-30", 4, "'due' must be a date"),
    "date in another form": ("kit.yaml", "2031-05-02", "20310502", 4, "'due' must be a date"),
    "event twice": (
        "events.yaml",
        "ends: All}",
        "ends: All}\n  - {id: knocked, label: Again, ends: All}",
        3,
        "event 'knocked' stands here and at line 2",
    ),
    "unknown event": (
        "sheets/only.yaml",
        "ended_by: [knocked]",
        "ended_by: [sneezed]",
        25,
        "unknown event 'sneezed'",
    ),
    "unknown unit of measure": (
        "sheets/only.yaml",
        "unit: kg",
        "unit: stone",
        19,
        "unknown unit of measure 'stone'",
    ),
    "reading without a unit": ("sheets/only.yaml", "        unit: kg\n", "", 15, "names no unit"),
    "low above high": ("sheets/only.yaml", 'low: "0.5"', 'low: "2.5"', 15, "low 2.5 is above high 2"),
    "limit of nobody": ("sheets/only.yaml", "        limit_of: the house\n", "", 15, "does not say whose"),
    "bad limit": ("sheets/only.yaml", 'low: "0.5"', "low: .5", 20, "'low' must be a decimal"),
    "count without a list": ("sheets/only.yaml", "        count: list\n", "", 9, "a count without a list"),
    "unknown stage": ("sheets/only.yaml", "stage: pack", "stage: lunch", 4, "unknown stage 'lunch'"),
    "unknown role": (
        "sheets/only.yaml",
        "roles: [rigger]\n      - step: weigh",
        "roles: [juggler]\n      - step: weigh",
        14,
        "unknown word 'juggler' in roles",
    ),
    "step that nobody may do": (
        "sheets/only.yaml",
        "roles: [rigger]\n      - step: weigh",
        "roles: []\n      - step: weigh",
        9,
        "nobody may do 'count'",
    ),
    "sheet that nobody signs": (
        "sheets/only.yaml",
        "signed_by: [rigger]",
        "signed_by: []",
        2,
        "nobody may sign",
    ),
    "step twice": (
        "sheets/only.yaml",
        "step: look",
        "step: count",
        26,
        "step 'count' stands here and at line 9",
    ),
    "waits for no step": ("sheets/only.yaml", "after: [count]", "after: [cuont]", 24, "'cuont' is no step"),
    "waits for itself": ("sheets/only.yaml", "after: [count]", "after: [weigh]", 24, "wait for each other"),
    "circle": (
        "sheets/only.yaml",
        "after: [count]",
        'after: ["locker/{locker}/pack/look"]',
        24,
        "wait for each other",
    ),
    "unknown placeholder": (
        "sheets/only.yaml",
        "do: Weigh it",
        'do: "Weigh {tower}"',
        16,
        "knows no {tower}",
    ),
    "choice without options": (
        "sheets/only.yaml",
        "        choices:\n          - {id: good, label: Good, done: true}\n"
        "          - {id: bad, label: Bad, done: false}\n",
        "",
        26,
        "has no choices",
    ),
    "choice that is never done": ("sheets/only.yaml", "done: true", "done: false", 26, "can never be done"),
    "hazard without caution": (
        "sheets/only.yaml",
        "        caution: Fingers.\n",
        "",
        26,
        "a hazard and has no caution",
    ),
    "unknown assessment": (
        "sheets/only.yaml",
        "        caution: Fingers.",
        "        caution: Fingers.\n        assess: {name: astrology}",
        37,
        "unknown name 'astrology'",
    ),
    "unknown condition": (
        "sheets/only.yaml",
        "        caution: Fingers.",
        "        caution: Fingers.\n        for: {weather: [fine]}",
        37,
        "unknown key 'weather'",
    ),
    "condition that cannot be": (
        "sheets/only.yaml",
        "        caution: Fingers.",
        "        caution: Fingers.\n        for: {holds: [hats]}",
        37,
        "unknown word 'hats' in holds",
    ),
    "condition that is no list": (
        "sheets/only.yaml",
        "        caution: Fingers.",
        "        caution: Fingers.\n        for: {vehicle: VAN}",
        37,
        "'vehicle' must be a list",
    ),
    "condition of another unit": (
        "sheets/only.yaml",
        "        caution: Fingers.",
        "        caution: Fingers.\n        for: {locker: [L9]}",
        37,
        "locker 'L9', which this unit has not",
    ),
    "step word of two": ("sheets/only.yaml", "step: look", "step: look again", 26, "may hold letters"),
    "minutes of nought": ("sheets/only.yaml", "hazard: true", "minutes: 0", 35, "whole number above 0"),
    "flag of neither": ("sheets/only.yaml", "hazard: true", "hazard: maybe", 35, "unknown hazard 'maybe'"),
}


@pytest.mark.parametrize("case", BAD)
def test_fault_is_found_at_its_line(case: str, tmp_path: Path) -> None:
    name, old, new, line, text = BAD[case]
    faults = check(folder_with(tmp_path, name, old, new))
    found = [(fault.file, fault.line) for fault in faults if text in fault.text]
    assert found, faults
    if line is None:  # the lists are in unit.yaml, the thing that has no place there in kit.yaml
        assert found[0][0] == "kit.yaml"
    else:
        assert (name, line) in found, faults


def test_missing_and_empty_files_are_faults(tmp_path: Path) -> None:
    folder = folder_with(tmp_path)
    (folder / "reasons.yaml").unlink()
    (folder / "events.yaml").write_text("", encoding="utf-8")
    texts = [str(fault) for fault in check(folder)]
    assert "reasons.yaml:1: this file is missing" in texts
    assert "events.yaml:1: this file is empty" in texts


def test_bytes_that_are_no_text_are_a_fault(tmp_path: Path) -> None:
    folder = folder_with(tmp_path)
    (folder / "kit.yaml").write_bytes(b"kit: \xff\xfe")
    assert any(fault.file == "kit.yaml" and "not UTF-8" in fault.text for fault in check(folder))


def test_lists_that_are_not_lists_are_faults(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path, "unit.yaml", "vehicles:\n  - {id: VAN, name: Van, drawn: van}\n", "vehicles: VAN\n"
    )
    assert any(str(fault).startswith("unit.yaml:3: 'vehicles' must be a list") for fault in check(folder))


def test_a_faulty_folder_is_not_loaded(tmp_path: Path) -> None:
    with pytest.raises(BadDefinitions) as raised:
        load(folder_with(tmp_path, "kit.yaml", "number: 2", "number: 5"))
    assert raised.value.faults[0].file == "kit.yaml"


def test_demo_unit_is_clean(capsys: pytest.CaptureFixture[str]) -> None:
    assert print_faults(demo.FOLDER) == 0
    assert "no fault found" in capsys.readouterr().out


def test_faults_are_printed_with_exit_code_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copytree(demo.FOLDER, tmp_path / "unit")
    page = tmp_path / "unit" / "sheets" / "runs.yaml"
    page.write_text(
        page.read_text(encoding="utf-8").replace("ended_by: [powered]", "ended_by: [paid]", 1), "utf-8"
    )
    assert print_faults(tmp_path / "unit") == 1
    assert "unknown event 'paid'" in capsys.readouterr().out
