"""The kinds of entry: what a body must look like, who may write it, and by what two of one kind agree."""

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).parents[2] / "static" / "logbook" / "kinds.json"
"""The file that both folds read."""

Kinds = dict[str, dict[str, Any]]

_DECIMAL = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?")
_LONGEST_DECIMAL = 32
_TYPES: dict[str, type | tuple[type, ...]] = {
    "object": dict,
    "array": list,
    "string": str,
    "integer": int,
    "boolean": bool,
    "null": type(None),
}


@cache
def load() -> Kinds:
    """The kinds of this version."""
    kinds: Kinds = json.loads(FILE.read_text(encoding="utf-8"))
    return kinds


def is_decimal(value: object) -> bool:
    """Whether a value is a figure as entries write them: ASCII, at most 32 characters."""
    return (
        isinstance(value, str)
        and len(value) <= _LONGEST_DECIMAL
        and value.isascii()
        and _DECIMAL.fullmatch(value) is not None
    )


def plain(figure: str) -> str:
    """The shortest way to write the same figure: `20.10` is `20.1`, `-0.0` is `0`. Equal texts are equal figures."""
    short = figure.rstrip("0").rstrip(".") if "." in figure else figure
    return "0" if short == "-0" else short


def fits(value: object, schema: dict[str, Any]) -> bool:
    """Whether a value is what a schema asks for; members that it does not name are allowed."""
    if "type" in schema and not any(_is_of(value, kind) for kind in _as_list(schema["type"])):
        return False
    if "enum" in schema and value not in schema["enum"]:
        return False
    if "oneOf" in schema and sum(fits(value, one) for one in schema["oneOf"]) != 1:
        return False
    if isinstance(value, str):
        return _text_fits(value, schema)
    if isinstance(value, int) and not isinstance(value, bool):
        return bool(schema.get("minimum", value) <= value <= schema.get("maximum", value))
    if isinstance(value, list):
        items = schema.get("items")
        enough = len(value) >= schema.get("minItems", 0)
        return enough and (items is None or all(fits(item, items) for item in value))
    if isinstance(value, dict):
        named = all(member in value for member in schema.get("required", ()))
        properties = schema.get("properties", {})
        return named and all(
            fits(value[member], properties[member]) for member in properties if member in value
        )
    return True


def statement(kind: str, rule: dict[str, Any], body: dict[str, Any]) -> str:
    """What an entry states, as one text: two entries agree where these are equal.

    Figures go by value; an absent member states something else than any value of it.
    """
    properties = rule["schema"].get("properties", {})
    stated = []
    for member in rule["agree"]:
        if member not in body:
            stated.append("absent")
            continue
        value = body[member]
        figure = properties.get(member, {}).get("format") == "decimal" and is_decimal(value)
        stated.append(json.dumps(plain(value) if figure else value, sort_keys=True))
    return "\n".join([kind, *stated])


def _is_of(value: object, kind: str) -> bool:
    if isinstance(value, bool):
        return kind == "boolean"
    return isinstance(value, _TYPES.get(kind, ()))


def _as_list(stated: str | list[str]) -> list[str]:
    return [stated] if isinstance(stated, str) else stated


def _text_fits(text: str, schema: dict[str, Any]) -> bool:
    if not schema.get("minLength", 0) <= len(text) <= schema.get("maxLength", len(text)):
        return False
    if schema.get("format") == "decimal" and not is_decimal(text):
        return False
    pattern = schema.get("pattern")
    return pattern is None or re.fullmatch(pattern.removeprefix("^").removesuffix("$"), text) is not None
