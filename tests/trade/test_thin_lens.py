"""Optics rows: each against its named source."""

import math

import pytest
from pytest import approx

from server.trade import thin_lens
from server.trade.register import assess

FOOT, INCH = 304.8, 25.4
ZOOMS = (8, 20, 80, 400, 800)


def test_opt_1_hyperfocal():
    """Encyclopedia article "Hyperfocal distance", example; second-hand."""
    assert thin_lens.hyperfocal(50, 8, 0.03) == approx(10466.67, abs=1)


def test_opt_2_near_at_the_hyperfocal():
    """Same article; second-hand."""
    h = thin_lens.hyperfocal(50, 8, 0.03)
    assert thin_lens.limits(50, 8, 0.03, h)[0] == approx(5233.33, abs=1)
    assert thin_lens.limits_approximate(h, h)[0] == approx(5233.33, abs=1)


def test_opt_3_at_half_the_hyperfocal():
    """Same article (form A), second-hand; form E computed."""
    h = thin_lens.hyperfocal(50, 8, 0.03)
    assert thin_lens.limits_approximate(h, h / 2) == approx((3488.89, 10466.67), abs=1)
    assert thin_lens.limits(50, 8, 0.03, h / 2) == approx((3494.48, 10416.67), abs=1)


def test_opt_4_form_a_in_feet():
    """US Navy, Photography (Basic), NAVEDTRA 14209; published."""
    assert thin_lens.limits_approximate(554 * FOOT, 10 * FOOT) == approx(
        (9.8 * FOOT, 10.2 * FOOT), abs=0.05 * FOOT
    )


def test_opt_5_focus_for_limits():
    """NAVEDTRA 14209; published."""
    assert thin_lens.focus_between(9.8, 10.2) == approx(10, abs=0.01)


def test_opt_6_without_plus_f():
    """US Army subcourse SS0507, learning event 10; published."""
    f = 2 * INCH
    without_f = thin_lens.hyperfocal(f, 8, 0.002 * INCH) - f
    assert without_f == approx(20.8 * FOOT, abs=0.05 * FOOT)
    near, far = thin_lens.limits_approximate(without_f, without_f)
    assert near == approx(10.4 * FOOT, abs=0.05 * FOOT)
    assert far == math.inf


def test_opt_7_form_a():
    """The Sinclair Handbook of Photography, Lens Facts; published."""
    assert thin_lens.limits_approximate(30, 10) == approx((7.5, 15), abs=1e-6)


def test_opt_8_form_s():
    """Hawkins and Avon, Photography (1979), as cited in a mailing list; second-hand."""
    assert thin_lens.limits_at_focal_plane(70, 22, 0.021, 10606)[0] == approx(5338, abs=0.5)
    assert thin_lens.limits(70, 22, 0.021, 10606)[0] == approx(5320.6, abs=0.5)


@pytest.mark.parametrize(("n", "expected"), [(8, 29167), (22, 10606)])
def test_opt_9_without_plus_f(n, expected):
    """Hawkins and Avon; second-hand."""
    assert thin_lens.hyperfocal(70, n, 0.021) - 70 == approx(expected, abs=1)


def test_opt_10_conjugates():
    """A textbook problem with key; second-hand."""
    assert thin_lens.image_distance(50, 2550) == approx(51, abs=1e-9)
    assert 20 / thin_lens.magnification(50, 2550) == approx(1000, abs=0.1)
    shot = {
        "focal_length_mm": 50,
        "f_number": 8,
        "distance_m": 2.55,
        "image_height_mm": 20,
        "active_lines": 575,
    }
    assert assess("depth-of-field", shot)["figures"]["frame_height_m"]["value"] == approx(1, abs=1e-4)


def test_opt_11_and_opt_21_extension():
    """OPT-11: a textbook problem with key, second-hand; OPT-21: computed."""
    assert thin_lens.extension(200, 3500) - thin_lens.extension(200, 50000) == approx(11.318, abs=0.05)
    assert thin_lens.extension(50, 450) == approx(6.250, abs=0.001)
    assert thin_lens.extension(50, 700) == approx(3.846, abs=0.001)
    assert thin_lens.extension(135, 1300) == approx(15.644, abs=0.001)


def test_opt_12_forms_e_and_s():
    """Smith, Modern Optical Engineering, eqs 9.9, 9.10; formula published, numbers computed."""
    assert thin_lens.limits(50, 8, 0.03, 5000) == approx((3389.37, 9527.44), abs=0.01)
    assert thin_lens.limits_at_focal_plane(50, 8, 0.03, 5000) == approx((3394.59, 9569.23), abs=0.01)


@pytest.mark.parametrize(("n", "expected"), [(1.4, 0.007), (2, 0.010), (4, 0.020), (8, 0.040)])
def test_opt_13_depth_of_focus(n, expected):
    """Smith, eq. 9.8; formula published, numbers computed."""
    assert thin_lens.depth_of_focus(n, 0.005) == approx(expected, abs=1e-9)


def test_opt_14_and_opt_16_back_focus_there_and_back():
    """Item 7 of the optics notes; computed."""
    behind = [thin_lens.focused_at(f, 10000, 0.020) for f in ZOOMS]
    assert behind == approx([2431.8, 6677.8, 9701.7, 9988.5, 9997.4], abs=0.1)
    before = [thin_lens.focused_at(f, 10000, -0.020) for f in ZOOMS]
    assert before[0] == math.inf
    assert before[1:] == approx([19940.2, 10317.4, 10011.5, 10002.6], abs=0.1)
    shifts = [thin_lens.image_shift(f, s, 10000) for f, s in zip(ZOOMS, behind, strict=True)]
    assert shifts == approx([0.020] * 5, abs=1e-9)


@pytest.mark.parametrize(
    ("f", "chart"), list(zip(ZOOMS, (2431.8, 6677.8, 9701.7, 9988.5, 9997.4), strict=True))
)
def test_opt_16_from_charts_as_printed(f, chart):
    """Item 8 of the optics notes, chart rounded to 0.1 mm, which is 0.34 um at 800 mm; computed."""
    assert thin_lens.image_shift(f, chart, 10000) == approx(0.020, abs=0.0005)


def test_opt_15_linear_ds_and_vergence():
    """Item 7; computed, to four digits."""
    slopes = [thin_lens.distance_shift(f, 10000, 0.020) for f in ZOOMS]
    assert slopes == approx([-31200, -4980.0, -307.5, -11.52, -2.645], rel=2e-4)
    vergences = [1000 * thin_lens.vergence_shift(f, 0.020) for f in ZOOMS]
    assert vergences == approx([0.3125, 0.05, 0.003125, 0.000125, 0.00003125], rel=1e-9)


@pytest.mark.parametrize(("n", "blur_um", "lines"), [(1.4, 14.29, 2.86), (2, 10.0, 2.00), (4, 5.0, 1.00)])
def test_opt_18_blur_of_a_shift(n, blur_um, lines):
    """Item 7; computed."""
    assert 1000 * thin_lens.blur_of_shift(0.020, n) == approx(blur_um, abs=0.01)
    one_line = thin_lens.blur_circle(5.4, 1080)
    assert thin_lens.blur_of_shift(0.020, n) / one_line == approx(lines, abs=0.01)


@pytest.mark.parametrize(
    ("width", "height", "diagonal", "lines", "one_line_um"),
    [(9.6, 5.4, 11.015, 1080, 5.000), (9.59, 5.39, 11.001, 1080, 4.991), (8.8, 6.6, 11.000, 575, 11.478),
     (8.8, 6.6, 11.000, 576, 11.458), (12.8, 9.6, 16.000, 575, 16.696), (17.1, 12.8, 21.360, 575, 22.261)],
)  # fmt: skip
def test_opt_22_diagonals_and_one_line(width, height, diagonal, lines, one_line_um):
    """Arithmetic; computed. The formats: second-hand, 9.59 x 5.39 and the 30 mm tube from memory."""
    assert math.hypot(width, height) == approx(diagonal, abs=0.001)
    assert 1000 * thin_lens.blur_circle(height, lines) == approx(one_line_um, abs=0.001)


def test_opt_23_flange_and_colour_planes():
    """BTA S-1005B; second-hand (encyclopedia article "B4-mount")."""
    assert thin_lens.FLANGE_IN_AIR_MM == 48
    assert (thin_lens.RED_PLANE_UM, thin_lens.BLUE_PLANE_UM) == (10, 5)
    # The trap beside the row: at f/2 with a 5 um line, red is a whole one-sided depth of focus back.
    assert 1000 * thin_lens.depth_of_focus(2, 0.005) == approx(thin_lens.RED_PLANE_UM)


@pytest.mark.parametrize(("f", "um"), [(10, 0.1), (25, 0.6), (80, 6.4), (200, 40), (400, 160)])
def test_opt_25_ring_index(f, um):
    """Item 8, linear form; computed, to two digits: 25 mm gives 0.625, printed 0.6."""
    found = 1000 * thin_lens.ring_shift(f, 10000, 0.01)
    assert found == approx(um, abs=0.05)


def test_opt_17_set_to_infinity():
    """Item 7; computed."""
    found = [thin_lens.focused_at(f, math.inf, 0.020) for f in (8, 80, 800)]
    assert found == approx([3208, 320080, 32000800], rel=1e-4)


def test_opt_19_wide_end_remainder():
    """Item 9; computed."""
    assert thin_lens.wide_end_remainder(20, 8, 800) == approx(19.998, abs=0.001)


@pytest.mark.parametrize(
    ("f", "n", "s", "near", "far"),
    [(8, 4, 5, 1.953, None), (100, 4, 20, 19.234, 20.829),
     (400, 4, 60, 59.556, 60.450), (800, 5.6, 100, 99.568, 100.436)],
)  # fmt: skip
def test_opt_20_as_the_crew_asks_it(f, n, s, near, far):
    """Item 2; computed."""
    asked = {
        "focal_length_mm": f,
        "f_number": n,
        "distance_m": s,
        "image_height_mm": 5.4,
        "active_lines": 1080,
    }
    figures = assess("depth-of-field", asked)["figures"]
    assert figures["near_m"]["value"] == approx(near, abs=0.001)
    assert figures["far_m"]["value"] == (far if far is None else approx(far, abs=0.001))
