"""How much of the signal does this coaxial or triaxial run take, and how long may it be?

Loss A = a sqrt(f) + b f, linear in length. From one known figure A2 = A1 sqrt(f2/f1), which reads 2-5 % low
over five to one; from two, both terms. Fine detail as a frequency: TV lines x aspect/(2 active time).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade import scanning
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, quantity
from server.trade.errors import InputError
from server.trade.fields import shown

LOW_BY_PERCENT = 6
"""How far from the tables the scaling was found to lie (ARRL, Antennas chapter, cable table)."""


LEAST_APART = 0.01
"""Two frequencies nearer to one another than this part tell the cable's two losses no better than one."""


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One run, what its cable is known to lose, and the highest frequency that must get through."""

    length_m: float = quantity("length", "m", 0.1, 20000)
    loss_db_per_100m: float = quantity("known loss", "dB/100 m", 0.01, 500, "from the cable's table")
    known_mhz: float = quantity("known at", "MHz", 0.01, 10000)
    second_loss_db_per_100m: float | None = quantity(
        "second known loss", "dB/100 m", 0.01, 500, "makes the figure surer", default=None
    )
    second_mhz: float | None = quantity("second known at", "MHz", 0.01, 10000, default=None)
    wanted_mhz: float | None = quantity(
        "highest that must get through", "MHz", 0.01, 10000, "or give tv_lines", default=None
    )
    tv_lines: float | None = quantity(
        "finest detail", "TV lines", 10, 4000, "per picture height, baseband", default=None
    )
    system: str = choice("scanning system", *scanning.SYSTEMS, help="for TV lines", default="625/50")
    aspect: str = choice("aspect", *scanning.ASPECTS, help="for TV lines", default="4:3")
    most_db: float | None = quantity(
        "most that is made up",
        "dB",
        0.1,
        200,
        "the equaliser's own figure; house limit, editable",
        default=None,
    )

    def __post_init__(self) -> None:
        if (self.wanted_mhz is None) == (self.tv_lines is None):
            raise InputError(
                ("wanted_mhz", "give either wanted_mhz, 0.01 to 10000 MHz, or tv_lines, not both")
            )
        if (self.second_mhz is None) != (self.second_loss_db_per_100m is None):
            raise InputError(
                ("second_mhz", "in MHz goes with second_loss_db_per_100m in dB/100 m; give both")
            )
        if self.second_mhz is not None and abs(self.second_mhz / self.known_mhz - 1) < LEAST_APART:
            raise InputError(("second_mhz", "is the frequency of the first; give another, in MHz"))
        if loss_db_per_100m(self) <= 0:
            raise InputError(
                (
                    "second_loss_db_per_100m",
                    "with the first gives no loss at that frequency; look up both, dB/100 m",
                )
            )

    def mhz(self) -> float:
        """The frequency that must get through."""
        if self.wanted_mhz is not None:
            return self.wanted_mhz
        system, aspect = scanning.SYSTEMS[self.system], scanning.ASPECTS[self.aspect]
        return scanning.tv_lines_mhz(self.tv_lines or 0, system, aspect)


def scaled(loss: float, known_mhz: float, mhz: float) -> float:
    """A1 sqrt(f2/f1), in the unit of the loss."""
    return loss * math.sqrt(mhz / known_mhz)


def two_terms(first: tuple[float, float], second: tuple[float, float], mhz: float) -> float:
    """a sqrt(f) + b f through two known (MHz, loss), in the unit of the losses."""
    (f1, loss1), (f2, loss2) = first, second
    b = (loss2 / math.sqrt(f2) - loss1 / math.sqrt(f1)) / (math.sqrt(f2) - math.sqrt(f1))
    a = loss1 / math.sqrt(f1) - b * math.sqrt(f1)
    return a * math.sqrt(mhz) + b * mhz


def loss_db_per_100m(inputs: Inputs) -> float:
    """At the frequency that must get through."""
    if inputs.second_mhz is None or inputs.second_loss_db_per_100m is None:
        return scaled(inputs.loss_db_per_100m, inputs.known_mhz, inputs.mhz())
    first = (inputs.known_mhz, inputs.loss_db_per_100m)
    return two_terms(first, (inputs.second_mhz, inputs.second_loss_db_per_100m), inputs.mhz())


def assess(inputs: Inputs) -> Assessment:
    """Against what is made up at the other end; what the scaling may hide is not called within."""
    per_100m = loss_db_per_100m(inputs)
    loss, most = per_100m * inputs.length_m / 100, inputs.most_db
    one_point = inputs.second_mhz is None and inputs.mhz() != inputs.known_mhz
    at_worst = loss * (1 + LOW_BY_PERCENT / 100) if one_point else loss
    findings = [f"{shown(round(loss, 2))} dB at {shown(round(inputs.mhz(), 3))} MHz."]
    advice: tuple[str, ...] = ()
    if most is None:
        verdict, advice = (
            Verdict.CANNOT_TELL,
            ("Give most_db, what the other end makes up, to have it judged.",),
        )
    elif loss > most:
        verdict = Verdict.BEYOND
        advice = ("Shorten the run, take a cable that loses less, or equalise on the way.",)
    elif at_worst > most:
        verdict = Verdict.CANNOT_TELL
        findings.append(f"Scaling from one figure may read low: at worst {shown(round(at_worst, 2))} dB.")
        advice = ("Give a second known figure, or look at the finest detail on the picture.",)
    else:
        verdict = Verdict.WITHIN
    return Assessment(
        verdict=verdict,
        figures={
            "loss_db": Figure(loss, "dB"),
            "loss_db_per_100m": Figure(per_100m, "dB/100 m"),
            "at_worst_db": Figure(at_worst, "dB"),
            "mhz": Figure(inputs.mhz(), "MHz"),
            "longest_m": Figure(None if most is None else 100 * most / per_100m, "m"),
        },
        findings=tuple(findings),
        advice=advice,
        cautions=(
            "A triaxial run carries the camera's power: isolate, prove dead, lock off and tag before a plug is parted.",
            "Local rules and a competent person decide.",
        ),
        basis=(
            "Both terms through two known figures: a sqrt(f) + b f."
            if inputs.second_mhz is not None
            else f"Scaled by the root of frequency, within {LOW_BY_PERCENT} % of the ARRL's cable table (published).",
            "What is made up is the other end's own figure: a house limit, editable.",
        ),
    )
