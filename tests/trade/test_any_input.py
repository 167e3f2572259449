"""Whatever is typed, the border answers: finite figures, or a problem that names a field."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.trade.declare import declared
from server.trade.fields import Choice, Quantity
from server.trade.register import assess_text, computation
from server.trade.registration_zones import ANSWERS, ZONES

ODD = st.sampled_from([None, "", "x", "1,5", -1, 0, 1e300, True, [], {}, [[]], "1e5"])


def typed(field):
    """Values of one declared field, in range and at its edges; the kinds not meant here are left out."""
    if isinstance(field, Quantity):
        return st.one_of(st.sampled_from([field.low, field.high]), st.floats(field.low, field.high))
    return st.sampled_from(field.options) if isinstance(field, Choice) else st.none()


def filled(data, fields):
    """Every field in range, but for at most one odd."""
    given_input = {name: data.draw(typed(field)) for name, field in fields.items()}
    odd = data.draw(st.sampled_from([None, None, None, *fields]))
    if odd:
        given_input[odd] = data.draw(ODD)
    return given_input


def rows(field):
    row = st.tuples(*(typed(column) for column in field.columns.values()))
    return st.lists(row.map(list), min_size=1, max_size=10)


def answer(name, given_input):
    found = json.loads(assess_text(json.dumps({"assessment": name, "input": given_input})))
    if "problems" in found:
        assert found["problems"]
        assert all(one["field"] and len(one["sentence"]) > 10 for one in found["problems"])
        return
    for figure in found["figures"].values():
        assert figure["value"] is None or isinstance(figure["value"], str) or math.isfinite(figure["value"])
    assert found["verdict"]
    assert not any("nan" in line.split() for line in found["findings"] + found["advice"])


@given(st.data())
def test_exposure(data):
    given_input = filled(data, declared(computation("exposure").inputs))
    if data.draw(st.booleans()):
        given_input |= {"f_number": 100, "distance_m": None, "blur_circle_mm": None}
    answer("exposure", given_input)


@given(st.data())
def test_registration(data):
    fields = declared(computation("registration").inputs)
    given_input = filled(data, fields)
    given_input["zones"] = data.draw(
        st.one_of(st.none(), ODD, st.dictionaries(st.sampled_from(ZONES), st.sampled_from(ANSWERS)))
    )
    given_input["readings"] = data.draw(st.one_of(st.none(), ODD, rows(fields["readings"])))
    answer("registration", given_input)


@pytest.mark.parametrize("unit", ["percent-ph", "ns", "samples", "lines"])
@given(
    st.lists(
        st.tuples(st.floats(-0.6, 0.6), st.floats(-0.5, 0.5), st.floats(-2, 2), st.floats(-2, 2)),
        min_size=3,
        max_size=15,
    )
)
def test_registration_of_any_points(unit, points):
    """Points as near to one another as they like: the answer stays finite."""
    readings = [["red", *point] for point in points]
    answer("registration", {"system": "625/50", "aspect": "4:3", "unit": unit, "readings": readings})
