"""What a computation answers: a verdict in the trade's words, figures with units, and what they rest on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any


class Verdict(Enum):
    """The verdicts; the figures kind is for lifting, carrying, stored energy and insulation."""

    WITHIN = "within limits"
    ADJUST = "adjust"
    BEYOND = "beyond limits"
    CANNOT_TELL = "cannot tell"
    FIGURES_WITHIN = "figures within"
    FIGURES_BEYOND = "figures beyond"


@dataclass(frozen=True)
class Figure:
    """A value with its unit; None where there is none, which a finding explains (far: infinity)."""

    value: float | str | None
    unit: str


@dataclass(frozen=True)
class Assessment:
    """The whole answer.

    findings say what was found, advice what to turn or do and which way, cautions stand beside the
    step, basis says which formula, whose limit and which assumptions. `passed_by` belongs to the
    figures kind of verdict alone: who passes it, never the program.
    """

    verdict: Verdict
    figures: Mapping[str, Figure]
    findings: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    basis: tuple[str, ...] = field(default=())
    passed_by: str = ""

    def __post_init__(self) -> None:
        if (self.verdict in (Verdict.FIGURES_WITHIN, Verdict.FIGURES_BEYOND)) != bool(self.passed_by):
            raise ValueError("who passes it is said with figures within and figures beyond, and only there")

    @property
    def words(self) -> str:
        """The verdict as shown: `adjust`, or `figures within: the lift leader passes it`."""
        return self.verdict.value + (f": {self.passed_by} passes it" if self.passed_by else "")

    def as_json(self) -> dict[str, Any]:
        """Plain lists and dicts, without the assessment's name and the core's version."""
        return {
            "verdict": self.words,
            "figures": {name: {"value": one.value, "unit": one.unit} for name, one in self.figures.items()},
            "findings": list(self.findings),
            "advice": list(self.advice),
            "cautions": list(self.cautions),
            "basis": list(self.basis),
        }
