"""Random histories: both folds give the same answer, in every order of arrival, at once and one by one."""

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.logbook import cases, gates, judge, kinds, lasting, marks, past, signatures, together, values
from server.logbook.fold import Fold
from server.logbook.held import Held
from server.logbook.memo import Memo
from tests.logbook.histories import BEFORE, LOG, history, shuffled

SEEDS = range(1, 41)
ONE_BY_ONE = Path(__file__).with_name("one-by-one.mjs")

Case = dict[str, Any]
Answers = dict[int, Any]


def answer(case: Case) -> dict[str, Any]:
    return cases.answer(kinds.load(), case)


def one_by_one(case: Case) -> dict[str, Any]:
    """The answer of a fold that is asked after each entry and each card."""
    fold = Fold(
        log=LOG, unit_key=case["unit_key"], kinds=kinds.load(), sheets=case["sheets"], files=case["files"]
    )
    for at in range(max(len(case["entries"]), len(case["cards"]))):
        fold.add_entries(case["entries"][at : at + 1])
        fold.add_cards(case["cards"][at : at + 1])
        if at == 20:
            fold.add_carried(case["carried_over"])
        fold.answer()
    fold.add_carried(case["carried_over"])
    return fold.answer()


@pytest.fixture(scope="module")
def histories() -> dict[int, Case]:
    return {seed: history(seed) for seed in SEEDS}


@pytest.fixture(scope="module")
def true_answers(histories: dict[int, Case]) -> Answers:
    return {seed: answer(case) for seed, case in histories.items()}


def file_of(folder: Path, some: list[Case]) -> Path:
    file = folder / "histories.json"
    file.write_text(json.dumps({"kinds": kinds.load(), "cases": some}))
    return file


def test_the_phone_answers_alike_in_any_order(
    histories: dict[int, Case], true_answers: Answers, tmp_path: Path
) -> None:
    some = [*histories.values(), *(shuffled(case, seed) for seed, case in histories.items())]
    found = cases.phone_answers(file_of(tmp_path, some))
    wanted = [*true_answers.values()] * 2
    assert [case["name"] for case, a, b in zip(some, found, wanted, strict=True) if a != b] == []


def test_the_phone_answers_alike_one_by_one(
    histories: dict[int, Case], true_answers: Answers, tmp_path: Path
) -> None:
    some = [shuffled(histories[seed], seed + 1) for seed in SEEDS[:12]]
    done = subprocess.run(
        ["node", ONE_BY_ONE, file_of(tmp_path, some)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    wanted = [without_views(true_answers[seed]) for seed in SEEDS[:12]]
    assert json.loads(done.stdout) == wanted


@pytest.mark.parametrize("seed", SEEDS[:8])
def test_the_server_answers_alike_one_by_one(
    histories: dict[int, Case], true_answers: Answers, seed: int
) -> None:
    assert one_by_one(shuffled(histories[seed], seed + 2)) == without_views(true_answers[seed])


@settings(max_examples=25, deadline=None)
@given(st.integers(1000, 10**6), st.integers())
def test_no_order_of_arrival_changes_the_answer(seed: int, order: int) -> None:
    case = history(seed, 60)
    assert answer(shuffled(case, order)) == answer(case)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_carried_over_says_of_kit_what_the_whole_log_says(
    histories: dict[int, Case], seed: int
) -> None:
    case = histories[seed]
    whole = fold_of_before(case, case["whole_other_log"])
    shelf = fold_of_before(case, [text for one in case["carried_over"] for text in one["entries"]])
    of_kit = {one for one in whole["subjects"] if one.startswith("kit/")}
    assert of_kit == {one for one in shelf["subjects"] if one.startswith("kit/")}
    for subject in of_kit:  # a mark speaks of what else its writer had seen, which stays in that log
        assert shelf["subjects"][subject] | {"marks": {}} == whole["subjects"][subject] | {"marks": {}}, (
            subject
        )


def fold_of_before(case: Case, entries: list[str]) -> dict[str, Any]:
    fold = Fold(log=BEFORE, unit_key=case["unit_key"], kinds=kinds.load(), sheets=[])
    fold.add_cards(case["cards"])
    fold.add_entries(entries)
    return fold.answer()


def without_views(found: dict[str, Any]) -> dict[str, Any]:
    return {part: found[part] for part in found if part != "views"}


def no(*_: object) -> bool:
    return False


def nothing(*_: object) -> list[object]:
    return []


def only_direct(held: Held, entries: Any) -> tuple[set[str], set[str]]:
    names = {name for one in list(entries) for name in one.replaces}
    return {name for name in names if held.entry(name)}, {name for name in names if not held.entry(name)}


FAULTS: list[tuple[str, object, str, object]] = [
    ("a withdraw takes back a revocation", judge, "NOT_WITHDRAWN", set()),
    ("anybody reads a level", judge, "BY_ROLE_OF_STEP", set()),
    ("nobody's word lends a role", judge, "_lent_roles", lambda *_: set()),
    ("a revocation lets only its head stand", judge, "ancestors", lambda _, head, __: frozenset([head])),
    ("a chief withdraws only their own", judge, "_is_withdrawn", no),
    ("reopens end no reading", past, "ENDING", {"event"}),
    ("events act at their own subject alone", lasting, "_at_and_above", lambda subject: [subject]),
    ("a lens out and in again is not looked at", lasting, "_rests_on_replaced", no),
    ("the earliest value lasts", lasting, "max", min),
    ("replaces goes one step", values, "reached", only_direct),
    ("what was replaced by otherwise is no mark", marks, "contradicting", nothing),
    ("covered by a signature and ended by an event is as it was", signatures, "is_ended", no),
    ("a lens in two places opens a gate", gates, "is_in_two_places", no),
    ("a withdrawn tick is unseen", gates, "_is_held", lambda held, step: bool(held.of_subject(step["subject"]))),
    ("figures agree by their text", kinds, "plain", lambda text: text),
    ("other logs replace nothing here", together, "_reached", lambda *_: (set(), False)),
    ("what is carried over is waited for", Held, "is_carried", no),
]  # fmt: skip


@pytest.mark.parametrize(("about", "where", "name", "fault"), FAULTS, ids=[one[0] for one in FAULTS])
def test_these_histories_would_show(
    about: str,
    where: object,
    name: str,
    fault: object,
    histories: dict[int, Case],
    true_answers: Answers,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(where, name, fault, raising=name != "max")
    assert any(answer(case) != true_answers[seed] for seed, case in histories.items()), about


def test_an_answer_kept_too_long_would_show(
    histories: dict[int, Case], true_answers: Answers, monkeypatch: pytest.MonkeyPatch
) -> None:
    def forget_only(memo: Memo, key: str) -> None:
        memo._answers.pop(key, None)

    monkeypatch.setattr(Memo, "forget", forget_only)
    assert any(one_by_one(histories[seed]) != without_views(true_answers[seed]) for seed in SEEDS)
