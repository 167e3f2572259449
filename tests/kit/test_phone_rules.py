"""What the phone allows in a record and what it says falls due is what the server does, case by case."""

import json
import subprocess
from datetime import date
from pathlib import Path
from typing import Any

from server.kit.calendar.falling import falling
from server.kit.current import overlaid
from server.kit.fields import BadFields, read_item, read_locker
from server.kit.pieces import pieces
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
