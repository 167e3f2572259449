"""Declares what a computation asks for: the one source of its form, checks, schema and help."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any, TypeVar

from server.trade.errors import InputError
from server.trade.fields import Choice, Day, Field, Quantity, Text
from server.trade.tables import Names, Table

T = TypeVar("T")
_NEEDED: Any = dataclasses.MISSING


def quantity(
    label: str,
    unit: str,
    low: float,
    high: float,
    help: str = "",  # noqa: A002 - the form's own word for it
    *,
    default: float | None = _NEEDED,
    whole: bool = False,
) -> Any:
    """A number in `unit` from `low` to `high`, needed unless it has a default (None: may be left out)."""
    return _field(Quantity(label, unit, low, high, help, whole), default)


def choice(label: str, *options: str, help: str = "", default: str | None = _NEEDED) -> Any:  # noqa: A002 - as above
    """One of `options`."""
    return _field(Choice(label, options, help), default)


def text(label: str, help: str = "", *, default: str | None = _NEEDED) -> Any:  # noqa: A002 - as above
    """A short text."""
    return _field(Text(label, help), default)


def day(label: str, help: str = "", *, default: None = _NEEDED) -> Any:  # noqa: A002 - as above
    """A date, read into datetime.date."""
    return _field(Day(label, help), default)


def names(
    label: str,
    help: str = "",  # noqa: A002 - as above
    *,
    options: tuple[str, ...] = (),
    keys: tuple[str, ...] = (),
    default: None = _NEEDED,
) -> Any:
    """A dict of text by name, for instance what each pin carries; None stands for none given."""
    return _field(Names(label, help, options, keys), default)


def table_of(
    row: type[Any],
    label: str,
    help: str = "",  # noqa: A002 - as above
    *,
    least: int = 1,
    most: int = 500,
    default: tuple[Any, ...] | None = _NEEDED,
) -> Any:
    """A tuple of `row`s, itself a frozen dataclass of declared fields."""
    table = Table(
        label,
        help,
        least,
        most,
        columns=declared(row),
        read_row=lambda raw, name: read(row, raw, name),
        row_schema=lambda: object_schema(row),
        row_form=lambda: form_fields(row),
    )
    return _field(table, default)


def _field(declaration: Field, default: Any) -> Any:
    return dataclasses.field(default=default, metadata={"declared": declaration})


def declared(inputs: type[Any]) -> dict[str, Field]:
    """The declared fields of a dataclass, by name, in order."""
    return {field.name: field.metadata["declared"] for field in dataclasses.fields(inputs)}


def needed(inputs: type[Any]) -> list[str]:
    """The names of the fields that have no default."""
    return [field.name for field in dataclasses.fields(inputs) if field.default is dataclasses.MISSING]


def read(inputs: type[T], raw: object, at: str = "") -> T:
    """An instance of `inputs` from named raw values; null and "" stand for not given.

    Raises InputError with a sentence for every field that is wrong, missing or unknown.
    """
    if not isinstance(raw, Mapping):
        raise InputError((at or "input", "named values are needed here: " + ", ".join(declared(inputs))))
    prefix = f"{at}." if at else ""
    known = declared(inputs)
    problems = [
        (f"{prefix}{name}", f"is not asked for here; asked for are {', '.join(known)}")
        for name in raw
        if name not in known
    ]
    values = {}
    for name, field in known.items():
        given = raw.get(name)
        if given is None or given == "":
            if name in needed(inputs):
                problems.append((f"{prefix}{name}", f"is missing; give {field.wanted()}"))
            continue
        try:
            values[name] = field.read(given, prefix + name)
        except InputError as bad:
            problems += bad.problems
    if problems:
        raise InputError(*problems)
    try:
        return inputs(**values)
    except InputError as bad:
        raise bad.within(prefix) from None


def object_schema(inputs: type[Any]) -> dict[str, Any]:
    """JSON Schema 2020-12 of the raw values of `inputs`."""
    required = needed(inputs)
    properties = {}
    for field in dataclasses.fields(inputs):
        declaration: Field = field.metadata["declared"]
        schema = declaration.schema()
        if field.name not in required:
            schema = {"anyOf": [schema, {"type": "null"}], "default": _plain(field.default)}
        properties[field.name] = {"title": declaration.label, "description": declaration.help, **schema}
    return {
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": False,
    }


def form_fields(inputs: type[Any]) -> list[dict[str, Any]]:
    """What a form asks, in order: name, label, help, default, kind and what the kind needs."""
    return [
        {
            "name": field.name,
            "label": field.metadata["declared"].label,
            "help": field.metadata["declared"].help,
            "needed": field.default is dataclasses.MISSING,
            "default": None if field.default is dataclasses.MISSING else _plain(field.default),
            **field.metadata["declared"].form(),
        }
        for field in dataclasses.fields(inputs)
    ]


def _plain(default: Any) -> Any:
    """A default as JSON has it."""
    if isinstance(default, tuple):
        return [dataclasses.asdict(row) if dataclasses.is_dataclass(row) else row for row in default]  # type: ignore[arg-type]  # rows are instances
    return default
