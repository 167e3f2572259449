"""The kinds of value a computation can ask for: each reads what was typed, and describes itself."""

from __future__ import annotations

import datetime
import math
import re
from dataclasses import dataclass
from typing import Any, Protocol

from server.trade.errors import InputError, quoted

_DECIMAL = re.compile(r"[+-]?(\d{1,30}(\.\d{0,30})?|\.\d{1,30})", re.ASCII)
_MOST_TEXT = 500


class Field(Protocol):
    """What every kind of value offers."""

    @property
    def label(self) -> str:
        """What a form calls it."""

    @property
    def help(self) -> str:
        """What somebody may need to know to answer."""

    def read(self, raw: object, name: str) -> Any:
        """The value for the computation, or InputError naming `name`."""

    def wanted(self) -> str:
        """What would be right here, for the end of an error's sentence."""

    def schema(self) -> dict[str, Any]:
        """JSON Schema 2020-12, as OpenAPI 3.1 takes it."""

    def form(self) -> dict[str, Any]:
        """What a form needs to ask for it."""


def shown(number: float) -> str:
    """A number as people write it: no exponent, no trailing zeros, six significant digits."""
    if number == 0:
        return "0"
    places = max(0, 5 - math.floor(math.log10(abs(number))))
    text = f"{number:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@dataclass(frozen=True)
class Quantity:
    """A number with a unit, from `low` to `high`; JSON numbers and decimal strings are read alike."""

    label: str
    unit: str
    low: float
    high: float
    help: str
    whole: bool = False

    def read(self, raw: object, name: str) -> float:
        """A float (an int where whole), finite and in range."""
        number = self._number(raw, name)
        if not self.low <= number <= self.high:
            raise InputError((name, f"{quoted(raw)} is beyond {self._range()}; is it in another unit?"))
        if self.whole:
            if number != int(number):
                raise InputError((name, f"{quoted(raw)} is not a whole number; give {self.wanted()}"))
            return int(number)
        return float(number)

    def _number(self, raw: object, name: str) -> float:
        if isinstance(raw, str) and _DECIMAL.fullmatch(raw.strip()):
            return float(raw)
        if isinstance(raw, int | float) and not isinstance(raw, bool) and math.isfinite(raw):
            return raw
        if isinstance(raw, str) and _DECIMAL.fullmatch(raw.strip().replace(",", ".", 1)):
            raise InputError((name, f"{quoted(raw)} has a comma; write it with a point, {self.wanted()}"))
        raise InputError((name, f"{quoted(raw)} is not a number; give {self.wanted()}"))

    def _range(self) -> str:
        return f"{shown(self.low)} to {shown(self.high)} {self.unit}".rstrip()

    def wanted(self) -> str:
        """For instance: a number from 0.1 to 1000 m."""
        return f"a {'whole ' if self.whole else ''}number from {self._range()}"

    def schema(self) -> dict[str, Any]:
        """A number, or the same as a decimal string."""
        return {
            "type": ["integer" if self.whole else "number", "string"],
            "minimum": self.low,
            "maximum": self.high,
            "pattern": r"^[+-]?(\d+(\.\d*)?|\.\d+)$",
            "x-unit": self.unit,
        }

    def form(self) -> dict[str, Any]:
        """Kind, unit and range."""
        return {
            "kind": "quantity",
            "unit": self.unit,
            "low": self.low,
            "high": self.high,
            "whole": self.whole,
        }


@dataclass(frozen=True)
class Choice:
    """One word from a closed list."""

    label: str
    options: tuple[str, ...]
    help: str

    def read(self, raw: object, name: str) -> str:
        """The word itself."""
        if isinstance(raw, str) and raw in self.options:
            return raw
        raise InputError((name, f"{quoted(raw)} is not among the answers; give {self.wanted()}"))

    def wanted(self) -> str:
        """The list."""
        return "one of " + ", ".join(f'"{option}"' for option in self.options)

    def schema(self) -> dict[str, Any]:
        """An enum."""
        return {"type": "string", "enum": list(self.options)}

    def form(self) -> dict[str, Any]:
        """Kind and options."""
        return {"kind": "choice", "options": list(self.options)}


@dataclass(frozen=True)
class Text:
    """A short text: a tag, a name."""

    label: str
    help: str

    def read(self, raw: object, name: str) -> str:
        """The text without the space around it."""
        if isinstance(raw, str) and 0 < len(raw.strip()) <= _MOST_TEXT:
            return raw.strip()
        raise InputError((name, f"{quoted(raw)} is not a short text; give {self.wanted()}"))

    def wanted(self) -> str:
        """How long."""
        return f"1 to {_MOST_TEXT} characters"

    def schema(self) -> dict[str, Any]:
        """A string."""
        return {"type": "string", "minLength": 1, "maxLength": _MOST_TEXT}

    def form(self) -> dict[str, Any]:
        """Kind only."""
        return {"kind": "text"}


@dataclass(frozen=True)
class Day:
    """A date of the calendar, given by whoever asks: the arithmetic itself knows no today."""

    label: str
    help: str

    def read(self, raw: object, name: str) -> datetime.date:
        """A date."""
        if isinstance(raw, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", raw, re.ASCII):
            try:
                return datetime.date.fromisoformat(raw)
            except ValueError:
                pass
        raise InputError((name, f"{quoted(raw)} is not a date; give {self.wanted()}"))

    def wanted(self) -> str:
        """The form of a date."""
        return "a date as year-month-day, for instance 2031-05-02"

    def schema(self) -> dict[str, Any]:
        """A date string."""
        return {"type": "string", "format": "date"}

    def form(self) -> dict[str, Any]:
        """Kind only."""
        return {"kind": "day"}
