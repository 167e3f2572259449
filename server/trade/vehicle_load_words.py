"""What a vehicle's load is answered in: which limit, what to move which way, what must hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from server.trade.axles import added_front, restraint_n
from server.trade.fields import shown

if TYPE_CHECKING:
    from server.trade.vehicle_load import Inputs

CAUTIONS = (
    "Loads shift on the road: open lockers slowly, nobody in front of or below the flap.",
    "Heaviest lowest; columns down and locked, wheels braked and strapped; nothing loose beside the driver.",
    "Two people and a plan for anything above the house's limit for lifting.",
    "Somebody guides a reversing vehicle.",
    "Local rules, the driver and a competent person decide.",
)


def findings(
    over: tuple[str, ...], uneven: tuple[str, ...], later: tuple[str, ...], unknown: list[str], inputs: Inputs
) -> tuple[str, ...]:
    """What is beyond first, then what is uneven, then what unloading does, then what must hold."""
    return (
        *(_sentence(one) for one in over),
        *(_sentence(one) for one in uneven),
        *later,
        *((f"Not told: no {', no '.join(unknown)}.",) if unknown else ()),
        *(("As loaded within gross and both axles of the plate.",) if not over and not unknown else ()),
        *(
            f"{one.tag}, {shown(one.mass_kg)} kg: hold {_hold(inputs, one.mass_kg)}."
            for one in sorted(inputs.things, key=lambda one: -one.mass_kg)
        ),
        *(() if inputs.things else ("No heavy thing was named: unloading and restraint are not told.",)),
    )


def advice(
    over: tuple[str, ...], uneven: tuple[str, ...], later: tuple[str, ...], inputs: Inputs
) -> tuple[str, ...]:
    """Which way to move what."""
    off = shown(round(added_front(100, 1, inputs.wheelbase_m)))
    said = [*over, *uneven, *later]
    steps = []
    if any("front axle beyond" in one for one in said):
        steps.append(f"Front axle: move mass back; 100 kg moved back by 1 m takes {off} kg off it.")
    if any("rear axle beyond" in one or "front axle light" in one for one in said):
        steps.append(f"Rear axle: move mass forward; 100 kg moved forward by 1 m takes {off} kg off it.")
    if any(one.startswith("gross") for one in said):
        steps.append("Gross: something stays behind or goes in another vehicle; moving it cures nothing.")
    if any("of the load on the" in one for one in said):
        steps.append("Move mass across to the other side.")
    if later:
        steps.append("Before driving on part-unloaded: shift what is left, or take it out in another order.")
    return tuple(steps)


def basis(inputs: Inputs) -> tuple[str, ...]:
    """Whose limits, and what is not reckoned."""
    return (
        "Axles by moments: statics, one rigid vehicle with two axles; no trailer, no slope, no braking.",
        "Limits: the vehicle's own plate, gross and each axle, with the lockers' masses as given; payload is gross on "
        f"the plate less unladen. Kept from it {shown(inputs.margin_percent)} %: house limit, editable.",
        "Unladen as weighed; a brochure's figure is not this vehicle. Water, wet cable and people count.",
        "Front share and side to side: house limits, editable. How high it lies is not reckoned.",
        f"Restraint {shown(inputs.forward_fraction)} forward, {shown(inputs.sideways_fraction)} sideways, "
        f"{shown(inputs.rearward_fraction)} rearward of the weight, editable: 1.0/0.5/0.5 from memory (Department for "
        "Transport code, since replaced); 0.8/0.5/0.5 German Insurance Association, published.",
        "It is a force, not a lashing's tension: angle, friction and rating are for a competent person.",
    )


def _hold(inputs: Inputs, mass_kg: float) -> str:
    return ", ".join(
        f"{shown(round(restraint_n(mass_kg, fraction)))} N {way}"
        for way, fraction in (
            ("forward", inputs.forward_fraction),
            ("sideways", inputs.sideways_fraction),
            ("rearward", inputs.rearward_fraction),
        )
    )


def _sentence(said: str) -> str:
    return f"{said[0].upper()}{said[1:]}."
