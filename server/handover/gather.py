"""What the report says, gathered from the record: words and figures for the pages, nothing that is not in it."""

import base64
import json
from collections.abc import Iterable, Mapping
from typing import Any

from server.handover.chain import chain_view
from server.handover.pictures import drawn_name
from server.handover.record import Record
from server.handover.saying import Saying
from server.handover.vehicle import Door, rear_view, side_view
from server.logbook import kinds, views
from server.logbook.fold import Fold
from server.logbook.steps import sheets
from server.logbook.views.sheet import signatures_on

View = dict[str, Any]
SIDES = ("left", "right", "rear")


def gather(record: Record) -> View:
    """All that the pages say, ready for the template."""
    fold = folded(record)
    definition = views.amended(fold, record["definition"])
    report = views.report(fold, definition)
    doors = ((one["id"], views.locker(fold, definition, one["id"])) for one in definition["lockers"])
    lockers = {locker: view for locker, view in doors if view is not None}
    handed_over = fold.entry(record["handed_over"] or "")
    saying = Saying(definition)
    return {
        "title": definition["title"],
        "site": definition["site"],
        "log": record["log"],
        "ends": definition["ends"],
        "days": f"{definition['starts']} to {definition['ends']}",
        "unit": definition["unit"]["name"],
        "draft": record["handed_over"] is None,
        "vehicles": [_vehicle(one, definition, lockers, report) for one in definition["vehicles"]],
        "open": list(_open_points(report, saying)),
        "heard": [
            {**one, "name": saying.person(one["person"]), "when": saying.time(one["at"])}
            for one in report["heard"]
        ],
        "lockers": [{**one, "view": lockers[one["id"]]} for one in definition["lockers"]],
        "positions": [_position(one, fold, definition, saying) for one in definition["positions"]],
        "drums": [_item(one, fold, definition) for one in definition["kit"] if one["type"] == "drum"],
        "lifting": [
            _item(one, fold, definition) for one in definition["kit"] if one["type"] == "lifting-gear"
        ],
        "signatures": [
            {**saying.entry(one), "sheet": sheet["title"], "drawn": _drawn(record, one)}
            for sheet in sheets(fold.held).values()
            for one in signatures_on(fold.held, sheet["id"])
        ],
        "faults": [saying.entry(one) for one in report["faults"]],
        "accepted": [saying.entry(one) for one in report["accepted"]],
        "told": [saying.entry(views.shown(handed_over))] if handed_over else [],
        "heads": record["heads"],
    }


def folded(record: Record) -> Fold:
    """The fold of a record."""
    texts = record["definition"]["sheets"]
    fold = Fold(
        log=record["log"],
        unit_key=record["unit_key"],
        kinds=kinds.load(),
        sheets=[{"id": json.loads(text)["id"], "text": text} for text in texts],
        files=record["files"],
    )
    fold.add_cards(record["cards"])
    fold.add_entries(record["entries"])
    return fold


def _vehicle(vehicle: View, definition: View, lockers: Mapping[str, View], report: View) -> View:
    mine = [one for one in definition["lockers"] if one["vehicle"] == vehicle["id"]]
    doors = [_door(one, lockers[one["id"]], report) for one in mine]
    by_side = {side: [door for door in doors if door.side == side] for side in SIDES}
    drawings = [_seen_from(side, found, vehicle["drawn"]) for side, found in by_side.items() if found]
    return {"name": vehicle["name"], "drawings": drawings}


def _seen_from(side: str, doors: list[Door], drawn: str) -> str:
    return rear_view(doors) if side == "rear" else side_view(drawn, side, doors)


def _door(locker: View, view: View, report: View) -> Door:
    stages = view["stages"]
    last = next((stages[stage] for stage in reversed(list(stages)) if stages[stage]["listed"]), None)
    listed, counted = (last["listed"], last["counted"]) if last else (len(view["holds"]), 0)
    unfit = {one["tag"] for word in ("unserviceable", "suspect", "overdue") for one in report[word]}
    if counted == 0:
        found = "not counted"
    elif counted < listed:
        found = "short"
    else:
        found = "full"
    return Door(
        locker=locker["id"],
        side=locker["side"],
        row=locker["row"],
        place=locker["place"],
        width=float(locker["width"]),
        found=found,
        counts=f"{counted} of {listed}",
        tags=sum(1 for held in view["holds"] if held["tag"] in unfit),
        strangers=len(view["strangers"]),
    )


def _open_points(report: View, saying: Saying) -> Iterable[View]:
    """The first page's list: a word, how many, and each by name."""

    def points(word: str, texts: Iterable[str]) -> View:
        said = list(texts)
        return {"word": word, "count": len(said), "points": said}

    def unfit(word: str) -> Iterable[str]:
        for one in report[word]:
            why = "; ".join(saying.entry(value)["states"] for value in one["values"])
            yield f"{one['tag']} {saying.item(one['tag'])}: {why}"

    yield points("Missing", (_open(one, saying) for one in report["missing"]))
    yield points("In the wrong locker", (_open(one, saying) for one in report["astray"]))
    yield points("Away", (_open(one, saying) for one in report["away"]))
    yield points("More than listed", (_open(one, saying) for one in report["extra"]))
    yield points("Not counted", (_open(one, saying) for one in report["not_counted"]))
    yield points("Unserviceable", unfit("unserviceable"))
    yield points("Suspect", unfit("suspect"))
    yield points(
        "Overdue", (f"{one['tag']} {saying.item(one['tag'])}: due {one['due']}" for one in report["overdue"])
    )
    yield points("Disputed", report["disputed"])
    yield points(
        "Positions given up",
        (f"{one['position']}: {saying.entry(one['value'])['states']}" for one in report["given_up"]),
    )
    yield points(
        "Changed since signed",
        (f"{one['sheet']}: {', '.join(one['subjects']) or 'the sheet itself'}" for one in report["changed"]),
    )
    yield points("Unsigned", report["unsigned"])
    yield points(
        "Written, not arrived",
        (
            f"{saying.person(one['person'])}: "
            + ", ".join(f"{first} to {last}" for first, last in one["gaps"])
            for one in report["not_arrived"]
        ),
    )
    yield points(
        "Faults raised",
        (f"{saying.entry(one)['states']} ({saying.entry(one)['whose']})" for one in report["faults"]),
    )


def _open(one: View, saying: Saying) -> str:
    last = one["last"]
    seen = (
        f"last: {saying.entry(last)['states']}, {saying.entry(last)['whose']}" if last else "no place written"
    )
    counted = "" if one["counted"] is None else f", {one['counted']} of {one['listed']} counted"
    return f"{one['tag']} {saying.item(one['tag'])} from {one['locker']}{counted}; {seen}"


def _position(position: View, fold: Fold, definition: View, saying: Saying) -> View:
    view = views.position(fold, definition, position["id"])
    chain = view["chain"]
    lengths = {one["tag"]: one["about"].get("length_m") for one in definition["kit"]}
    run = [(tag, float(lengths[tag]) if lengths.get(tag) else None) for tag in chain["run"].get("tags") or []]
    drawing = chain_view(
        str(chain["lens"].get("tag") or ""),
        str(chain["body"].get("tag") or ""),
        run,
        str(chain["control"].get("tag") or ""),
    )
    return {
        **position,
        "drawing": drawing,
        "sheets": view["sheets"],
        "given_up": saying.entry(view["given_up"]) if view["given_up"] else None,
        "events": [saying.entry(one) for one in view["events"]],
    }


def _item(item: View, fold: Fold, definition: View) -> View:
    view = views.kit(fold, definition, item["tag"])
    return {
        **item,
        "state": view["state"] or "nothing written",
        "where": (view["place"] or {}).get("body", {}).get("where", ""),
    }


def _drawn(record: Record, sign: View) -> bytes | None:
    packed = record["drawn"].get(sign["body"].get("drawn", ""))
    return drawn_name(base64.b64decode(packed)) if packed else None
