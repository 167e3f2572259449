"""The kinds of value that hold others: text by name, and rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from server.trade.errors import InputError, quoted
from server.trade.fields import Choice, Field, Text


@dataclass(frozen=True)
class Names:
    """A list of name and text: pin by pin, zone by zone; the texts may be a closed list."""

    label: str
    help: str
    options: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()

    def read(self, raw: object, name: str) -> dict[str, str]:
        """A dict in the order given."""
        if not isinstance(raw, Mapping) or not raw:
            raise InputError((name, f"{quoted(raw)} cannot be read; give {self.wanted()}"))
        value = Choice(self.label, self.options, "") if self.options else Text(self.label, "")
        answer = {}
        for key, text in raw.items():
            if not isinstance(key, str) or (self.keys and key not in self.keys):
                raise InputError((name, f"{quoted(key)} is not known here; give {self.wanted()}"))
            answer[key] = value.read(text, f"{name}.{key}")
        return answer

    def wanted(self) -> str:
        """Which names, which texts."""
        keys = f" for {', '.join(self.keys)}" if self.keys else " by name"
        return f"{' / '.join(self.options) or 'a text'}{keys}"

    def schema(self) -> dict[str, Any]:
        """An object of strings."""
        value: dict[str, Any] = {"type": "string"}
        if self.options:
            value["enum"] = list(self.options)
        answer: dict[str, Any] = {"type": "object", "minProperties": 1, "additionalProperties": value}
        if self.keys:
            answer["propertyNames"] = {"enum": list(self.keys)}
        return answer

    def form(self) -> dict[str, Any]:
        """Kind, and the closed lists where there are any."""
        return {"kind": "names", "options": list(self.options), "keys": list(self.keys)}


@dataclass(frozen=True)
class Table:
    """Rows of one declared dataclass; a row is an object, or an array in the order of its fields."""

    label: str
    help: str
    least: int
    most: int
    columns: Mapping[str, Field]
    read_row: Callable[[object, str], Any]
    row_schema: Callable[[], dict[str, Any]]
    row_form: Callable[[], list[dict[str, Any]]]

    def read(self, raw: object, name: str) -> tuple[Any, ...]:
        """A tuple of rows."""
        if not isinstance(raw, list | tuple):
            raise InputError((name, f"{quoted(raw)} is not a list of rows; give {self.wanted()}"))
        if not self.least <= len(raw) <= self.most:
            raise InputError(
                (name, f"{len(raw)} rows are beyond {self.least} to {self.most}; give {self.wanted()}")
            )
        rows: list[Any] = []
        problems: list[tuple[str, str]] = []
        for number, row in enumerate(raw, start=1):
            try:
                rows.append(self.read_row(self._named(row), f"{name}[{number}]"))
            except InputError as bad:
                problems += bad.problems
        if problems:
            raise InputError(*problems)
        return tuple(rows)

    def _named(self, row: object) -> object:
        if isinstance(row, list | tuple) and len(row) <= len(self.columns):
            return dict(zip(self.columns, row, strict=False))
        return row

    def wanted(self) -> str:
        """How many rows of what."""
        return f"{self.least} to {self.most} rows of {', '.join(self.columns)}"

    def schema(self) -> dict[str, Any]:
        """An array of objects."""
        return {
            "type": "array",
            "minItems": self.least,
            "maxItems": self.most,
            "items": {"anyOf": [self.row_schema(), {"type": "array", "maxItems": len(self.columns)}]},
        }

    def form(self) -> dict[str, Any]:
        """Kind, number of rows, and the row's own fields."""
        return {"kind": "table", "least": self.least, "most": self.most, "columns": self.row_form()}
