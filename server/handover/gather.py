"""What the report says, gathered from the record: words and figures for the pages, nothing that is not in it."""

from typing import Any

from server.handover import doors, gaps, kit, lifting, lockers, loose, positions, steps
from server.handover.first_page import fitted, room, shorten
from server.handover.names import names
from server.handover.open_points import open_points
from server.handover.photos import Photos
from server.handover.record import Record, folded
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.fold import Fold

View = dict[str, Any]
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
    vehicles = [doors.vehicle(one, definition, told, report) for one in definition["vehicles"]]
    drawn = doors.on_first(vehicles)
    not_drawn = doors.not_drawn(vehicles, drawn)
    headings = open_points(fold, definition, report, saying)
    none = [one.word for one in headings if not one.points]
    over = saying.all(gaps.told(fold))
    title = shorten(definition["title"], LONGEST_TITLE)
    first = fitted(headings, room(title, drawn, not_drawn, none, over))
    drums = [kit.drum(fold, definition, one, saying) for one in _of_type(definition, "drum")]
    hoisting = [one for one in definition["kit"] if lifting.is_lifting(definition, one)]
    register = [lifting.told(fold, definition, one, saying) for one in hoisting]
    rest = [one for one in definition["kit"] if one["type"] != "drum" and one not in hoisting]
    others = [kit.item(fold, definition, one, saying) for one in rest]
    return {
        "title": title,
        "whole_title": definition["title"],
        "log": record["log"],
        "ends": definition["ends"],
        "about": [shorten(one, LONGEST_LINE) for one in _about(definition)],
        "unit": definition["unit"]["name"],
        "draft": not over,
        "names_heads": record["handed_over"] is not None,
        "handed_over": gaps.handed_over(fold, report, saying),
        "vehicles": drawn,
        "later": [one for one in vehicles if one not in drawn and one["news"] < doors.NOTHING],
        "not_drawn": not_drawn,
        "open": first,
        "none": none,
        "lockers": [one for one in told.values() if lockers.is_told(one)],
        "accepted": bool(report["accepted"]),
        "untold": lockers.untold(definition, told),
        "positions": [
            positions.position(fold, definition, one, saying, arrived) for one in definition["positions"]
        ],
        "others": positions.others(fold, definition, saying, arrived),
        "elsewhere": loose.elsewhere(fold, _told_here(fold, definition, report), saying, arrived),
        "drums": drums,
        "lifting": register,
        "kit": [one for one in others if kit.is_told(one)],
        "carried": [one for one in (*others, *drums, *register) if one["carried"]],
        "faults": [_fault(fold, one, saying, arrived) for one in report["faults"]],
        "signatures": names(record, fold, saying),
        "told": over,
        "heads": record["heads"],
        "tips": record["tips"],
        "gaps": record["gaps"],
    }


def _of_type(definition: View, kind: str) -> list[View]:
    return [one for one in definition["kit"] if one["type"] == kind]


def _told_here(fold: Fold, definition: View, report: View) -> list[str]:
    """Subjects whose remarks and photos have their place on these pages."""
    faulty = [entry.subject for one in report["faults"] if (entry := fold.entry(one["name"]))]
    places = [f"{room}/{one['id']}" for one in definition["positions"] for room in ("position", "run")]
    return [*faulty, *places, *(f"locker/{one['id']}" for one in definition["lockers"])]


def _about(definition: View) -> list[str]:
    return [
        f"{definition['unit']['name']} · {definition['site']}",
        f"{definition['starts']} to {definition['ends']}, times by the clock of {definition['zone']}",
    ]


def _fault(fold: Fold, one: View, saying: Saying, photos: Photos) -> View:
    """A fault with where it was raised and the photos and remarks that stand there."""
    entry = fold.entry(one["name"])
    subject = entry.subject if entry else ""
    return saying.entry(one) | {
        "where": saying.subject(subject),
        "about": saying.item(str(one["body"]["about"])) if one["body"].get("about") else "",
        "evidence": steps.evidence(steps.told_on(fold.held, subject), saying, photos),
    }
