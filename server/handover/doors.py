"""What is found at each vehicle's doors, drawn; and which vehicles are drawn on the first page."""

from collections.abc import Mapping, Sequence
from typing import Any

from server.handover.vehicle import Door, rear_view, side_view

View = dict[str, Any]
SIDES = ("left", "right", "rear")
UNFIT = ("unserviceable", "suspect", "overdue")
MOST_DRAWN = 8
"""Sides that the first page has room for, beside the words."""
OPEN, COUNTED, NOTHING = range(3)
"""What is known of a vehicle's doors: something is open, all that was counted is in, nothing was counted."""


def vehicle(found: View, definition: View, told: Mapping[str, View], report: View) -> View:
    """A vehicle with a drawing of each side that has doors, and the most that is to be told of one."""
    mine = [one for one in definition["lockers"] if one["vehicle"] == found["id"]]
    unfit = {one["tag"] for word in UNFIT for one in report[word]}
    doors = [_door(told[one["id"]], unfit) for one in mine]
    by_side = {side: [door for door in doors if door.side == side] for side in SIDES}
    return {
        "id": found["id"],
        "name": found["name"],
        "news": min(map(_news, doors), default=NOTHING),
        "drawings": [
            {"side": side, "svg": _seen_from(side, there, found["drawn"])}
            for side, there in by_side.items()
            if there
        ],
    }


def on_first(vehicles: Sequence[View]) -> list[View]:
    """The vehicles that are drawn on the first page: all, or where they are too many those with the most news.

    A vehicle of which nothing was counted then stands in words only.
    """
    if sum(len(one["drawings"]) for one in vehicles) <= MOST_DRAWN:
        return list(vehicles)
    room = MOST_DRAWN
    chosen = []
    for one in sorted(vehicles, key=lambda one: one["news"]):
        if one["news"] < NOTHING and len(one["drawings"]) <= room:
            room -= len(one["drawings"])
            chosen.append(one["id"])
    return [one for one in vehicles if one["id"] in chosen]


def not_drawn(vehicles: Sequence[View], drawn: Sequence[View]) -> str:
    """The sentence that names the vehicles that the first page does not draw; empty where it draws all."""
    rest = [one for one in vehicles if one not in drawn]
    later = ", ".join(one["name"] for one in rest if one["news"] < NOTHING)
    silent = ", ".join(one["name"] for one in rest if one["news"] == NOTHING)
    said = [f"Drawn on page 2: {later}."] if later else []
    return " ".join([*said, *([f"Nothing counted back in: {silent}."] if silent else [])])


def _news(door: Door) -> int:
    if door.found == "short" or door.tags or door.strangers:
        return OPEN
    return NOTHING if door.found == "not counted" else COUNTED


def _seen_from(side: str, doors: list[Door], drawn: str) -> str:
    return rear_view(doors) if side == "rear" else side_view(drawn, side, doors)


def _door(locker: View, unfit: set[str]) -> Door:
    holds = locker["holds"]
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
