"""Reads sheets and steps from their YAML."""

from __future__ import annotations

from server.trade.register import assessments

from . import words
from .definitions import Assess, Choice, Conditions, Held, Sheet, Step
from .lines import Fault, Table, Text, Value
from .row import Row

STEP_KEYS = (
    "after", "caution", "hazard", "witness", "two_ends", "minutes", "ended_by", "about", "asks", "unit",
    "low", "high", "limit_of", "choices", "count", "items", "assess", "for",
)  # fmt: skip


def read_sheet(value: Value, faults: list[Fault]) -> Sheet:
    """One sheet of a sheets file."""
    row = Row(value, faults, ("sheet", "each", "stage", "title", "signed_by", "statement", "steps"), ("for",))
    each = row.among("each", tuple(words.EACH))
    return Sheet(
        id=row.text("sheet"),
        each=each,
        stage=row.among("stage", words.STAGES),
        title=row.text("title"),
        signed_by=row.words("signed_by", words.SIGNERS),
        statement=row.text("statement"),
        applies=_conditions(row, each),
        steps=tuple(_step(step, each, faults) for step in row.list("steps")),
        where=row.where,
    )


def _step(value: Value, each: str, faults: list[Fault]) -> Step:
    row = Row(value, faults, ("step", "do", "done", "roles"), STEP_KEYS)
    witness, two_ends = row.flag("witness"), row.flag("two_ends")
    if witness and two_ends:
        row.fault("a step has a witness or two ends, not both")
    return Step(
        word=row.name("step"),
        do=row.text("do"),
        done=row.text("done"),
        asks=row.among("asks", words.ASKS, "tick"),
        roles=row.words("roles", words.ROLES),
        after=row.words("after"),
        caution=row.text_or_none("caution"),
        hazard=row.flag("hazard"),
        second="sees" if witness else "other-end" if two_ends else None,
        minutes=row.whole("minutes"),
        ended_by=row.words("ended_by"),
        about=row.words("about", words.ABOUT),
        unit=row.text_or_none("unit"),
        low=row.decimal("low"),
        high=row.decimal("high"),
        limit_of=row.text_or_none("limit_of"),
        choices=tuple(_choice(choice, faults) for choice in row.list("choices")),
        count=row.text_or_none("count"),
        items=tuple(Held(tag, number) for tag, number in row.counts("items").items()),
        assess=_assess(row),
        applies=_conditions(row, each),
        where=row.where,
    )


def _choice(value: Value, faults: list[Fault]) -> Choice:
    row = Row(value, faults, ("id", "label", "done"))
    return Choice(id=row.name("id"), label=row.text("label"), done=row.flag("done"))


def _assess(row: Row) -> Assess | None:
    value = row.table.get(Text("assess"))
    if value is None:
        return None
    inner = Row(value, row.faults, ("name",), ("from",))
    return Assess(name=inner.among("name", tuple(assessments())), prefill=inner.pairs("from"))


def _conditions(row: Row, each: str) -> Conditions:
    value = row.table.get(Text("for"))
    if value is None:
        return {}
    if not isinstance(value, Table):
        row.fault("'for' must say what it is for, such as way_up: [hoisted]", value.where)
        return {}
    known = words.CONDITIONS.get(each, ())
    inner = Row(value, row.faults, (), known)
    return {key: inner.words(key, words.FACTS.get(key)) for key in value if key in known}
