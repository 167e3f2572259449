"""The fold answers the shared vectors, in whatever order entries and cards arrive, and so does the phone's."""

import json
import random
from pathlib import Path
from typing import Any

import pytest

from server.logbook import cases, kinds, views
from server.logbook.cases import BadCases, answers, phone_answers
from server.logbook.fold import Fold, History, fold

VECTORS = Path(__file__).parent / "vectors"
KINDS = json.loads((VECTORS / "kinds.json").read_text())
CASES: list[dict[str, Any]] = [
    case
    for name in ("cases", "random")
    for case in json.loads((VECTORS / f"{name}.json").read_text())["cases"]
]

VIEWED: list[dict[str, Any]] = json.loads((VECTORS / "views.json").read_text())["cases"]


def history(case: dict[str, Any]) -> History:
    return History(case["log"], case["unit_key"], case["sheets"], case["cards"], case["entries"], KINDS)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_answers_as_the_vectors_do(case: dict[str, Any]) -> None:
    assert fold(history(case)).answer() == case["expect"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_no_order_of_arrival_changes_the_answer(case: dict[str, Any]) -> None:
    order = random.Random(case["name"])  # noqa: S311 - an order, not a secret
    shuffled = {part: order.sample(case[part], len(case[part])) for part in ("cards", "entries")}
    assert fold(history(case | shuffled)).answer() == case["expect"]


@pytest.mark.parametrize("case", CASES[::5], ids=lambda case: case["name"])
def test_one_entry_at_a_time_is_the_same_as_all_at_once(case: dict[str, Any]) -> None:
    slow = Fold(log=case["log"], unit_key=case["unit_key"], kinds=KINDS, sheets=case["sheets"])
    for at, text in enumerate(case["entries"]):
        slow.add_entries([text])
        slow.add_cards(case["cards"][at : at + 1])
        before = history(case | {"entries": case["entries"][: at + 1], "cards": case["cards"][: at + 1]})
        assert slow.answer() == fold(before).answer()
    slow.add_cards(case["cards"][len(case["entries"]) :])
    assert slow.answer() == case["expect"]


@pytest.mark.parametrize("case", VIEWED, ids=lambda case: case["name"])
def test_the_views_answer_as_the_vectors_do_in_any_order(case: dict[str, Any]) -> None:
    assert cases.answer(kinds.load(), case) == case["expect"]
    order = random.Random(case["name"])  # noqa: S311 - an order, not a secret
    parts = ("cards", "entries", "carried_over")
    shuffled = {part: order.sample(case[part], len(case[part])) for part in parts}
    assert cases.answer(kinds.load(), case | shuffled) == case["expect"]


def test_each_view_has_a_case() -> None:
    closed_list = {"sheet", "locker", "position", "kit", "gates", "signatures", "devices", "report"}
    assert closed_list <= set(views.__all__)
    assert closed_list <= {asked[0] for case in VIEWED for asked in case["views"]}


@pytest.mark.parametrize("name", ["cases", "random", "views"])
def test_server_and_phone_answer_a_file_alike(name: str) -> None:
    file = VECTORS / f"{name}.json"
    assert answers(file) == phone_answers(file)


def test_a_file_that_holds_no_cases_is_named(tmp_path: Path) -> None:
    file = tmp_path / "bad.json"
    file.write_text('{"kinds": {}}')
    with pytest.raises(BadCases, match=r'bad.json has no list "cases"'):
        answers(file)
    with pytest.raises(BadCases, match="cases"):
        phone_answers(file)
