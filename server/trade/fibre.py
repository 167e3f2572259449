"""Does enough light get through this run, and which part of it loses most?

Loss = L a + n_c l_c + n_s l_s; margin = transmit - sensitivity - loss - reserve. Defaults, editable:
The Fiber Optic Association, loss-budget page (published).
"""

from __future__ import annotations

from dataclasses import dataclass

from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity
from server.trade.fields import shown


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One run from transmitter to receiver."""

    length_m: float = quantity("length", "m", 0, 100000)
    loss_db_per_km: float = quantity("fibre", "dB/km", 0, 20, default=0.4)
    mated_pairs: float = quantity("mated pairs", "", 0, 100, default=2, whole=True)
    loss_db_per_pair: float = quantity("each pair", "dB", 0, 10, default=0.5)
    splices: float = quantity("splices", "", 0, 100, default=0, whole=True)
    loss_db_per_splice: float = quantity("each splice", "dB", 0, 10, default=0.15)
    reserve_db: float = quantity("reserve", "dB", 0, 30, "house limit, editable", default=3)
    transmit_dbm: float | None = quantity("least transmitted", "dBm", -60, 30, default=None)
    sensitivity_dbm: float | None = quantity("least received", "dBm", -70, 30, default=None)
    received_dbm: float | None = quantity("received, as read", "dBm", -70, 30, default=None)


def assess(inputs: Inputs) -> Assessment:
    """By the power received where it was read, else by the sum of the losses."""
    parts = {
        "fibre": inputs.length_m / 1000 * inputs.loss_db_per_km,
        "mated pairs": inputs.mated_pairs * inputs.loss_db_per_pair,
        "splices": inputs.splices * inputs.loss_db_per_splice,
    }
    total = sum(parts.values())
    worst = max(parts, key=lambda part: parts[part])
    transmit, least = inputs.transmit_dbm, inputs.sensitivity_dbm
    arrives = inputs.received_dbm
    if arrives is None and transmit is not None:
        arrives = transmit - total
    margin = None if arrives is None or least is None else arrives - least - inputs.reserve_db
    findings = [f"Sum of losses {shown(total)} dB, most of it in: {worst}."]
    if transmit is not None and inputs.received_dbm is not None:
        lost = transmit - inputs.received_dbm
        findings.append(f"Lost as read {shown(lost)} dB, {shown(lost - total)} dB more than the sum.")
    if margin is None:
        verdict, advice = Verdict.CANNOT_TELL, "Give sensitivity_dbm with transmit_dbm or received_dbm."
    elif margin < 0:
        verdict, advice = Verdict.BEYOND, f"Both ends off and capped, then clean, first: {worst}."
    else:
        verdict, advice = Verdict.WITHIN, ""
    return Assessment(
        verdict=verdict,
        figures={
            "total_db": Figure(total, "dB"),
            "margin_db": Figure(margin, "dB"),
            "worst_part": Figure(worst, ""),
        },
        findings=tuple(findings),
        advice=(advice,) if advice else (),
        cautions=(
            "Infrared light is invisible: both ends off and capped before inspecting or cleaning; no "
            "magnifier on a live connector. Hybrid plugs carry lethal voltage beside glass: isolate, prove "
            "dead, lock off first. Local rules and a competent person decide.",
        ),
        basis=(
            "Loss = length x dB/km + pairs + splices; defaults: The Fiber Optic Association, editable.",
            f"The reserve of {shown(inputs.reserve_db)} dB is a house limit, editable.",
        ),
    )
