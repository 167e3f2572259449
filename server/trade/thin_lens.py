"""The thin lens in air, in millimetres: conjugates, depth of field, depth of focus, back focus.

f focal length, n f-number, c blur circle on the sensor, s object distance from the lens (s > f).
Form E is the exact thin lens. Forms A (approximate, s much longer than f) and S (blur taken at the
focal plane: W. J. Smith, Modern Optical Engineering, eqs 9.7-9.11) are what printed tables use.
"""

from __future__ import annotations

import math

FLANGE_IN_AIR_MM = 48.0
"""2/3 inch mount, flange to image in air: BTA S-1005B, second-hand."""
RED_PLANE_UM, BLUE_PLANE_UM = 10.0, 5.0
"""How far red and blue lie behind green by design: BTA S-1005B, second-hand."""


def image_distance(f: float, s: float) -> float:
    """v of 1/f = 1/s + 1/v."""
    return s * f / (s - f)


def extension(f: float, s: float) -> float:
    """How far the lens moves out from its infinity setting: v - f."""
    return f * f / (s - f)


def magnification(f: float, s: float) -> float:
    """m = f/(s - f): height of the image over that of the object."""
    return f / (s - f)


def hyperfocal(f: float, n: float, c: float) -> float:
    """H = f^2/(N c) + f: focused there, everything from H/2 to infinity is sharp."""
    return f * f / (n * c) + f


def limits(f: float, n: float, c: float, s: float) -> tuple[float, float]:
    """Near and far limit, form E; far is math.inf from H on."""
    return _limits(s * f * f, f * f, n * c * (s - f))


def limits_approximate(h: float, s: float) -> tuple[float, float]:
    """Near and far limit, form A, from a hyperfocal distance."""
    return _limits(h * s, h, s)


def limits_at_focal_plane(f: float, n: float, c: float, s: float) -> tuple[float, float]:
    """Near and far limit, form S."""
    bracket = f * f - s * n * c
    far = s * f * (f - n * c) / bracket if bracket > 0 else math.inf
    return s * f * (f + n * c) / (f * f + s * n * c), far


def _limits(product: float, whole: float, part: float) -> tuple[float, float]:
    return product / (whole + part), product / (whole - part) if whole > part else math.inf


def focus_between(near: float, far: float) -> float:
    """Where to focus so that the limits fall at near and far: 2 D d/(D + d), form A."""
    return 2 * far * near / (far + near)


def depth_of_focus(n: float, c: float) -> float:
    """How far the sensor may be out on either side, N c: the simple and stricter form (Smith, eq. 9.8)."""
    return n * c


def focused_at(f: float, s: float, delta: float) -> float:
    """What is really in focus with the ring right for s and the sensor `delta` too far back.

    Exact; math.inf stands for infinity and beyond. With s = math.inf: f^2/delta + f.
    """
    reach = (f if math.isinf(s) else image_distance(f, s)) + delta
    return reach * f / (reach - f) if reach > f else math.inf


def distance_shift(f: float, s: float, delta: float) -> float:
    """ds = -delta (s - f)^2/f^2, the linear form of `focused_at`: useless at the wide end."""
    return -delta * (s - f) ** 2 / f**2


def vergence_shift(f: float, delta: float) -> float:
    """dV = delta/f^2: a sensor too far back, seen in vergence (per mm)."""
    return delta / f**2


def blur_of_shift(delta: float, n: float) -> float:
    """Blur on the sensor displaced by delta, |delta|/N, the same at every focal length."""
    return abs(delta) / n


def ring_shift(f: float, s: float, part: float) -> float:
    """Image shift from a ring that is out by a part of s, linear form: f^2/s^2 ds."""
    return f * f / s**2 * (part * s)


def image_shift(f: float, chart: float, mark: float) -> float:
    """The shift delta at the sensor from a chart at `chart` found sharpest with the ring at `mark`.

    f^2/(s_c - f) - f^2/(s_m - f), exact; positive means that the sensor sits too far back.
    """
    return extension(f, chart) - extension(f, mark)


def wide_end_remainder(delta: float, f_wide: float, f_long: float) -> float:
    """What is left at the wide end after focusing by eye at the long end: delta (1 - (f_W/f_T)^2)."""
    return delta * (1 - (f_wide / f_long) ** 2)


def blur_circle(image_height: float, active_lines: float) -> float:
    """One TV line on the sensor: the house limit for sharp."""
    return image_height / active_lines
