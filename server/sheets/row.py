"""One mapping of a definitions file, read key by key; what does not fit becomes a fault at its line."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import date

from .lines import Fault, Rows, Table, Text, Value, Where

DECIMAL = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?", re.ASCII)
NAME = re.compile(r"[A-Za-z0-9._-]+", re.ASCII)


class Row:
    """A mapping whose keys are `required` or `optional`; other keys and missing ones are faults."""

    def __init__(
        self, value: Value, faults: list[Fault], required: Collection[str], optional: Collection[str] = ()
    ) -> None:
        self.faults = faults
        self.where: Where = value.where
        self.table: Table = value if isinstance(value, Table) else Table()
        if not isinstance(value, Table):
            self.fault(f"expected keys and values ({', '.join(required)})")
            return
        for key in value:
            if key not in required and key not in optional:
                self.fault(f"unknown key '{key}'", key.where)
        missing = [key for key in required if key not in value]
        if missing:
            self.fault(f"'{missing[0]}' is missing")

    def fault(self, text: str, where: Where | None = None) -> None:
        """Note a fault here, or at the place given."""
        where = where or self.where
        self.faults.append(Fault(where.file, where.line, text))

    def text(self, key: str) -> Text:
        """Some text; empty if missing."""
        return self.text_or_none(key) or self._nothing()

    def text_or_none(self, key: str) -> Text | None:
        """Some text, or None if the key is not there."""
        value = self.table.get(Text(key))
        if value is None:
            return None
        if not isinstance(value, Text) or not value:
            self.fault(f"'{key}' must be some text", value.where)
            return None
        return value

    def name(self, key: str) -> Text:
        """An id or tag: letters, digits, dot, hyphen, underscore."""
        value = self.text(key)
        if value and not NAME.fullmatch(value):
            self.fault(f"'{value}' may hold letters, digits, '.', '-' and '_' only", value.where)
        return value

    def among(self, key: str, words: Collection[str], default: str | None = None) -> Text:
        """One word of a closed list."""
        value = self.text_or_none(key)
        if value is None:
            return self._nothing(default or "")
        if value not in words:
            self.fault(f"unknown {key} '{value}': one of {', '.join(words)}", value.where)
        return value

    def decimal(self, key: str) -> str | None:
        """A decimal as text, such as 34.5, or None if the key is not there."""
        value = self.text_or_none(key)
        if value is not None and not DECIMAL.fullmatch(value):
            self.fault(f"'{key}' must be a decimal such as 34.5, not '{value}'", value.where)
            return None
        return value

    def whole(self, key: str) -> int | None:
        """A whole number above nought, or None if the key is not there."""
        value = self.text_or_none(key)
        if value is None:
            return None
        if not value.isascii() or not value.isdigit() or int(value) == 0:
            self.fault(f"'{key}' must be a whole number above 0, not '{value}'", value.where)
            return None
        return int(value)

    def flag(self, key: str) -> bool:
        """A true or false; false if the key is not there."""
        return self.among(key, ("true", "false"), "false") == "true"

    def list(self, key: str) -> tuple[Value, ...]:
        """The values of a list; none if the key is not there."""
        value = self.table.get(Text(key))
        if value is None:
            return ()
        if not isinstance(value, Rows):
            self.fault(f"'{key}' must be a list", value.where)
            return ()
        return tuple(value)

    def words(self, key: str, among: Collection[str] | None = None) -> tuple[Text, ...]:
        """A list of words, each of a closed list if one is given."""
        found = []
        for value in self.list(key):
            if not isinstance(value, Text) or not value:
                self.fault(f"'{key}' must be a list of words", value.where)
            elif among is not None and value not in among:
                self.fault(f"unknown word '{value}' in {key}: one of {', '.join(among)}", value.where)
            else:
                found.append(value)
        return tuple(found)

    def pairs(self, key: str) -> Mapping[str, str]:
        """A mapping of words to text; empty if the key is not there."""
        return {str(name): content for name, content in self._pairs(key).items()}

    def _pairs(self, key: str) -> Mapping[Text, Text]:
        value = self.table.get(Text(key))
        if value is None:
            return {}
        if not isinstance(value, Table):
            self.fault(f"'{key}' must be keys and values", value.where)
            return {}
        pairs = {}
        for name, content in value.items():
            if isinstance(content, Text):
                pairs[name] = content
            else:
                self.fault(f"'{name}' must be some text", content.where)
        return pairs

    def counts(self, key: str) -> Mapping[Text, Text]:
        """Tags and how many of each, whole numbers above nought."""
        counts = {}
        for tag, number in self._pairs(key).items():
            if number.isascii() and number.isdigit() and int(number) > 0:
                counts[tag] = number
            else:
                self.fault(
                    f"how many of '{tag}' must be a whole number above 0, not '{number}'", number.where
                )
        return counts

    def dates(self, key: str) -> Mapping[str, str]:
        """A mapping of words to dates as 2031-05-02."""
        dates = self._pairs(key)
        for name, value in dates.items():
            try:
                good = date.fromisoformat(value).isoformat() == value
            except ValueError:
                good = False
            if not good:
                self.fault(f"'{name}' must be a date such as 2031-05-02, not '{value}'", value.where)
        return {str(name): value for name, value in dates.items()}

    def _nothing(self, text: str = "") -> Text:
        return Text.at(text, self.where)
