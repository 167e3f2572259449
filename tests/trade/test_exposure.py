"""Light rows (not the sun's), each against its named source."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade import light_meter, ramping, stops, thin_lens
from server.trade.errors import InputError
from server.trade.register import assess

SHOT = {
    "f_number": 8,
    "level_stops": 0,
    "wide_open_f_number": 1.7,
    "ramp_knee_mm": 400,
    "focal_length_mm": 800,
}


def figures(**more):
    return {name: one["value"] for name, one in assess("exposure", SHOT | more)["figures"].items()}


@pytest.mark.parametrize(("f", "n", "pupil"), [(200, 2.8, 71.43), (300, 5.6, 53.57), (500, 2.8, 178.57)])
def test_lgt_1_pupil(f, n, pupil):
    """A question-and-answer thread and a magazine page; second-hand."""
    assert ramping.pupil(f, n) == approx(pupil, abs=0.5)


@pytest.mark.parametrize(
    ("f", "n", "lost"), [(400, 1.700, 0), (450, 1.9125, 0.340), (800, 3.400, 2.000), (900, 3.825, 2.340)]
)
def test_lgt_2_ramping(f, n, lost):
    """Ray, Applied Photographic Optics: effect published; computed."""
    assert ramping.pupil(400, 1.7) == approx(235.294, abs=0.001)
    found = figures(focal_length_mm=f)
    assert found["available_f_number"] == approx(n, abs=0.001)
    assert found["ramp_loss_stops"] == approx(lost, abs=0.001)


@pytest.mark.parametrize(("factor", "n", "lost", "tolerance"), [(2, 4, 2.000, 1e-3), (1.4, 2.8, 0.971, 1e-3)])
def test_lgt_3_extender(factor, n, lost, tolerance):
    """A retired OB engineer, second-hand; computed."""
    found = figures(wide_open_f_number=2, ramp_knee_mm=None, extender=factor)
    assert found["available_f_number"] == approx(n, abs=tolerance)
    assert found["extender_loss_stops"] == approx(lost, abs=tolerance)


def test_lgt_4_t_number():
    """Encyclopedia article "F-number"; a photographic dictionary; second-hand."""
    lens = {"ramp_knee_mm": None, "wide_open_f_number": 2, "lens_transmittance": 0.75}
    assert figures(**lens)["t_number"] == approx(2.309, abs=0.01)
    lens |= {"wide_open_f_number": 4, "lens_transmittance": 0.5}
    assert figures(**lens)["t_number"] == approx(5.6, abs=0.06)


def test_lgt_5_transmittance():
    """Formula; computed."""
    assert figures(lens_transmittance=0.75)["glass_stops"] == approx(0.415, abs=0.001)
    assert figures(lens_transmittance=0.5)["glass_stops"] == approx(1.000, abs=0.001)


def test_lgt_6_split():
    """Arithmetic, neutral case; computed."""
    assert figures(split="3-tube")["split_stops"] == approx(1.585, abs=0.001)
    assert figures(split="4-tube")["split_stops"] == approx(2.000, abs=0.001)
    assert stops.neutral_split(4) - stops.neutral_split(3) == approx(0.415, abs=0.001)
    assert figures(split="prism")["split_stops"] is None


def test_lgt_7_luminance_share():
    """Formula; computed."""
    assert figures(luminance_share=0.25)["luminance_stops"] == approx(0.415, abs=0.001)
    assert figures(luminance_share=0.5)["luminance_stops"] == approx(1.000, abs=0.001)


@pytest.mark.parametrize(("ev", "lux"), [(0, 2.5), (4, 40), (15, 81920)])
def test_lgt_8_lux_of_ev(ev, lux):
    """Encyclopedia table of EV (0 and 4), second-hand; 15 computed."""
    assert light_meter.lux_of_ev(ev) == approx(lux, abs=1e-9)
    assert figures(meter_ev=ev)["scene_lux"] == approx(lux, abs=1e-9)


@pytest.mark.parametrize(
    ("n", "iso", "c", "lux"),
    [(4, 320, 250, 625), (4, 320, 340, 850), (2.8, 800, 250, 122.5), (2.8, 800, 340, 166.6)],
)
def test_lgt_9_exposure_to_lux(n, iso, c, lux):
    """Item 5 of the light notes; computed."""
    meter = {"meter_f_number": n, "meter_seconds": 1 / 50, "meter_iso": iso, "meter_constant": c}
    assert figures(**meter)["scene_lux"] == approx(lux, abs=0.1)


def test_lgt_10_two_meters():
    """A cinematographer's technical page; second-hand. The 340 of the notes' traps beside it."""
    assert light_meter.meter_reflectance(12.5, 250) == approx(0.1571, abs=0.001)
    assert light_meter.meter_reflectance(12.5, 340) == approx(0.1155, abs=0.001)
    dome = assess("exposure", SHOT | {"meter_ev": 12, "meter_constant": 340})
    assert any("gives back 11.55 %" in line for line in dome["findings"])


def test_lgt_11_video():
    """Item 6, rating from memory; computed."""
    wide = {"wide_open_f_number": 4, "ramp_knee_mm": None}
    assert figures(**wide)["least_lux"] == approx(264.5, abs=0.1)
    assert figures(**wide, gain_db=12)["least_lux"] == approx(66.43, abs=0.1)
    assert figures(**wide, gain_db=12, filter_stops=2)["least_lux"] == approx(4 * 66.43, abs=0.4)
    scene = figures(level_stops=None, scene_lux=stops.needed_lux(4, 12, 2000, 11), gain_db=12)
    assert scene["needed_f_number"] == approx(4, rel=1e-12)


def test_lgt_12_decibels_of_a_stop():
    """Arithmetic; computed."""
    decibels = stops.DB_PER_STOP
    assert decibels == approx(6.0206, abs=1e-4)


def test_lgt_13_twilight():
    """American Meteorological Society, Glossary of Meteorology: lux published; computed."""
    assert stops.light_ratio(585, 3.5) == approx(7.385, abs=0.001)
    assert stops.light_ratio(410, 2) == approx(7.679, abs=0.001)


def test_lgt_14_ev_of_dusk():
    """Item 5; computed."""
    assert figures(scene_lux=400)["scene_ev"] == approx(7.322, abs=0.001)
    assert figures(scene_lux=3.4)["scene_ev"] == approx(0.444, abs=0.001)


@pytest.mark.parametrize(
    ("n", "total_mm", "about_mm"),
    [(8, 3204.3, 3200), (5.6, 2235.7, 2240), (4, 1594.5, 1600), (2.8, 1115.3, 1120), (2, 796.3, 800),
     (1.4, 557.3, 560)],
)  # fmt: skip
def test_lgt_15_depth_with_opening(n, total_mm, about_mm):
    """Derivation, form E; computed. Item 7's 2 N c s^2/f^2 is within half a per cent of it."""
    near, far = thin_lens.limits(100, n, 0.005, 20000)
    assert far - near == approx(total_mm, abs=0.1)
    assert 2 * n * 0.005 * 20000**2 / 100**2 == approx(about_mm)
    assert far - near == approx(about_mm, rel=0.005)
    shot = figures(
        f_number=n, wide_open_f_number=1.4, focal_length_mm=100, distance_m=20, blur_circle_mm=0.005
    )
    assert 1000 * (shot["far_m"] - shot["near_m"]) == approx(total_mm, abs=0.1)


def test_lgt_21_stops_open():
    """Arithmetic; computed."""
    found = figures(ramp_knee_mm=None)
    assert found["in_hand_stops"] == approx(4.469, abs=0.001)
    assert stops.between(1.4, 8) == approx(5.029, abs=0.001)


@pytest.mark.parametrize(
    ("more", "verdict", "shortfall"),
    [({}, "within limits", 0), ({"level_stops": -2}, "adjust", 0),
     ({"level_stops": -4, "filter_stops": 2}, "adjust", 1.531), ({"level_stops": -4}, "beyond limits", 1.531)],
)  # fmt: skip
def test_verdicts(more, verdict, shortfall):
    answer = assess("exposure", SHOT | more)
    assert answer["verdict"] == verdict
    assert answer["figures"]["shortfall_stops"]["value"] == approx(shortfall, abs=0.001)


def test_the_operator_is_warned_in_time():
    """From the light at which he is warned, one stop is left to open: nothing more, nothing less."""
    more = {"level_stops": None, "scene_lux": 1200}
    at = figures(**more)["warn_lux"]
    assert figures(**more | {"scene_lux": at})["in_hand_stops"] == approx(1, abs=1e-9)
    early = assess("exposure", SHOT | more)
    assert early["advice"][-1].startswith("Warn the operator of the tightest shot when 1.")
    late = assess("exposure", SHOT | more | {"scene_lux": at / 2})
    assert late["advice"][0].startswith("Warn the operator now")


def test_gain_cures_no_lag():
    short = assess("exposure", SHOT | {"level_stops": -4, "filter_stops": 0.5})
    assert [line.split(" ")[0] for line in short["advice"]] == ["Open", "Warn", "Take", "Then", "Only"]
    assert "cures no lag" in short["advice"][-1]


def test_gain_counts_six_decibels_a_stop():
    scene = {"level_stops": None, "scene_lux": 1000}
    plain, gained = figures(**scene), figures(**scene, gain_db=2 * stops.DB_PER_STOP)
    assert stops.between(plain["needed_f_number"], gained["needed_f_number"]) == approx(2, abs=1e-9)


def test_the_knee_is_reckoned_before_the_extender():
    """Trap of the notes: 1.7, knee 400, 2x: at 400 mm on the barrel f/3.4, at 800 f/6.8."""
    assert figures(focal_length_mm=400, extender=2)["available_f_number"] == approx(3.4)
    assert figures(focal_length_mm=800, extender=2)["available_f_number"] == approx(6.8)


def test_depth_is_that_behind_the_extender():
    """400 mm on the barrel and 2x have the depth of 800 mm at the same f-number, form E."""
    shot = figures(focal_length_mm=400, extender=2, distance_m=60, blur_circle_mm=0.005)
    near, far = thin_lens.limits(800, 8, 0.005, 60000)
    assert (1000 * shot["near_m"], 1000 * shot["far_m"]) == approx((near, far))


def test_a_filter_in_the_path_takes_its_stops_from_the_scene():
    scene = {"level_stops": None, "scene_lux": 5000}
    clear, dark = figures(**scene)["needed_f_number"], figures(**scene, filter_stops=2)["needed_f_number"]
    assert stops.between(dark, clear) == approx(2, abs=1e-9)


@pytest.mark.parametrize(
    ("level", "n", "words"), [(-2, 4, "Open the iris to f/4"), (2, 16, "Close the iris to f/16")]
)
def test_which_way_the_iris_goes(level, n, words):
    answer = assess("exposure", SHOT | {"focal_length_mm": 100, "level_stops": level})
    assert answer["figures"]["needed_f_number"]["value"] == approx(n, rel=1e-12)
    assert answer["advice"][0].startswith(words)


@given(st.floats(1, 32), st.floats(-6, 6), st.floats(0, 6))
def test_stops_add_up(n, level, more):
    assert stops.between(n, stops.closed(n, level)) == approx(level, abs=1e-9)
    assert stops.closed(stops.closed(n, level), more) == approx(stops.closed(n, level + more), rel=1e-12)


@given(st.floats(1, 200000), st.floats(-12, 48))
def test_needed_light_and_iris_undo_each_other(lux, gain):
    n = stops.needed_f_number(lux, gain, 2000, 11)
    assert stops.needed_lux(n, gain, 2000, 11) == approx(lux, rel=1e-9)


@given(st.floats(-6, 15.5), st.sampled_from([250, 340]))
def test_a_meter_and_the_lux_it_means_answer_alike(ev, c):
    by_meter = figures(level_stops=None, meter_ev=ev, meter_constant=c)
    by_lux = figures(level_stops=None, scene_lux=by_meter["scene_lux"], meter_constant=c)
    assert by_lux["needed_f_number"] == approx(by_meter["needed_f_number"])
    assert by_lux["scene_ev"] == approx(ev, abs=1e-9)


@given(st.floats(10, 1000), st.floats(10, 1000))
def test_a_longer_lens_never_opens_wider(first, second):
    short, long = sorted((first, second))
    assert ramping.widest(short, 1.7, 400) <= ramping.widest(long, 1.7, 400)


@pytest.mark.parametrize(
    ("more", "field", "words"),
    [({"f_number": math.nan}, "f_number", ("not a number", "0.7 to 128")),
     ({"gain_db": -20}, "gain_db", ("-12 to 48 dB",)),
     ({"focal_length_mm": -800}, "focal_length_mm", ("1 to 3000 mm",)),
     ({"level_stops": None}, "level_stops", ("-12 to 12 stops", "lx")),
     ({"f_number": 1.2}, "f_number", ("widest f/1.7", "1.7 to 128")),
     ({"distance_m": 20}, "distance_m", ("in m", "blur_circle_mm in mm")),
     ({"distance_m": 0.5, "blur_circle_mm": 0.005}, "distance_m", ("within the focal length", "m")),
     ({"scene_lux": "1,5"}, "scene_lux", ("comma", "lx")),
     ({"scene_lux": 500, "meter_ev": 8}, "meter_ev", ("beside scene_lux", "meter_f_number"))],
)  # fmt: skip
def test_bad_input(more, field, words):
    with pytest.raises(InputError) as bad:
        assess("exposure", SHOT | more)
    said = dict(bad.value.problems)
    assert all(word in said[field] for word in words), said
