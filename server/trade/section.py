"""One computation as a section of a page: what was given, by its declared labels, and all that was answered.

Made from the declaration alone, so a new computation has its section with nothing written for it.
"""

from __future__ import annotations

import datetime
from dataclasses import fields
from typing import Any

from server.trade.declare import declared, read
from server.trade.fields import Field, Quantity, shown
from server.trade.register import assess, computation, drawing
from server.trade.tables import Names, Table

Row = dict[str, Any]


def section(name: str, raw: object) -> dict[str, Any]:
    """What a page shows of the answer to `raw`; raises InputError.

    title (the question), name, core, verdict; rows: {label, value, unit, given} of what went in, `given` false
    where the usual value was taken; tables: {label, columns: [{label, unit}], rows: [[text]], given};
    figures: {label, value, unit}; findings, advice, cautions, basis: sentences; svg: the figure or None.
    """
    one = computation(name)
    inputs = read(one.inputs, raw)
    answer = assess(name, raw)
    given = set(raw) if isinstance(raw, dict) else set()
    rows: list[Row] = []
    tables: list[Row] = []
    for field_name, field in declared(one.inputs).items():
        value = getattr(inputs, field_name)
        if isinstance(field, Table) and value:
            tables.append({**_table(field, value), "given": field_name in given})
        elif value is not None and not isinstance(field, Table):
            rows += [{**row, "given": field_name in given} for row in _rows(field, value)]
    return {
        "title": one.question,
        "name": name,
        "core": answer["core"],
        "verdict": answer["verdict"],
        "rows": rows,
        "tables": tables,
        "figures": [figure(key, found) for key, found in answer["figures"].items()],
        **{part: answer[part] for part in ("findings", "advice", "cautions", "basis")},
        "svg": drawing(name, raw),
    }


def figure(name: str, found: dict[str, Any]) -> Row:
    """A figure by its name in words; no value is said as none, which a finding explains."""
    value = found["value"]
    text = "none" if value is None else _text(value)
    return {
        "label": name.replace("_", " ").replace(".", " "),
        "value": text,
        "unit": "" if value is None else found["unit"],
    }


def _rows(field: Field, value: Any) -> list[Row]:
    if isinstance(field, Names):
        return [{"label": f"{field.label}, {key}", "value": text, "unit": ""} for key, text in value.items()]
    unit = field.unit if isinstance(field, Quantity) else ""
    return [{"label": field.label, "value": _text(value), "unit": unit}]


def _table(field: Table, rows: tuple[Any, ...]) -> Row:
    columns = [
        {"label": column.label, "unit": column.unit if isinstance(column, Quantity) else ""}
        for column in field.columns.values()
    ]
    cells = [[_text(getattr(row, cell.name)) for cell in fields(row)] for row in rows]
    return {"label": field.label, "columns": columns, "rows": cells}


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return ", ".join(_text(one) for one in value)
    return shown(value) if isinstance(value, int | float) else str(value)
