"""What the report says, gathered from the record: words and figures for the pages, nothing that is not in it."""

from collections.abc import Mapping, Sequence
from typing import Any

from server.handover import kit, lockers, positions, steps
from server.handover.first_page import fitted, shorten
from server.handover.names import names
from server.handover.open_points import open_points
from server.handover.photos import Photos
from server.handover.record import Record, folded
from server.handover.saying import Saying
from server.handover.vehicle import Door, rear_view, side_view
from server.logbook import views
from server.logbook.fold import Fold

View = dict[str, Any]
SIDES = ("left", "right", "rear")
PAGE_LINES = 53.0
ROW_OF_DRAWINGS_LINES = 8.3
DRAWINGS_A_ROW = 3
LONGEST_TITLE = 44
LONGEST_LINE = 100


def gather(record: Record, photos: Photos | None = None) -> View:
    """All that the pages say, ready for the template; `photos` are those that have arrived."""
    fold = folded(record)
    definition = views.amended(fold, record["definition"])
    report = views.report(fold, definition)
    saying = Saying(definition, fold)
    arrived: Photos = photos or {}
    told = {
        one["id"]: lockers.locker(fold, definition, one, report, saying, arrived)
        for one in definition["lockers"]
    }
    vehicles = [_vehicle(one, definition, told, report) for one in definition["vehicles"]]
    headings = open_points(fold, definition, report, saying)
    first = fitted(headings, _lines_left(vehicles))
    drums = [kit.drum(fold, definition, one, saying) for one in _of_type(definition, "drum")]
    lifting = [kit.item(fold, definition, one, saying) for one in _of_type(definition, "lifting-gear")]
    rest = [one for one in definition["kit"] if one["type"] not in ("drum", "lifting-gear")]
    others = [kit.item(fold, definition, one, saying) for one in rest]
    return {
        "title": shorten(definition["title"], LONGEST_TITLE),
        "whole_title": definition["title"],
        "log": record["log"],
        "ends": definition["ends"],
        "about": [shorten(one, LONGEST_LINE) for one in _about(definition)],
        "unit": definition["unit"]["name"],
        "draft": record["handed_over"] is None,
        "vehicles": vehicles,
        "open": first,
        "none": [one.word for one in headings if not one.points],
        "lockers": list(told.values()),
        "positions": [
            positions.position(fold, definition, one, saying, arrived) for one in definition["positions"]
        ],
        "others": positions.others(fold, definition, saying, arrived),
        "drums": drums,
        "lifting": lifting,
        "kit": [one for one in others if kit.is_told(one)],
        "carried": [one for one in (*others, *drums, *lifting) if one["carried"]],
        "faults": [_fault(fold, one, saying, arrived) for one in report["faults"]],
        "signatures": names(record, fold, saying),
        "told": saying.all(views.shown(one) for one in reversed(fold.held.of_kind("hand-over"))),
        "heads": record["heads"],
        "tips": record["tips"],
        "gaps": record["gaps"],
    }


def _of_type(definition: View, kind: str) -> list[View]:
    return [one for one in definition["kit"] if one["type"] == kind]


def _about(definition: View) -> list[str]:
    return [
        f"{definition['unit']['name']} · {definition['site']}",
        f"{definition['starts']} to {definition['ends']}, times by the clock of {definition['zone']}",
    ]


def _lines_left(vehicles: Sequence[View]) -> float:
    """What the drawn vehicles leave of the first page, in lines."""
    drawings = sum(len(one["drawings"]) for one in vehicles)
    return PAGE_LINES - ROW_OF_DRAWINGS_LINES * -(-drawings // DRAWINGS_A_ROW)


def _vehicle(vehicle: View, definition: View, told: Mapping[str, View], report: View) -> View:
    mine = [one for one in definition["lockers"] if one["vehicle"] == vehicle["id"]]
    doors = [_door(told[one["id"]], report) for one in mine]
    by_side = {side: [door for door in doors if door.side == side] for side in SIDES}
    drawings = [
        {"side": side, "svg": _seen_from(side, found, vehicle["drawn"])}
        for side, found in by_side.items()
        if found
    ]
    return {"name": vehicle["name"], "drawings": drawings}


def _seen_from(side: str, doors: list[Door], drawn: str) -> str:
    return rear_view(doors) if side == "rear" else side_view(drawn, side, doors)


def _door(locker: View, report: View) -> Door:
    holds = locker["holds"]
    unfit = {one["tag"] for word in ("unserviceable", "suspect", "overdue") for one in report[word]}
    words = [one["word"] for one in holds]
    back = sum(word in ("back", "more than listed") for word in words)
    if not set(words) <= {"back", "more than listed", "not counted"}:
        found = "short"
    elif back == len(holds):
        found = "full"
    else:
        found = "part in" if back else "not counted"
    return Door(
        locker=locker["id"],
        side=locker["side"],
        row=locker["row"],
        place=locker["place"],
        width=float(locker["width"]),
        found=found,
        counts=found if found == "not counted" else f"{back} of {len(holds)}",
        tags=sum(1 for held in holds if held["tag"] in unfit),
        strangers=len(locker["strangers"]),
    )


def _fault(fold: Fold, one: View, saying: Saying, photos: Photos) -> View:
    """A fault with where it was raised and the photos and remarks that stand there."""
    entry = fold.entry(one["name"])
    subject = entry.subject if entry else ""
    return saying.entry(one) | {
        "where": saying.subject(subject),
        "about": saying.item(str(one["body"]["about"])) if one["body"].get("about") else "",
        "evidence": steps.evidence(steps.told_on(fold.held, subject), saying, photos),
    }
