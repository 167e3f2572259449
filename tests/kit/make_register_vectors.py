"""Writes `vectors/register.json`: what both languages must say of a piece of lifting gear.

The stops of each case are written here by hand; the months come from python-dateutil. Run it after adding a case:
`python tests/kit/make_register_vectors.py`.
"""

import json
from copy import deepcopy
from datetime import date
from pathlib import Path

from dateutil.relativedelta import relativedelta

FILE = Path(__file__).parent / "vectors" / "register.json"
END = "2031-05-05"
LOG = "show-regatta"
ACCESSORY = {
    "id": "lifting-accessory",
    "of": "Lifting accessories",
    "months": 6,
    "limb": "6 months",
    "rule": "LOLER 1998 (SI 1998/2307) reg 9(3)(a), thorough examination",
    "status": "published in the Northern Ireland twin SR 1999/304, GB text second-hand",
    "after": ["knocked", "overloaded"],
}
PASSED = {"choice": "passed", "log": LOG, "roles": ["lift-leader", "rigger"]}
SLING = {
    "tag": "SLING-1",
    "name": "Round sling, 2 m",
    "type": "lifting-gear",
    "dates": {"made": "2029-08-01", "examined": "2031-01-20", "due": "2031-07-20"},
    "about": {"identity": "SLING-1", "wll_kg": "1000", "configuration": "Straight", "limb": "6 months"},
    "interval": ACCESSORY,
    "record": None,
    "rests_on": [],
    "states": [],
    "pre_use": [PASSED],
    "events": [],
}
KNOCK = {
    "name": "knock-1",
    "event": "knocked",
    "label": "Knocked or dropped",
    "at": "2031-05-02T19:10:00+01:00",
}

NO_MARK = "is written: what carries no mark is not used."
ASKS = {
    "stop": "exceptional",
    "says": "Knocked or dropped on 2031-05-02: it asks for a thorough examination.",
}
FAILED = {"stop": "check-failed", "says": "It failed a pre-use check, and nobody has passed it since."}
NOT_CHECKED = {"stop": "not-checked", "says": "No lift leader has passed its pre-use check in this show yet."}
DISPUTED = {"stop": "disputed", "says": "Its record is disputed: a chief settles it first."}
UNTOLD = {
    "stop": "not-examined",
    "says": "When its thorough examination falls due cannot be told: no date and no interval.",
}


def late(day, end=END):
    return {"stop": "overdue", "says": f"Thorough examination due {day}, before the show ends on {end}."}


def case(name, stops, *, due="2031-07-20", hoist=(), end=END, **changes):
    piece = deepcopy(SLING)
    for member, value in changes.items():
        piece[member] = {**piece[member], **value} if member in {"dates", "about"} else value
    for group in ("dates", "about"):
        piece[group] = {key: text for key, text in piece[group].items() if text is not None}
    return {"name": name, "piece": piece, "show_end": end, "log": LOG, "due": due, "stops": stops,
            "hoist": [*stops, *hoist]}  # fmt: skip


CASES = [
    case("in date, marked, checked", []),
    case("due on the last day of the show is in date", [], end="2031-07-20"),
    case("due the day before the show ends", [late("2031-07-20", "2031-07-21")], end="2031-07-21"),
    case("an earlier date that its report states governs", [late("2031-05-01")], due="2031-05-01",
         dates={"due": "2031-05-01"}),
    case("a later stated date does not outlast the interval", [late("2031-07-20", "2031-07-25")], end="2031-07-25",
         dates={"due": "2031-08-20"}),
    case("under a scheme the stated date governs", [], end="2031-07-25", due="2031-08-20",
         dates={"due": "2031-08-20"}, about={"limb": "scheme"}),
    case("no date stated: the interval gives it", [], dates={"due": None}),
    case("LIF-1, an accessory examined 2026-01-15 is due 2026-07-15", [late("2026-07-15")], due="2026-07-15",
         dates={"examined": "2026-01-15", "due": None}),
    case("LIF-1, other equipment examined 2026-01-15 is due 2027-01-15", [late("2027-01-15")], due="2027-01-15",
         dates={"examined": "2026-01-15", "due": None}, interval={**ACCESSORY, "months": 12, "limb": "12 months"}),
    case("from the end of August to the end of February", [late("2031-02-28")], due="2031-02-28",
         dates={"examined": "2030-08-31", "due": None}),
    case("to the 29th of February in a leap year", [late("2028-02-29")], due="2028-02-29",
         dates={"examined": "2027-08-31", "due": None}),
    case("never examined", [{"stop": "not-examined", "says": "No thorough examination is written."}],
         dates={"examined": None}),
    case("no interval and no date due", [UNTOLD], due=None, interval=None, dates={"due": None}),
    case("no identity", [{"stop": "no-mark", "says": f"No identity {NO_MARK}"}], about={"identity": None}),
    case("no mark of its load", [{"stop": "no-mark", "says": f"No WLL or SWL in kg {NO_MARK}"}],
         about={"wll_kg": None}),
    case("a load of nought is no mark", [{"stop": "no-mark", "says": f"No WLL or SWL in kg {NO_MARK}"}],
         about={"wll_kg": "0.0"}),
    case("a load in words is no mark", [{"stop": "no-mark", "says": f"No WLL or SWL in kg {NO_MARK}"}],
         about={"wll_kg": "1 t"}),
    case("suspect", [{"stop": "unfit", "says": "Written as suspect."}],
         states=[{"state": "suspect", "log": "show-before"}]),
    case("two logs say two things: both stop it",
         [{"stop": "unfit", "says": "Written as suspect."}, {"stop": "unfit", "says": "Written as unserviceable."}],
         states=[{"state": "unserviceable", "log": "a"}, {"state": "serviceable", "log": "b"},
                 {"state": "suspect", "log": "c"}]),
    case("serviceable", [], states=[{"state": "serviceable", "log": LOG}]),
    case("not checked yet is no stop to plan with it, but to hoist", [], hoist=[NOT_CHECKED], pre_use=[]),
    case("a check by a rigger is no pre-use check", [], hoist=[NOT_CHECKED], pre_use=[{**PASSED, "roles": ["rigger"]}]),
    case("a check in another show is none in this", [], hoist=[NOT_CHECKED],
         pre_use=[{**PASSED, "log": "show-before"}]),
    case("failed by anybody", [FAILED], hoist=[NOT_CHECKED],
         pre_use=[{"choice": "failed", "log": LOG, "roles": ["rigger"]}]),
    case("failed in another show, passed here without replacing that", [FAILED],
         pre_use=[{"choice": "failed", "log": "show-before", "roles": ["lift-leader"]}, PASSED]),
    case("knocked since", [ASKS], events=[KNOCK]),
    case("knocked, and examined that day, nobody knows in which order", [ASKS], due="2031-07-20", events=[KNOCK],
         dates={"examined": "2031-05-02"}),
    case("knocked, examined on a later day", [], events=[KNOCK], dates={"examined": "2031-05-03"}),
    case("knocked, and a record rests on that", [], events=[KNOCK], rests_on=["knock-1"],
         dates={"examined": "2031-05-02"}),
    case("an event that asks for nothing", [], events=[{**KNOCK, "event": "rain", "label": "Rain"}]),
    case("found not safe to operate",
         [{"stop": "defect", "says": "Its last thorough examination does not find it safe to operate."}],
         about={"safe_to_operate": "no"}),
    case("a repair whose day has passed",
         [{"stop": "defect", "says": "A defect was to be repaired by 2031-05-01: label worn."}],
         about={"safe_to_operate": "yes", "defect": "label worn", "repair_by": "2031-05-01"}),
    case("a repair that is to come", [],
         about={"safe_to_operate": "yes", "defect": "label worn", "repair_by": "2031-06-01"}),
    case("a disputed record", [DISPUTED], record="disputed"),
    case("a settled record", [], record="settled"),
    case("all of it at once",
         [DISPUTED, {"stop": "no-mark", "says": f"No identity {NO_MARK}"}, late("2031-05-03"), ASKS,
          {"stop": "unfit", "says": "Written as suspect."}, FAILED],
         due="2031-05-03", hoist=[NOT_CHECKED], record="disputed", about={"identity": None},
         dates={"examined": "2030-11-03", "due": "2031-05-03"}, events=[KNOCK],
         states=[{"state": "suspect", "log": LOG}],
         pre_use=[{"choice": "failed", "log": LOG, "roles": ["lift-leader"]}]),
]  # fmt: skip

DAYS = [date(year, month, day) for year in (1999, 2000, 2027, 2028, 2100, 2399) for month, day in (
    (1, 29), (1, 30), (1, 31), (2, 28), (3, 31), (5, 31), (8, 29), (8, 30), (8, 31), (10, 31), (11, 30), (12, 31),
)] + [date(2028, 2, 29), date(2400, 2, 29)]  # fmt: skip
MONTHS = (1, 3, 6, 12, 14, 24, 48)


def vectors():
    """What the file holds."""
    months = [[str(day), many, str(day + relativedelta(months=many))] for day in DAYS for many in MONTHS]
    return {"cases": CASES, "months": months}


if __name__ == "__main__":
    FILE.write_text(json.dumps(vectors(), indent=1) + "\n", encoding="utf-8")
