"""Where the readings of one method place a fault along its run, and how far they can be out.

Bridges and two ends give a part of one core by ohms, which becomes metres along the drums; without a length
the core's ohms over ohm per km say it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from server.trade import drum_run, fault_methods

if TYPE_CHECKING:
    from server.trade.fault_distance import Inputs

TO_EARTH, BETWEEN_CORES = "core to earth", "core to core"
READ = (
    "arm_sound", "arm_fault", "loop_ohm", "core_ohm", "series_loop_ohm", "series_fault_ohm", "a_ohm", "b_ohm",
    "fault_nf", "good_nf", "far_nf", "echo_us", "good_echo_us",
)  # fmt: skip


@dataclass(frozen=True)
class Place:
    """Where it lies, and what was reckoned on the way; ohms are None where no ohms were read."""

    metres: float
    length_m: float | None
    core_ohm: float | None = None
    to_fault_ohm: float | None = None
    fault_ohm: float | None = None


def place(inputs: Inputs) -> Place:
    """The place by the chosen method; may lie outside the run."""
    run = inputs.run()
    if inputs.method == "pulse-echo":
        return _by_echo(inputs, run)
    if inputs.method == "capacitance":
        other = inputs.good_nf if inputs.good_nf is not None else inputs.far_nf
        part = fault_methods.open_part(inputs.fault_nf or 0, other or 0, far_end=inputs.good_nf is None)
        whole = drum_run.length_m(run)
        return Place(part * whole, whole)
    core = _core_ohm(inputs, run)
    part = _part(inputs, core)
    if not run:
        length = 1000 * (core or 0) / (inputs.ohm_per_km or 1)
        run = (drum_run.Drum(tag="", length_m=length),)
    metres = drum_run.metres_at(run, part * drum_run.equivalent_m(run))
    to_fault = None if core is None else part * core
    through = None
    if inputs.method == "two-ended":
        cores = 2 if inputs.fault == BETWEEN_CORES else 1
        through = (inputs.a_ohm or 0) - cores * (to_fault or 0)
    return Place(metres, drum_run.length_m(run), core, to_fault, through)


def _core_ohm(inputs: Inputs, run: drum_run.Run) -> float | None:
    """One core: as read, as half the loop, or by its length."""
    if inputs.core_ohm is not None:
        return inputs.core_ohm
    if inputs.loop_ohm is not None:
        return inputs.loop_ohm / 2
    if inputs.method == "varley" and inputs.series_loop_ohm is not None:
        loop = fault_methods.varley_loop_ohm(
            inputs.arm_sound or 0, inputs.arm_fault or 0, inputs.series_loop_ohm
        )
        return loop / 2
    if run and inputs.ohm_per_km is not None:
        return inputs.ohm_per_km * drum_run.equivalent_m(run) / 1000
    return None


def _part(inputs: Inputs, core: float | None) -> float:
    """Of one core, by ohms."""
    sound, faulty = inputs.arm_sound or 0, inputs.arm_fault or 0
    if inputs.method == "murray":
        return fault_methods.murray_part(sound, faulty)
    whole = core or 0
    if inputs.method == "varley":
        return fault_methods.varley_ohm(sound, faulty, 2 * whole, inputs.series_fault_ohm or 0) / whole
    by_ends = fault_methods.between_cores_ohm if inputs.fault == BETWEEN_CORES else fault_methods.to_earth_ohm
    return by_ends(whole, inputs.a_ohm or 0, inputs.b_ohm or 0) / whole


def _by_echo(inputs: Inputs, run: drum_run.Run) -> Place:
    whole = drum_run.length_m(run) if run else None
    factor = inputs.velocity_factor
    if inputs.good_echo_us is not None and whole is not None:
        factor = fault_methods.velocity_factor(whole, inputs.good_echo_us)
    return Place(fault_methods.echo_m(factor or 0, inputs.echo_us or 0), whole)


def uncertainty_m(inputs: Inputs) -> float:
    """All readings and the run out at once, each by its own per cent, each the worse way."""
    here = place(inputs).metres

    def moved(percent: float, *names: str) -> float:
        shifts = [
            abs(place(_times(inputs, 1 + sign * percent / 100, names)).metres - here) for sign in (1, -1)
        ]
        return max(shifts)

    read = sum(moved(inputs.reading_percent, name) for name in READ if getattr(inputs, name))
    known = sum(
        moved(inputs.run_percent, *names)
        for names in (("length_m", "drums"), ("ohm_per_km",), ("velocity_factor",))
    )
    return read + known


def _times(inputs: Inputs, factor: float, names: tuple[str, ...]) -> Inputs:
    changed = {
        name: getattr(inputs, name) * factor for name in names if name != "drums" and getattr(inputs, name)
    }
    if "drums" in names:
        changed["drums"] = tuple(replace(drum, length_m=drum.length_m * factor) for drum in inputs.drums)
    return replace(inputs, **changed)
