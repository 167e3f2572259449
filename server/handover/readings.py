"""A reading as the report tells it: its figure against the step's limits, and the verdict that stands in it."""

from decimal import Decimal, InvalidOperation
from typing import Any

from server.logbook.assessed import assessed
from server.logbook.steps import Step
from server.trade.fields import shown

View = dict[str, Any]
SHORT = {"wll": "WLL", "mbs": "MBS"}
"""The trade's short words, which a figure's name holds in small letters."""


def told(body: View, step: Step) -> View:
    """Limits and verdict of a reading on a step.

    `limits` is the limits in words, empty where the step has none; `word` is within or beyond them; `verdict` is
    what stands in the reading, None where nothing was computed.
    """
    return {"limits": limits(step), "word": word(body, step), "verdict": verdict(body)}


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


def verdict(body: View) -> View | None:
    """The verdict that stands in a reading, as it was signed, and what the server makes of the same inputs.

    Its word, figures, findings and core version are the reading's own; what was given, cautions, basis and figure
    come with the server's answer. None where the reading carries no verdict.
    """
    kept = body.get("assessment")
    if not isinstance(kept, dict):
        return None
    word, differences, section = _again(body)
    return {
        "title": section.get("title") or kept.get("name"),
        "core": str(kept.get("core")),
        "word": str(kept.get("verdict")),
        "figures": _figures(kept.get("figures")),
        "findings": [str(one) for one in kept["findings"]] if isinstance(kept.get("findings"), list) else [],
        "again": word,
        "differences": differences,
        **{part: section.get(part) or [] for part in ("rows", "tables", "advice", "cautions", "basis")},
        "drawing": section.get("svg"),
    }


def _again(body: View) -> tuple[str, list[str], View]:
    """The word of the server's own answer, what differs, and its section; empty where these inputs give none."""
    try:
        found = assessed(body)
    except Exception:  # a phone may sign any inputs: what nobody foresaw in them costs no report
        found = None
    if found is None:
        return "cannot be computed here", [], {}
    word = found.word if found.word == "computed here" else f"computed again: {found.word}"
    return word, list(found.differences), found.section or {}


def _figures(figures: object) -> list[View]:
    if not isinstance(figures, dict):
        return []
    return [_figure(name, one) for name, one in sorted(figures.items())]


def _figure(name: str, one: object) -> View:
    """A figure as people read it; all its digits stand in the record."""
    value = one.get("value") if isinstance(one, dict) else one
    unit = str((one.get("unit") if isinstance(one, dict) else "") or "")
    said = " to ".join(map(_number, value)) if isinstance(value, list) else _number(value)
    words = name.replace("_", " ").replace(".", " ").split()
    if unit and words[-1:] in ([unit.lower()], ["percent"]):
        words.pop()
    return {
        "label": " ".join(SHORT.get(one, one) for one in words),
        "value": "none" if value is None else said,
        "unit": "" if value is None else unit,
    }


def _number(value: object) -> str:
    try:
        return shown(float(f"{float(str(value)):.4g}"))
    except (ValueError, OverflowError):
        return str(value)
