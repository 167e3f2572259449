"""JSON as the logbook takes it: the profile of I-JSON (RFC 7493) that two languages read alike."""

import json
from typing import NoReturn

MAX_DEPTH = 16
MAX_INTEGER = 2**53 - 1


class NotIJson(ValueError):  # noqa: N818 - named for what it says of the text
    """The octets are not the JSON that the logbook takes; the message says why."""


def loads(octets: bytes, max_depth: int = MAX_DEPTH) -> object:
    """Read UTF-8 JSON: objects, lists, strings, integers, true, false, null.

    Refused with NotIJson: a byte order mark, duplicate members, lone surrogates, noncharacters, U+0000,
    numbers with fraction or exponent or beyond 2^53-1, and depth beyond `max_depth`, the outermost
    value being 1.
    """
    if octets.startswith(b"\xef\xbb\xbf"):
        raise NotIJson("it begins with a byte order mark")
    try:
        text = octets.decode("utf-8")
    except UnicodeDecodeError:
        raise NotIJson("it is not UTF-8") from None
    try:
        value = json.loads(
            text,
            object_pairs_hook=_members,
            parse_float=_no_fraction,
            parse_int=_integer,
            parse_constant=_no_constant,
        )
    except NotIJson:
        raise
    except (ValueError, RecursionError):
        raise NotIJson("it is not JSON, or nested too deep") from None
    _look_into(value, max_depth)
    return value


def _members(pairs: list[tuple[str, object]]) -> dict[str, object]:
    members = dict(pairs)
    if len(members) != len(pairs):
        raise NotIJson("an object has one member twice")
    return members


def _integer(digits: str) -> int:
    if len(digits) > len(str(-MAX_INTEGER)) or abs(int(digits)) > MAX_INTEGER:
        raise NotIJson("a number is beyond 2^53-1")
    return int(digits)


def _no_fraction(_: str) -> NoReturn:
    raise NotIJson("a number has a fraction or an exponent; figures are written as text")


def _no_constant(name: str) -> NoReturn:
    raise NotIJson(f"{name} is not JSON")


def _look_into(value: object, depth_left: int) -> None:
    if isinstance(value, str):
        _look_at_text(value)
    elif isinstance(value, dict | list):
        if depth_left == 0:
            raise NotIJson("it is nested too deep")
        if isinstance(value, dict):
            for member, inner in value.items():
                _look_at_text(member)
                _look_into(inner, depth_left - 1)
        else:
            for inner in value:
                _look_into(inner, depth_left - 1)


def _look_at_text(text: str) -> None:
    if text.isascii():
        if "\0" in text:
            raise NotIJson("a text holds U+0000")
        return
    for character in text:
        point = ord(character)
        if point == 0:
            raise NotIJson("a text holds U+0000")
        if 0xD800 <= point <= 0xDFFF:
            raise NotIJson("a text holds half of a surrogate pair")
        if 0xFDD0 <= point <= 0xFDEF or point & 0xFFFE == 0xFFFE:
            raise NotIJson("a text holds a noncharacter")
