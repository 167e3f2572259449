"""Lens tracking: the two terms, told apart."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade import thin_lens
from server.trade.declare import read
from server.trade.lens_tracking import Inputs, _two_terms, fit
from server.trade.register import assess

ZOOMS = (8, 20, 80, 400, 800)


def rows(e, kappa, focal=ZOOMS, mark=10000, bend=()):
    """Exact marks: the chart at which a shift of e + kappa f^2 (mm, per mm) is read."""
    answer = []
    for i, f in enumerate(focal):
        delta = e + kappa * f * f + (bend[i] if bend else 0)
        chart = f * f / (thin_lens.extension(f, mark) + delta) + f
        answer.append({"focal_length_mm": f, "chart_distance_m": chart / 1000, "focus_mark_m": mark / 1000})
    return answer


def asked(readings, n=2):
    return {"image_height_mm": 5.4, "active_lines": 1080, "f_number": n, "readings": readings}


def test_opt_24_two_terms_come_back():
    """Item 8, against numpy.linalg.lstsq; computed."""
    figures = assess("lens-tracking", asked(rows(0.020, 1e-6)))["figures"]
    assert figures["back_focus_error_um"]["value"] == approx(20, abs=1e-6)
    assert figures["ring_index_per_m"]["value"] == approx(0.001, abs=1e-9)
    assert figures["worst_remainder_um"]["value"] == approx(0, abs=1e-6)


@given(
    st.lists(
        st.tuples(st.floats(5, 1000), st.floats(-0.2, 0.2), st.floats(0.005, 0.5)), min_size=3, max_size=9
    )
)
def test_two_terms_agree_with_numpy(points):
    f, d, sigma = (np.array(column) for column in zip(*points, strict=True))
    if np.ptp(f) < 1:
        return
    design = np.column_stack([np.ones_like(f), f**2 / 1e6]) / sigma[:, None]
    expected = np.linalg.lstsq(design, d / sigma, rcond=None)[0]
    e, kappa = _two_terms(list(f**2), list(d), list(sigma))
    assert e + kappa * f**2 == approx(expected[0] + expected[1] * f**2 / 1e6, abs=1e-6)


@pytest.mark.parametrize(("e", "focal", "focus_m"), [(0.020, ZOOMS, 2.4318), (-0.020, ZOOMS[1:], 19.9402)])
def test_opt_14_what_the_wide_end_is_focused_at(e, focal, focus_m):
    """Item 7, ring at 10 m, 8 and 20 mm; computed."""
    found = assess("lens-tracking", asked(rows(e, 0, focal)))["figures"]["wide_focus_m"]["value"]
    assert found == approx(focus_m, abs=1e-4)


@pytest.mark.parametrize(("n", "lines"), [(1.4, 2.86), (2, 2.00), (4, 1.00)])
def test_opt_18_blur_at_the_wide_end(n, lines):
    """Item 7, 20 um and lines of 5 um; computed."""
    found = assess("lens-tracking", asked(rows(0.020, 0), n))["figures"]["wide_blur_lines"]["value"]
    assert found == approx(lines, abs=0.01)


def test_opt_19_what_stays_at_the_wide_end():
    """Item 9; computed."""
    answer = assess("lens-tracking", asked(rows(0.020, 0)))
    assert answer["figures"]["wide_left_um"]["value"] == approx(19.998, abs=0.001)
    assert "Focused by eye at the long end, 20 um stay at the wide end." in answer["findings"]


def test_opt_23_colour_planes_are_said():
    """BTA S-1005B; second-hand."""
    assert "10 and 5 um further back by design" in assess("lens-tracking", asked(rows(0, 0)))["basis"][-1]


def test_verdicts():
    assert assess("lens-tracking", asked(rows(0, 0)))["verdict"] == "within limits"
    turned = assess("lens-tracking", asked(rows(0.030, 0)))
    assert turned["verdict"] == "adjust"
    assert turned["advice"][0].startswith("Bring the sensor towards the lens by 30 um")
    bent = assess("lens-tracking", asked(rows(0, 0, bend=(0, 0.1, 0, 0, 0))))
    assert bent["findings"][0] == "the lens itself does not track: workshop."
    few = assess("lens-tracking", asked(rows(0.03, 0, focal=(8, 80))))
    assert few["verdict"] == "cannot tell"
    assert few["figures"]["back_focus_error_um"]["value"] is None


def test_a_poor_ring_is_no_fault():
    """A healthy lens whose ring is out by 0.001 per m stays within."""
    assert assess("lens-tracking", asked(rows(0, 1e-6)))["verdict"] == "within limits"


def test_remainders_and_shifts_add_up():
    inputs = read(Inputs, asked(rows(0.01, 1e-6, bend=(0, 0.02, 0, 0, 0))))
    found = fit(inputs, 0.01)
    for one, shift, left in zip(inputs.readings, found.shifts, found.remainders, strict=True):
        assert found.back_focus + found.kappa * one.focal_length_mm**2 + left == approx(shift, abs=1e-12)
