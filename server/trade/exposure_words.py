"""What the light is answered in: whom to warn and when, what to take out first, what gain does not do."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from server.trade import light_meter, stops
from server.trade.fields import shown

if TYPE_CHECKING:
    from server.trade.exposure import Inputs, Light

SUNSET_LUX, CIVIL_DUSK_LUX = 585, 3.5
GAIN = "Gain brings level, not depth, and cures no lag: a tube that smears in little light smears on."


def findings(inputs: Inputs, found: Light, near: float | None, far: float | None) -> tuple[str, ...]:
    """Enough or not, ramping, depth, dusk, and how far the level and the scene agree."""
    return (
        _enough(found),
        *_lens(inputs),
        *_depth(found, near, far),
        *_agreement(found),
        *_split(inputs),
        *_share(inputs),
        *_meter(inputs),
        f"Under a clear sky over a flat horizon about {_stops(stops.light_ratio(SUNSET_LUX, CIVIL_DUSK_LUX))} "
        "go between sunset and the end of civil twilight; cloud and stands take more.",
    )


def _stops(value: float) -> str:
    number = shown(round(value, 2))
    return f"{number} stop{'' if number == '1' else 's'}"


def _f(number: float) -> str:
    return f"f/{shown(round(number, 2))}"


def _enough(found: Light) -> str:
    at = f"at the tightest shot {_f(found.needed)} is needed and {_f(found.available)} available"
    if found.in_hand < 0:
        decibels = -found.in_hand * stops.DB_PER_STOP
        return f"Short: {at}: {_stops(-found.in_hand)} too little, {shown(round(decibels, 1))} dB."
    return f"{_stops(found.in_hand)} in hand: {at}."


def _lens(inputs: Inputs) -> list[str]:
    said = []
    knee = inputs.ramp_knee_mm
    if knee is None:
        said.append(
            "Where ramping begins was not given: a long zoom may close down by itself at the long end."
        )
    elif inputs.focal_length_mm > knee:
        loss = stops.between(knee, inputs.focal_length_mm)
        said.append(f"Ramping takes {_stops(loss)} at {shown(inputs.focal_length_mm)} mm.")
    if inputs.extender > 1:
        said.append(f"The extender takes {_stops(stops.between(1, inputs.extender))}, at every focal length.")
    return said


def _depth(found: Light, near: float | None, far: float | None) -> list[str]:
    if near is None or far is None:
        return ["Distance and blur circle were not given: cannot tell what depth is left."]
    to = "infinity" if math.isinf(far) else f"{shown(round(far, 3))} m"
    n = max(found.needed, found.available)
    said = [f"Sharp from {shown(round(near, 3))} m to {to} at {_f(n)}, the tightest shot."]
    if found.in_hand > 0:
        part = found.available / n
        said.append(f"Wide open, about {shown(round(part, 2))} of that depth is left: focus gets harder.")
    return said


def _agreement(found: Light) -> list[str]:
    if found.by_scene is None or found.by_scene == found.needed:
        return []
    apart = abs(stops.between(found.by_scene, found.needed))
    return [
        f"The light on the scene alone would ask {_f(found.by_scene)}, {_stops(apart)} from the level read."
    ]


def _split(inputs: Inputs) -> list[str]:
    if inputs.split is None:
        return []
    if inputs.split == "prism":
        return [
            "A prism block divides by wavelength: a neutral split's loss is not its own; the level has it."
        ]
    paths = 3 if inputs.split == "3-tube" else 4
    return [
        f"A neutral split over {paths} paths would cost {_stops(stops.neutral_split(paths))} a path; the level and "
        "the rating already have what it really is."
    ]


def _share(inputs: Inputs) -> list[str]:
    if inputs.luminance_share is None:
        return []
    lost = _stops(stops.after_share(inputs.luminance_share))
    return [
        f"The luminance tube leaves red, green and blue {lost} less; the level has it, the rating may not."
    ]


def _meter(inputs: Inputs) -> list[str]:
    if inputs.meter_ev is None and inputs.meter_f_number is None:
        return []
    part = 100 * light_meter.meter_reflectance(light_meter.REFLECTED_K, inputs.meter_constant)
    return [
        f"A reflected meter (K {shown(light_meter.REFLECTED_K)}) agrees with this one on a surface that gives back "
        f"{shown(round(part, 2))} %."
    ]


def advice(inputs: Inputs, found: Light) -> tuple[str, ...]:
    """Iris now, whom to warn, and what to do when the light falls short, in order."""
    said = []
    if inputs.level_stops:
        way = "Close" if inputs.level_stops > 0 else "Open"
        said.append(f"{way} the iris to {_f(found.needed)} for full level, as far as the lens goes.")
    if found.in_hand >= inputs.warn_stops:
        lost = _stops(found.in_hand - inputs.warn_stops)
        said.append(
            f"Warn the operator of the tightest shot when {lost} of light have gone{_lux(inputs, found)}."
        )
        return tuple(said)
    said.append(
        "Warn the operator now: at the tightest shot the iris is at its end, and the depth at its least."
    )
    if inputs.filter_stops:
        said.append(f"Take the filter out first: it gives {_stops(inputs.filter_stops)}.")
    missing = -found.in_hand - inputs.filter_stops
    if missing > 0:
        said.append(
            f"Then {_stops(missing)} are wanted still: more light, the extender out, or a wider shot."
        )
        said.append(f"Only then gain, {shown(round(missing * stops.DB_PER_STOP, 1))} dB more. {GAIN}")
    elif inputs.gain_db > 0:
        said.append(GAIN)
    return tuple(said)


def _lux(inputs: Inputs, found: Light) -> str:
    lux = inputs.lux()
    if lux is None:
        return ""
    at = lux * 2.0 ** (inputs.warn_stops - found.in_hand)
    return f", at about {shown(round(at, 1))} lx"


def basis(inputs: Inputs) -> tuple[str, ...]:
    """Which formulas, whose limits."""
    source = (
        f"Rating {shown(inputs.reference_lux)} lx at f/{shown(inputs.reference_f_number)} without gain: a house "
        "figure, editable, from memory; the camera's own papers know."
    )
    by_level = "Needed is reckoned from the level read; the light on the scene stands beside it."
    return (
        *((by_level,) if inputs.level_stops is not None else ()),
        f"{source} The least light goes by it.",
        f"The operator is warned at {shown(inputs.warn_stops)} stops left to open: house limit, editable.",
        "Ramping: the largest entrance pupil stays, so the f-number grows with focal length (Ray, abstract).",
        "Twilight figures: American Meteorological Society, Glossary of Meteorology, Civil twilight.",
        *(
            (f"Meter: C {shown(inputs.meter_constant)}, after ISO 2720:1974, second-hand; its papers know.",)
            if inputs.meter_ev is not None or inputs.meter_f_number is not None
            else ()
        ),
        "6.02 dB is one stop, on a linear signal. The level is taken as read where the lens does not ramp.",
    )
