"""YAML in which every value remembers its line, so that a fault can be found by whoever wrote it.

Scalars stay text: a mass of 34.50 is not rounded and a date is not guessed.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import yaml


@dataclass(frozen=True, order=True)
class Where:
    """A line of a file, the first being 1."""

    file: str
    line: int


@dataclass(frozen=True, order=True)
class Fault:
    """Something wrong in the definitions, and where."""

    file: str
    line: int
    text: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.text}"


class Text(str):
    """A scalar as it was written, with its place."""

    where: Where

    @classmethod
    def at(cls, text: str, where: Where) -> Text:
        """The text as written at a place."""
        made = cls(text)
        made.where = where
        return made


class Table(dict[Text, "Value"]):
    """A mapping with its place; its keys have theirs."""

    where: Where


class Rows(list["Value"]):
    """A sequence with its place."""

    where: Where


Value = Text | Table | Rows


def read_yaml(path: Path, name: str, faults: list[Fault]) -> Value | None:
    """The one document of a file, or None with a fault noted. `name` is how faults call the file."""
    try:
        node = yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.SafeLoader)
    except FileNotFoundError:
        faults.append(Fault(name, 1, "this file is missing"))
        return None
    except UnicodeDecodeError:
        faults.append(Fault(name, 1, "not UTF-8 text"))
        return None
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        faults.append(Fault(name, mark.line + 1 if mark else 1, f"not YAML: {error.problem}"))
        return None
    except yaml.YAMLError as error:
        faults.append(Fault(name, 1, f"not YAML: {error}"))
        return None
    if node is None:
        faults.append(Fault(name, 1, "this file is empty"))
        return None
    return _value(node, name, faults)


def _value(node: yaml.Node, name: str, faults: list[Fault]) -> Value:
    where = Where(name, node.start_mark.line + 1)
    value: Table | Rows
    if isinstance(node, yaml.MappingNode):
        value = Table()
        for key_node, value_node in node.value:
            key = _value(key_node, name, faults)
            if not isinstance(key, Text):
                faults.append(Fault(name, key.where.line, "a key must be one word"))
            elif key in value:
                faults.append(Fault(name, key.where.line, f"'{key}' stands here twice"))
            else:
                value[key] = _value(value_node, name, faults)
    elif isinstance(node, yaml.SequenceNode):
        value = Rows(_value(item, name, faults) for item in node.value)
    else:
        return Text.at(" ".join(str(node.value).split()), where)
    value.where = where
    return value
