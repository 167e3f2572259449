"""The balanced column: stored energy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade.column import holding_down, spring_force
from server.trade.errors import InputError
from server.trade.register import assess


def freed(**asked):
    return assess("column", asked)["figures"]["freed_n"]["value"]


def test_car_11_free_force():
    """F = m g, computed."""
    assert freed(removed_kg=60) == approx(588.4, abs=0.1)


def test_car_12_spring_force():
    """A gas-spring article, second-hand, computed; g 9.81."""
    force = spring_force(50 * 9.81, 0.8, 0.25, 2)
    assert force == approx(784.8, abs=0.1)
    assert holding_down(force, 2, 0.25, 1.2) == approx(327.0, abs=0.1)


@given(st.floats(0.1, 150), st.floats(0, 3000))
def test_friction_never_adds(mass, friction):
    assert freed(removed_kg=2 * mass) == approx(2 * freed(removed_kg=mass))
    assert 0 <= freed(removed_kg=mass, friction_n=friction) <= freed(removed_kg=mass)


def test_a_column_is_never_within():
    answer = assess("column", {"removed_kg": 0.1, "friction_n": 3000})
    assert answer["verdict"] == "cannot tell"
    assert "seen by a second person" in answer["advice"][1]


def test_bad_input_is_named():
    with pytest.raises(InputError, match=r"removed_kg.*kg"):
        freed(removed_kg=-1)
