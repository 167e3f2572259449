"""Verdicts computed by the server: asked for by a phone, and again for what a phone kept."""

import json
from pathlib import Path
from typing import Any

import pytest

from server.logbook.assessed import assessed
from server.logbook.cases import answers, phone_answers
from server.trade import CORE, register
from server.trade.section import section

VECTORS = Path(__file__).parents[1] / "trade" / "vectors"
PAIRS = [
    (path.stem, pair) for path in sorted(VECTORS.glob("*.json")) for pair in json.loads(path.read_text())
]
ANSWERED = [
    pytest.param(name, pair, id=f"{name}: {pair['about']}")
    for name, pair in PAIRS
    if "verdict" in pair["answer"]
]
WET = {"air_c": "20", "humidity_percent": "60", "body_c": "4"}


def kept(name: str, inputs: Any, **changed: Any) -> dict[str, Any]:
    """A reading's body as a phone keeps it: figures as decimal strings."""
    answer = register.assess(name, inputs)
    figures = {
        key: {
            "value": f"{one['value']:.17f}" if isinstance(one["value"], int | float) else one["value"],
            "unit": one["unit"],
        }
        for key, one in answer["figures"].items()
    }
    verdict = {"core": CORE, "verdict": answer["verdict"], "findings": answer["findings"]}
    return {"assessment": {"name": name, "inputs": inputs, "figures": figures, **verdict, **changed}}


def test_a_phone_is_answered_as_the_prompt_is(phone) -> None:
    ana = phone("Ana", "camera")
    answer = ana.web.post("/api/assess/condensation", json=WET)
    assert answer.status_code == 200
    assert answer.json == {
        **register.assess("condensation", WET),
        "svg": register.drawing("condensation", WET),
    }


def test_bad_input_names_its_fields(phone) -> None:
    ana = phone("Ana", "camera")
    answer = ana.web.post("/api/assess/condensation", json={**WET, "air_c": "warm", "colour": "red"})
    assert answer.status_code == 422
    assert {error["field"] for error in answer.json["errors"]} == {"air_c", "colour"}
    endless = ana.web.post("/api/assess/condensation", data=b'{"air_c": NaN}')
    assert endless.status_code == 422
    assert "air_c" in {error["field"] for error in endless.json["errors"]}
    assert ana.web.post("/api/assess/weather", json=WET).status_code == 422


@pytest.mark.parametrize("octets", [b"{", b'{"air_c": 1, "air_c": 2}', b"\xff"])
def test_what_is_not_json_is_a_problem(phone, octets: bytes) -> None:
    answer = phone("Ana", "camera").web.post("/api/assess/condensation", data=octets)
    assert answer.status_code == 400
    assert answer.content_type == "application/problem+json"


def test_nobody_is_answered_without_a_card(app) -> None:
    assert app.test_client().post("/api/assess/condensation", json=WET).status_code == 401


def test_each_computation_is_described(app) -> None:
    described = app.test_client().get("/api/openapi.json").json["paths"]["/api/assess/{name}"]["post"]
    schemas = described["requestBody"]["content"]["application/json"]["schema"]["anyOf"]
    assert [schema["title"] for schema in schemas] == list(register.assessments())


@pytest.mark.parametrize(("name", "pair"), ANSWERED)
def test_what_the_phone_kept_agrees(name: str, pair: dict[str, Any]) -> None:
    again = assessed(kept(name, pair["input"]))
    assert again is not None
    assert (again.word, again.differences) == ("agrees", ())
    assert again.section is not None
    assert again.section["verdict"] == pair["answer"]["verdict"]


def test_what_differs_is_said() -> None:
    other = assessed(kept("condensation", WET, verdict="within limits"))
    assert other is not None
    assert other.word == "differs"
    assert other.differences == ("The verdict kept is within limits, computed again adjust.",)
    body = kept("condensation", WET)
    body["assessment"]["figures"]["dew_point_c"]["value"] = "12.00000001"
    warmer = assessed(body)
    assert warmer is not None
    assert warmer.word == "differs"
    assert warmer.differences[0].startswith("dew_point_c kept is 12.00000001 C, computed again 11.99")
    reworded = assessed(kept("condensation", WET, findings=["dry"]))
    assert reworded is not None
    assert reworded.differences == ("The findings kept are worded otherwise than those computed again.",)


def test_another_core_none_and_what_cannot_be_read_are_said() -> None:
    older = assessed(kept("condensation", WET, core="0"))
    assert older is not None
    assert (older.word, older.differences) == ("another core version", ())
    raw = assessed(kept("condensation", WET, core="none", verdict="not computed here", figures={}))
    assert raw is not None
    assert raw.word == "computed here"
    assert raw.section is not None
    assert raw.section["verdict"] == "adjust"
    unread = assessed({"assessment": {"name": "condensation", "core": "none", "inputs": {"air_c": "warm"}}})
    assert unread is not None
    assert unread.word == "cannot be read"
    assert any(sentence.startswith("humidity_percent: is missing") for sentence in unread.differences)
    unknown = assessed({"assessment": {"name": "weather", "core": CORE, "inputs": {}}})
    assert unknown is not None
    assert unknown.word == "cannot be read"
    assert assessed({"figure": "1", "unit": "V"}) is None


def test_a_section_names_what_went_in_by_its_declaration() -> None:
    """Labels, units and the usual value are those of the declaration in condensation.py."""
    page = section("condensation", WET)
    form = {field["name"]: field for field in register.form("condensation")["fields"]}
    assert page["rows"][0] == {"label": form["air_c"]["label"], "value": "20", "unit": "C", "given": True}
    assert page["rows"][-1]["label"] == form["time_constant_min"]["label"]
    assert page["rows"][-1]["given"] is False
    assert page["figures"][0]["label"] == "dew point c"


def test_a_section_has_its_tables() -> None:
    readings = [["8", "7.5", "10"], ["80", "9.8", "10"]]
    page = section(
        "lens-tracking",
        {"image_height_mm": "5.4", "active_lines": "1080", "f_number": "2", "readings": readings},
    )
    assert page["tables"][0]["rows"] == readings
    assert [column["unit"] for column in page["tables"][0]["columns"]] == ["mm", "m", "m"]


@pytest.mark.parametrize("fold", [answers, phone_answers])
def test_a_reading_on_a_step_that_asks_for_a_tick_counts_and_ticks_nothing(fold, tmp_path: Path) -> None:
    """The shared vector of a reading step, with the step asking for a tick instead."""
    stated = json.loads((Path(__file__).parent / "vectors" / "cases.json").read_text())
    case = next(one for one in stated["cases"] if one["name"] == "reading-step-without-a-value")
    subject = "position/2/rig/flange"
    for asks, done in (("reading", True), ("tick", False), ("choice", False)):
        sheet = {**case["sheets"][0], "text": case["sheets"][0]["text"].replace('"reading"', f'"{asks}"')}
        file = tmp_path / f"{asks}.json"
        kinds = str(Path(__file__).parent / "vectors" / stated["kinds"])
        file.write_text(json.dumps({"kinds": kinds, "cases": [{**case, "sheets": [sheet]}]}))
        answer = fold(file)[0]
        assert [entry["counts"] for entry in answer["entries"].values()] == [True]
        assert answer["subjects"][subject]["done"] is done
