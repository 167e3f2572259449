"""How far along this run is the fault, how surely, and in which drum?

Methods as in `fault_methods.py`, drums as in `drum_run.py`. Bridges and two ends give a part of one core by ohms,
which becomes metres along the drums; without a length the core's ohms over ohm per km say it. The uncertainty
is the sum of what each reading, and what is known of the run, can move the place by.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.trade import copper, drum_run, fault_methods
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, declared, quantity, table_of
from server.trade.errors import InputError
from server.trade.fault_place import BETWEEN_CORES, READ, TO_EARTH, Place, place, uncertainty_m
from server.trade.fields import shown

NEEDED = {
    "murray": (("arm_sound",), ("arm_fault",)),
    "varley": (
        ("arm_sound",),
        ("arm_fault",),
        ("series_fault_ohm",),
        ("loop_ohm", "core_ohm", "series_loop_ohm"),
    ),
    "two-ended": (("a_ohm",), ("b_ohm",), ("core_ohm", "loop_ohm", "ohm_per_km")),
    "pulse-echo": (("echo_us",), ("velocity_factor", "good_echo_us")),
    "capacitance": (("fault_nf",), ("good_nf", "far_nf"), ("length_m",)),
}
"""By method, of each group one is enough."""
CORE = {
    "murray": ("loop_ohm", "core_ohm"),
    "varley": ("loop_ohm", "core_ohm", "series_loop_ohm"),
    "two-ended": ("core_ohm", "loop_ohm"),
}
"""Which reading stands for the length, over ohm per km, where no length is known."""
LOOP_OHM = (0.001, 100000)
ROUNDING = 1e-9
BASIS = {
    "murray": "Murray loop, equal cores: part = 2 Rb/(Ra + Rb); Hawkins Electrical Guide, vol. 3 (published), algebra.",
    "varley": "Varley loop, P sound side, Q fault side, S with the faulty wire: X = (Q R - P S)/(P + Q); algebra.",
    "two-ended": "Two ends, one fault from both: (R + Ra - Rb)/2 to earth, R/2 + (Ra - Rb)/4 core to core: algebra.",
    "pulse-echo": "Pulse echo: VF x c x t/2, c 299.792458 m/us; the velocity changes from drum to drum.",
    "capacitance": "Capacitance of an open core by its length: to a good one, or from both ends (from memory).",
}


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The readings of one method, and the run from the end where they were taken."""

    method: str = choice("method", *NEEDED)
    drums: tuple[drum_run.Drum, ...] = table_of(
        drum_run.Drum, "drums", "in order, the first where it is measured", least=0, default=()
    )
    length_m: float | None = quantity("length", "m", 0.1, 20000, "where no drums are given", default=None)
    ohm_per_km: float | None = quantity(
        "one core", "ohm/km", 0.01, 10000, "at the cable's temperature", default=None
    )
    core_ohm: float | None = quantity("one core, whole", "ohm", 0.001, 100000, default=None)
    loop_ohm: float | None = quantity("loop", "ohm", *LOOP_OHM, "far ends joined", default=None)
    arm_sound: float | None = quantity(
        "bridge arm, sound side", "", 0, 1e6, "Ra or P; ohms, or parts of the slide", default=None
    )
    arm_fault: float | None = quantity(
        "bridge arm, fault side", "", 0, 1e6, "Rb or Q; slide: its reading", default=None
    )
    series_fault_ohm: float | None = quantity(
        "in series, battery to the fault", "ohm", 0, 1e6, "S or S2, with the faulty wire", default=None
    )
    series_loop_ohm: float | None = quantity(
        "in series, battery at its far side", "ohm", 0, 1e6, "S1, where the loop was not read", default=None
    )
    fault: str = choice(
        "fault, two-ended",
        TO_EARTH,
        BETWEEN_CORES,
        help="core to core: a_ohm and b_ohm are loops",
        default=TO_EARTH,
    )
    a_ohm: float | None = quantity("read at this end", "ohm", 0, 1e6, default=None)
    b_ohm: float | None = quantity("read at the far end", "ohm", 0, 1e6, default=None)
    echo_us: float | None = quantity("echo of the fault", "us", 0.001, 1000, "there and back", default=None)
    velocity_factor: float | None = quantity(
        "velocity factor", "", 0.1, 1, "of light; a set may want half", default=None
    )
    good_echo_us: float | None = quantity(
        "echo of a good core's far end", "us", 0.001, 1000, "calibrates the velocity", default=None
    )
    echo: str | None = choice("echo looks", "as sent", "turned over", default=None)
    fault_nf: float | None = quantity(
        "capacitance of the open core, here", "nF", 0.001, 1e6, "to the same others", default=None
    )
    good_nf: float | None = quantity("capacitance of a good core", "nF", 0.001, 1e6, default=None)
    far_nf: float | None = quantity(
        "capacitance of the open core, far end", "nF", 0.001, 1e6, "where there is no good core", default=None
    )
    reading_percent: float = quantity(
        "readings good to", "%", 0, 50, "of each reading; house figure, editable", default=1
    )
    run_percent: float = quantity(
        "run known to", "%", 0, 50, "length, ohm per km, velocity; house figure, editable", default=1
    )

    def __post_init__(self) -> None:
        drum_run.check(self.drums)
        known = {name for name in (*READ, "ohm_per_km", "velocity_factor") if getattr(self, name) is not None}
        known |= {"length_m"} if self.run() else set()
        wanted: list[tuple[str, ...]] = [*NEEDED[self.method]]
        if self.method == "pulse-echo" and "velocity_factor" not in known:
            wanted.append(("length_m",))
        if self.method in CORE and "length_m" not in known:
            wanted += [("ohm_per_km",), CORE[self.method]]
        missing = {group for group in wanted if not known & set(group)}
        if missing:
            raise InputError(
                *(
                    (group[0], f"is missing for {self.method}; give {_with_units(group)}")
                    for group in wanted
                    if group in missing
                )
            )
        if self.method in ("murray", "varley") and not self.arm_fault:
            raise InputError(("arm_fault", "is 0: no balance was found; give more than 0, with arm_sound"))
        loop = self._balanced_loop_ohm()
        if loop is not None and not LOOP_OHM[0] <= loop <= LOOP_OHM[1]:
            raise InputError(
                (
                    "series_loop_ohm",
                    f"with these arms makes a loop of {shown(loop)} ohm; {LOOP_OHM[0]} to {LOOP_OHM[1]} ohm is read",
                )
            )
        if self.drums and self.length_m and abs(self.length_m / drum_run.length_m(self.drums) - 1) > 0.01:
            raise InputError(
                ("length_m", f"{shown(self.length_m)} m is not what the drums add to; give only drums, in m")
            )

    def _balanced_loop_ohm(self) -> float | None:
        """The loop where a balance of its own says it; None where it was read."""
        read = self.loop_ohm is not None or self.core_ohm is not None
        if self.method != "varley" or read or self.series_loop_ohm is None:
            return None
        return fault_methods.varley_loop_ohm(self.arm_sound or 0, self.arm_fault or 0, self.series_loop_ohm)

    def run(self) -> drum_run.Run:
        """The drums; else one without a tag; empty where no length is known."""
        if self.drums or self.length_m is None:
            return self.drums
        return (drum_run.Drum(tag="", length_m=self.length_m),)


def _with_units(group: tuple[str, ...]) -> str:
    """For instance: loop_ohm (ohm) or series_loop_ohm (ohm)."""
    fields = declared(Inputs)
    return " or ".join(f"{name}, {fields[name].wanted()}" for name in group)


def assess(inputs: Inputs) -> Assessment:
    """The place, held to the run; which drums it can lie in, and what speaks against it."""
    found, give = place(inputs), uncertainty_m(inputs)
    doubts = _doubts(inputs, found, give)
    length = found.length_m
    metres = None if doubts else found.metres if length is None else min(max(found.metres, 0.0), length)
    tags = () if metres is None else drum_run.between(inputs.drums, metres - give, metres + give)
    return Assessment(
        verdict=Verdict.CANNOT_TELL if doubts else Verdict.ADJUST,
        figures={
            "distance_m": Figure(metres, "m"),
            "from_far_end_m": Figure(None if metres is None or length is None else length - metres, "m"),
            "uncertainty_m": Figure(None if doubts else give, "m"),
            "drum": Figure(", ".join(tags) or None, ""),
            "length_m": Figure(length, "m"),
            "to_fault_ohm": Figure(found.to_fault_ohm, "ohm"),
            "loop_ohm": Figure(None if found.core_ohm is None else 2 * found.core_ohm, "ohm"),
            "fault_ohm": Figure(found.fault_ohm, "ohm"),
        },
        findings=doubts or _findings(inputs, metres or 0, give, tags),
        advice=(_retry(inputs),) if doubts else _advice(tags),
        cautions=(
            *copper.DEAD_FIRST,
            "Unplug camera and base station first: neither may see the test voltage; discharge the cable afterwards.",
        ),
        basis=(
            BASIS[inputs.method],
            f"Uncertainty: each reading out by {shown(inputs.reading_percent)} % of itself and the run by "
            f"{shown(inputs.run_percent)} %, all at once and the worse way (house figures, editable).",
            "A loop's ratio cancels heat where both cores are equally warm; ohms over ohm per km do not: 10 C is 4 %.",
        ),
    )


def _doubts(inputs: Inputs, found: Place, give: float) -> tuple[str, ...]:
    """Why the readings place it nowhere; empty where they do."""
    length = found.length_m
    if length is not None and abs(found.metres - length / 2) > length / 2 * (1 + ROUNDING) + give:
        whole = shown(length)
        if inputs.method == "murray" and found.metres <= 2 * length:
            return (f"Beyond the run of {whole} m, on the core that was taken as sound: arms exchanged?",)
        return (f"The readings place it at {shown(found.metres)} m, outside the run of {whole} m.",)
    through, read = found.fault_ohm, (inputs.a_ohm or 0) + (inputs.b_ohm or 0)
    if through is not None and through < -(inputs.reading_percent / 100 + ROUNDING) * read:
        return (
            f"It would leave {shown(through)} ohm in the fault: less than nothing, so the readings do not agree.",
        )
    return ()


def _findings(inputs: Inputs, metres: float, give: float, tags: tuple[str, ...]) -> tuple[str, ...]:
    said = [f"At {shown(round(metres, 1))} m from here, give or take {shown(round(give, 1))} m."]
    if len(tags) > 1:
        said.append(f"More than one drum comes into question: {', '.join(tags)}; the joint between them too.")
    if inputs.method == "pulse-echo" and inputs.echo:
        said.append(
            "The echo looks as sent: an open." if inputs.echo == "as sent" else "Turned over: a short."
        )
    if inputs.loop_ohm is not None and inputs.ohm_per_km is not None and inputs.run():
        should = 2 * inputs.ohm_per_km * drum_run.equivalent_m(inputs.run()) / 1000
        said.append(
            f"The loop reads {shown(100 * (inputs.loop_ohm / should - 1))} % more than its length says."
        )
    if inputs.method in ("two-ended", "capacitance"):
        said.append("It holds while the fault stays as it is: one that dries between readings moves.")
    return tuple(said)


def _advice(tags: tuple[str, ...]) -> tuple[str, ...]:
    if not tags:
        return (
            "Name the drums in order to be told which one; look at the plugs and joints near the place first.",
        )
    if len(tags) > 1:
        return (
            f"Part, clean and dry the joints of {', '.join(tags)} first; read again; then change drum by drum.",
        )
    return (f"Change {tags[0]}, tag it, and read the run again: a second fault can stand behind the first.",)


def _retry(inputs: Inputs) -> str:
    if inputs.method in ("murray", "varley"):
        return (
            "Exchange the arms and balance again; a bridge needs one sound core and its far ends well joined."
        )
    return "Read again with the leads' own taken off, from both ends close together in time, or take another method."
