"""Kit lists: in and out without loss, every bad row named, nothing half taken in."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from server.kit.commands import BadFile, export_kit, import_kit, write_json
from server.kit.current import current, overlaid
from server.kit.fields import DATES, item_fields, read_item
from server.kit.importing import plan_import
from server.kit.intervals import intervals
from server.kit.table import lockers_of, read_csv, write_csv
from server.logbook.models import EntryRow
from server.sheets.definitions import Held
from server.sheets.lines import Text, Where
from server.sheets.unit import load
from server.sheets.words import TYPES
from server.shows import demo
from server.store import reading, writing
from tests.conftest import UNIT

BARE = replace(
    load(demo.FOLDER), kit=(), lockers=tuple(replace(one, holds=()) for one in load(demo.FOLDER).lockers)
)
LOCKERS = [str(one.id) for one in BARE.lockers]
NAMES = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-", min_size=1, max_size=12)
LINES = (
    st.text(
        st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp", "Cn")),
        min_size=1,
        max_size=20,
    )
    .map(str.strip)
    .filter(bool)
)
DECIMALS = st.decimals(0, 10**6, places=3).map(lambda figure: format(figure, "f"))


@st.composite
def kits(draw):
    """A unit with any kit in its lockers."""
    kit, holds = [], {locker: [] for locker in LOCKERS}
    for tag in draw(st.lists(NAMES, unique=True, max_size=6)):
        kind = draw(
            st.sampled_from(
                [one for one in TYPES if one not in {"body", "drum", "control-unit", "lifting-gear"}]
            )
        )
        places = draw(st.dictionaries(st.sampled_from(LOCKERS), st.integers(1, 99), min_size=1, max_size=3))
        dates = draw(st.dictionaries(st.sampled_from(DATES), st.dates().map(str)))
        about = draw(st.dictionaries(LINES, LINES, max_size=3))
        fields = {
            "name": draw(LINES),
            "type": kind,
            "number": str(sum(places.values())),
            "mass_kg": draw(st.none() | DECIMALS),
            "dates": dates,
            "about": {key: text for key, text in about.items() if key not in {"interval", "goes_with"}},
        }
        kit.append(read_item(tag, fields))
        for locker, number in places.items():
            holds[locker].append(Held(Text.at(tag, Where("here", 1)), str(number)))
    return replace(
        BARE,
        kit=tuple(kit),
        lockers=tuple(replace(one, holds=tuple(holds[one.id])) for one in BARE.lockers),
    )


def planned(unit, text, name="list.csv"):
    faults = []
    rows = read_csv(text.encode() if isinstance(text, str) else text, name, faults)
    return plan_import(overlaid(unit, {}), rows, name, faults)


@settings(max_examples=150, deadline=None)
@given(kits())
def test_a_list_written_and_read_is_the_same_kit(unit):
    text = write_csv(unit)
    into = planned(BARE, text)
    assert into.faults == []
    items = {str(item.tag): item_fields(item) for item in unit.kit}
    records = into.records
    assert {tag: records[f"kit/{tag}/record"] for tag in items} == items
    lists = {
        str(one.id): [{"tag": str(h.tag), "number": h.number} for h in one.holds]
        for one in unit.lockers
        if one.holds
    }
    assert {
        subject.split("/")[1]: sorted(fields["holds"], key=str)
        for subject, fields in records.items()
        if subject.startswith("locker/")
    } == {locker: sorted(holds, key=str) for locker, holds in lists.items()}
    again = planned(unit, text)
    assert (again.records, again.faults, again.same) == ({}, [], len(unit.kit))


@settings(max_examples=100, deadline=None)
@given(kits())
def test_json_holds_the_whole_kit(unit):
    told = json.loads(write_json(unit))
    read = {row["tag"]: item_fields(read_item(row["tag"], row)) for row in told["kit"]}
    assert read == {str(item.tag): item_fields(item) for item in unit.kit}
    assert {row["tag"]: row["lockers"] for row in told["kit"]} == lockers_of(unit)
    assert [one["id"] for one in told["lockers"]] == LOCKERS


def test_the_demos_own_kit_goes_out_and_in_without_change():
    unit = load(demo.FOLDER)
    again = planned(unit, write_csv(unit))
    assert (again.records, again.faults, again.same) == ({}, [], len(unit.kit))
    into = planned(BARE, write_csv(unit))
    assert into.faults == []
    assert len(into.new) == len(unit.kit)


BAD = [
    ("tag,name,type\nA 1,x,board\n", ["2: column tag: 'A 1' may hold letters"]),
    ("tag,name,type,lockers\nA,,board,L1\n", ["2: column name: must be some text"]),
    ("tag,name,type,lockers\nA,x,gadget,L1\n", ["2: column type: 'gadget' is not one of body"]),
    ("tag,name,type,mass_kg,lockers\nA,x,board,1kg,L1\n", ["2: column mass_kg: '1kg' must be a decimal"]),
    ("tag,name,type,mass_kg,lockers\nA,x,board,-1,L1\n", ["2: column mass_kg: '-1' is below 0"]),
    ("tag,name,type,number,lockers\nA,x,board,0.5,L1\n", ["2: column number: '0.5' must be a whole number"]),
    (
        "tag,name,type,dates.due,lockers\nA,x,board,31/5/2031,L1\n",
        ["2: column dates.due: '31/5/2031' must be a date such as 2031-05-02"],
    ),
    ("tag,name,type,lockers\nA,x,board,L99\n", ["2: column lockers: there is no locker L99: one of K1, K2"]),
    ("tag,name,type,lockers\nA,x,board,L1:no\n", ["2: column lockers: 'L1:no' must be a locker"]),
    ("tag,name,type,lockers\nA,x,board,L1 L1\n", ["2: column lockers: L1 stands twice"]),
    ("tag,name,type,number,lockers\nA,x,board,3,L1:1 L2:1\n", ["2: A: number 3, but the lockers hold 2"]),
    ("tag,name,type\nA,x,board\n", ["2: A has no home: no locker's list holds it"]),
    ("tag,name,type,lockers\nA,x,board,L1\nA,y,board,L1\n", ["3: column tag: A stands at line 2 already"]),
    ("tag,name,type,lockers\nA,x,board,L1,stray\n", ["2: has 5 cells, and there are 4 columns"]),
    ("tag,name,colour\nA,x,red\n", ["1: column colour is none of tag, name, type"]),
    ("tag,name,name\nA,x,y\n", ["1: column name stands twice"]),
    ("name,type\nx,board\n", ["1: column tag is missing"]),
    ("tag;name;type\nA;x;board\n", ["1: the columns are not parted by commas"]),
    ("", ["1: the first line must name the columns; this file is empty"]),
    ('tag,name\nA,"x\n', ["2: not CSV: "]),
    (b"tag,name\nA,\xe9t\xe9\n", ["2: not UTF-8 text"]),
    (
        "tag,name,type,lockers,about.interval\nA,x,extinguisher,L1,weekly\n",
        ["2: A: unknown interval 'weekly'"],
    ),
    (
        "tag,name,type,lockers,about.interval\nA,x,extinguisher,L1,extinguisher\n",
        ["2: A: has the interval 'extinguisher' and no date due"],
    ),
    ("tag,name,type,lockers\nA,x,lifting-gear,L1\n", ["2: A: about must say identity, wll_kg and limb"]),
    ("tag,name,type,lockers\nA,x,drum,L1\n", ["2: A: about must say which cable it is or takes"]),
    (
        "tag,name,type,mass_kg,lockers\nA,x,board,?,L1\nB,y,board,1,L1\nC,z,spoon,1,L1\n",
        ["2: column mass_kg: '?' must be", "4: column type: 'spoon' is not one"],
    ),
]


@pytest.mark.parametrize(("text", "faults"), BAD)
def test_every_bad_row_is_named_with_its_line_and_column(text, faults):
    found = [str(fault) for fault in planned(load(demo.FOLDER), text).faults]
    assert len(found) == len(faults)
    for said, wanted in zip(found, faults, strict=True):
        assert said.startswith(f"list.csv:{wanted}"), said


def test_a_column_left_out_leaves_what_is_known_and_an_empty_cell_takes_it_away():
    unit = load(demo.FOLDER)
    heavier = planned(unit, "tag,mass_kg\nCAM-1,40.5\nCAM-2,\n").records
    assert heavier["kit/CAM-1/record"] == item_fields(unit.items["CAM-1"]) | {"mass_kg": "40.5"}
    assert heavier["kit/CAM-2/record"]["mass_kg"] is None
    assert len(heavier) == 2
    moved = planned(unit, "tag,lockers\nGLOVES,L3:6 LB:2\n").records
    assert list(moved) == ["locker/L3/record", "locker/LB/record"]
    assert {"tag": "GLOVES", "number": "6"} in moved["locker/L3/record"]["holds"]
    assert moved["locker/LB/record"]["holds"][-1] == {"tag": "GLOVES", "number": "2"}


def entries(app):
    with app.app_context(), reading() as session:
        return session.scalar(select(func.count()).select_from(EntryRow))


def run(app, file, **options):
    with app.app_context(), writing() as session:
        return import_kit(session, UNIT, file, dry_run=options.get("dry_run", False))


def test_a_list_is_taken_in_once_whole_and_shown(app, phone, tmp_path: Path):
    file = tmp_path / "list.csv"
    file.write_text(
        "tag,name,type,lockers,mass_kg,dates.examined,dates.due,about.interval\n"
        'EXT-9,"Extinguisher, powder",extinguisher,LB,3.1,2030-06-10,2031-06-10,extinguisher\n'
        "STR-1,Stretcher,stretcher,L3,13.5,,,\n"
    )
    told = "1 new, 1 changed, 0 as they are; lists changed: LB."
    assert run(app, file, dry_run=True) == f"Would take in list.csv: {told}"
    assert entries(app) == 0
    assert run(app, file) == f"Took in list.csv: {told}"
    assert entries(app) == 3
    assert run(app, file) == "Took in list.csv: 0 new, 0 changed, 2 as they are; lists changed: none."
    assert entries(app) == 3
    kit = phone("Ines", "chief").web.get("/api/kit").json
    found = {one["tag"]: one for one in kit["items"]}
    assert (found["EXT-9"]["home"], found["EXT-9"]["name"]) == ("LB", "Extinguisher, powder")
    assert found["STR-1"]["mass_kg"] == "13.5"
    assert found["STR-1"]["about"] == {"handles": "two and two", "straps": "2"}
    assert found["EXT-9"]["record"]["values"][0]["by"] == "server"
    assert kit["faults"] == []
    out = tmp_path / "out.csv"
    with app.app_context(), reading() as session:
        assert export_kit(session, UNIT, out) == f"Wrote {out}: {len(kit['items'])} things."
    assert run(app, out).endswith(f"0 new, 0 changed, {len(kit['items'])} as they are; lists changed: none.")


def test_nothing_is_half_taken_in(app, tmp_path: Path):
    file = tmp_path / "list.csv"
    file.write_text("tag,name,type,lockers\nA,x,board,L1\nB,y,spoon,L1\n")
    with pytest.raises(BadFile, match=r"(?s)list\.csv:3: column type: .*1 faults: nothing was taken in"):
        run(app, file)
    assert entries(app) == 0
    with pytest.raises(BadFile, match="cannot be read"):
        run(app, tmp_path / "none.csv")


def test_a_write_that_fails_leaves_nothing(app, tmp_path: Path, monkeypatch):
    from server.kit import importing

    file = tmp_path / "list.csv"
    file.write_text("tag,name,type,lockers\nA,x,board,L1\nB,y,board,L1\n")
    real, written = importing.own.write, []

    def failing(*args, **more):
        if len(written) == 2:
            raise OSError("the disk is full")
        written.append(real(*args, **more))

    monkeypatch.setattr(importing.own, "write", failing)
    with pytest.raises(OSError, match="disk is full"):
        run(app, file)
    assert len(written) == 2
    assert entries(app) == 0


def test_an_import_settles_what_was_disputed(app, phone, tmp_path: Path):
    yard = f"yard-{UNIT}"
    for name, mass in (("Ines", "40"), ("Edda", "42")):
        chief = phone(name, "chief")
        text = chief.write(yard, "kit/CAM-1/record", "record", body={"fields": {"mass_kg": mass}})
        assert chief.answers(yard, [text]) == ["stored"]
    file = tmp_path / "list.csv"
    file.write_text("tag,mass_kg\nCAM-1,41.0\n")
    assert "1 changed" in run(app, file)
    with app.app_context(), reading() as session:
        kit = current(session, UNIT)
    assert (kit.unit.items["CAM-1"].mass_kg, kit.disputed, list(kit.faults)) == ("41.0", frozenset(), [])


def test_intervals_are_read_once_and_whole():
    assert intervals()["lifting-accessory"].months == 6
