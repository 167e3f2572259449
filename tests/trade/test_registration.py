"""Registration rows, each against its named source."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade import registration_zones as zoned
from server.trade import scanning
from server.trade.declare import read
from server.trade.errors import InputError
from server.trade.line_centre import centre_bound, information
from server.trade.register import assess
from server.trade.registration import Inputs, fits
from server.trade.registration_terms import CONTROLS, NAMES, Point, fit, largest, lateral_colour, rows

GRID = list(itertools.product((-0.6, 0, 0.6), (-0.45, 0, 0.45)))
S625, S525, S1080 = (scanning.SYSTEMS[name] for name in ("625/50", "525/60", "1080/50"))
WIDE, NARROW = scanning.ASPECTS["16:9"], scanning.ASPECTS["4:3"]
ALL_CONTROLS = [term.name for term in CONTROLS]


def displaced(points, terms):
    """Points moved by named terms, written out here a second time from the notes' table."""
    t = dict.fromkeys(NAMES, 0.0) | terms
    answer = []
    for x, y in points:
        r2 = x * x + y * y
        dx = (t["centring_h"] + t["width"] * x + (t["skew"] - t["rotation"]) * y + t["linearity_h"] * x * x
              + t["bow_h"] * y * y + t["trapezium_h"] * x * y + t["radial"] * x * r2)  # fmt: skip
        dy = (t["centring_v"] + t["height"] * y + t["rotation"] * x + t["linearity_v"] * y * y
              + t["bow_v"] * x * x + t["trapezium_v"] * x * y + t["radial"] * y * r2)  # fmt: skip
        answer.append(Point(x, y, dx, dy))
    return answer


def asked(points, channel="red", **more):
    readings = [
        {"channel": channel, "x_ph": one.x, "y_ph": one.y, "dx": 100 * one.dx, "dy": 100 * one.dy}
        for one in points
    ]
    return {"system": "625/50", "aspect": "4:3", "readings": readings} | more


@pytest.mark.parametrize(
    ("system", "aspect", "ns"), [(S625, NARROW, 39.00), (S525, NARROW, 39.49), (S1080, WIDE, 14.545)]
)
def test_reg_1_percent_to_ns(system, aspect, ns):
    """BT.470-6 and BT.709 numbers, second-hand (10.9 us from memory); computed."""
    assert scanning.nanoseconds(0.1, system, aspect) == approx(ns, abs=0.01)


@pytest.mark.parametrize(
    ("system", "aspect", "samples", "lines"),
    [(S625, NARROW, 0.5265, 0.575), (S525, NARROW, 0.533, 0.485), (S1080, WIDE, 1.080, 1.080)],
)
def test_reg_2_percent_to_samples_and_lines(system, aspect, samples, lines):
    """Same numbers; computed."""
    assert scanning.samples(0.1, system, aspect) == approx(samples, abs=0.001)
    assert scanning.lines(0.1, system) == approx(lines, abs=0.001)


def test_reg_3_tv_lines_to_mhz():
    """A trade article on studio-lens sharpness; second-hand."""
    assert scanning.tv_lines_mhz(800, S1080, WIDE) == approx(27.5, abs=1e-6)


def test_reg_4_cycles_in_the_active_line():
    """A national broadcaster's training report; second-hand."""
    assert scanning.cycles_mhz(264, S625) == approx(5, abs=0.1)
    assert scanning.cycles_mhz(264, S625) == approx(5.077, abs=0.001)


@pytest.mark.parametrize(
    ("system", "aspect", "lines"), [(S625, NARROW, 78.0), (S525, NARROW, 79.0), (S1080, WIDE, 29.09)]
)
def test_reg_5_tv_lines_per_mhz(system, aspect, lines):
    """Item above; computed. 525 lines give 78.99: on the tolerance's edge, hence the float's last bits."""
    assert 1 / scanning.tv_lines_mhz(1, system, aspect) == approx(lines, abs=0.01 + 1e-12)


def test_reg_6_zone_radii():
    """House zones: definition from memory, numbers computed."""
    assert zoned.radii(NARROW) == approx((0.4, 0.667, 0.833), abs=0.001)
    assert zoned.radii(WIDE) == approx((0.4, 0.889, 1.020), abs=0.001)
    assert [zoned.zone_of(x, 0, NARROW) for x in (0.4, 0.41, 0.66)] == [0, 1, 1]
    assert zoned.zone_of(0.6, 0.45, NARROW) == 2


def test_reg_7_a_twentieth_of_a_percent():
    """Formula; computed."""
    assert scanning.nanoseconds(0.05, S625, NARROW) == approx(19.5, abs=0.01)
    assert scanning.nanoseconds(0.05, S1080, WIDE) == approx(7.27, abs=0.01)


def test_reg_8_lateral_colour():
    """Model, the term as in ISO 19084; computed."""
    um = 1000 * lateral_colour(1.0005, 5.51)
    assert um == approx(2.755, abs=0.001)
    assert um / 5 == approx(0.551, abs=0.001)
    assert 100 * um / 5400 == approx(0.0510, abs=0.001)


def test_reg_10_gaussian_line():
    """Robinson and Milanfar, IEEE TIP 13(9), 2004, doi 10.1109/TIP.2004.832923: bound published, computed."""
    assert information(150, 1.5) == approx(13293.4, rel=1e-4)
    assert centre_bound(150, 1.5, 2, 20) == approx(0.00388, abs=0.000005)
    assert centre_bound(150, 1.5, 5, 20) == approx(0.00970, abs=0.000005)
    x = np.arange(-30, 31)
    slopes = -150 * x / 1.5**2 * np.exp(-(x**2) / (2 * 1.5**2))
    assert information(150, 1.5) == approx((slopes**2).sum(), rel=1e-4)


@given(st.lists(st.floats(-0.02, 0.02), min_size=13, max_size=13))
def test_reg_12_any_thirteen_terms_come_back(values):
    """numpy.linalg.lstsq is the other route; computed."""
    points = displaced(GRID, dict(zip(NAMES, values, strict=True)))
    found = fit(points, ALL_CONTROLS).solution
    assert found.rank == 13
    assert len(rows(points)) == 18
    assert found.values == approx(values, abs=1e-12)
    wanted = [p.dx for p in points] + [p.dy for p in points]
    assert found.values == approx(np.linalg.lstsq(np.array(rows(points)), wanted, rcond=None)[0], abs=1e-12)


CORNERS = [(x, y) for x in (-0.8, 0.8) for y in (-0.45, 0.45)]
AXES = [(-0.8, 0), (0.8, 0), (0, -0.45), (0, 0.45)]


@pytest.mark.parametrize(("points", "rank"), [([(0, 0), *CORNERS], 10), ([(0, 0), *AXES], 10), (CORNERS, 8)])
def test_reg_13_rank(points, rank):
    """numpy.linalg.matrix_rank; computed."""
    at = displaced(points, {})
    assert fit(at, ALL_CONTROLS).solution.rank == rank
    assert np.linalg.matrix_rank(np.array(rows(at))) == rank


def test_reg_14_rotation_at_the_corner():
    """Formula; computed."""
    assert 100 * largest("rotation", math.radians(0.05), NARROW / 2) == approx(0.0727, abs=1e-4)


@given(
    st.lists(
        st.tuples(st.integers(-6, 6), st.integers(-4, 4), st.floats(-0.05, 0.05), st.floats(-0.05, 0.05)),
        min_size=1, max_size=20,
    )
)  # fmt: skip
def test_fit_agrees_with_numpy_whatever_the_points(raw):
    points = [Point(x / 10, y / 10, dx, dy) for x, y, dx, dy in raw]
    design, wanted = np.array(rows(points)), [p.dx for p in points] + [p.dy for p in points]
    found = fit(points, ALL_CONTROLS).solution
    least, _, rank, _ = np.linalg.lstsq(design, wanted, rcond=1e-9)
    assert found.rank == rank == np.linalg.matrix_rank(design, tol=1e-9)
    assert design @ found.values == approx(design @ least, abs=1e-9)
    for name, known, value, other in zip(NAMES, found.known, found.values, least, strict=True):
        one = np.eye(13)[NAMES.index(name)]
        assert known == (np.linalg.matrix_rank(np.vstack([design, one]), tol=1e-9) == rank)
        if known:
            assert value == approx(other, abs=1e-9)


def test_spreads_are_those_of_the_normal_equations():
    found = fit(displaced(GRID, {}), ALL_CONTROLS).solution
    design = np.array(rows(displaced(GRID, {})))
    assert found.spreads == approx(np.sqrt(np.diag(np.linalg.inv(design.T @ design))), rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_figures_are_a_hundred_times_the_coefficient(name):
    figures = assess("registration", asked(displaced(GRID, {name: 0.002})))["figures"]
    for other in NAMES:
        assert figures[f"red.{other}"]["value"] == approx(0.2 if other == name else 0, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [("centring_h", 0.002, "red, H centring: red lies right: move it left"),
     ("centring_v", -0.002, "red, V centring: red lies high: move it down"),
     ("rotation", 0.004, "red, rotation: red is turned clockwise: turn it anticlockwise"),
     ("width", -0.004, "red, width: red is too narrow: wider"),
     ("bow_v", 0.01, "red, V bow: red bows: level lines lie low at both sides")],
)  # fmt: skip
def test_says_which_control_and_which_way(name, value, words):
    answer = assess("registration", asked(displaced(GRID, {name: value})))
    assert answer["verdict"] == "adjust"
    assert answer["advice"][0].startswith(words)
    assert len(answer["advice"]) == 2
    assert answer["figures"]["red.remainder_percent"]["value"] == approx(0, abs=1e-9)


def test_controls_come_in_the_order_of_work():
    terms = {"trapezium_h": 0.02, "width": 0.01, "rotation": 0.01, "centring_v": 0.004}
    advice = assess("registration", asked(displaced(GRID, terms)))["advice"]
    labels = [line.split(": ")[0] for line in advice[:-1]]
    assert labels == ["red, V centring", "red, rotation", "red, width", "red, H trapezium"]


def test_radial_is_the_lens_and_remains():
    answer = assess("registration", asked(displaced(GRID, {"radial": 0.02})))
    assert answer["verdict"] == "beyond limits"
    assert any("radial term is the lens, not the tubes" in line for line in answer["findings"])
    assert answer["advice"] == [
        "No control cures this. Read again; if it stays, the lens and the block are for the workshop."
    ]
    r = math.hypot(0.6, 0.45)
    assert answer["figures"]["red.remainder_percent"]["value"] == approx(2 * r**3, rel=1e-9)


def test_size_on_sensors_is_the_lens():
    points = displaced(GRID, {"width": 0.01, "height": 0.01})
    tubes = assess("registration", asked(points))
    sensors = assess("registration", asked(points, camera="three-sensor"))
    assert (tubes["verdict"], sensors["verdict"]) == ("adjust", "beyond limits")
    assert any("the lens's own colour" in line for line in sensors["findings"])
    assert not any("width" in line for line in sensors["advice"])


def test_points_that_cannot_tell_say_which_terms():
    five = [(0, 0), *[(x, y) for x in (-0.6, 0.6) for y in (-0.45, 0.45)]]
    answer = assess("registration", asked(displaced(five, {"width": 0.01})))
    assert answer["verdict"] == "cannot tell"
    said = next(line for line in answer["findings"] if "10 of 13" in line)
    assert "H linearity, H bow" in said
    assert answer["figures"]["red.width"]["value"] is None
    assert answer["figures"]["red.rotation"]["value"] == approx(0, abs=1e-9)


def test_points_too_close_to_tell_turn_nothing():
    """Rank 13 in arithmetic, and still not to be trusted: all nine points within a fiftieth of the picture."""
    close = [(0.01 * x, 0.01 * y) for x, y in GRID]
    answer = assess("registration", asked(displaced(close, {"width": 0.002, "centring_h": 0.0018})))
    assert answer["figures"]["red.rank"]["value"] == 13
    assert [line.split(":")[0] for line in answer["advice"][:-1]] == ["red, H centring"]


def test_zone_without_a_point_cannot_be_told():
    inner = [(x / 5, y / 5) for x, y in GRID]
    answer = assess("registration", asked(displaced(inner, {})))
    assert answer["verdict"] == "cannot tell"
    assert "zone-3 was not read for every channel: cannot tell there." in answer["findings"]
    assert "Read a point in zone-3 too, of every channel." in answer["advice"]
    everywhere = [*GRID, (0.5, 0), (-0.5, 0)]
    assert assess("registration", asked(displaced(everywhere, {})))["verdict"] == "within limits"


@pytest.mark.parametrize(
    ("zones", "verdict"),
    [(("none", "none", "none"), "within limits"), (("half-line", "half-line", "none"), "within limits"),
     (("line-or-more", "none", "none"), "adjust"), (("none", "none", "line-or-more"), "cannot tell"),
     (("none", "none"), "cannot tell")],
)  # fmt: skip
def test_zones_by_eye(zones, verdict):
    """Half a line of 575 is 0.087 %, a line 0.174 %: against house limits 0.1, 0.2, 0.5 %, from memory."""
    given_zones = dict(zip(zoned.ZONES, zones, strict=False))
    asked_zones = {"system": "625/50", "aspect": "4:3", "zones": given_zones}
    assert assess("registration", asked_zones)["verdict"] == verdict


@given(st.floats(-5, 5), st.sampled_from(list(scanning.SYSTEMS)), st.sampled_from(scanning.UNITS))
def test_units_there_and_back(percent, name, unit):
    system = scanning.SYSTEMS[name]
    to = {
        "percent-ph": percent,
        "ns": scanning.nanoseconds(percent, system, WIDE),
        "samples": scanning.samples(percent, system, WIDE),
        "lines": scanning.lines(percent, system),
    }
    assert scanning.percent_across(to[unit], unit, system, WIDE) == approx(percent, abs=1e-12)
    assert scanning.percent_down(to["lines"], "ns", system) == approx(percent, abs=1e-12)


@pytest.mark.parametrize(("percent", "verdict"), [(0.1, "within limits"), (0.1001, "adjust")])
def test_the_house_limit_itself_is_within(percent, verdict):
    points = displaced([*GRID, (0.5, 0)], {"centring_h": percent / 100})
    assert assess("registration", asked(points))["verdict"] == verdict


def test_a_wider_house_limit_is_the_house_s():
    points = displaced([*GRID, (0.5, 0)], {"centring_h": 0.003})
    wide = asked(points, zone_limits_percent=[[0.3], [0.3], [0.5]])
    assert assess("registration", wide)["verdict"] == "within limits"
    assert any("limits 0.3, 0.3, 0.5 %" in line for line in assess("registration", wide)["basis"])


@pytest.mark.parametrize("unit", ["ns", "samples", "lines"])
def test_down_is_in_lines_whatever_the_unit_across(unit):
    one_line = [["red", x, y, 0, 1] for x, y in GRID]
    raw = {"system": "625/50", "aspect": "4:3", "unit": unit, "readings": one_line}
    assert assess("registration", raw)["figures"]["red.centring_v"]["value"] == approx(100 / 575)


def test_map_before_and_after():
    inputs = read(Inputs, asked(displaced(GRID, {"centring_h": 0.01, "radial": 0.02})))
    found = fits(inputs)["red"]
    for before, after in zip(found.points, found.left, strict=True):
        assert before.dx - after.dx == approx(0.01, abs=1e-12)
        assert before.dy == approx(after.dy, abs=1e-12)


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [({"readings": []}, "readings", ("0 rows", "1 to 500 rows", "x_ph")),
     ({"readings": "x"}, "readings", ("1 to 500 rows", "x_ph")),
     ({"aspect": "4:3", "system": "1080/50"}, "aspect", ("16:9",)),
     ({"zone_limits_percent": [[-0.1], [0.2], [0.5]]}, "zone_limits_percent[1].percent",
      ("0.001 to 10", "% of picture height")),
     ({"zones": {"zone-1": "none"}}, "zones", ("one of the two",))],
)  # fmt: skip
def test_bad_input(change, field, words):
    with pytest.raises(InputError) as bad:
        assess("registration", asked(displaced(GRID, {}), **change))
    said = dict(bad.value.problems)
    assert all(word in said[field] for word in words), said


@pytest.mark.parametrize(
    ("row", "field", "words"),
    [(["red", float("nan"), 0, 0, 0], "readings[1].x_ph", ("not a number", "-1 to 1 PH")),
     (["red", 0.9, 0, 0, 0], "readings[1].x_ph", ("-0.666667 to 0.666667 PH",)),
     (["red", 0, 0, 40, 0], "readings[1].dx", ("-10 to 10 % PH", "another unit")),
     (["green", 0, 0, 0, 0], "readings[1].channel", ("red", "blue"))],
)  # fmt: skip
def test_bad_row(row, field, words):
    rest = [["red", x, y, 0, 0] for x, y in GRID]
    with pytest.raises(InputError) as bad:
        assess("registration", {"system": "625/50", "aspect": "4:3", "readings": [row, *rest]})
    said = dict(bad.value.problems)
    assert all(word in said[field] for word in words), said


def test_two_points_for_thirteen_unknowns():
    with pytest.raises(InputError, match=r"2 points of red cannot bear 13 unknowns; give 3 to 500 .* in PH"):
        assess("registration", asked(displaced([(0, 0), (0.6, 0.45)], {})))


def test_points_beside_the_middle_tell_no_more_than_centring() -> None:
    """Three readings a hair from the middle: algebra leaves only the two centrings, and no endless spread."""
    near = [["red", x, 0, 0.1, 0.05] for x in (1e-200, 1e-150, -1e-120)]
    answer = assess(
        "registration", {"system": "625/50", "aspect": "4:3", "unit": "percent-ph", "readings": near}
    )
    figures = {name: one["value"] for name, one in answer["figures"].items()}
    assert figures["red.centring_h"] == approx(0.1)
    assert figures["red.centring_v"] == approx(0.05)
    assert figures["red.width"] is None
    assert figures["red.rank"] == 2
