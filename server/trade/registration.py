"""Do the channels lie on each other, by how much, which control cures it, and what is the lens?

Displacements of a channel against green are fitted with 13 terms at once (registration_terms.py), two
equations a point, by least squares; what the points cannot tell apart is said by rank, not by counting.
What remains is each point after every control told apart is turned; the radial term is the lens and
remains. Zones and limits are the house's, from memory: no published table was found.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from server.trade import registration_words as words
from server.trade import registration_zones as zoned
from server.trade import scanning
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, names, quantity, table_of, text
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.line_centre import Still, reading_percent
from server.trade.registration_terms import NAMES, ChannelFit, Point, fit, size

LEAST_POINTS, MOST_PERCENT = 3, 10.0


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One channel at one point of the chart."""

    channel: str = choice("channel", "red", "blue", "luminance", help="against green, the reference")
    x_ph: float = quantity("x", "PH", -1, 1, "from the centre, + to the right, in picture heights")
    y_ph: float = quantity("y", "PH", -0.5, 0.5, "from the centre, + down, in picture heights")
    dx: float = quantity(
        "across", "of the unit chosen", -5000, 5000, "+ where the channel lies right of green"
    )
    dy: float = quantity("down", "of the unit chosen", -5000, 5000, "+ where the channel lies below green")


@dataclass(frozen=True, kw_only=True)
class ZoneLimit:
    """The house limit of one zone."""

    percent: float = quantity("limit", "% of picture height", 0.001, 10)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Readings of a chart, or an answer by eye for each zone; and what the readings were made at."""

    system: str = choice("scanning system", *scanning.SYSTEMS)
    aspect: str = choice("aspect", *scanning.ASPECTS)
    readings: tuple[Reading, ...] = table_of(Reading, "readings", least=1, most=500, default=())
    unit: str = choice(
        "unit of the readings", *scanning.UNITS, default="percent-ph",
        help="ns and samples measure across; with them, down is in lines",
    )  # fmt: skip
    zones: Mapping[str, str] | None = names(
        "zones by eye",
        "the worst channel in each zone",
        options=zoned.ANSWERS,
        keys=zoned.ZONES,
        default=None,
    )
    zone_limits_percent: tuple[ZoneLimit, ...] = table_of(
        ZoneLimit, "limits of zones 1, 2, 3",
        "house limits, editable; sensors, lens excluded: 0.05 throughout (memory)", least=3, most=3,
        default=tuple(ZoneLimit(percent=limit) for limit in zoned.LIMITS_PERCENT),
    )  # fmt: skip
    reading_step_percent: float = quantity(
        "readings good to", "% of picture height", 0.001, 1, "house figure, editable", default=0.02
    )
    still: tuple[Still, ...] = table_of(
        Still, "read from a still", "how sure its lines can be at best; readings count no surer", least=0, most=1,
        default=(),
    )  # fmt: skip
    camera: str = choice("camera", "three-tube", "four-tube", "three-sensor", default="three-tube")
    focal_length_mm: float | None = quantity("focal length", "mm", 1, 3000, "as it was read at", default=None)
    f_number: float | None = quantity("iris", "", 0.7, 64, "f-number as it was read at", default=None)
    minutes_warm: float | None = quantity("minutes since power", "min", 0, 10000, default=None)
    attitude: str | None = text("pointing", "which way, and tilted how", default=None)

    def __post_init__(self) -> None:
        if self.system.startswith("1080") and self.aspect == "4:3":
            raise InputError(("aspect", f'"4:3" does not go with {self.system}; give "16:9"'))
        if not self.readings and self.zones is None:
            raise InputError(
                ("readings", f"is missing; give {LEAST_POINTS} to 500 rows, or the zones by eye")
            )
        if self.readings and self.zones is not None:
            raise InputError(("zones", "is given beside readings; give one of the two"))
        problems = [problem for i, one in enumerate(self.readings, 1) for problem in self._wrong(i, one)]
        problems += [
            (
                "readings",
                f"{len(points)} points of {channel} cannot bear 13 unknowns; give {LEAST_POINTS} to 500 "
                "points, x_ph and y_ph in PH, two equations each (7 points at the least for all 13)",
            )
            for channel, points in self.channels().items()
            if len({(one.x, one.y) for one in points}) < LEAST_POINTS
        ]
        if problems:
            raise InputError(*problems)

    def _wrong(self, number: int, one: Reading) -> list[tuple[str, str]]:
        half = scanning.ASPECTS[self.aspect] / 2
        found = []
        if abs(one.x_ph) > half + 0.001:
            found.append(
                (
                    f"readings[{number}].x_ph",
                    f"{shown(one.x_ph)} is beyond {shown(-half)} to {shown(half)} PH, the edges "
                    f"at {self.aspect}",
                )
            )
        point = self.point(one)
        for name, part in (("dx", point.dx), ("dy", point.dy)):
            if abs(100 * part) > MOST_PERCENT:
                found.append(
                    (
                        f"readings[{number}].{name}",
                        f"{shown(getattr(one, name))} is {shown(100 * part)} % of picture height, beyond "
                        f"-10 to 10 % PH; is it in another unit than {self.unit}?",
                    )
                )
        return found

    def point(self, one: Reading) -> Point:
        """A reading in picture heights."""
        system, aspect = scanning.SYSTEMS[self.system], scanning.ASPECTS[self.aspect]
        across = scanning.percent_across(one.dx, self.unit, system, aspect) / 100
        down = scanning.percent_down(one.dy, self.unit, system) / 100
        return Point(one.x_ph, one.y_ph, across, down)

    def channels(self) -> dict[str, list[Point]]:
        """The points of each channel read: luminance, red, blue, the order of work."""
        found: dict[str, list[Point]] = {}
        for channel in ("luminance", "red", "blue"):
            points = [self.point(one) for one in self.readings if one.channel == channel]
            if points:
                found[channel] = points
        return found

    def step_percent(self) -> float:
        """How far each reading is to be trusted: as declared, and never surer than the still allows."""
        return max(self.reading_step_percent, *(reading_percent(one) for one in self.still), 0.0)

    def limits(self) -> tuple[float, ...]:
        """% of picture height by zone."""
        return tuple(limit.percent for limit in self.zone_limits_percent)


def fits(inputs: Inputs) -> dict[str, ChannelFit]:
    """The fit of every channel; `points` and `left` are the vectors of a map before and after."""
    cured = words.cured_by_controls(inputs.camera)
    step = inputs.step_percent() / 100
    return {channel: fit(points, cured, step) for channel, points in inputs.channels().items()}


def assess(inputs: Inputs) -> Assessment:
    """By readings where there are any, else by eye."""
    return _by_eye(inputs) if inputs.zones is not None else _by_readings(inputs)


def _by_eye(inputs: Inputs) -> Assessment:
    system = scanning.SYSTEMS[inputs.system]
    judged = zoned.judged(inputs.zones or {}, system, inputs.limits())
    if False in judged.values():
        verdict = Verdict.ADJUST
    else:
        verdict = Verdict.CANNOT_TELL if None in judged.values() else Verdict.WITHIN
    line = f"By eye: one line is {shown(1 / scanning.lines(1, system))} % of picture height."
    return words.answer(
        inputs, verdict, {}, (line, *words.by_eye(judged, inputs.limits())), words.eye_advice(judged)
    )


def _by_readings(inputs: Inputs) -> Assessment:
    found = fits(inputs)
    aspect, limits = scanning.ASPECTS[inputs.aspect], inputs.limits()
    before = {name: _by_zone(one.points, aspect) for name, one in found.items()}
    after = {name: _by_zone(one.left, aspect) for name, one in found.items()}
    beyond, left_beyond = _beyond(before, limits), _beyond(after, limits)
    unread = [zone for zone in zoned.ZONES if any(zone not in zones for zones in before.values())]
    advice = words.advice(inputs, found, beyond, unread)
    if beyond:
        verdict = _cure(found, {channel for channel, *_ in left_beyond})
    else:
        verdict = Verdict.CANNOT_TELL if unread else Verdict.WITHIN
    findings = words.by_readings(inputs, found, beyond, left_beyond, unread)
    return words.answer(inputs, verdict, _figures(found, before), findings, advice)


def _cure(found: Mapping[str, ChannelFit], left: set[str]) -> Verdict:
    """What turning brings: what remains of a channel whose terms are not all told may yet be cured."""
    if not left:
        return Verdict.ADJUST
    told = any(found[channel].solution.rank == len(NAMES) for channel in left)
    return Verdict.BEYOND if told else Verdict.CANNOT_TELL


def _by_zone(points: tuple[Point, ...], aspect: float) -> dict[str, tuple[float, float]]:
    """Rms and worst in % of picture height, of the zones that have points."""
    inside: dict[str, list[Point]] = {}
    for one in points:
        inside.setdefault(zoned.ZONES[zoned.zone_of(one.x, one.y, aspect)], []).append(one)
    sizes = {zone: size(members) for zone, members in sorted(inside.items())}
    return {zone: (100 * rms, 100 * worst) for zone, (rms, worst) in sizes.items()}


def _beyond(
    sizes: Mapping[str, Mapping[str, tuple[float, float]]], limits: tuple[float, ...]
) -> list[tuple[str, str, float, float]]:
    """Channel, zone, worst and limit where the worst is beyond the limit."""
    limit = dict(zip(zoned.ZONES, limits, strict=True))
    return [
        (channel, zone, worst, limit[zone])
        for channel, zones in sizes.items()
        for zone, (_, worst) in zones.items()
        if worst > limit[zone] * (1 + 1e-9)
    ]


def _figures(
    found: Mapping[str, ChannelFit], before: Mapping[str, Mapping[str, tuple[float, float]]]
) -> dict[str, Figure]:
    figures = {}
    for channel, one in found.items():
        rms, worst = size(one.points)
        figures[f"{channel}.rms_percent"] = Figure(100 * rms, "% PH")
        figures[f"{channel}.worst_percent"] = Figure(100 * worst, "% PH")
        for zone, (zone_rms, zone_worst) in before[channel].items():
            figures[f"{channel}.{zone}.rms_percent"] = Figure(zone_rms, "% PH")
            figures[f"{channel}.{zone}.worst_percent"] = Figure(zone_worst, "% PH")
        for name in NAMES:
            value = one.coefficient(name)
            figures[f"{channel}.{name}"] = Figure(None if value is None else 100 * value, "% PH")
        figures[f"{channel}.remainder_percent"] = Figure(100 * size(one.left)[1], "% PH")
        figures[f"{channel}.rank"] = Figure(one.solution.rank, "")
    return figures
