"""The figures: well-formed, said in words, in proportion, the same bytes again, and printable."""

import json
import math
import re
import xml.etree.ElementTree as ET
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import weasyprint
from click.testing import CliRunner
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from server.cli import main
from server.handover.figures import on_paper
from server.trade import figure as pen
from server.trade.declare import declared, needed
from server.trade.errors import InputError
from server.trade.fields import Choice, Day, Quantity
from server.trade.figure_scale import Scale, steps
from server.trade.figure_sheet import Sheet
from server.trade.register import assess, assessments, drawing
from server.trade.tables import Names, Table

SVG = "{http://www.w3.org/2000/svg}"
VECTORS = Path(__file__).with_name("vectors")
STYLES = Path(__file__).parents[2]
DRAWN = [name for name, one in assessments().items() if one.draw]


def readable(name):
    """The inputs of the vectors that can be read."""
    pairs = json.loads((VECTORS / f"{name}.json").read_text())
    return [(pair["about"], pair["input"]) for pair in pairs if "problems" not in pair["answer"]]


PAIRS = [pytest.param(name, raw, id=f"{name}: {about}") for name in DRAWN for about, raw in readable(name)]


def tree(name, raw):
    return ET.fromstring(drawing(name, raw))  # noqa: S314 - drawn here


def marks(root, name):
    return [one for one in root.iter(f"{SVG}g") if one.get("data-mark") == name]


@cache
def face(weight):
    """The app's own typeface: breadth of a letter over its height."""
    font = TTFont(STYLES / f"static/vendor/fonts/atkinson-{weight}.woff2")
    return font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm


def measured(text, weight):
    names, breadths, em = face(weight or "400")
    return sum(breadths[names.get(ord(letter), "n")][0] for letter in text) / em


def within_edges(root):
    """Every word is 16 px high or more on a phone, and lies within the drawing."""
    wide, high = (float(part) for part in root.get("viewBox").split()[2:])
    assert float(root.get("font-size")) * 328 / wide >= 16
    for group in root.findall(f"{SVG}g"):
        down = float(re.findall(r"-?[\d.]+", group.get("transform"))[1])
        for one in group.iter(f"{SVG}text"):
            assert one.get("font-size") is None
            breadth = float(root.get("font-size")) * measured(one.text, one.get("font-weight"))
            left = (
                float(one.get("x")) - breadth * {"start": 0, "middle": 0.5, "end": 1}[one.get("text-anchor")]
            )
            assert left >= -1
            assert left + breadth <= wide + 1
            assert 10 <= down + float(one.get("y")) <= high


def numbers(element, attribute="d"):
    """The numbers of the first path below an element."""
    found = next(one for one in element.iter() if one.get(attribute))
    return [float(number) for number in re.findall(r"-?[\d.]+", found.get(attribute))]


@pytest.mark.parametrize(("name", "raw"), PAIRS)
def test_a_figure_says_what_it_draws(name, raw):
    root = tree(name, raw)
    title, description = root[0], root[1]
    assert (root.tag, root.get("role")) == (f"{SVG}svg", "img")
    assert (title.tag, description.tag) == (f"{SVG}title", f"{SVG}desc")
    assert len(title.text) > 3
    assert assess(name, raw)["verdict"] in description.text
    assert not {"nan", "inf", "None"} & set(description.text.replace(",", " ").replace(".", " ").split())


@pytest.mark.parametrize(("name", "raw"), PAIRS)
def test_no_colour_no_script_no_address_stands_in_it(name, raw):
    root = tree(name, raw)
    for one in root.iter():
        assert one.tag.removeprefix(SVG) in {"svg", "title", "desc", "g", "path", "circle", "text"}
        assert one.get("fill") in {None, "none", "currentColor"}
        assert one.get("stroke") in {None, "none", "currentColor"}
        assert not {"style", "href", "onload", "id"} & set(one.attrib)
    assert "url(" not in drawing(name, raw)


@pytest.mark.parametrize(("name", "raw"), PAIRS)
def test_every_word_is_large_enough_and_within_the_edges(name, raw):
    """Shown 328 px wide, between the margins of a phone of 360, a letter is 16 px high."""
    within_edges(tree(name, raw))


@pytest.mark.parametrize(("name", "raw"), PAIRS)
def test_alarm_is_never_said_by_colour_alone(name, raw):
    """What is drawn in alarm is dashed, heavier, or within a dashed box; what is written in it is written heavy."""
    for parent in tree(name, raw).iter():
        alarmed = [one for one in parent if (one.get("class") or "").startswith("fig-alarm")]
        boxed = any(one.get("stroke-dasharray") for one in alarmed)
        assert all(boxed or float(one.get("stroke-width")) >= 4 for one in alarmed)
        assert all(one.get("font-weight") for one in parent if one.get("class") == "fig-word-alarm")


@pytest.mark.parametrize(("name", "raw"), PAIRS)
def test_the_same_input_gives_the_same_bytes(name, raw):
    assert drawing(name, raw) == drawing(name, json.loads(json.dumps(raw)))


@pytest.mark.parametrize("name", DRAWN)
def test_every_figure_prints(name):
    for _, raw in readable(name):
        html = f"<p>{on_paper(drawing(name, raw))}</p>"
        assert weasyprint.HTML(string=html).write_pdf().startswith(b"%PDF")


@pytest.mark.parametrize("sheet", ["static/style/figure.css", "templates/handover/figure.css"])
def test_every_class_has_its_colour_on_screen_and_on_paper(sheet):
    used = {
        word
        for name in DRAWN
        for _, raw in readable(name)
        for one in tree(name, raw).iter()
        for word in (one.get("class") or "").split()
    }
    style = (STYLES / sheet).read_text()
    assert {
        word for word in used - {"figure"} if f".{word} " not in style and f".{word}," not in style
    } == set()


@given(st.text(max_size=60))
def test_any_text_is_well_formed(text):
    sheet = Sheet()
    sheet.say(text)
    sheet.put(20, pen.mark(text, pen.words(0, 0, text)))
    root = ET.fromstring(sheet.svg(text, [text]))  # noqa: S314 - drawn here
    assert not [
        one for one in root.iter() if one.tag.removeprefix(SVG) not in {"svg", "title", "desc", "g", "text"}
    ]


@given(st.text(alphabet="ab &<", max_size=200))
def test_no_word_is_lost_in_wrapping(text):
    assert "".join(pen.wrapped(text, 300)).replace(" ", "") == text.replace(" ", "")
    assert all(pen.breadth(line) <= 300 for line in pen.wrapped(text, 300))


@given(st.floats(-1e6, 1e6), st.floats(0.001, 1e6), st.floats(0, 1))
def test_a_scale_is_in_proportion(low, span, part):
    scale = Scale(low, low + span, 20, 320)
    assert scale.at(low + part * span) == pytest.approx(20 + 300 * part, abs=1e-3)
    assert 1 <= len(steps(low, low + span)) <= 6


@given(st.floats(-1e7, 1e7, allow_nan=False))
def test_a_figure_is_written_to_three_digits(number):
    assert float(pen.short(number)) == pytest.approx(number, rel=0.0051, abs=1e-6)


def test_a_reading_lies_where_its_shift_puts_it():
    """30 um of back focus at every focal length against +/- 10 um: the rope lies three bands from the middle."""
    raw = dict(readable("lens-tracking"))["back focus out by 30 um"]
    root = tree("lens-tracking", raw)
    _, rope_y, *_ = numbers(marks(root, "back focus")[0])
    _, top, _, height, _ = numbers(marks(root, "limit")[0])
    middle = top + height / 2
    assert (middle - rope_y) / (height / 2) == pytest.approx(3, abs=0.01)


@given(st.floats(2, 60))
def test_near_far_and_focus_lie_in_proportion(distance_m):
    raw = {
        "focal_length_mm": 100,
        "f_number": 4,
        "distance_m": distance_m,
        "image_height_mm": 5.4,
        "active_lines": 1080,
    }
    found = assess("depth-of-field", raw)["figures"]
    near, far = found["near_m"]["value"], found["far_m"]["value"]
    root = tree("depth-of-field", raw)
    first, _, last, _ = numbers(marks(root, "sharp")[0])
    ring = next(marks(root, "focused")[0].iter(f"{SVG}circle"))
    assert (float(ring.get("cx")) - first) / (last - first) == pytest.approx(
        (distance_m - near) / (far - near), abs=0.01
    )


def test_vectors_grow_with_the_displacement():
    """Twice the displacement is drawn twice as long, in the same map."""
    readings = [["red", x, y, 0.1 if x else 0.2, 0] for x in (-0.6, 0, 0.6) for y in (-0.4, 0, 0.4)]
    root = tree("registration", {"system": "625/50", "aspect": "4:3", "readings": readings})
    lengths = []
    for one in marks(marks(root, "As read")[0], "red"):
        line = next(path for path in one.iter(f"{SVG}path") if path.get("d").count("L") == 1)
        x, _, to_x, _ = (float(number) for number in re.findall(r"-?[\d.]+", line.get("d")))
        lengths.append(to_x - x)
    assert max(lengths) == pytest.approx(2 * min(lengths), abs=0.05)


def test_a_channel_is_told_by_its_shape_and_its_word():
    readings = [
        [channel, x, 0.2 * x, 0.1, 0.1] for channel in ("red", "blue", "luminance") for x in (-0.5, 0, 0.5)
    ]
    root = tree("registration", {"system": "625/50", "aspect": "4:3", "readings": readings})
    shapes = {
        channel: re.sub(r"M[-\d. ]+", "", next(marks(root, channel)[0].iter(f"{SVG}path")).get("d"))
        for channel in ("red", "blue", "luminance")
    }
    assert len(set(shapes.values())) == 3
    said = " ".join(one.text for one in root.iter(f"{SVG}text"))
    assert all(f"{channel}:" in said for channel in shapes)


def spans(root, name):
    """First and last end of the row of that name, and where its knot lies."""
    row = next(one for one in marks(root, name) if any(path.get("d", "").count("H") for path in one))
    first, _, last, *_ = numbers(row)
    knot = next(one for one in row.iter(f"{SVG}g") if (one.get("transform") or "").endswith("scale(0.85)"))
    return first, last, float(re.findall(r"-?[\d.]+", knot.get("transform"))[0])


@settings(deadline=None)
@given(st.floats(1, 300), st.floats(-0.9, 0.9), st.floats(-0.9, 0.9))
def test_the_spans_of_four_bearers_are_in_proportion(load_kg, u, v):
    """The vertical sides of every span, and its knot, stand to each other as the kilograms do."""
    raw = {"load_kg": load_kg, "u": u, "v": v, "bearers": 4}
    figures = {name: one["value"] for name, one in assess("carry", raw)["figures"].items()}
    root = tree("carry", raw)
    high = 1.08 * max(
        figures["alone_kg"], *(value for name, value in figures.items() if name.endswith("most_kg"))
    )
    for end in ("lower", "upper"):
        for side in ("left", "right"):
            drawn = spans(root, f"{end} {side}")
            least, most, likely = (figures[f"{end}_{side}_{word}_kg"] for word in ("least", "most", "likely"))
            assert drawn == pytest.approx([14 + 312 * kg / high for kg in (least, most, likely)], abs=0.02)


@given(st.floats(-1, 1), st.floats(-1, 1))
def test_the_centre_of_gravity_lies_where_it_was_read(u, v):
    """Ends at 80 and 260 across, sides 80 apart down: the load's own corners."""
    root = tree("four-point", {"load_kg": 50, "u": u, "v": v})
    ring = next(marks(root, "centre of gravity")[0].iter(f"{SVG}circle"))
    corners = {
        name: next(marks(root, f"point {name}")[0].iter(f"{SVG}circle"))
        for name in ("front left", "front right", "back left", "back right")
    }
    across = [float(corners[f"{end} left"].get("cx")) for end in ("back", "front")]
    down = [float(corners[f"front {side}"].get("cy")) for side in ("right", "left")]
    assert float(ring.get("cx")) == pytest.approx(across[0] + (across[1] - across[0]) * (u + 1) / 2, abs=0.02)
    assert float(ring.get("cy")) == pytest.approx(down[0] + (down[1] - down[0]) * (v + 1) / 2, abs=0.02)


@given(st.floats(0.3, 3), st.floats(0.3, 3), st.floats(0.5, 5))
def test_legs_to_a_hook_are_drawn_to_scale(d1_m, d2_m, height_m):
    root = tree("offset-pick", {"load_kg": 50, "d1_m": d1_m, "d2_m": d2_m, "height_m": height_m})
    (x, y, to_x, to_y), (_, _, to_x_2, to_y_2) = (
        numbers(marks(root, f"leg {number}")[0]) for number in (1, 2)
    )
    scale = (to_y - y) / height_m
    assert to_y == to_y_2
    assert [(x - to_x) / scale, (to_x_2 - x) / scale] == pytest.approx([d1_m, d2_m], abs=0.02 / scale + 1e-3)


@given(st.floats(0, 60))
def test_a_sling_leg_stands_at_its_angle(angle):
    root = tree("sling", {"load_kg": 100, "legs": 2, "symmetric": "yes", "angle_to_vertical_deg": angle})
    x, y, to_x, to_y = numbers(marks(root, "leg 1")[0])
    assert math.degrees(math.atan2(x - to_x, to_y - y)) == pytest.approx(angle, abs=0.02)


@given(st.integers(1, 12), st.booleans(), st.integers(0, 6))
def test_a_tackle_has_its_sheaves_and_lead_blocks(parts, down, leads):
    sheaves = parts if down or parts == 1 else parts - 1
    root = tree("tackle", {"load_kg": 60, "sheaves": sheaves, "parts": parts, "lead_blocks": leads})
    assert len(marks(root, "sheave")) == sheaves
    assert len(marks(root, "lead block")) == leads
    rope = next(marks(root, "rope")[0].iter(f"{SVG}path")).get("d")
    assert rope.count("a") == sheaves  # one turn a sheave
    assert rope.count("V") == parts + (
        sheaves == parts
    )  # the hauling part beside the parts at the moving block


@given(st.floats(1, 300), st.floats(0, 3000))
def test_the_freed_force_is_as_long_as_it_is_strong(removed_kg, friction_n):
    raw = {"removed_kg": removed_kg, "friction_n": friction_n}
    freed = assess("column", raw)["figures"]["freed_n"]["value"]
    longest = max(removed_kg * 9.80665, friction_n)
    root = tree("column", raw)
    if 150 * freed / longest > 0.02:
        _, foot, _, top, *_ = numbers(marks(root, "set free")[0])
        assert foot - top == pytest.approx(150 * freed / longest, abs=0.02)
    else:
        assert not list(marks(root, "set free")[0].iter(f"{SVG}path"))


@given(st.floats(10, 1000), st.floats(1, 500), st.floats(0.1, 20))
def test_volts_fall_in_proportion(supply_v, load_w, loop_ohm):
    raw = {"supply_v": supply_v, "load_w": load_w, "loop_ohm": loop_ohm}
    volts = assess("power-at-camera", raw)["figures"]["camera_v"]["value"]
    root = tree("power-at-camera", raw)
    if volts is None:
        assert marks(root, "no solution")
        return
    _, supply_y, _, camera_y = numbers(marks(root, "fall")[0])
    assert (190 - camera_y) / (190 - supply_y) == pytest.approx(volts / supply_v, abs=1e-3)


@given(st.floats(0, 3000), st.integers(0, 8), st.integers(0, 8), st.floats(0.1, 6))
def test_what_each_part_of_a_link_takes_is_in_proportion(length_m, pairs, splices, reserve_db):
    raw = {"length_m": length_m, "mated_pairs": pairs, "splices": splices, "reserve_db": reserve_db}
    root = tree("fibre", raw)
    losses = {
        "fibre": length_m * 0.4 / 1000,
        "mated pairs": 0.5 * pairs,
        "splices": 0.15 * splices,
        "reserve": reserve_db,
    }
    ends = {
        name: [
            float(one.get("d")[1:].split()[0])
            for one in marks(root, name)[0]
            if one.get("d", "").endswith("v28")
        ]
        for name, loss in losses.items()
        if loss
    }
    lengths = {name: last - first for name, (first, last) in ends.items()}
    scale = lengths["reserve"] / reserve_db
    assert lengths == pytest.approx({name: scale * loss for name, loss in losses.items() if loss}, abs=0.6)
    assert (len(marks(root, "pair")), len(marks(root, "splice"))) == (pairs, splices)


@given(st.floats(5, 35), st.floats(20, 90), st.floats(-20, 4))
def test_the_ring_lies_where_the_rope_meets_the_dew_point(air_c, humidity_percent, body_c):
    raw = {"air_c": air_c, "humidity_percent": humidity_percent, "body_c": body_c}
    root = tree("condensation", raw)
    if not marks(root, "earliest"):
        assert assess("condensation", raw)["figures"]["earliest_min"]["value"] in (0, None)
        return
    ring = next(marks(root, "earliest")[0].iter(f"{SVG}circle"))
    assert float(ring.get("cy")) == pytest.approx(numbers(marks(root, "dew point")[0])[1], abs=0.02)


@given(st.floats(1.4, 5.6), st.floats(-6, 6))
def test_stops_in_hand_are_as_long_as_they_are_many(wide_open, level_stops):
    raw = {
        "f_number": 5.6,
        "level_stops": level_stops,
        "wide_open_f_number": wide_open,
        "focal_length_mm": 100,
    }
    in_hand = assess("exposure", raw)["figures"]["in_hand_stops"]["value"]
    root = tree("exposure", raw)
    open_x, _, needed_x, _ = numbers(marks(root, "in hand")[0])
    warn_x = numbers(marks(root, "warn")[0])[0]
    assert (needed_x - open_x) / (warn_x - open_x) == pytest.approx(in_hand, abs=0.01)


@given(st.floats(0.1, 400), st.floats(1, 1000), st.floats(0.01, 100))
def test_a_core_s_reading_lies_against_its_limit(section_mm2, length_m, part):
    raw = {"section_mm2": section_mm2, "length_m": length_m}
    most = assess("conductor", raw)["figures"]["limit_ohm_per_km"]["value"] * length_m / 1000
    root = tree("conductor", raw | {"measured_ohm": min(100000, part * most)})
    read = next(one for one in marks(root, "read")[0].iter(f"{SVG}g") if one.get("transform"))
    x = float(re.findall(r"-?[\d.]+", read.get("transform"))[0])
    first, _, width, *_ = numbers(marks(root, "limit")[0])
    assert (x - first) / max(width, 0.01) == pytest.approx(part, rel=0.02, abs=0.02)
    assert any(one.get("stroke-dasharray") for one in marks(root, "read")[0]) == (part > 1)


@given(st.lists(st.floats(20, 500), min_size=1, max_size=6), st.floats(0.01, 1.9))
def test_a_fault_lies_in_proportion_along_its_drums(lengths, part):
    """A Murray loop: 2 Rb/(Ra + Rb) of the run."""
    drums = [{"tag": f"D{number}", "length_m": length} for number, length in enumerate(lengths)]
    raw = {"method": "murray", "drums": drums, "arm_sound": 2 - part, "arm_fault": part, "loop_ohm": 10}
    metres = assess("fault-distance", raw)["figures"]["distance_m"]["value"]
    root = tree("fault-distance", raw)
    if metres is None:
        assert not marks(root, "fault")
        return
    first, _, last, _ = numbers(marks(root, "run")[0])
    cross = next(one for one in marks(root, "fault")[0].iter(f"{SVG}path") if not one.get("stroke-dasharray"))
    x, _, to_x, _, *_ = (float(number) for number in re.findall(r"-?[\d.]+", cross.get("d")))
    assert ((x + to_x) / 2 - first) / (last - first) == pytest.approx(metres / sum(lengths), abs=0.001)
    joints = [float(next(one.iter(f"{SVG}circle")).get("cx")) for one in marks(root, "joint")]
    ends = [sum(lengths[: number + 1]) for number in range(len(lengths) - 1)]
    assert joints == pytest.approx([first + (last - first) * end / sum(lengths) for end in ends], abs=0.02)


@given(st.integers(2, 12), st.data())
def test_every_pin_has_its_line_and_what_is_wrong_has_its_own(count, data):
    pins = {str(number): f"pair {number}" for number in range(count)}
    state = {pin: data.draw(st.sampled_from(["whole", "open", "high", "not_read"])) for pin in pins}
    ohms = {"whole": 5, "open": None, "high": 9}
    measured = [[pin, pin, ohms[word]] for pin, word in state.items() if word in ohms]
    root = tree("continuity", {"pins": pins, "measured": measured, "limit_ohm": 7})
    assert all(len(marks(root, f"{word} {pin} {pin}")) == 1 for pin, word in state.items())
    shapes = {word: marks(root, f"{word} {pin} {pin}")[0] for pin, word in state.items()}
    counts = {
        word: (len(one.findall(f"{SVG}g")), len(one.findall(f"{SVG}circle")), len(one.findall(f"{SVG}path")))
        for word, one in shapes.items()
    }
    assert len(set(counts.values())) == len(counts)


def test_a_short_is_drawn_from_pin_to_pin_and_said_with_what_it_carries():
    raw = dict(readable("continuity"))["open, short, crossed and high"]
    root = tree("continuity", raw)
    assert "Short: 3 (talkback) to 4 (power go)." in root[1].text
    line = marks(root, "short 3 4")[0][0]
    _, y, _, to_y = numbers(line)
    assert (y, to_y) == (40 + 2 * 32, 40 + 3 * 32)
    assert line.get("stroke-dasharray")


@given(st.lists(st.tuples(st.floats(1, 900), st.floats(-2, 8)), min_size=1, max_size=8), st.floats(2, 6))
def test_lockers_stand_where_they_are_and_as_high_as_they_are_heavy(loads, wheelbase_m):
    lockers = [
        {"locker": f"L{number}", "mass_kg": mass, "forward_m": at} for number, (mass, at) in enumerate(loads)
    ]
    raw = {"wheelbase_m": wheelbase_m, "unladen_front_kg": 1000, "unladen_rear_kg": 1000, "lockers": lockers}
    root = tree("vehicle-load", raw)
    axles = {
        name: float(next(marks(root, name)[0].iter(f"{SVG}circle")).get("cx"))
        for name in ("front axle", "rear axle")
    }
    metre = (axles["rear axle"] - axles["front axle"]) / wheelbase_m
    boxes = [numbers(marks(root, f"locker {number + 1}")[0]) for number in range(len(loads))]
    heaviest = max(mass for mass, _ in loads)
    assert [x + 8 for x, *_ in boxes] == pytest.approx(
        [axles["rear axle"] - metre * at for _, at in loads], abs=0.05
    )
    assert [box[3] for box in boxes] == pytest.approx([60 * mass / heaviest for mass, _ in loads], abs=0.02)


def test_axles_are_drawn_on_one_scale_against_the_plate():
    raw = dict(readable("vehicle-load"))["gross beyond, axles within"]
    root = tree("vehicle-load", raw)
    lengths = {}
    for name in ("front axle", "rear axle", "gross"):
        row = marks(root, name)[-1]
        rope = next(one for one in row.iter(f"{SVG}path") if one.get("class") == "fig-rope")
        first, _, last, _ = (float(number) for number in re.findall(r"-?[\d.]+", rope.get("d")))
        lengths[name] = last - first
    assert lengths["rear axle"] / lengths["front axle"] == pytest.approx(11200 / 6900, abs=0.001)
    assert lengths["gross"] == pytest.approx(lengths["front axle"] + lengths["rear axle"], abs=0.02)
    assert any(one.get("class") == "fig-alarm" for one in marks(root, "gross")[-1])


@given(st.floats(25, 63), st.floats(0, 175))
def test_what_is_left_of_a_lift_is_in_proportion(horizontal_cm, vertical_cm):
    raw = {"load_kg": 10, "horizontal_cm": horizontal_cm, "vertical_cm": vertical_cm, "distance_cm": 25}
    found = assess("lifting-task", raw)["figures"]
    root = tree("lifting-task", raw)
    for name, word in (("hm", "reach"), ("vm", "height")):
        first, _, last, _ = numbers(marks(root, word)[0])
        assert (last - first) / 194 == pytest.approx(found[name]["value"], abs=0.001)


@given(st.floats(0.01, 100), st.floats(2, 100))
def test_insulation_a_step_up_is_tenfold(megohm, times):
    """Two earlier readings, one so many times the other: as far apart as their logarithms."""
    history = [["2030-01-01", megohm], ["2031-01-01", megohm * times], ["2032-01-01", megohm * times**2]]
    root = tree(
        "insulation",
        {"test_v": 500, "megohm": megohm, "length_m": 1000, "circuit": "mains", "history": history},
    )
    ys = [float(next(one.iter(f"{SVG}circle")).get("cy")) for one in marks(root, "earlier")]
    assert ys[0] - ys[1] == pytest.approx(ys[1] - ys[2], abs=0.03)
    assert ys[0] > ys[1]


@given(st.floats(1, 2000), st.floats(0.1, 200))
def test_a_coaxial_run_s_loss_lies_against_what_is_made_up(length_m, most_db):
    raw = {"length_m": length_m, "loss_db_per_100m": 2, "known_mhz": 10, "wanted_mhz": 10, "most_db": most_db}
    root = tree("coax", raw)
    row = marks(root, "loss")[0]
    rope = next(one for one in row.iter(f"{SVG}path") if one.get("class") == "fig-rope")
    first, _, last, _ = (float(number) for number in re.findall(r"-?[\d.]+", rope.get("d")))
    limit = next(one for one in row if one.get("stroke-dasharray") == "6 3")
    at = float(limit.get("d")[1:].split()[0])
    assert (last - first) * most_db == pytest.approx(
        (at - first) * length_m / 50, abs=0.05 * max(most_db, length_m / 50)
    )


def typed(field):
    """A raw value in the range of one declared field."""
    if isinstance(field, Quantity):
        ends = st.sampled_from([field.low, field.high])
        return (
            st.integers(math.ceil(field.low), math.floor(field.high))
            if field.whole
            else ends | st.floats(field.low, field.high)
        )
    if isinstance(field, Choice):
        return st.sampled_from(field.options)
    if isinstance(field, Table):
        row = st.fixed_dictionaries({name: typed(column) for name, column in field.columns.items()})
        return st.lists(row, min_size=field.least, max_size=6)
    if isinstance(field, Day):
        return st.dates(min_value=date(2020, 1, 1)).map(date.isoformat)
    if isinstance(field, Names):
        keys = st.sampled_from(field.keys) if field.keys else st.text("ABC<&1", min_size=1, max_size=4)
        return st.dictionaries(
            keys, st.sampled_from(field.options) if field.options else st.text("pq &", min_size=1)
        )
    return st.text(min_size=1, max_size=60)


@pytest.mark.parametrize("name", DRAWN)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_whatever_can_be_computed_can_be_drawn(name, data):
    """Any input in range is drawn well-formed and within its edges, or refused with a named field."""
    fields, must = declared(assessments()[name].inputs), needed(assessments()[name].inputs)
    raw = {
        field: data.draw(typed(one) if field in must else st.none() | typed(one), field)
        for field, one in fields.items()
    }
    try:
        root = tree(name, raw)
    except InputError:
        return
    within_edges(root)


def test_gear_out_of_date_hangs_on_a_tag_and_gear_beyond_its_mark_stands_in_a_hole():
    gear = [["SL-1", 500, "2031-01-01"], ["SL-2", 500, "2019-01-01"], ["SL-3", 20, "2031-01-01"], ["SL-4"]]
    raw = {"load_kg": 100, "gear": gear, "on_date": "2030-01-01"}
    root = tree("sling", raw)
    said = root[1].text
    assert "SL-2: marked 500 kg; overdue since 2019-01-01." in said
    assert "SL-3: marked 20 kg, beyond: 100 kg needed" in said
    assert "SL-4: no mark given; date not told." in said
    shapes = {
        tag: tuple(one.tag for one in marks(root, f"gear {tag}")[0]) for tag in ("SL-1", "SL-2", "SL-4")
    }
    assert len(set(shapes.values())) == 3
    assert marks(root, "gear SL-3")[0][0].get("stroke-dasharray")


def test_the_curve_the_map_the_load_and_the_link_are_drawn():
    """A figure is its own file beside a computation, and none is asked of a new one."""
    assert {"lens-tracking", "registration", "carry", "sling", "tackle", "fibre"} <= set(DRAWN)


def test_the_prompt_writes_the_figure(tmp_path):
    name, raw = "tackle", {"load_kg": 60, "sheaves": 4, "parts": 4}
    out = tmp_path / "tackle.svg"
    ran = CliRunner().invoke(main, ["assess", name, "--figure", str(out)], input=json.dumps(raw))
    assert ran.exit_code == 1  # cannot tell: no rope, no anchor, no people were given
    assert out.read_text(encoding="utf-8") == drawing(name, raw)


def test_a_bad_input_is_named_before_anything_is_drawn():
    with pytest.raises(InputError, match="distance_m"):
        drawing(
            "depth-of-field",
            {"focal_length_mm": 100, "f_number": 4, "distance_m": -1, "image_height_mm": 5.4},
        )
