"""What the phone allows in a record and what it says falls due is what the server does, case by case."""

import json
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from server.kit.calendar.falling import falling
from server.kit.current import overlaid
from server.kit.fields import BadFields, holds_field, item_fields, read_item, read_locker
from server.kit.pieces import pieces
from server.sheets import words
from server.sheets.check import kit_faults
from server.sheets.definitions import Held, Item, Unit
from server.sheets.unit import load
from server.shows import demo

PHONE = Path(__file__).with_name("phone-rules.mjs")
UNIT = load(demo.FOLDER)
GOOD: dict[str, Any] = {
    "name": "Drum 101",
    "type": "drum",
    "number": "1",
    "mass_kg": "18.5",
    "dates": {"examined": "2028-02-29", "due": "2031-05-02"},
    "about": {"cable": "101-way"},
}
ITEMS: list[dict[str, Any]] = [
    GOOD,
    *(GOOD | {"name": name} for name in ("", " led", "x" * 400, "x" * 401, "two\nlines", "é ✓")),
    *(GOOD | {"type": kind} for kind in (*words.TYPES, "", "spaceship")),
    *(GOOD | {"mass_kg": mass} for mass in ("-1", "0", "1e3", "01", "1.", "1,5", "NaN", "9" * 33, None)),
    *(GOOD | {"number": number} for number in ("0", "-1", "1.5", "999999", "1000000", "")),
    *(
        GOOD | {"dates": {"due": day}}
        for day in ("2031-02-29", "2031-13-01", "31-05-02", "2031-5-2", "", "0000-01-01", "tomorrow")
    ),
    GOOD | {"dates": {"bought": "2031-05-02"}},
    *(GOOD | {"about": about} for about in ({"k": ""}, {"": "v"}, {"k" * 61: "v"}, {})),
]
LISTS: list[list[dict[str, str]]] = [
    [],
    [{"tag": "CAM-1", "number": "1"}],
    [{"tag": "CAM-1", "number": "1"}, {"tag": "CAM-1", "number": "2"}],
    [{"tag": "CAM 1", "number": "1"}],
    [{"tag": "CAM-1", "number": "0"}],
    [{"tag": "x" * 61, "number": "many"}],
]


RECORDS: list[dict[str, Any]] = [
    {},
    {"mass_kg": "1.1"},
    {"mass_kg": None, "dates": {"due": "2031-10-28"}},
    {"dates": {}, "about": {"length_m": "50"}, "later": "of a newer version"},
    {"mass_kg": "-1", "name": "not taken"},
    {"type": "spaceship"},
]


def on_the_phone(rule: str, cases: list[Any]) -> list[Any]:
    asked = json.dumps([{"rule": rule, "of": one} for one in cases])
    done = subprocess.run(["node", PHONE], input=asked, capture_output=True, text=True, check=True)
    answers: list[Any] = json.loads(done.stdout)
    return answers


def bad_fields(read: Any, name: str, fields: dict[str, Any], base: Any = None) -> set[str]:
    try:
        read(name, fields, base)
    except BadFields as bad:
        return {field for field, _ in bad.faults}
    return set()


def test_the_phone_finds_the_faults_of_an_item_that_the_server_finds() -> None:
    for fields, told in zip(ITEMS, on_the_phone("fields", ITEMS), strict=True):
        assert set(told) == bad_fields(read_item, "CAB-101", fields), fields


def test_the_phone_finds_the_faults_of_a_list_that_the_server_finds() -> None:
    locker = UNIT.lockers[0]
    cases = [{"holds": holds} for holds in LISTS]
    for fields, told in zip(cases, on_the_phone("fields", cases), strict=True):
        assert set(told) == bad_fields(read_locker, "L1", fields, locker), fields


def test_the_phone_says_due_what_the_server_says() -> None:
    things = pieces(overlaid(UNIT, {}))
    days = [date(2031, 4, 28), date(2031, 5, 4), date(2031, 7, 20), date(2032, 2, 29)]
    cases = [{"pieces": things, "today": str(day), "weeks": weeks} for day in days for weeks in (1, 8, 26)]
    for case, told in zip(cases, on_the_phone("falling", cases), strict=True):
        said = falling(things, date.fromisoformat(case["today"]), case["weeks"])
        assert told["until"] == said["until"]
        assert told["overdue"] == [[one["due"], one["tag"]] for one in said["overdue"]]
        assert told["weeks"] == [
            {"starts": week["starts"], "due": [[one["due"], one["tag"]] for one in week["due"]]}
            for week in said["weeks"]
        ]


def as_told(item: Item) -> dict[str, Any]:
    return {"tag": item.tag, **item_fields(item)}


def over(item: Item, fields: dict[str, Any]) -> Item:
    """What the server makes of a record: where it cannot be used, the definition stands."""
    try:
        return read_item(item.tag, fields, item)
    except BadFields:
        return item


def test_a_record_makes_of_a_thing_on_the_phone_what_it_makes_on_the_server() -> None:
    pairs = [(item, fields) for item in UNIT.kit[:40] for fields in RECORDS]
    told = on_the_phone("laid", [{"item": as_told(item), "fields": fields} for item, fields in pairs])
    for (item, fields), one in zip(pairs, told, strict=True):
        assert one == as_told(over(item, fields)), (item.tag, fields)
    assert {json.dumps(one, sort_keys=True) for one in told} > {
        json.dumps(as_told(item), sort_keys=True) for item in UNIT.kit[:40]
    }


def with_list(unit: Unit, locker: str, holds: tuple[Held, ...]) -> Unit:
    lockers = tuple(replace(one, holds=holds) if one.id == locker else one for one in unit.lockers)
    return replace(unit, lockers=lockers)


def test_the_phone_says_which_lists_do_not_add_up_as_the_server_does() -> None:
    first, second = UNIT.lockers[:2]
    units = [
        UNIT,
        with_list(UNIT, first.id, ()),
        with_list(UNIT, first.id, first.holds[1:]),
        with_list(UNIT, first.id, (*first.holds, second.holds[0])),
        with_list(UNIT, first.id, (replace(first.holds[0], number="7"), *first.holds[1:])),
    ]
    cases = [
        {
            "kit": [as_told(item) for item in unit.kit],
            "lockers": [{"id": one.id, "holds": holds_field(one.holds)} for one in unit.lockers],
        }
        for unit in units
    ]
    told = on_the_phone("sums", cases)
    assert told[0] == []
    assert all(told[1:])
    for unit, one in zip(units, told, strict=True):
        assert one == [fault.text for fault in kit_faults(unit)]
