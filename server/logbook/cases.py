"""Answers to files of cases in the form of the shared vectors: by this fold, and by the phone's under Node."""

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

from server.logbook import views
from server.logbook.fold import Answer, Fold, History, fold

PHONE = Path(__file__).parents[2] / "static" / "logbook" / "run-cases.mjs"

OF_THE_LOG = {"gates", "signatures", "devices"}
VIEWS: dict[str, Callable[..., object]] = {
    name: getattr(views, name)
    for name in (*OF_THE_LOG, "amended", "kit", "locker", "position", "report", "sheet")
}


class BadCases(ValueError):  # noqa: N818 - the sentence is shown as it stands
    """A file of cases cannot be answered; the message says why."""


def answers(path: Path) -> list[Answer]:
    """The answers of this fold, one a case. Raises BadCases."""
    stated = _read(path)
    kinds = stated.get("kinds")
    if isinstance(kinds, str):
        kinds = _read(path.parent / kinds)
    if not isinstance(kinds, dict):
        raise BadCases(f'{path} has no "kinds": a path from there, or the kinds themselves')
    if not isinstance(stated.get("cases"), list):
        raise BadCases(f'{path} has no list "cases"')
    return [answer(kinds, case) for case in stated["cases"]]


def phone_answers(path: Path) -> list[Answer]:
    """The answers of the phone's fold. Raises BadCases, also where Node is missing."""
    try:
        done = subprocess.run(  # noqa: S603 - this program's own script
            ("node", str(PHONE), str(path)),  # noqa: S607 - Node as this machine has it
            capture_output=True,
            check=False,
        )
    except FileNotFoundError:
        raise BadCases("Node is not on this machine: run `make setup`") from None
    if done.returncode != 0:
        raise BadCases(done.stderr.decode(errors="replace").strip())
    found: list[Answer] = json.loads(done.stdout)
    return found


def answer(kinds: dict[str, Any], case: dict[str, Any]) -> Answer:
    """The answer to one case, with the views that it asks for. Raises BadCases."""
    try:
        history = History(
            case["log"],
            case["unit_key"],
            case["sheets"],
            case["cards"],
            case["entries"],
            kinds,
            case.get("files", {}),
            case.get("carried_over", ()),
        )
    except (KeyError, TypeError) as fault:
        raise BadCases(f"the case {case.get('name', 'without a name')} lacks {fault}") from None
    folded = fold(history)
    found = folded.answer()
    if "views" in case:
        found["views"] = [_view(folded, case, *asked) for asked in case["views"]]
    return found


def _view(folded: Fold, case: dict[str, Any], name: str, *of: str) -> object:
    """A view by its name and what it is asked for, `["sheet", "position/2/rig"]`."""
    if name not in VIEWS:
        raise BadCases(f"the case {case['name']} asks for a view called {name}, which there is not")
    show = VIEWS[name]
    return show(folded) if name in OF_THE_LOG else show(folded, case["definition"], *of)


def _read(path: Path) -> dict[str, Any]:
    try:
        stated = json.loads(path.read_text(encoding="utf-8"))
    except OSError as fault:
        raise BadCases(f"{path} cannot be read: {fault.strerror}") from None
    except ValueError as fault:
        raise BadCases(f"{path} is not JSON: {fault}") from None
    if not isinstance(stated, dict):
        raise BadCases(f"{path} is not an object")
    return stated
