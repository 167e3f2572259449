"""Is the light enough at the tightest shot, now and as it goes, and what depth is left then?

All f-numbers are reckoned with the extender counted in. Needed: what brings full level, from the level
now (N 2^(level/2)) or from the scene against the camera's rating (N1 sqrt(E2/E1 10^(G/20)), filter taken
off). Available: the lens wide open at the tightest shot, max(N0, f/D) times the extender, D = knee/N0
(the effect: S. F. Ray, Applied Photographic Optics). Gain counts voltage on a linear signal.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import light_meter, ramping, stops, thin_lens
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.exposure_words import advice, basis, findings
from server.trade.fields import shown

LIGHTS = ("scene_lux", "meter_ev", "meter_f_number")
"""The light on the scene, by one of these."""
MARKED = 0.03
"""Rings are marked in rounded numbers: f/2.8 for 2.828, f/1.4 times 2 for f/2.8."""


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The camera as it stands now, and the tightest shot the show wants."""

    f_number: float = quantity("iris now", "", 0.7, 128, "f-number, extender counted in: ring times extender")
    level_stops: float | None = quantity(
        "level now", "stops", -12, 12,
        "how far from full level: negative is too dark; or give the scene's light", default=None,
    )  # fmt: skip
    gain_db: float = quantity("gain now", "dB", -12, 48, default=0)
    filter_stops: float = quantity(
        "filter now", "stops", 0, 12, "in the path, and could be taken out", default=0
    )
    wide_open_f_number: float = quantity("widest iris", "", 0.7, 32, "on the barrel, without the extender")
    ramp_knee_mm: float | None = quantity(
        "ramping begins at", "mm", 1, 3000, "focal length, without the extender", default=None
    )
    focal_length_mm: float = quantity(
        "tightest shot", "mm", 1, 3000, "focal length on the barrel, without the extender"
    )
    extender: float = quantity("extender", "times", 1, 3, "1 where there is none", default=1)
    warn_stops: float = quantity(
        "warn the operator at", "stops", 0, 6, "stops left to open: house limit, editable", default=1
    )
    distance_m: float | None = quantity(
        "distance", "m", 0.1, 1000, "for the depth, from the lens", default=None
    )
    blur_circle_mm: float | None = quantity(
        "blur circle", "mm", 0.0005, 0.5, "for the depth: one line of the picture on the sensor", default=None
    )
    scene_lux: float | None = quantity("light on the scene", "lx", 0.001, 200000, default=None)
    meter_ev: float | None = quantity(
        "incident meter reads", "EV", -6, 16, "at ISO 100; instead of the light in lx", default=None
    )
    meter_f_number: float | None = quantity(
        "incident meter reads", "f-number", 0.7, 128, "with meter_seconds and meter_iso", default=None
    )
    meter_seconds: float = quantity("meter set to", "s", 0.0001, 60, "1/50 or 1/60 for fields", default=0.02)
    meter_iso: float = quantity("meter set to ISO", "", 1, 100000, default=100)
    meter_constant: float = quantity(
        "meter's constant C", "", 200, 600, "250 flat, 340 dome; its papers know", default=250
    )
    reference_lux: float = quantity(
        "rating, light", "lx", 1, 100000, "full level without gain: house figure, editable, from memory",
        default=2000,
    )  # fmt: skip
    reference_f_number: float = quantity(
        "rating, iris", "", 0.7, 64, "goes with the rating's light", default=11
    )
    split: str | None = choice("light is split by", "prism", "3-tube", "4-tube", default=None)
    luminance_share: float | None = quantity(
        "luminance tube takes", "", 0.01, 0.99, "of all the light, neutrally; for a fourth tube", default=None
    )
    lens_transmittance: float | None = quantity(
        "lens passes", "", 0.05, 1, "part of the light, for its T-number", default=None
    )

    def __post_init__(self) -> None:
        widest = self.wide_open_f_number * self.extender
        lights = [name for name in LIGHTS if getattr(self, name) is not None]
        if len(lights) > 1:
            raise InputError((lights[1], f"is given beside {lights[0]}; give one of {', '.join(LIGHTS)}"))
        if self.level_stops is None and not lights:
            raise InputError(
                ("level_stops", "is missing; give it (-12 to 12 stops), or scene_lux (0.001 to 200000 lx)")
            )
        if self.f_number < widest * (1 - MARKED):
            raise InputError(
                (
                    "f_number",
                    f"f/{shown(self.f_number)} is beyond the widest f/{shown(widest)}, extender counted in; "
                    f"give {shown(widest)} to 128",
                )
            )
        if (self.distance_m is None) != (self.blur_circle_mm is None):
            raise InputError(("distance_m", "in m goes with blur_circle_mm in mm; give both, or neither"))
        if self.distance_m is not None and 1000 * self.distance_m <= self.focal_length_mm * self.extender:
            raise InputError(
                (
                    "distance_m",
                    f"{shown(self.distance_m)} m is within the focal length; give it in m, to 1000 m",
                )
            )

    def lux(self) -> float | None:
        """The light on the scene, as given or by the meter."""
        if self.meter_ev is not None:
            return light_meter.lux_of_ev(self.meter_ev, self.meter_constant)
        if self.meter_f_number is not None:
            return light_meter.incident_lux(
                self.meter_f_number, self.meter_seconds, self.meter_iso, self.meter_constant
            )
        return self.scene_lux


@dataclass(frozen=True)
class Light:
    """f-numbers with the extender counted in; stops in hand are negative where the light falls short."""

    needed: float
    available: float
    in_hand: float
    by_scene: float | None


def light(inputs: Inputs) -> Light:
    """Needed against available."""
    lux = inputs.lux()
    by_scene = None if lux is None else _by_scene(inputs, lux)
    by_level = None if inputs.level_stops is None else stops.closed(inputs.f_number, inputs.level_stops)
    needed = by_level or by_scene or 0.0  # Inputs holds that one of the two is given
    widest = ramping.widest(inputs.focal_length_mm, inputs.wide_open_f_number, inputs.ramp_knee_mm)
    available = ramping.extended(widest, inputs.extender)
    return Light(needed, available, stops.between(available, needed), by_scene)


def _by_scene(inputs: Inputs, lux: float) -> float:
    rated = stops.needed_f_number(lux, inputs.gain_db, inputs.reference_lux, inputs.reference_f_number)
    return stops.closed(rated, -inputs.filter_stops)


def assess(inputs: Inputs) -> Assessment:
    """Within while more is left to open than the operator must be warned at."""
    found = light(inputs)
    near, far = _depth(inputs, max(found.needed, found.available))
    return Assessment(
        verdict=_verdict(inputs, found.in_hand),
        figures={
            "needed_f_number": Figure(found.needed, ""),
            "available_f_number": Figure(found.available, ""),
            "shortfall_stops": Figure(max(0.0, -found.in_hand), "stops"),
            "in_hand_stops": Figure(found.in_hand, "stops"),
            "ramp_loss_stops": Figure(
                stops.between(inputs.wide_open_f_number * inputs.extender, found.available), "stops"
            ),
            "extender_loss_stops": Figure(stops.between(1, inputs.extender), "stops"),
            "split_stops": Figure(_split(inputs.split), "stops"),
            "warn_lux": Figure(_warn_lux(inputs, found), "lx"),
            **_scene(inputs, found),
            **_glass(inputs, found),
            "near_m": Figure(near, "m"),
            "far_m": Figure(None if far is None or math.isinf(far) else far, "m"),
        },
        findings=findings(inputs, found, near, far),
        advice=advice(inputs, found),
        cautions=(
            "No lens or eye at the sun: a tube's target burns, and an eye does too.",
            "Lamps are hot, on mains, of glass: let them cool before moving. Light towers and dark fields: trips, "
            "cables on paths, no climbing after light fails. Local rules and a competent person decide.",
        ),
        basis=basis(inputs),
    )


def _verdict(inputs: Inputs, in_hand: float) -> Verdict:
    if in_hand >= inputs.warn_stops:
        return Verdict.WITHIN
    return Verdict.ADJUST if in_hand + inputs.filter_stops >= 0 else Verdict.BEYOND


def _depth(inputs: Inputs, n: float) -> tuple[float | None, float | None]:
    if inputs.distance_m is None or inputs.blur_circle_mm is None:
        return None, None
    f = inputs.focal_length_mm * inputs.extender
    near, far = thin_lens.limits(f, n, inputs.blur_circle_mm, 1000 * inputs.distance_m)
    return near / 1000, far / 1000


def _split(split: str | None) -> float | None:
    """The neutral split; a prism block divides by wavelength, so no such number is its loss."""
    paths = {"3-tube": 3, "4-tube": 4}
    return stops.neutral_split(paths[split]) if split in paths else None


def _warn_lux(inputs: Inputs, found: Light) -> float | None:
    """The light at which only `warn_stops` are left to open, from the light now."""
    lux = inputs.lux()
    if lux is None:
        return None
    return float(lux * 2.0 ** (inputs.warn_stops - found.in_hand))


def _scene(inputs: Inputs, found: Light) -> dict[str, Figure]:
    """The light as it is, and the least that gives full level at the tightest shot, by the rating."""
    lux = inputs.lux()
    clear = stops.needed_lux(found.available, inputs.gain_db, inputs.reference_lux, inputs.reference_f_number)
    return {
        "scene_lux": Figure(lux, "lx"),
        "scene_ev": Figure(
            None if lux is None else light_meter.ev_of_lux(lux, inputs.meter_constant), "EV at ISO 100"
        ),
        "least_lux": Figure(float(clear * 2.0**inputs.filter_stops), "lx"),
    }


def _glass(inputs: Inputs, found: Light) -> dict[str, Figure]:
    """What the lens keeps back, and a luminance tube from the other three."""
    tau, share = inputs.lens_transmittance, inputs.luminance_share
    return {
        "glass_stops": Figure(None if tau is None else stops.transmittance(tau), "stops"),
        "t_number": Figure(None if tau is None else stops.t_number(found.available, tau), ""),
        "luminance_stops": Figure(None if share is None else stops.after_share(share), "stops"),
    }
