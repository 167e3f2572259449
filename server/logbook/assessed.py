"""A reading's verdict computed again by the server: derived, never stored. What was signed stands.

`assessed(body)` is for whoever shows a reading with an `assessment`: the report, a list of readings.
"""

from dataclasses import dataclass
from typing import Any, Literal

from server.trade import CORE, register, section
from server.trade.errors import InputError

NO_CORE = "none"
TOLERANCE = 1e-9

Word = Literal["agrees", "differs", "another core version", "computed here", "cannot be read"]


@dataclass(frozen=True)
class Assessed:
    """What the server makes of a reading's inputs.

    `word`: agrees; differs; another core version than this server's (then `differences` may be empty);
    computed here, since the phone had none; cannot be read. `differences` says what differs, or why it cannot
    be read, a sentence each. `section` is `server.trade.section.section` of the inputs; None where unreadable.
    """

    word: Word
    differences: tuple[str, ...]
    section: dict[str, Any] | None


def assessed(body: dict[str, Any]) -> Assessed | None:
    """The server's own answer to a reading's inputs; None where the reading carries no assessment."""
    kept = body.get("assessment")
    if not isinstance(kept, dict):
        return None
    name, inputs = str(kept.get("name")), kept.get("inputs")
    try:
        answer = register.assess(name, inputs)
        page = section.section(name, inputs)
    except InputError as bad:
        sentences = tuple(f"{field}: {sentence}" for field, sentence in bad.problems)
        return Assessed("cannot be read", sentences, None)
    except ArithmeticError as bad:
        return Assessed("cannot be read", (f"The arithmetic has no answer to these inputs: {bad}.",), None)
    if kept.get("core") == NO_CORE:
        return Assessed("computed here", (), page)
    differences = tuple(_differences(kept, answer))
    if kept.get("core") != CORE:
        return Assessed("another core version", differences, page)
    return Assessed("differs" if differences else "agrees", differences, page)


def _differences(kept: dict[str, Any], answer: dict[str, Any]) -> list[str]:
    found = []
    if kept.get("verdict") != answer["verdict"]:
        found.append(f"The verdict kept is {kept.get('verdict')}, computed again {answer['verdict']}.")
    if "findings" in kept and kept["findings"] != answer["findings"]:
        found.append("The findings kept are worded otherwise than those computed again.")
    figures = kept.get("figures")
    told = figures if isinstance(figures, dict) else {}
    for name in sorted({*told, *answer["figures"]}):
        before, now = told.get(name), answer["figures"].get(name)
        if not _equal(before, now):
            found.append(f"{name} kept is {_told(before)}, computed again {_told(now)}.")
    return found


def _equal(kept: object, now: dict[str, Any] | None) -> bool:
    """Whether a figure as kept (a decimal string) is the one computed, to 1e-9."""
    if not isinstance(kept, dict) or now is None or kept.get("unit") != now["unit"]:
        return False
    before, after = kept.get("value"), now["value"]
    if isinstance(after, int | float):
        try:
            return abs(float(str(before)) - after) <= TOLERANCE * max(1.0, abs(after))
        except ValueError:
            return False
    return bool(before == after)


def _told(figure: object) -> str:
    if not isinstance(figure, dict) or figure.get("value") is None:
        return "none"
    return f"{figure['value']} {figure.get('unit') or ''}".strip()
