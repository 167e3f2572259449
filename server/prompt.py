"""`handline assess`: the arithmetic at a prompt. 0 within, 1 not within, 2 input that cannot be read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TextIO

from server.trade.errors import InputError
from server.trade.register import assess, assessments, drawing, loads

WITHIN = ("within limits", "figures within")


def list_all(out: TextIO) -> int:
    """One line a computation: its name and its question."""
    for name, one in assessments().items():
        out.write(f"{name}\t{one.question}\n")
    return 0


def run(name: str, source: TextIO, out: TextIO, err: TextIO, figure: Path | None = None) -> int:
    """Reads JSON from `source`, writes the answer to `out` and, where asked, the SVG to `figure`."""
    try:
        raw = loads(source.read())
        answer = assess(name, raw)
        svg = drawing(name, raw) if figure else None
    except InputError as bad:
        err.write(f"{bad}\n")
        return 2
    except UnicodeDecodeError:
        err.write("input: not UTF-8 text; save it as UTF-8\n")
        return 2
    if figure and svg is None:
        err.write(f"figure: {name} draws none; leave --figure out\n")
        return 2
    if figure and svg:
        try:
            figure.write_text(svg, encoding="utf-8")
        except OSError as bad:
            err.write(f"figure: cannot be written: {bad.strerror}\n")
            return 2
    out.write(json.dumps(answer, indent=2, ensure_ascii=False) + "\n")
    return 0 if str(answer["verdict"]).split(":")[0] in WITHIN else 1
