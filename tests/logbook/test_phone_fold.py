"""The phone's logbook, run by Node: the shared vectors as given, and its own tests."""

import json
import subprocess
from pathlib import Path

import pytest

HERE = Path(__file__).parent
VECTORS = HERE / "vectors"
ODD_CASE = {"name": "odd", "log": "a", "sheets": [], "cards": [], "entries": [], "views": [["odd"]]}
ODD_VIEW = json.dumps({"kinds": {}, "cases": [ODD_CASE]})
RUN_CASES = HERE.parents[1] / "static" / "logbook" / "run-cases.mjs"


def run_cases(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(["node", RUN_CASES, *words], capture_output=True, text=True, check=False)


FILES = {"cases.json", "random.json"} | {path.name for path in VECTORS.glob("*.json")} - {"kinds.json"}


@pytest.mark.parametrize("name", sorted(FILES))
def test_the_phone_answers_the_shared_vectors(name: str) -> None:
    cases = json.loads((VECTORS / name).read_text(encoding="utf-8"))["cases"]
    run = run_cases(str(VECTORS / name))
    assert run.returncode == 0, run.stderr
    answers = json.loads(run.stdout)
    assert len(answers) == len(cases)
    wrong = [case["name"] for case, answer in zip(cases, answers, strict=True) if answer != case["expect"]]
    assert wrong == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (None, "cannot be read"),
        ("{", "is not JSON"),
        ('{"kinds": {}}', 'has no list "cases"'),
        ('{"cases": []}', 'has no "kinds"'),
        ('{"cases": [], "kinds": "elsewhere.json"}', "elsewhere.json cannot be read"),
        ('{"cases": [{"name": "bare"}], "kinds": {}}', "The case bare cannot be folded"),
        (ODD_VIEW, "there is no view called odd"),
    ],
)
def test_a_file_without_cases_is_said_to_be_so_and_exits_2(
    tmp_path: Path, text: str | None, said: str
) -> None:
    file = tmp_path / "cases.json"
    if text is not None:
        file.write_text(text, encoding="utf-8")
    run = run_cases(str(file))
    assert run.returncode == 2
    assert said in run.stderr
    assert run.stdout == ""


@pytest.mark.parametrize("tests", sorted(path.name for path in HERE.glob("*.test.mjs")))
def test_the_phones_own_tests(tests: str) -> None:
    run = subprocess.run(["node", "--test", HERE / tests], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout[-8000:]
