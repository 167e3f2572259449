"""Is this vehicle within its plate as it is loaded, evenly, and also after the heavy things come out?

Axles by moments and restraint as in `axles.py`. Gross, each axle and payload are separate limits, all on the
plate. Heavy things are part of their locker's mass; each is taken out alone, then all in the order given.
Restraint 1.0 forward, 0.5 sideways and rearward (from memory: UK Department for Transport code, since replaced).
"""

from __future__ import annotations

from dataclasses import dataclass

from server.trade import axles, vehicle_load_words
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity, table_of, text
from server.trade.errors import InputError
from server.trade.fields import shown

ROUNDING_KG = 1e-6
"""As much as taking decimal masses away one by one may go below nothing, for they are no exact binary fractions."""
DIRECTIONS = ("forward", "sideways", "rearward")


@dataclass(frozen=True, kw_only=True)
class Locker:
    """One locker, or anything else that lies in one place: people, water, a drum on the roof."""

    locker: str = text("locker")
    mass_kg: float = quantity("mass", "kg", 0, 20000, "all that is in it")
    forward_m: float = quantity("forward of the rear axle", "m", -10, 20, "its middle; behind it: negative")
    left_m: float = quantity("left of the middle", "m", -2, 2, "facing forward; right: negative", default=0)


@dataclass(frozen=True, kw_only=True)
class Thing:
    """One heavy thing in a locker, in the order of unloading."""

    tag: str = text("tag")
    mass_kg: float = quantity("mass", "kg", 0.1, 20000)
    locker: str = text("in locker", "its mass counts there already")


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A vehicle with two axles, as weighed and as loaded; a twin rear axle counts from its middle."""

    wheelbase_m: float = quantity("wheelbase", "m", 1, 12)
    unladen_front_kg: float = quantity(
        "front axle unladen", "kg", 1, 20000, "weighed: driver, fuel, water as on the day"
    )
    unladen_rear_kg: float = quantity("rear axle unladen", "kg", 1, 30000, "weighed likewise")
    lockers: tuple[Locker, ...] = table_of(Locker, "lockers", most=200)
    things: tuple[Thing, ...] = table_of(
        Thing, "heavy things", "in the order of unloading", least=0, most=50, default=()
    )
    plate_gross_kg: float | None = quantity("gross on the plate", "kg", 100, 50000, default=None)
    plate_front_kg: float | None = quantity("front axle on the plate", "kg", 100, 20000, default=None)
    plate_rear_kg: float | None = quantity("rear axle on the plate", "kg", 100, 30000, default=None)
    track_m: float | None = quantity("track", "m", 1, 3, "between the wheels' middles", default=None)
    margin_percent: float = quantity("kept from the plate", "%", 0, 50, "house limit, editable", default=0)
    least_front_percent: float = quantity(
        "least on the front axle", "%", 0, 60, "of the gross, for steering; house limit, editable", default=20
    )
    most_side_percent: float = quantity(
        "most of the load on one side", "%", 50, 100, "house limit, editable", default=55
    )
    forward_fraction: float = quantity("restraint forward", "", 0, 2, "of the weight", default=1.0)
    sideways_fraction: float = quantity("restraint sideways", "", 0, 2, "of the weight", default=0.5)
    rearward_fraction: float = quantity("restraint rearward", "", 0, 2, "of the weight", default=0.5)

    def __post_init__(self) -> None:
        left = {}
        for number, one in enumerate(self.lockers, start=1):
            if one.locker in left:
                raise InputError((f"lockers[{number}].locker", f"{one.locker} is given twice; give it once"))
            left[one.locker] = one.mass_kg
        for number, thing in enumerate(self.things, start=1):
            if thing.locker not in left:
                known = ", ".join(left)
                raise InputError(
                    (f"things[{number}].locker", f"{thing.locker} is not among the lockers: {known}")
                )
            left[thing.locker] -= thing.mass_kg
            if left[thing.locker] < -ROUNDING_KG:
                raise InputError(
                    (
                        f"things[{number}].mass_kg",
                        f"is more than is left in {thing.locker}; give its locker's whole mass in kg",
                    )
                )

    def places(self) -> dict[str, float]:
        """How far forward each locker lies."""
        return {one.locker: one.forward_m for one in self.lockers}


@dataclass(frozen=True)
class State:
    """The axles at one time, in kg; `without` says what was taken out."""

    front_kg: float
    rear_kg: float
    without: tuple[str, ...] = ()

    @property
    def gross_kg(self) -> float:
        """Both together."""
        return self.front_kg + self.rear_kg

    @property
    def front_percent(self) -> float:
        """Of the gross."""
        return 100 * self.front_kg / self.gross_kg


def loaded(inputs: Inputs) -> State:
    """As it stands before leaving."""
    front, rear = axles.added(((one.mass_kg, one.forward_m) for one in inputs.lockers), inputs.wheelbase_m)
    return State(inputs.unladen_front_kg + front, inputs.unladen_rear_kg + rear)


def taken_out(inputs: Inputs, state: State, things: tuple[Thing, ...]) -> State:
    """The same vehicle without these."""
    places = inputs.places()
    front, rear = axles.added(((one.mass_kg, places[one.locker]) for one in things), inputs.wheelbase_m)
    return State(state.front_kg - front, state.rear_kg - rear, tuple(one.tag for one in things))


def remaining(inputs: Inputs, state: State) -> tuple[State, ...]:
    """Each heavy thing out alone, then one after the other in the order given."""
    alone = [taken_out(inputs, state, (one,)) for one in inputs.things]
    in_order = [taken_out(inputs, state, inputs.things[:count]) for count in range(2, len(inputs.things) + 1)]
    return (*alone, *in_order)


def limits(inputs: Inputs) -> dict[str, float | None]:
    """What the plate leaves of each, after the house's margin."""
    part = 1 - inputs.margin_percent / 100
    plate = {
        "front axle": inputs.plate_front_kg,
        "rear axle": inputs.plate_rear_kg,
        "gross": inputs.plate_gross_kg,
    }
    return {name: None if one is None else one * part for name, one in plate.items()}


def beyond(state: State, most: dict[str, float | None]) -> tuple[str, ...]:
    """Which of front axle, rear axle and gross are beyond."""
    there = {"front axle": state.front_kg, "rear axle": state.rear_kg, "gross": state.gross_kg}
    return tuple(
        f"{name} beyond: {shown(there[name])} kg against {shown(limit)} kg"
        for name, limit in most.items()
        if limit is not None and there[name] > limit
    )


def assess(inputs: Inputs) -> Assessment:
    """As loaded against the plate, then evenness and every remaining state against plate and house limits."""
    state, most = loaded(inputs), limits(inputs)
    offset = axles.offset_m((one.mass_kg, one.left_m) for one in inputs.lockers)
    share = None if inputs.track_m is None else 100 * axles.left_share(offset or 0, inputs.track_m)
    over = beyond(state, most)
    later = tuple(
        f"Without {' and '.join(one.without)}: {'; '.join(found)}."
        for one in remaining(inputs, state)
        if (found := (*beyond(one, most), *_light_front(inputs, one)))
    )
    uneven = (*_light_front(inputs, state), *_one_sided(inputs, share))
    unknown = [f"{name} on the plate" for name, limit in most.items() if limit is None]
    unknown += ["track, for side to side"] if share is None else []
    verdict = (
        Verdict.BEYOND
        if over
        else Verdict.CANNOT_TELL
        if unknown
        else Verdict.ADJUST
        if uneven or later
        else Verdict.WITHIN
    )
    unladen = inputs.unladen_front_kg + inputs.unladen_rear_kg
    payload = None if most["gross"] is None else most["gross"] - unladen
    return Assessment(
        verdict=verdict,
        figures={
            "front_kg": Figure(state.front_kg, "kg"),
            "rear_kg": Figure(state.rear_kg, "kg"),
            "gross_kg": Figure(state.gross_kg, "kg"),
            "load_front_kg": Figure(state.front_kg - inputs.unladen_front_kg, "kg"),
            "load_rear_kg": Figure(state.rear_kg - inputs.unladen_rear_kg, "kg"),
            "load_kg": Figure(state.gross_kg - unladen, "kg"),
            "payload_kg": Figure(payload, "kg"),
            "front_percent": Figure(state.front_percent, "%"),
            "offset_left_m": Figure(offset, "m"),
            "left_percent": Figure(share, "%"),
            **_things(inputs, state),
        },
        findings=vehicle_load_words.findings(over, uneven, later, unknown, inputs),
        advice=vehicle_load_words.advice(over, uneven, later, inputs),
        cautions=vehicle_load_words.CAUTIONS,
        basis=vehicle_load_words.basis(inputs),
    )


def _light_front(inputs: Inputs, state: State) -> tuple[str, ...]:
    if state.front_percent >= inputs.least_front_percent:
        return ()
    return (
        f"front axle light: {shown(round(state.front_percent, 1))} % of the gross, house limit "
        f"{shown(inputs.least_front_percent)} %",
    )


def _one_sided(inputs: Inputs, share: float | None) -> tuple[str, ...]:
    if share is None or max(share, 100 - share) <= inputs.most_side_percent:
        return ()
    side, part = ("left", share) if share > 50 else ("right", 100 - share)
    return (
        f"{shown(round(part, 1))} % of the load on the {side}, house limit {shown(inputs.most_side_percent)} %",
    )


def _things(inputs: Inputs, state: State) -> dict[str, Figure]:
    """By number in the table: the axles without it, and what must hold it."""
    figures = {}
    for number, one in enumerate(inputs.things, start=1):
        out = taken_out(inputs, state, (one,))
        figures[f"without_{number}_front_kg"] = Figure(out.front_kg, "kg")
        figures[f"without_{number}_rear_kg"] = Figure(out.rear_kg, "kg")
        for way in DIRECTIONS:
            fraction = getattr(inputs, f"{way}_fraction")
            figures[f"hold_{number}_{way}_n"] = Figure(axles.restraint_n(one.mass_kg, fraction), "N")
    return figures
