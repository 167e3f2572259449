"""What a record says of an item or a locker: its fields read, each fault with the field it is in.

An item's record has any of `name`, `type`, `number`, `mass_kg` (null: not known), `dates` {made, examined, tested,
due}, `about` {...} and `gone` (a reason: it is no longer the unit's). A locker's has any of `vehicle`, `name`, `side`,
`row`, `place`, `width`, `about` and `holds` [{tag, number}]. Decimals, dates and numbers of things are text, as
everywhere. A field that is given stands in place of the definition's, whole; fields of a newer version are left aside.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import date

from ..sheets import words
from ..sheets.definitions import Held, Item, Locker
from ..sheets.lines import Text, Where
from ..sheets.row import DECIMAL, NAME

ITEM = ("name", "type", "number", "mass_kg", "dates", "about", "gone")
DATES = ("made", "examined", "tested", "due")
RECORD = Where("record", 1)
WHOLE = re.compile(r"[1-9][0-9]{0,5}", re.ASCII)
LONGEST = 400
LONGEST_NAME = 60
LONGEST_DECIMAL = 32


class BadFields(Exception):  # noqa: N818 - what it holds is called that
    """A record cannot be used; `faults` are pairs of the field, such as dates.due, and what is wrong with it."""

    def __init__(self, faults: list[tuple[str, str]]) -> None:
        super().__init__("; ".join(f"{field}: {reason}" for field, reason in faults))
        self.faults = faults


def read_item(
    tag: str, fields: Mapping[str, object], base: Item | None = None, where: Where = RECORD
) -> Item:
    """An item as its record says, over `base`, what the definitions say of it. Raises BadFields."""
    read = _Fields(fields, where)
    item = Item(
        tag=read.tag("tag", tag),
        name=read.text("name", base.name if base else None),
        type=read.among("type", words.TYPES, base.type if base else None),
        number=read.whole("number", base.number if base else "1"),
        mass_kg=read.mass("mass_kg", base.mass_kg if base else None),
        dates=read.dates("dates", base.dates if base else {}),
        about=read.pairs("about", base.about if base else {}),
        where=where,
    )
    read.end()
    return item


def read_locker(name: str, fields: Mapping[str, object], base: Locker | None = None) -> Locker:
    """A locker as its record says, over `base`. Raises BadFields."""
    read = _Fields(fields, RECORD)
    locker = Locker(
        id=read.tag("locker", name),
        vehicle=Text.at(read.text("vehicle", base.vehicle if base else None), RECORD),
        name=read.text("name", base.name if base else None),
        side=read.among("side", words.SIDES, base.side if base else None),
        row=read.count("row", base.row if base else None),
        place=read.count("place", base.place if base else None),
        width=read.decimal("width", base.width if base else "1"),
        about=read.pairs("about", base.about if base else {}),
        holds=read.holds("holds", base.holds if base else ()),
        where=RECORD,
    )
    read.end()
    return locker


def item_fields(item: Item) -> dict[str, object]:
    """All that a record says of an item, so that reading it again gives the same item."""
    said: dict[str, object] = {"name": str(item.name), "type": str(item.type), "number": str(item.number)}
    said["mass_kg"] = None if item.mass_kg is None else str(item.mass_kg)
    return said | {"dates": _plain(item.dates), "about": _plain(item.about)}


def holds_field(holds: Collection[Held]) -> list[dict[str, str]]:
    """A locker's list as its record says it."""
    return [{"tag": str(held.tag), "number": str(held.number)} for held in holds]


def _plain(pairs: Mapping[str, str]) -> dict[str, str]:
    return {str(key): str(value) for key, value in pairs.items()}


class _Fields:
    """The fields of one record; faults are noted and raised together at the end."""

    def __init__(self, fields: Mapping[str, object], where: Where) -> None:
        self._fields = fields
        self._where = where
        self._faults: list[tuple[str, str]] = []

    def end(self) -> None:
        if self._faults:
            raise BadFields(self._faults)

    def fault(self, field: str, reason: str) -> None:
        self._faults.append((field, reason))

    def tag(self, field: str, value: object) -> Text:
        text = self._line(field, value)
        if text and (not NAME.fullmatch(text) or len(text) > LONGEST_NAME):
            allowed = f"letters, digits, '.', '-' and '_', at most {LONGEST_NAME}"
            self.fault(field, f"'{text}' may hold {allowed}")
        return Text.at(text, self._where)

    def text(self, field: str, otherwise: str | None) -> str:
        if field not in self._fields:
            if otherwise is None:
                self.fault(field, "is missing")
            return otherwise or ""
        return self._line(field, self._fields[field])

    def among(self, field: str, known: Collection[str], otherwise: str | None) -> str:
        word = self.text(field, otherwise)
        if word and word not in known:
            self.fault(field, f"'{word}' is not one of {', '.join(known)}")
        return word

    def decimal(self, field: str, otherwise: str | None) -> str:
        figure = self.text(field, otherwise)
        if figure and (not DECIMAL.fullmatch(figure) or len(figure) > LONGEST_DECIMAL):
            self.fault(field, f"'{figure}' must be a decimal such as 34.5")
        return figure

    def mass(self, field: str, otherwise: str | None) -> str | None:
        if self._fields.get(field, otherwise) is None:
            return None
        figure = self.decimal(field, otherwise)
        if figure.startswith("-"):
            self.fault(field, f"'{figure}' is below 0")
        return figure

    def whole(self, field: str, otherwise: str) -> str:
        number = self.text(field, otherwise)
        self._is_whole(field, number)
        return number

    def count(self, field: str, otherwise: int | None) -> int:
        value = self._fields.get(field, otherwise)
        if not isinstance(value, int) or isinstance(value, bool) or not 1 <= value <= 1000:
            self.fault(field, "is missing" if value is None else "must be a whole number from 1 to 1000")
            return 1
        return value

    def dates(self, field: str, otherwise: Mapping[str, str]) -> Mapping[str, str]:
        dates = self.pairs(field, otherwise)
        for name, day in dates.items():
            if field in self._fields and name not in DATES:
                self.fault(f"{field}.{name}", f"is not one of {', '.join(DATES)}")
            elif not _is_date(day):
                self.fault(f"{field}.{name}", f"'{day}' must be a date such as 2031-05-02")
        return dates

    def pairs(self, field: str, otherwise: Mapping[str, str]) -> Mapping[str, str]:
        if field not in self._fields:
            return otherwise
        value = self._fields[field]
        if not isinstance(value, Mapping):
            self.fault(field, "must be keys and values")
            return {}
        for key in value:
            self._line(field, key, LONGEST_NAME)
        return {str(key): self._line(f"{field}.{key}", text) for key, text in value.items()}

    def holds(self, field: str, otherwise: tuple[Held, ...]) -> tuple[Held, ...]:
        if field not in self._fields:
            return otherwise
        rows = self._fields[field]
        if not isinstance(rows, list) or not all(isinstance(row, Mapping) for row in rows):
            self.fault(field, "must be a list of tags and numbers")
            return ()
        held = []
        for place, row in enumerate(rows):
            at = f"{field}.{place}"
            number = self._line(f"{at}.number", row.get("number"))
            self._is_whole(f"{at}.number", number)
            held.append(Held(self.tag(f"{at}.tag", row.get("tag")), number))
        tags = [one.tag for one in held]
        for tag in sorted({tag for tag in tags if tags.count(tag) > 1}):
            self.fault(field, f"{tag} stands twice")
        return tuple(held)

    def _is_whole(self, field: str, number: str) -> None:
        if number and not WHOLE.fullmatch(number):
            self.fault(field, f"'{number}' must be a whole number above 0")

    def _line(self, field: str, value: object, longest: int = LONGEST) -> str:
        """One line of text, as entries can carry it."""
        if not isinstance(value, str) or not value:
            self.fault(field, "must be some text")
            return ""
        if len(value) > longest:
            self.fault(field, f"at most {longest} characters")
        elif value != value.strip():
            self.fault(field, "begins or ends with a space")
        elif not all(map(_is_of_a_line, value)):
            self.fault(field, "holds a character that no line of text has")
        return value


def _is_of_a_line(character: str) -> bool:
    point = ord(character)
    surrogate, noncharacter = 0xD800 <= point <= 0xDFFF, 0xFDD0 <= point <= 0xFDEF or point & 0xFFFE == 0xFFFE
    separator = point in {0x85, 0x2028, 0x2029}
    return not (point < 0x20 or point == 0x7F or surrogate or noncharacter or separator)


def _is_date(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
