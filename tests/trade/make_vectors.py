"""Writes the answers into tests/trade/vectors: run it after a change of the arithmetic, and read the diff.

A file is named by its computation and holds [{"about", "input", "answer"}]; the inputs are written by
hand, the answers by this. `python tests/trade/make_vectors.py` does all, with names only those. The
answers guard against drift between machines and changes; what is right is said by the tests of the rows.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from server.trade.register import assess_text

VECTORS = Path(__file__).parent / "vectors"


def pairs(path: Path) -> list[dict[str, Any]]:
    """The pairs of one file; a pair without an answer is new."""
    read: list[dict[str, Any]] = json.loads(path.read_text(encoding="utf-8"))
    return read


def answer(name: str, given: object) -> Any:
    """What the core answers at its border, text in, text out: problems too."""
    return json.loads(assess_text(json.dumps({"assessment": name, "input": given})))


def main(names: list[str]) -> None:
    """Writes each file anew."""
    for path in sorted(VECTORS.glob("*.json")):
        if names and path.stem not in names:
            continue
        made = [
            {"about": pair["about"], "input": pair["input"], "answer": answer(path.stem, pair["input"])}
            for pair in pairs(path)
        ]
        path.write_text(json.dumps(made, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
