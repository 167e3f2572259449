"""The vectors, computed again: words equal, figures to 1e-9. The browser runs the same files."""

import importlib.util
from pathlib import Path

import pytest

from server.trade.register import assessments

_spec = importlib.util.spec_from_file_location("make_vectors", Path(__file__).with_name("make_vectors.py"))
make_vectors = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(make_vectors)

PAIRS = [
    pytest.param(path.stem, pair, id=f"{path.stem}: {pair['about']}")
    for path in sorted(make_vectors.VECTORS.glob("*.json"))
    for pair in make_vectors.pairs(path)
]
TOLERANCE = 1e-9


def difference(expected, found, at=""):
    """Where two answers differ, or None; numbers within the tolerance, absolute or relative, are equal."""
    number = (int, float)
    if isinstance(expected, number) and isinstance(found, number):
        close = abs(expected - found) <= TOLERANCE * max(1, abs(expected))
        return None if close else f"{at}: {expected} is now {found}"
    if isinstance(expected, dict) and isinstance(found, dict):
        if list(expected) != list(found):
            return f"{at}: {list(expected)} is now {list(found)}"
        inside = (difference(expected[key], found[key], f"{at}.{key}") for key in expected)
        return next((one for one in inside if one), None)
    if isinstance(expected, list) and isinstance(found, list) and len(expected) == len(found):
        inside = (
            difference(a, b, f"{at}[{i}]") for i, (a, b) in enumerate(zip(expected, found, strict=True))
        )
        return next((one for one in inside if one), None)
    return None if expected == found else f"{at}: {expected!r} is now {found!r}"


@pytest.mark.parametrize(("name", "pair"), PAIRS)
def test_answers_as_written(name, pair):
    assert difference(pair["answer"], make_vectors.answer(name, pair["input"])) is None


@pytest.mark.parametrize("name", list(assessments()))
def test_every_computation_has_a_handful(name):
    """Write the inputs to tests/trade/vectors/NAME.json, then run make_vectors.py NAME."""
    path = make_vectors.VECTORS / f"{name}.json"
    assert path.exists(), f"{path.name} is missing"
    answers = [pair["answer"] for pair in make_vectors.pairs(path)]
    assert len(answers) >= 4
    assert any("problems" in one for one in answers)
    verdicts = {one["verdict"] for one in answers if "verdict" in one}
    if name == "column":  # no figure clears a column: it never says anything else
        assert verdicts == {"cannot tell"}
    else:
        assert len(verdicts) > 1


def test_a_difference_is_seen():
    assert difference({"a": [1.0, "x"]}, {"a": [1.0 + 1e-12, "x"]}) is None
    assert difference({"a": [1.0, "x"]}, {"a": [1.0 + 1e-8, "x"]}) == ".a[0]: 1.0 is now 1.00000001"
    assert difference({"a": "x"}, {"a": "y"})
    assert difference({"a": None}, {"a": 0.0})
    assert difference([1], [1, 2])
