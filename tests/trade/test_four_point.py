"""Four points under one load, against scipy's linear programming and the US Navy's rule."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import linprog

from server.trade import bearers
from server.trade.errors import InputError
from server.trade.four_point import POINTS
from server.trade.register import assess

FRACTION = st.floats(-1, 1).filter(lambda x: x == 0 or abs(x) > 1e-6)


def asked(**more):
    return {"load_kg": 60, "u": 0, "v": 0, **more}


def values(**more):
    return {name: one["value"] for name, one in assess("four-point", asked(**more))["figures"].items()}


def test_lif_20_four_clips():
    """Two carry: US Navy training manuals, published (rule); bounds: statics, computed."""
    figures = values()
    assert figures["rate_each_n"] == approx(294.2, abs=0.1)
    for point in POINTS:
        assert figures[f"{point}_least_kg"] == 0
        assert figures[f"{point}_most_kg"] * 9.80665 == approx(294.2, abs=0.1)


@given(FRACTION, FRACTION)
def test_bounds_agree_with_linprog(u, v):
    """scipy.optimize.linprog over the four equations of statics."""
    least, most = bearers.ends(u, v, bearers.span(u, v))
    signs = np.array(bearers.SIGNS, dtype=float)
    equations = np.vstack([np.ones(4), signs[:, 0], signs[:, 1]])
    for i in range(4):
        for way, found in ((1, least[i]), (-1, most[i])):
            goal = np.zeros(4)
            goal[i] = way
            answer = linprog(goal, A_eq=equations, b_eq=[1, u, v], bounds=[(0, None)] * 4)
            assert answer.status == 0
            assert found == approx(way * answer.fun, abs=1e-6)


@given(FRACTION, FRACTION, st.floats(1, 1000))
def test_shares_add_up_and_lie_in_order(u, v, load):
    figures = values(load_kg=load, u=u, v=v)
    assert sum(figures[f"{point}_likely_kg"] for point in POINTS) == approx(load, rel=1e-9)
    for point in POINTS:
        low, middle, high = (figures[f"{point}_{word}_kg"] for word in ("least", "likely", "most"))
        assert low <= middle + 1e-9
        assert middle <= high + 1e-9
        assert high <= figures["rate_each_kg"] + 1e-9


@given(FRACTION, FRACTION)
def test_mirrored_load_mirrors_the_points(u, v):
    here, there = values(u=u, v=v), values(u=u, v=-v)
    for word in ("least", "likely", "most"):
        assert here[f"front_left_{word}_kg"] == approx(there[f"front_right_{word}_kg"], abs=1e-9)


@given(st.floats(1, 500), st.floats(0, 59))
def test_scaling_and_spread(load, angle):
    assert values(load_kg=2 * load)["rate_each_kg"] == approx(2 * values(load_kg=load)["rate_each_kg"])
    assert (
        values(strap_to_vertical_deg=angle + 1)["rate_each_kg"]
        > values(strap_to_vertical_deg=angle)["rate_each_kg"]
    )


def test_off_centre_rates_above_half():
    """carrying.md item 2: 60 % on one point at u 0.2, v 0.4."""
    assert values(load_kg=100, u=0.2, v=0.4)["rate_each_kg"] == approx(60)


def test_tilt_points_the_offset_under_the_hook():
    assert values(u=0.5, length_m=2, width_m=1, hook_height_m=0.5)["tilt_deg"] == approx(45)
    assert values()["tilt_deg"] is None


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        ({}, "cannot tell"),
        ({"point_wll_kg": 100}, "cannot tell"),
        ({"point_wll_kg": 30, "bag_wll_kg": 60}, "figures within: the lift leader passes it"),
        ({"point_wll_kg": 29}, "figures beyond: the lift leader passes it"),
        ({"bag_wll_kg": 59, "point_wll_kg": 100}, "figures beyond: the lift leader passes it"),
    ],
)
def test_verdicts(marks, words):
    assert assess("four-point", asked(**marks))["verdict"] == words


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [({"load_kg": -1}, "load_kg", "kg"), ({"u": 1.5}, "u", "1"), ({"length_m": 1}, "width_m", "m")],
)
def test_bad_input_is_named(wrong, field, word):
    with pytest.raises(InputError) as bad:
        assess("four-point", asked(**wrong))
    assert field in dict(bad.value.problems)
    assert word in dict(bad.value.problems)[field]
