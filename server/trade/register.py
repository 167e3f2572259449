"""Finds the computations in this folder: a module with `Inputs` and `assess` is one, and no list names it."""

from __future__ import annotations

import importlib
import json
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from server import trade
from server.trade.answer import Assessment
from server.trade.declare import form_fields, object_schema, read
from server.trade.errors import InputError


@dataclass(frozen=True)
class Computation:
    """One module of this folder: its name, the question it answers, and its functions."""

    name: str
    question: str
    about: str
    inputs: type[Any]
    assess: Callable[[Any], Assessment]
    draw: Callable[[Any], str] | None


@cache
def assessments() -> dict[str, Computation]:
    """Every computation by name, sorted."""
    found = {}
    modules = sorted(info.name for info in pkgutil.iter_modules(trade.__path__))
    for known in modules:
        module = importlib.import_module(f"{trade.__name__}.{known}")
        if hasattr(module, "Inputs") and hasattr(module, "assess") and not known.endswith("_figure"):
            question, _, about = (module.__doc__ or "").partition("\n")
            name = known.replace("_", "-")
            draw = _draw(known) if f"{known}_figure" in modules else None
            found[name] = Computation(
                name, question.strip(), about.strip(), module.Inputs, module.assess, draw
            )
    return found


def _draw(known: str) -> Callable[[Any], str]:
    """The figure's function, which stands in a module of its own beside the computation."""
    draw: Callable[[Any], str] = importlib.import_module(f"{trade.__name__}.{known}_figure").draw
    return draw


def computation(name: str) -> Computation:
    """The computation called `name`; raises InputError where there is none."""
    try:
        return assessments()[name]
    except KeyError:
        raise InputError(
            ("assessment", f'"{name}" is not known; known are {", ".join(assessments())}')
        ) from None


def assess(name: str, raw: object) -> dict[str, Any]:
    """The answer to `raw`, as plain JSON; raises InputError."""
    from server.trade import CORE

    one = computation(name)
    return {"assessment": name, "core": CORE, **one.assess(read(one.inputs, raw)).as_json()}


def drawing(name: str, raw: object) -> str | None:
    """The SVG that belongs to the answer; None where the computation draws nothing. Raises InputError."""
    one = computation(name)
    return one.draw(read(one.inputs, raw)) if one.draw else None


def schema(name: str) -> dict[str, Any]:
    """JSON Schema of the input, for OpenAPI 3.1."""
    one = computation(name)
    return {"title": name, "description": one.question, **object_schema(one.inputs)}


def form(name: str) -> dict[str, Any]:
    """What a phone needs to ask for the input."""
    one = computation(name)
    return {
        "name": name,
        "question": one.question,
        "draws": one.draw is not None,
        "fields": form_fields(one.inputs),
    }


def assess_text(request: str) -> str:
    """Text in, text out, for the border of a worker: {"assessment", "input"} to the answer.

    Bad input answers {"problems": [{"field", "sentence"}]} instead; nothing is raised for it.
    """
    return _answered(request, assess)


def drawing_text(request: str) -> str:
    """The same border for the figure: {"svg"}, null where the computation draws nothing, or {"problems"}."""
    return _answered(request, lambda name, raw: {"svg": drawing(name, raw)})


def _answered(request: str, answer: Callable[[str, object], dict[str, Any]]) -> str:
    try:
        asked = loads(request)
        if not isinstance(asked, dict):
            raise InputError(("input", "an object with assessment and input is needed"))
        return json.dumps(answer(str(asked.get("assessment")), asked.get("input")), allow_nan=False)
    except InputError as bad:
        return json.dumps({"problems": problems(bad)})


def problems(bad: InputError) -> list[dict[str, str]]:
    """What was wrong, as plain JSON."""
    return [{"field": field, "sentence": sentence} for field, sentence in bad.problems]


def loads(text: str) -> Any:
    """JSON in which no name stands twice; NaN comes as that word, for its field to refuse.

    Raises InputError saying where it stops.
    """
    try:
        return json.loads(text, parse_constant=str, object_pairs_hook=_once_each)
    except json.JSONDecodeError as bad:
        raise InputError(("input", f"not JSON: {bad.msg} at line {bad.lineno}, column {bad.colno}")) from None
    except RecursionError:
        raise InputError(("input", "not JSON that can be read: nested too deep")) from None


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    answer: dict[str, Any] = {}
    for name, value in pairs:
        if name in answer:
            raise InputError((name, "is given twice; give it once"))
        answer[name] = value
    return answer
