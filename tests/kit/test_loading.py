"""Loads by the lockers' lists: what the computation is given, and what it says of the demo's vehicles."""

import json
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from pytest import approx

from server.kit.loading import load_of, served_loads
from server.sheets.unit import load
from server.shows import demo
from server.trade.register import assess

PHONE = Path(__file__).with_name("loads.mjs")
UNIT = load(demo.FOLDER)
VAN, TENDER, TRUCK = UNIT.vehicles


def masses(unit, vehicle):
    return {row["locker"]: row["mass_kg"] for row in load_of(unit, vehicle).inputs["lockers"]}


def test_masses_are_the_lists_added_up_exactly():
    """L1 by hand: 41.0 + 5.2 + 17.5 + 2.1 + 2.4 + 2.9 + 1.1; T4: 16 + 16 + 11.5 + 58 + 58 + 14.5 + 30 + 90."""
    assert masses(UNIT, VAN)["L1"] == "72.2"
    assert masses(UNIT, TENDER)["T4"] == "294.0"
    kilos = sum(float(item.mass_kg) * int(item.number) for item in UNIT.kit)
    assert sum(float(mass) for one in UNIT.vehicles for mass in masses(UNIT, one).values()) == approx(kilos)


def test_places_and_plate_come_with_it():
    told = load_of(UNIT, VAN)
    assert told.untold == []
    assert {row["locker"]: (row["forward_m"], row["left_m"]) for row in told.inputs["lockers"]} == {
        "L1": ("2.9", "0.7"),
        "L2": ("1.5", "0.7"),
        "L3": ("-0.4", "0.7"),
        "R1": ("2.9", "-0.7"),
        "R2": ("1.5", "-0.7"),
        "R3": ("-0.4", "-0.7"),
        "LB": ("-1.1", "0"),
    }
    assert (told.inputs["wheelbase_m"], told.inputs["plate_gross_kg"]) == ("4.0", "7500")
    assert [thing["tag"] for thing in told.inputs["things"]] == ["CAM-1", "CAM-2"]
    assert [thing["tag"] for thing in load_of(UNIT, TENDER).inputs["things"][:6]] == [
        "CAB-001", "CAB-002", "CAB-003", "CAB-004", "CAB-005", "COL-1",
    ]  # fmt: skip


def test_the_computation_takes_it_and_answers_by_moments():
    """LOD-1, the axle split (data second-hand, computed): front gets w p/W of each locker, the rear the rest."""
    for vehicle in UNIT.vehicles:
        inputs = load_of(UNIT, vehicle).inputs
        answer = assess("vehicle-load", inputs)
        front = float(inputs["unladen_front_kg"]) + sum(
            float(row["mass_kg"]) * float(row["forward_m"]) / float(inputs["wheelbase_m"])
            for row in inputs["lockers"]
        )
        assert answer["figures"]["front_kg"]["value"] == approx(front, rel=1e-9)


def test_what_is_not_known_is_said_and_never_taken_for_nothing():
    kit = tuple(replace(item, mass_kg=None) if item.tag == "CAM-1" else item for item in UNIT.kit)
    lockers = tuple(replace(one, about={}) if one.id == "LB" else one for one in UNIT.lockers)
    vehicles = (replace(VAN, about={"wheelbase_m": "4.0"}), *UNIT.vehicles[1:])
    unit = replace(UNIT, kit=kit, lockers=lockers, vehicles=vehicles)
    told = served_loads(unit)[0]
    assert told["untold"][:3] == [
        "L1: the mass of CAM-1 is not known",
        "LB: where it lies (p_m) is not known",
        "VAN: unladen_front_kg is not known",
    ]
    assert told["answer"] is None
    assert "unladen" in told["fault"]


def test_with_a_mass_unknown_nothing_is_within():
    assert {one["answer"]["verdict"] for one in served_loads(UNIT)} >= {"within limits"}
    kit = tuple(replace(item, mass_kg=None) if item.tag.endswith("-1") else item for item in UNIT.kit)
    told = served_loads(replace(UNIT, kit=kit))
    assert all(one["untold"] and one["answer"]["verdict"] != "within limits" for one in told)


def test_over_http(phone, problem):
    answer = phone("Callum", "driver").web.get("/api/kit/loads")
    assert answer.status_code == 200
    told = json.loads(answer.data)["vehicles"]
    assert [one["vehicle"] for one in told] == ["VAN", "TENDER", "TRUCK"]
    assert all(one["fault"] is None and one["answer"]["figures"]["gross_kg"]["value"] > 0 for one in told)
    problem(phone().web.get("/api/kit/loads"), 401)


def on_the_phone(unit):
    """What the phone makes of the same vehicles, lockers and kit."""
    told = {
        "vehicles": [{"id": one.id, "about": one.about} for one in unit.vehicles],
        "lockers": [
            {
                "id": one.id,
                "vehicle": one.vehicle,
                "about": one.about,
                "holds": [{"tag": held.tag, "number": held.number} for held in one.holds],
            }
            for one in unit.lockers
        ],
        "kit": [{"tag": one.tag, "mass_kg": one.mass_kg} for one in unit.kit],
    }
    done = subprocess.run(["node", PHONE], input=json.dumps(told), capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def kilos_as_numbers(inputs):
    rows = [row | {"mass_kg": float(row["mass_kg"])} for row in inputs["lockers"]]
    return inputs | {"lockers": rows}


def unknown(unit):
    """The unit with a mass, a place and a plate left out."""
    kit = [replace(one, mass_kg=None) if one.tag == "CAM-1" else one for one in unit.kit]
    lockers = [replace(one, about={}) if one.id == "T4" else one for one in unit.lockers]
    vehicles = [
        replace(one, about={name: value for name, value in one.about.items() if name != "plate_gross_kg"})
        for one in unit.vehicles
    ]
    return replace(unit, kit=kit, lockers=lockers, vehicles=vehicles)


@pytest.mark.parametrize("unit", [UNIT, unknown(UNIT)], ids=["demo", "not all known"])
def test_the_phone_makes_the_same_of_it(unit):
    for told, vehicle in zip(on_the_phone(unit), unit.vehicles, strict=True):
        made = load_of(unit, vehicle)
        assert kilos_as_numbers(told["inputs"]) == kilos_as_numbers(made.inputs)
        assert told["untold"] == list(made.untold)
