"""The demo's two shows, invented: a rowing regatta on a reservoir, then a quiz in a market hall."""

from __future__ import annotations

from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parents[2] / "checklists" / "demo-unit"

# The four whom the demo invites hold every role between them.
PEOPLE = [
    {"person": "ines", "name": "Ines Calder", "roles": ["chief", "driver"]},
    {"person": "bram", "name": "Bram Oakley", "roles": ["rigger", "driver", "lift-leader"]},
    {"person": "lena", "name": "Lena Sorrel", "roles": ["camera", "sound"]},
    {"person": "tomas", "name": "Tomas Wick", "roles": ["engineer", "sound"]},
    {"person": "callum", "name": "Callum Reed", "roles": ["rigger", "driver"]},
    {"person": "yusuf", "name": "Yusuf Dane", "roles": ["camera"]},
    {"person": "petra", "name": "Petra Lowe", "roles": ["engineer"]},
    {"person": "mira", "name": "Mira Voss", "roles": ["sound", "rigger"]},
]


def plan() -> dict[str, Any]:
    """The regatta: five positions, two of them hoisted to towers."""
    return {
        "title": "Reservoir regatta",
        "site": "Larkmere reservoir, north bank",
        "zone": "Europe/London",
        "starts": "2031-05-02",
        "ends": "2031-05-05",
        "people": PEOPLE,
        "positions": [
            {
                "id": "1", "name": "Start tower", "camera": "three-sensor",
                "height_m": "8", "distance_m": "520", "way_up": "hoisted", "tower": "A",
                "chain": {"lens": "LENS-3", "body": "CAM-3",
                          "run": ["CAB-009", "CAB-010", "CAB-011"], "control": "CU-3"},
                "column": None, "legs": "LEGS-3",
            },
            {
                "id": "2", "name": "Finish, on the bank", "camera": "four-tube",
                "height_m": "1.8", "distance_m": "170", "way_up": "carried", "tower": None,
                "chain": {"lens": "LENS-1", "body": "CAM-1",
                          "run": ["CAB-001", "CAB-002", "CAB-003"], "control": "CU-1"},
                "column": "COL-1", "legs": None,
            },
            {
                "id": "3", "name": "Boathouse terrace", "camera": "three-tube",
                "height_m": "4", "distance_m": "110", "way_up": "stretcher", "tower": None,
                "chain": {"lens": "LENS-2", "body": "CAM-2",
                          "run": ["CAB-004", "CAB-005"], "control": "CU-2"},
                "column": None, "legs": "LEGS-1",
            },
            {
                "id": "4", "name": "Finish tower", "camera": "three-sensor",
                "height_m": "6", "distance_m": "260", "way_up": "hoisted", "tower": "B",
                "chain": {"lens": "LENS-4", "body": "CAM-4",
                          "run": ["CAB-012", "CAB-015"], "control": "CU-4"},
                "column": None, "legs": "LEGS-2",
            },
            {
                "id": "5", "name": "Prize-giving pontoon", "camera": "three-sensor",
                "height_m": "1.6", "distance_m": "90", "way_up": "ground", "tower": None,
                "chain": {"lens": "LENS-5", "body": "CAM-5",
                          "run": ["CAB-016"], "control": "CU-5"},
                "column": "COL-2", "legs": None,
            },
        ],
    }  # fmt: skip


def next_plan() -> dict[str, Any]:
    """The quiz a week later: three positions, one of them up the stairs of the gallery."""
    return {
        "title": "Market hall quiz",
        "site": "Old market hall, Tarnbridge",
        "zone": "Europe/London",
        "starts": "2031-05-09",
        "ends": "2031-05-11",
        "people": PEOPLE,
        "positions": [
            {
                "id": "1", "name": "Floor, centre", "camera": "three-sensor",
                "height_m": "1.6", "distance_m": "80", "way_up": "ground", "tower": None,
                "chain": {"lens": "LENS-5", "body": "CAM-5",
                          "run": ["CAB-016"], "control": "CU-5"},
                "column": "COL-2", "legs": None,
            },
            {
                "id": "2", "name": "Gallery", "camera": "three-sensor",
                "height_m": "5", "distance_m": "95", "way_up": "stairs", "tower": None,
                "chain": {"lens": "LENS-3", "body": "CAM-3",
                          "run": ["CAB-018"], "control": "CU-3"},
                "column": None, "legs": "LEGS-3",
            },
            {
                "id": "3", "name": "Contestants", "camera": "three-tube",
                "height_m": "1.6", "distance_m": "55", "way_up": "ground", "tower": None,
                "chain": {"lens": "LENS-2", "body": "CAM-2",
                          "run": ["CAB-001"], "control": "CU-2"},
                "column": None, "legs": "LEGS-1",
            },
        ],
    }  # fmt: skip
