"""A reading as the report tells it: its figure against the step's limits, and the verdict that stands in it."""

from decimal import Decimal, InvalidOperation
from typing import Any

from server.logbook.steps import Step
from server.trade import register

View = dict[str, Any]


def told(body: View, step: Step) -> View:
    """Limits and verdict of a reading on a step.

    `limits` is the limits in words, empty where the step has none; `word` is within or beyond them; `verdict` is
    what stands in the reading, None where nothing was computed.
    """
    return {"limits": limits(step), "word": word(body, step), "verdict": verdict(body.get("assessment"))}


def limits(step: Step) -> str:
    """A step's limits in words, with whose they are."""
    low, high, unit = step.get("low"), step.get("high"), step.get("unit") or ""
    if low is None and high is None:
        return ""
    if high is None:
        said = f"at least {low} {unit}"
    elif low is None:
        said = f"at most {high} {unit}"
    else:
        said = f"{low} to {high} {unit}"
    return f"limits: {said}, {step['limit_of']}" if step.get("limit_of") else f"limits: {said}"


def word(body: View, step: Step) -> str:
    """Within or beyond the step's limits; empty where it has none, or the reading is in another unit."""
    low, high = step.get("low"), step.get("high")
    if low is None and high is None:
        return ""
    if body.get("unit") != step.get("unit"):
        return f"read in {body.get('unit')}, not in {step.get('unit')}: not compared"
    try:
        figure = Decimal(str(body.get("figure")))
        is_beyond = (low is not None and figure < Decimal(low)) or (
            high is not None and figure > Decimal(high)
        )
    except InvalidOperation:
        return "no figure: not compared"
    return "beyond limits" if is_beyond else "within limits"


def verdict(assessment: object) -> View | None:
    """The verdict that stands in a reading, as it was signed: its word, figures, findings and core version."""
    if not isinstance(assessment, dict):
        return None
    figures = assessment.get("figures")
    findings = assessment.get("findings")
    return {
        "name": str(assessment.get("name")),
        "core": str(assessment.get("core")),
        "word": str(assessment.get("verdict")),
        "figures": [_figure(name, one) for name, one in sorted(figures.items())]
        if isinstance(figures, dict)
        else [],
        "findings": [str(one) for one in findings] if isinstance(findings, list) else [],
        "drawing": drawing(str(assessment.get("name")), assessment.get("inputs")),
    }


def drawing(name: str, inputs: object) -> str | None:
    """The figure that belongs to an answer; None where there is none, or these inputs give none."""
    try:
        return register.drawing(name, inputs)
    except (ValueError, ArithmeticError, LookupError, TypeError):
        return None  # a phone may sign any inputs: what cannot be drawn stands in words


def _figure(name: str, one: object) -> View:
    value = one.get("value") if isinstance(one, dict) else one
    unit = one.get("unit") if isinstance(one, dict) else ""
    said = (
        "none" if value is None else " to ".join(map(str, value)) if isinstance(value, list) else str(value)
    )
    return {"name": name.replace("_", " "), "value": said, "unit": str(unit or "")}
