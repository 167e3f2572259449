"""Who signed what: the name as drawn, the key that signed, the statement, and what has changed since."""

import base64
from typing import Any

from server.handover.pictures import Picture, drawn_name
from server.handover.record import Record
from server.handover.saying import Saying
from server.logbook.fold import Fold
from server.logbook.steps import sheets
from server.logbook.views.sheet import signatures_on

View = dict[str, Any]


def names(record: Record, fold: Fold, saying: Saying) -> list[View]:
    """Every counting signature, sheet by sheet."""
    return [
        {
            **saying.entry(one),
            "sheet": saying.sheet(sheet["id"]),
            "statement": str(one["body"].get("statement") or sheet.get("statement") or ""),
            "covered": len(one["body"]["covers"]),
            "drawn": _drawn(record, one),
            "since": _since(one, saying),
        }
        for sheet in sheets(fold.held).values()
        for one in signatures_on(fold.held, sheet["id"])
    ]


def _since(sign: View, saying: Saying) -> list[str]:
    """What has changed since; the sheet itself where its steps are others now."""
    if not sign["changed"]:
        return []
    return [saying.step(subject) for subject in sign["subjects"]] or ["the sheet itself"]


def _drawn(record: Record, sign: View) -> Picture:
    digest = sign["body"].get("drawn")
    if digest is None:
        return Picture(None, "no name was drawn")
    packed = record["drawn"].get(digest)
    return drawn_name(base64.b64decode(packed)) if packed else Picture(None, "drawn name not arrived")
