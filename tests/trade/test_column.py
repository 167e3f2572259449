"""The balanced column: stored energy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade.errors import InputError
from server.trade.register import assess


def freed(**asked):
    return assess("column", asked)["figures"]["freed_n"]["value"]


def test_car_11_free_force():
    """F = m g, computed."""
    assert freed(removed_kg=60) == approx(588.4, abs=0.1)


def test_car_12_spring_force():
    """A gas-spring article, second-hand, computed; its g is 9.81, so the mass is made to weigh that."""
    arm = {"springs": 2, "load_arm_m": 0.8, "spring_arm_m": 0.25, "hold_arm_m": 1.2}
    figures = assess("column", {"removed_kg": 50 * 9.81 / 9.80665, **arm})["figures"]
    assert figures["spring_force_n"]["value"] == approx(784.8, abs=0.1)
    assert figures["hold_down_n"]["value"] == approx(327.0, abs=0.1)


@given(st.floats(0.1, 300), st.floats(0.01, 5), st.floats(0.01, 5), st.floats(0.01, 5), st.integers(1, 8))
def test_held_where_the_load_was_it_takes_the_load(mass, x, y, r, springs):
    """Moments about the pivot, whatever the springs: held at the load's own arm, its own weight."""
    asked = {"removed_kg": mass, "springs": springs, "load_arm_m": x, "spring_arm_m": y}
    here = assess("column", {**asked, "hold_arm_m": x})["figures"]["hold_down_n"]["value"]
    assert here == approx(mass * 9.80665)
    elsewhere = assess("column", {**asked, "hold_arm_m": r})["figures"]["hold_down_n"]["value"]
    assert elsewhere * r == approx(here * x)


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
    with pytest.raises(InputError, match=r"hold_arm_m: is missing for an arm.* m"):
        freed(removed_kg=50, load_arm_m=0.8, spring_arm_m=0.25)
