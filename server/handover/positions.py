"""Position by position: its chain as it stands, its sheets step by step, what happened there."""

from typing import Any

from server.handover import lifting, loose, steps
from server.handover.chain import chain_view
from server.handover.photos import Photos
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold
from server.logbook.steps import sheets
from server.logbook.views.shown import is_at_or_below

View = dict[str, Any]
STAGES = ("pack", "travel", "rig", "line-up", "on-air", "de-rig", "stow")


def position(fold: Fold, definition: View, found: View, saying: Saying, photos: Photos) -> View:
    """A position for the report."""
    view = views.position(fold, definition, found["id"])
    told = [steps.sheet(fold, definition, one["id"], saying, photos) for one in view["sheets"]]
    return {
        **found,
        "drawing": _drawing(view["chain"], definition),
        "chain": [_link(link, stands, saying) for link, stands in view["chain"].items()],
        "gear": lifting.gear(fold, definition, view["gear"], saying),
        "sheets": sorted(told, key=_by_stage),
        "given_up": saying.entry(view["given_up"]) if view["given_up"] else None,
        "events": sorted(saying.all(view["events"]), key=lambda one: str(one["at"])),
        "evidence": loose.under(fold, _tops(found), saying, photos),
    }


def others(fold: Fold, definition: View, saying: Saying, photos: Photos) -> list[View]:
    """Sheets of no position and no locker: truck, towers, vehicles, talkback, lifting gear."""
    tops = [
        *(top for one in definition["positions"] for top in _tops(one)),
        *(f"locker/{one['id']}" for one in definition["lockers"]),
    ]
    rest = [one for one in sheets(fold.held) if not any(is_at_or_below(one, top) for top in tops)]
    return sorted((steps.sheet(fold, definition, one, saying, photos) for one in rest), key=_by_stage)


def _tops(found: View) -> tuple[str, str]:
    return f"position/{found['id']}", f"run/{found['id']}"


def _by_stage(sheet: View) -> tuple[int, str]:
    stage = sheet["stage"]
    return (STAGES.index(stage) if stage in STAGES else len(STAGES), sheet["id"])


def _drawing(chain: View, definition: View) -> str:
    lengths = {one["tag"]: one["about"].get("length_m") for one in definition["kit"]}
    run = [(tag, float(lengths[tag]) if lengths.get(tag) else None) for tag in chain["run"].get("tags") or []]
    lens, body, control = (str(chain[link].get("tag") or "") for link in ("lens", "body", "control"))
    return chain_view(lens, body, run, control)


def _link(link: str, stands: View, saying: Saying) -> View:
    """A link in words, where the drawing alone does not tell it: disputed or waiting, with every side."""
    return {"link": link, "state": stands["state"], "values": saying.all(stands["values"])}
