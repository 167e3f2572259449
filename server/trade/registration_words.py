"""What a registration is answered in: which control, which way, in which order, and what is the lens."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from server.trade import registration_zones as zoned
from server.trade import scanning
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.fields import shown
from server.trade.registration_terms import (
    CONTROLS,
    NAMES,
    TERMS,
    ChannelFit,
    Term,
    largest,
    lateral_colour,
    size,
)

if TYPE_CHECKING:
    from server.trade.registration import Inputs

CAUTIONS = (
    "EHT and hot tubes inside: adjust only with covers as the maker intends, by a competent engineer; one "
    "hand, no jewellery, discharge before touching; local rules come first.",
    "Lens and head stay balanced while tilting; no one under a camera on a tower.",
)
AFTERWARDS = "Then centring again; go round until nothing moves, for the controls pull on each other."
WORTH = 0.5
"""A control is worth turning from this part of the tightest limit on, and beyond twice its own spread."""
WARM_MIN = 60

Beyond = Sequence[tuple[str, str, float, float]]


def answer(
    inputs: Inputs,
    verdict: Verdict,
    figures: Mapping[str, Figure],
    findings: tuple[str, ...],
    advice: tuple[str, ...],
) -> Assessment:
    """The assessment, with what every registration says."""
    outer = ", ".join(shown(radius) for radius in zoned.radii(scanning.ASPECTS[inputs.aspect]))
    limits = ", ".join(shown(limit) for limit in inputs.limits())
    return Assessment(
        verdict=verdict,
        figures=figures,
        findings=(*findings, *_state(inputs)),
        advice=advice,
        cautions=CAUTIONS,
        basis=(
            f"Zones 1, 2, 3 reach to {outer} picture heights from the centre, limits {limits} % of picture "
            "height: house limits, editable, from memory; no published table was found.",
            "Signs: + across is right of green, + down is below; in time, right is later.",
            "Which term is which control, and the order of work: from memory. Green geometry comes first.",
            "Judged is the length of a displacement; the remainder is that of the worst point after turning.",
        ),
    )


def _state(inputs: Inputs) -> tuple[str, ...]:
    warm = inputs.minutes_warm
    at = {
        "focal length": inputs.focal_length_mm and f"{shown(inputs.focal_length_mm)} mm",
        "iris": inputs.f_number and f"f/{shown(inputs.f_number)}",
        "minutes since power": None if warm is None else f"{shown(warm)} min since power",
        "pointing": inputs.attitude and f"pointing {inputs.attitude}",
    }
    read_at = ", ".join(value for value in at.values() if value) or "nothing that was given"
    missing = ", ".join(name for name, value in at.items() if not value)
    kept = (
        f"Read at {read_at}{f' (not given: {missing})' if missing else ''}: it holds for that alone; "
        "tilting moves tubes."
    )
    if warm is not None and warm < WARM_MIN:
        return kept, "Warm for less than an hour: centring still drifts (a retired OB engineer, second-hand)."
    return (kept,)


def by_eye(judged: Mapping[str, bool | None], limits: Sequence[float]) -> tuple[str, ...]:
    """A sentence for each zone."""
    said = {True: "within", False: "beyond", None: "cannot tell against"}
    return tuple(
        f"{zone}: {said[within]} the house limit of {shown(limit)} % of picture height."
        for (zone, within), limit in zip(judged.items(), limits, strict=True)
    )


def eye_advice(judged: Mapping[str, bool | None]) -> tuple[str, ...]:
    """Where to begin without figures."""
    if all(judged.values()):
        return ()
    if judged["zone-1"] is False:
        return (
            "Begin with centring of the channel that shows the fringe, then rotation and skew, then size.",
            AFTERWARDS,
        )
    return ("Look at every zone; read displacements at nine points to learn which control it is.",)


def by_readings(
    inputs: Inputs, found: Mapping[str, ChannelFit], beyond: Beyond, left: Beyond, unread: Sequence[str]
) -> tuple[str, ...]:
    """What was found, what will remain, the lens, and what the points cannot tell."""
    said = [
        f"{channel}, {zone}: {_lengths(inputs, worst)}, beyond the house limit of {shown(limit)} %."
        for channel, zone, worst, limit in beyond
    ] or ["Every point read is within the house limit of its zone."]
    said += [
        f"{channel}, {zone}: {shown(round(worst, 4))} % remains after turning, beyond the limit of {shown(limit)} %."
        for channel, zone, worst, limit in left
    ]
    said += [f"{zone} was not read for every channel: cannot tell there." for zone in unread]
    for channel, one in found.items():
        said += [
            f"{channel}: after turning, {_lengths(inputs, 100 * size(one.left)[1])} remains at the worst.",
            *_apart(channel, one),
            *_lens(inputs, channel, one),
            _trust(inputs, channel, one),
        ]
    return tuple(said)


def _lengths(inputs: Inputs, percent: float) -> str:
    system, aspect = scanning.SYSTEMS[inputs.system], scanning.ASPECTS[inputs.aspect]
    ns, lines = scanning.nanoseconds(percent, system, aspect), scanning.lines(percent, system)
    return (
        f"{shown(round(percent, 4))} % of picture height "
        f"({shown(round(ns, 1))} ns across or {shown(round(lines, 2))} lines down)"
    )


def _apart(channel: str, one: ChannelFit) -> list[str]:
    rank = one.solution.rank
    if rank == len(NAMES):
        return []
    groups = "; ".join(", ".join(TERMS[i].label for i in group) for group in one.solution.groups)
    return [
        f"{channel}: these points tell {rank} of 13 terms; they cannot tell apart, and so leave: {groups}."
    ]


def _lens(inputs: Inputs, channel: str, one: ChannelFit) -> list[str]:
    half = scanning.ASPECTS[inputs.aspect] / 2
    said = []
    radial = one.coefficient("radial")
    if radial and 100 * largest("radial", radial, half) > WORTH * min(inputs.limits()):
        corner = _lengths(inputs, 100 * largest("radial", radial, half))
        said.append(f"{channel}: the radial term is the lens, not the tubes: {corner} at the corner remains.")
    width, height = one.coefficient("width"), one.coefficient("height")
    if inputs.camera == "three-sensor" and width is not None and height is not None:
        corner_ph = abs(lateral_colour(1 + (width + height) / 2, math.hypot(half, 0.5)))
        if 100 * corner_ph > WORTH * min(inputs.limits()):
            said.append(
                f"{channel}: size differs by the lens's own colour, {_lengths(inputs, 100 * corner_ph)} at "
                "the corner: no size control in a three-sensor head; the lens, or its correction."
            )
    return said


def _trust(inputs: Inputs, channel: str, one: ChannelFit) -> str:
    half = scanning.ASPECTS[inputs.aspect] / 2
    known = [term for term in TERMS if one.coefficient(term.name) is not None]
    noise = f"{channel}: a reading is taken as good to {shown(round(100 * one.noise, 4))} % of picture height"
    if not known:
        return f"{noise}."
    spreads = {term.label: 100 * largest(term.name, one.spread(term.name), half) for term in known}
    least = max(spreads, key=lambda label: round(spreads[label], 6))
    return f"{noise}; least certain is {least}, to +/- {shown(round(spreads[least], 4))} % at the corner."


def cured_by_controls(camera: str) -> tuple[str, ...]:
    """The terms that have a control: all but the lens's on tubes, centring alone on sensors (memory)."""
    return ("centring_h", "centring_v") if camera == "three-sensor" else tuple(one.name for one in CONTROLS)


def advice(
    inputs: Inputs, found: Mapping[str, ChannelFit], beyond: Beyond, unread: Sequence[str]
) -> tuple[str, ...]:
    """What to turn, channel by channel; where nothing stands out, what to do instead."""
    if not beyond:
        return tuple(f"Read a point in {zone} too, of every channel." for zone in unread)
    said = [turn for channel, one in found.items() for turn in _turns(inputs, channel, one)]
    if said:
        said.append(AFTERWARDS)
    if any(one.solution.rank < len(NAMES) for one in found.values()):
        said.append("Read at nine points, three rows of three out to the corners: they tell all terms apart.")
    if not said:
        said.append(
            "No control cures this. Read again; if it stays, the lens and the block are for the workshop."
        )
    return tuple(said)


def _turns(inputs: Inputs, channel: str, one: ChannelFit) -> list[str]:
    """The controls worth turning, in the order of work."""
    half = scanning.ASPECTS[inputs.aspect] / 2
    cured = cured_by_controls(inputs.camera)
    said = []
    for term in CONTROLS:
        value, spread = one.coefficient(term.name), one.spread(term.name)
        if value is None or term.name not in cured or abs(value) <= 2 * spread:
            continue
        most = 100 * largest(term.name, value, half)
        if most > WORTH * min(inputs.limits()):
            said.append(_turn(inputs, channel, term, value, most))
    return said


def _turn(inputs: Inputs, channel: str, term: Term, value: float, most: float) -> str:
    way = 0 if value > 0 else 1
    return (
        f"{channel}, {term.label}: {channel} {term.seen[way]}: {term.turn[way]}, "
        f"by {_lengths(inputs, most)} where it is largest."
    )
