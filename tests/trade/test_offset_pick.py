"""Unequal legs to one hook."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade.errors import InputError
from server.trade.offset_pick import tensions
from server.trade.register import assess

LENGTH = st.floats(0.1, 10)


def asked(**more):
    return {"load_kg": 100, "d1_m": 0.4, "d2_m": 0.6, "height_m": 0.8, **more}


def test_lif_9_unequal_legs():
    """Hall, lesson 4, second-hand (data), computed; L2 exact."""
    assert tensions(500, 4, 3, 3, 6) == approx((454.55, 304.92), abs=0.01)


def test_lif_10_level_picks():
    """Statics, computed."""
    figures = assess("offset-pick", asked())["figures"]
    assert figures["leg_1_kg"]["value"] == approx(67.08, abs=0.01)
    assert figures["leg_2_kg"]["value"] == approx(50.00, abs=0.01)


def test_lif_11_lever():
    """A rigging supplier's page, second-hand: vertical picks, the limit of a hook very high up."""
    assert tensions(10000, 1e9, 8, 1e9, 2) == approx((2000, 8000), rel=1e-12)


@given(LENGTH, LENGTH, LENGTH, LENGTH)
def test_legs_agree_with_numpy(v1, h1, v2, h2):
    """numpy.linalg.solve over the two balances of force at the hook."""
    l1, l2 = np.hypot(v1, h1), np.hypot(v2, h2)
    expected = np.linalg.solve([[v1 / l1, v2 / l2], [h1 / l1, -h2 / l2]], [100, 0])
    assert tensions(100, v1, h1, v2, h2) == approx(tuple(expected), rel=1e-6)


@pytest.mark.parametrize(
    ("more", "word"),
    [
        ({}, "cannot tell"),
        ({"leg_wll_kg": 68}, "figures within: the lift leader passes it"),
        ({"leg_wll_kg": 67}, "figures beyond: the lift leader passes it"),
        ({"leg_wll_kg": 900, "height_m": 0.3}, "figures beyond: the lift leader passes it"),
        ({"leg_wll_kg": 900, "cg_above_picks_m": 0.1}, "figures beyond: the lift leader passes it"),
    ],
)
def test_verdicts(more, word):
    assert assess("offset-pick", asked(**more))["verdict"] == word


def test_bad_input_is_named():
    with pytest.raises(InputError) as bad:
        assess("offset-pick", asked(d1_m=-1))
    assert "m" in dict(bad.value.problems)["d1_m"]
