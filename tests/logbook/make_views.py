"""Makes `vectors/views.json`: run it as `python -m tests.logbook.make_views` when a view is to say something else.

Each case states by hand what must be seen (`sees`); the rest of the answer is the server's fold's, which the phone's
must give too. What a case claims is asserted before anything is written.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from server.crew import jws
from server.logbook import cases
from server.logbook.kinds import load
from tests.logbook.book import Crew, sheet, step

FILE = Path(__file__).parent / "vectors" / "views.json"
KINDS = "../../../static/logbook/kinds.json"
LOG = "show-2"
BEFORE = "show-1"
YARD = "yard-heron"

STOW = "locker/L1/stow"
COUNT = f"{STOW}/count"
SEAL = f"{STOW}/seal"
RIG = "position/2/rig"
LINE_UP = "position/2/line-up"
HOLDS = f"{LINE_UP}/holds"
LEVEL = f"{LINE_UP}/level"


def definition() -> dict[str, Any]:
    """As much of a show's definition as the views read."""
    lens = {"type": "lens", "home": "L1", "about": {}}
    return {
        "ends": "2031-05-05",
        "positions": [{"id": "2"}],
        "lockers": [
            {
                "id": "L1",
                "vehicle": "VAN",
                "name": "lenses",
                "holds": [{"tag": "LEN-1", "number": "1"}, {"tag": "LEN-2", "number": "1"}],
            },
            {"id": "R1", "vehicle": "VAN", "name": "drums", "holds": []},
        ],
        "kit": [
            {"tag": "LEN-1", "name": "a lens", "dates": {"due": "2031-05-04"}, **lens},
            {"tag": "LEN-2", "name": "a lens", "dates": {"due": "2031-05-05"}, **lens},
            {"tag": "DRM-1", "name": "a drum", "type": "drum", "home": "R1", "dates": {}, "about": {}},
        ],
        "people": [{"person": "ann", "name": "Ann", "roles": ["rigger"]}],
    }


class Show:
    """Four people, two sheets, and whatever a case writes."""

    def __init__(self, label: str) -> None:
        self.crew = Crew(label)
        self.ann = self.crew.device("ann", "rigger")
        self.eve = self.crew.device("eve", "engineer")
        self.lou = self.crew.device("lou", "camera")
        self.cy = self.crew.device("cy", "chief")
        self.files: dict[str, str] = {}
        self.kept_back: set[str] = set()
        self.sheets = [
            sheet(
                STOW,
                step(COUNT, asks="count", items={"LEN-1": "1", "LEN-2": "1"}),
                step(SEAL, after=[COUNT]),
            ),
            sheet(RIG, step(f"{RIG}/legs"), step(f"{RIG}/lens-on", about=["lens"], ended_by=["knocked"])),
            sheet(
                LINE_UP,
                step(
                    HOLDS,
                    asks="choice",
                    after=[f"{RIG}/lens-on"],
                    choices=[
                        {"id": "holds", "label": "It holds", "done": True},
                        {"id": "soft-wide", "label": "Soft wide", "done": False},
                    ],
                ),
                step(LEVEL, asks="reading", minutes=120, ended_by=["power-dip"], roles=["engineer"]),
                step(f"{LINE_UP}/chart", asks="photo"),
            ),
        ]

    def case(self, name: str, about: str, *views: list[str]) -> dict[str, Any]:
        """The whole input, and the views asked for."""
        carried = [
            {"log": log, "entries": entries} for log in (BEFORE, YARD) if (entries := self.crew.entries(log))
        ]
        return {
            "name": name,
            "about": about,
            "log": LOG,
            "unit_key": self.crew.jwk,
            "sheets": self.sheets,
            "files": self.files,
            "cards": self.crew.cards,
            "entries": [one for one in self.crew.entries(LOG) if name_of(one) not in self.kept_back],
            "carried_over": carried,
            "definition": definition(),
            "views": list(views),
        }


def name_of(text: str) -> str:
    return jws.sha256(text.rpartition(".")[0].encode())


def names(shown: list[dict[str, Any]]) -> list[str]:
    return [one["name"] for one in shown]


def judged(case: dict[str, Any], says: dict[str, Any]) -> dict[str, Any]:
    """The case with its answer, in which what it claims was found: `says` maps a path such as `0.done` to a value."""
    answer = cases.answer(load(), case)
    for path, wanted in says.items():
        found: Any = answer["views"]
        for part in path.split("."):
            found = found[int(part)] if isinstance(found, list) else found[part]
        if isinstance(found, list) and found and isinstance(found[0], dict) and "key" in found[0]:
            found, wanted = sorted(names(found)), sorted(wanted)
        assert found == wanted, (case["name"], path, found, wanted)
    return case | {"expect": answer}


def sheet_of_each_kind() -> dict[str, Any]:
    show = Show("sheet")
    show.ann.write(LOG, f"{COUNT}/LEN-1", "count", {"number": "1.0"})
    tick = show.ann.write(LOG, SEAL, "tick")
    show.ann.write(LOG, SEAL, "withdraw", {"entries": [tick], "reason": "ticked by mistake"})
    fault = show.lou.write(LOG, SEAL, "fault", {"text": "the tag is torn"})
    return judged(
        show.case("view-sheet", "8: a sheet in the order of work; struck, short and faults", ["sheet", STOW]),
        {
            "0.done": 0,
            "0.total": 2,
            "0.steps.0.items.0.state": "settled",
            "0.steps.0.items.1.state": "none",
            "0.steps.1.gate": "shut",
            "0.steps.1.waits_for": [COUNT],
            "0.steps.1.struck": [tick],
            "0.steps.1.faults": [fault],
        },
    )


def readings_choices_photos() -> dict[str, Any]:
    show = Show("line-up")
    lens = show.ann.write(LOG, "position/2/chain/lens", "assign", {"tag": "LEN-1"})
    on = show.ann.write(
        LOG, f"{RIG}/lens-on", "tick", chain={"lens": "LEN-1"}, rests_on=[lens], witness="lou"
    )
    show.lou.write(LOG, HOLDS, "choice", {"choice": "soft-wide"}, rests_on=[on])
    level = {"figure": "0.70", "unit": "V", "low": "0.68", "high": "0.72", "limit_of": "the truck"}
    first = show.eve.write(LOG, LEVEL, "reading", level)
    show.eve.write(LOG, "show", "event", {"event": "power-dip"})
    photo = show.eve.write(LOG, f"{LINE_UP}/chart", "photo", {"file": jws.sha256(b"a photo")})
    show.eve.write(LOG, f"{LINE_UP}/chart", "tick", rests_on=[photo])
    return judged(
        show.case(
            "view-sheet-line-up",
            "8: choice that is no done, reading ended, tick on a photo",
            ["sheet", LINE_UP],
        ),
        {
            "0.done": 2,
            "0.steps.0.done": False,
            "0.steps.0.gate": "open",
            "0.steps.1.done": True,
            "0.steps.1.ended": True,
            "0.steps.1.until": None,
            "0.steps.1.readings": [first],
            "0.steps.2.done": True,
            "0.steps.2.evidence": [photo],
        },
    )


def locker_with_a_stranger() -> dict[str, Any]:
    show = Show("locker")
    show.ann.write(LOG, "kit/DRM-1/place", "place", {"where": "locker/L1"})
    place = show.ann.write(LOG, "kit/LEN-2/place", "place", {"where": "position/2"})
    show.eve.write(LOG, "kit/LEN-1/state", "state", {"state": "suspect"})
    old = show.ann.write(BEFORE, "kit/LEN-2/state", "state", {"state": "unserviceable"})
    show.ann.write(LOG, f"{COUNT}/LEN-1", "count", {"number": "1"})
    opened = show.ann.write(LOG, "locker/L1", "event", {"event": "opened"})
    return judged(
        show.case("view-locker", "8: what is in a locker, how far it is, carried over", ["locker", "L1"]),
        {
            "0.holds.0.state": "suspect",
            "0.holds.1.place.name": place,
            "0.holds.1.state": None,
            "0.holds.1.carried.0.log": BEFORE,
            "0.holds.1.carried.0.values": [old],
            "0.stages.stow.short": ["LEN-2"],
            "0.strangers": [{"tag": "DRM-1", "home": "R1"}],
            "0.events": [opened],
        },
    )


def position_signed_and_changed() -> dict[str, Any]:
    show = Show("position")
    show.ann.write(LOG, "position/2/chain/lens", "assign", {"tag": "LEN-1"})
    run = show.ann.write(LOG, "position/2/chain/run", "assign", {"tags": ["DRM-1", "DRM-2"]})
    legs = show.ann.write(LOG, f"{RIG}/legs", "tick")
    digest = jws.sha256(show.sheets[1]["text"].encode())
    show.eve.write(LOG, RIG, "sign", {"sheet": RIG, "digest": digest, "covers": [legs]})
    show.ann.write(LOG, f"{RIG}/legs", "reopen", {"reason": "slipped"}, replaces=[legs])
    out = show.cy.write(LOG, "position/2/given-up", "choice", {"choice": "out"})
    fault = show.lou.write(LOG, "position/2", "fault", {"text": "no picture"})
    return judged(
        show.case(
            "view-position",
            "8: a chain, a signature overtaken, given up",
            ["position", "2"],
            ["signatures"],
            ["gates"],
        ),
        {
            "0.chain.lens.tag": "LEN-1",
            "0.chain.run.tags": ["DRM-1", "DRM-2"],
            "0.chain.run.values": [run],
            "0.chain.body.tag": None,
            "0.sheets.0.changed": True,
            "0.sheets.0.signed": False,
            "0.given_up.name": out,
            "0.faults": [fault],
            f"2.{HOLDS}": "unseen",
        },
    )


def kit_over_all_logs() -> dict[str, Any]:
    show = Show("kit")
    mended = show.cy.write(YARD, "kit/LEN-1/state", "state", {"state": "serviceable"})
    unfit = show.ann.write(BEFORE, "kit/LEN-1/state", "state", {"state": "unserviceable", "reason": "haze"})
    said = show.ann.write(BEFORE, "kit/LEN-1", "fault", {"text": "haze in the rear group"})
    taken_back = show.ann.write(BEFORE, "kit/LEN-1/place", "place", {"where": "locker/R1"})
    withdrawn = {"entries": [taken_back], "reason": "said in error"}
    show.ann.write(BEFORE, "kit/LEN-1/place", "withdraw", withdrawn)
    own = show.eve.write(LOG, "kit/LEN-1/state", "state", {"state": "suspect"}, replaces=[unfit])
    views = (["kit", "LEN-1"], ["report"])
    return judged(
        show.case(
            "view-kit-carried-over",
            "8: values of logs that differ stand side by side; what is replaced across logs and what was taken back "
            "there do not",
            *views,
        ),
        {
            "0.state": "suspect",
            "0.carried.0.log": BEFORE,
            "0.carried.0.values": [],
            "0.carried.0.faults": [said],
            "0.carried.1.log": YARD,
            "0.carried.1.values": [mended],
            "1.carried.0.tag": "LEN-1",
            "1.carried.0.state": "disputed",
            "1.carried.0.values.0.log": LOG,
            "1.carried.0.values.0.name": own,
            "1.carried.0.values.1.name": mended,
        },
    )


def names_carried_over_are_not_waited_for() -> dict[str, Any]:
    show = Show("names")
    old = show.ann.write(BEFORE, "kit/LEN-1/state", "state", {"state": "suspect"})
    one = show.ann.write(LOG, "kit/LEN-1/state", "state", {"state": "serviceable"}, replaces=[old])
    other = show.eve.write(LOG, "kit/LEN-1/state", "state", {"state": "unserviceable"}, replaces=[old])
    seen = show.ann.write(LOG, f"{RIG}/legs", "tick", rests_on=[old])
    show.ann.write(LOG, "position/2/chain/lens", "assign", {"tag": "LEN-1"}, replaces=[old])
    case = judged(
        show.case(
            "carried-over-is-not-absent",
            "8: replaces and rests_on may name what is carried over; it is neither waited for nor absent, and in this "
            "log replaces nothing",
            ["kit", "LEN-1"],
        ),
        {"0.state": "disputed", "0.state_values": [one, other], "0.carried": []},
    )
    assert case["expect"]["subjects"]["kit/LEN-1/state"]["state"] == "disputed"
    assert seen not in case["expect"]["subjects"][f"{RIG}/legs"]["marks"]
    return case


def revoked_in_the_other_log() -> dict[str, Any]:
    show = Show("revoked")
    kept = show.ann.write(BEFORE, "kit/LEN-1/state", "state", {"state": "serviceable"})
    show.ann.write(BEFORE, "kit/LEN-2/state", "state", {"state": "unserviceable"})
    body = {"device": show.ann.kid, "head": kept}
    show.cy.write(BEFORE, f"device/{show.ann.kid}", "revoke", body)
    here = show.ann.write(LOG, "kit/DRM-1/state", "state", {"state": "suspect"})
    return judged(
        show.case(
            "carried-over-is-judged-by-its-own-log",
            "7: a revocation speaks of its own log; what it cuts off there is not carried over, what is written here "
            "stands",
            ["kit", "LEN-1"],
            ["kit", "LEN-2"],
            ["kit", "DRM-1"],
        ),
        {"0.carried.0.values": [kept], "1.carried": [], "2.state_values": [here]},
    )


def report_of_all() -> dict[str, Any]:
    show = Show("report")
    show.ann.write(LOG, f"{COUNT}/LEN-1", "count", {"number": "0"})
    place = show.ann.write(LOG, "kit/LEN-2/place", "place", {"where": "position/2"})
    show.eve.write(LOG, "kit/DRM-1/state", "state", {"state": "unserviceable"})
    lost = show.ann.write(LOG, "show", "remark", {"text": "gone with the phone"})
    show.ann.write(LOG, "show", "remark", {"text": "the next"})
    show.ann.write(LOG, f"{RIG}/legs", "tick")
    show.lou.write(LOG, f"{RIG}/legs", "reopen", {"reason": "slipped"})
    seen = show.cy.write(
        LOG, "locker/L1", "accept", {"locker": "L1", "seen": "as the report says", "exceptions": []}
    )
    show.kept_back.add(lost)
    return judged(
        show.case("view-report", "8: what the next crew must be told", ["report"], ["devices"]),
        {
            "0.missing.0.tag": "LEN-1",
            "0.not_counted.0.tag": "LEN-2",
            "0.not_counted.0.last.name": place,
            "0.unserviceable.0.tag": "DRM-1",
            "0.overdue": [{"tag": "LEN-1", "due": "2031-05-04"}],
            "0.disputed": [f"{RIG}/legs"],
            "0.unsigned": [STOW, RIG, LINE_UP],
            "0.not_arrived.0.gaps": [[3, 3]],
            "0.accepted": [seen],
            "0.carried": [],
        },
    )


def added_file(show: Show, **parts: Any) -> str:
    text = json.dumps(parts, separators=(",", ":"))
    digest = jws.sha256(text.encode())
    show.files[digest] = text
    return digest


def kit_and_person_by_amend_alone() -> dict[str, Any]:
    show = Show("amended")
    kit = {"tag": "LEN-9", "name": "a hired lens", "type": "lens", "home": "L1", "dates": {}, "about": {}}
    person = {"person": "zoe", "name": "Zoe", "roles": ["camera"]}
    again = {"tag": "LEN-1", "name": "another name", "type": "lens", "home": None, "dates": {}, "about": {}}
    for parts in ({"kit": [kit]}, {"people": [person]}, {"kit": [again]}):
        show.cy.write(
            LOG,
            "show",
            "amend",
            {"change": "add-sheets", "digest": added_file(show, **parts), "reason": "hired in"},
        )
    show.ann.write(LOG, "kit/LEN-9/place", "place", {"where": "locker/R1"})
    moved = {"change": "move-end", "ends": "2031-05-03", "reason": "rained off"}
    show.cy.write(LOG, "show", "amend", moved)
    by_amend = {"change": "add-sheets", "digest": added_file(show, kit=[{"tag": 5}]), "reason": "not a file"}
    show.cy.write(LOG, "show", "amend", by_amend)
    return judged(
        show.case(
            "amend-adds-kit-and-person",
            "7.3: the definition as amends leave it; what is there is not changed, what is no such file adds nothing",
            ["amended"],
            ["locker", "R1"],
            ["report"],
        ),
        {
            "0.kit": [*definition()["kit"], kit],
            "0.people": [*definition()["people"], person],
            "0.ends": "2031-05-03",
            "1.strangers": [{"tag": "LEN-9", "home": "L1"}],
            "2.overdue": [],
        },
    )


def steps_of_each_kind_by_amend() -> dict[str, Any]:
    show = Show("steps")
    count = step(f"{RIG}/clips", asks="count", items={"CLIP-2": "4", "CLIP-1": "2"})
    reading = step(f"{RIG}/height", asks="reading", minutes=30)
    choice = step(
        f"{RIG}/wind",
        asks="choice",
        after=[count["subject"], reading["subject"]],
        choices=[
            {"id": "calm", "label": "Calm", "done": True},
            {"id": "gusts", "label": "Gusts", "done": False},
        ],
    )
    for added in (choice, count, reading):
        show.cy.write(
            LOG, RIG, "amend", {"change": "add-step", "sheet": RIG, "added": added, "reason": "a tower"}
        )
    show.cy.write(
        LOG,
        RIG,
        "amend",
        {"change": "withdraw-step", "sheet": RIG, "step": f"{RIG}/legs", "reason": "it stands on a column"},
    )
    show.ann.write(LOG, f"{RIG}/clips/CLIP-1", "count", {"number": "2"})
    show.ann.write(LOG, f"{RIG}/clips/CLIP-2", "count", {"number": "4.0"})
    figure = {"figure": "6", "unit": "m", "low": None, "high": "8", "limit_of": "the tower's maker"}
    height = show.eve.write(LOG, f"{RIG}/height", "reading", figure)
    calm = show.ann.write(LOG, f"{RIG}/wind", "choice", {"choice": "calm"})
    case = judged(
        show.case("amend-adds-steps", "7.3: added steps ask for whatever a step may ask for", ["sheet", RIG]),
        {"0.done": 3, "0.total": 4},
    )
    steps = {one["subject"]: one for one in case["expect"]["views"][0]["steps"]}
    assert f"{RIG}/legs" not in steps
    assert [one["item"] for one in steps[count["subject"]]["items"]] == ["CLIP-1", "CLIP-2"]
    assert names(steps[reading["subject"]]["readings"]) == [height]
    assert steps[reading["subject"]]["until"].endswith("Z")
    assert names(steps[choice["subject"]]["values"]) == [calm]
    assert steps[choice["subject"]]["gate"] == "open"
    return case


def all_cases() -> Iterator[dict[str, Any]]:
    """Every case, in the order of the file."""
    yield sheet_of_each_kind()
    yield readings_choices_photos()
    yield locker_with_a_stranger()
    yield position_signed_and_changed()
    yield kit_over_all_logs()
    yield names_carried_over_are_not_waited_for()
    yield revoked_in_the_other_log()
    yield report_of_all()
    yield kit_and_person_by_amend_alone()
    yield steps_of_each_kind_by_amend()


if __name__ == "__main__":
    made = {"kinds": KINDS, "cases": list(all_cases())}
    FILE.write_text(json.dumps(made, indent=1, ensure_ascii=False) + "\n")
