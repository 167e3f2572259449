"""What the pages tell of a show that was worked from Friday to Monday."""

from pathlib import Path
from typing import Any

import pikepdf
import pytest

from server.crew import jws
from server.handover import doors
from server.handover.gather import gather
from server.handover.record import folded
from server.logbook.values import values
from tests.handover import worked
from tests.handover.conftest import Printed, printed


@pytest.fixture(scope="module")
def told(show: worked.Show) -> dict[str, Any]:
    return gather(show.record())


def position(told: dict[str, Any], name: str) -> dict[str, Any]:
    return next(one for one in told["positions"] if one["id"] == name)


def step(told: dict[str, Any], subject: str) -> dict[str, Any]:
    sheet, _, _ = subject.rpartition("/")
    every = [
        *told["others"],
        *(one for place in (*told["positions"], *told["lockers"]) for one in place["sheets"]),
    ]
    do = {one["subject"]: one["do"] for one in steps_of(sheet)}[subject]
    found = next(one for one in every if one["id"] == sheet)
    return next(one for one in found["steps"] if one["do"] == do)


def steps_of(sheet: str) -> list[dict[str, Any]]:
    return worked.steps_of(sheet)


def row(told: dict[str, Any], locker: str, tag: str) -> dict[str, Any]:
    found = next(one for one in told["lockers"] if one["id"] == locker)
    return next(one for one in found["holds"] if one["tag"] == tag)


def test_a_step_is_told_with_who_when_and_who_saw_it(told: dict[str, Any]) -> None:
    [tick] = step(told, "position/1/rig/legs")["values"]
    assert tick["states"] == "Locked, tied down, level"
    assert tick["whose"] == "Lena Sorrel, seen by Bram Oakley"
    assert tick["when"] == "Fri 2 May 18:02"
    assert "seen by Bram Oakley, Fri 2 May 09:00" in tick["notes"]


def test_an_event_since_is_told_on_the_step_that_it_ends(told: dict[str, Any]) -> None:
    legs = step(told, "position/1/rig/legs")
    assert legs["word"] == "To be looked at again: something happened since"
    assert legs["mark"] == "again"
    [knock] = position(told, "1")["events"]
    assert knock["states"] == "Knocked or dropped: A rowing club's trailer touched the tower"


def test_a_word_passed_on_stays_marked(told: dict[str, Any]) -> None:
    clamp = step(told, "position/2/rig/clamp")
    assert clamp["mark"] == "crossed"
    [tick] = clamp["values"]
    assert any(one.startswith("passed on the word of Bram: Carried, rested") for one in tick["notes"])
    assert "ticked without sight of what it waits for" in tick["notes"]


def test_what_was_written_on_the_word_of_somebody_says_so(told: dict[str, Any]) -> None:
    [tick] = step(told, "position/3/rig/clamp")["values"]
    assert tick["whose"] == "Bram Oakley, on the word of Lena Sorrel"


def test_what_was_taken_back_stands_struck_with_its_reason(told: dict[str, Any]) -> None:
    set_down = step(told, "position/2/carry/set-down")
    assert set_down["word"] == "Not done"
    assert set_down["mark"] == "struck"
    assert [one["why"] for one in set_down["struck"]] == [
        "taken back; Ticked by mistake: Bram Oakley, Fri 2 May 18:41"
    ]


def test_what_does_not_count_says_why(told: dict[str, Any]) -> None:
    [back] = step(told, "position/3/rig/pads")["struck"]
    assert back["states"] == "no longer so: Found loose or wrong"
    assert back["why"] == "its writer has not the role"


def test_a_dispute_is_told_with_both_sides(told: dict[str, Any]) -> None:
    seal = step(told, "locker/L1/stow/seal")
    assert (seal["word"], seal["mark"]) == ("Disputed", "disputed")
    assert {(one["states"], one["whose"]) for one in seal["values"]} == {
        ("Latched and tagged shut", "Lena Sorrel"),
        ("no longer so: Found loose or wrong", "Bram Oakley"),
    }


def test_a_reading_stands_against_its_limits_and_whose_they_are(told: dict[str, Any]) -> None:
    [warm] = step(told, "position/1/line-up/warm-sensor")["readings"]
    assert (warm["states"], warm["word"]) == ("24 min", "within limits")
    [supply] = step(told, "truck/rig/supply")["readings"]
    assert supply["word"] == "beyond limits"
    assert supply["limits"].startswith("limits: 216.2 to 253 V, the house limit")


def test_a_verdict_stands_as_signed_beside_the_servers_own(
    told: dict[str, Any], report_of_show: Printed
) -> None:
    found = {
        name: step(told, f"position/{name}/lens/quick-look")["readings"][0]["verdict"]
        for name in ("1", "2", "3")
    }
    assert (found["1"]["word"], found["1"]["again"]) == ("within limits", "computed again: agrees")
    assert found["1"]["drawing"].startswith("<svg")
    assert found["1"]["cautions"][-1] == "Never point the lens at the sun."
    error = found["1"]["figures"][0]
    assert (error["label"], error["value"], error["unit"]) == ("back focus error", "2", "um")
    assert (found["2"]["word"], found["2"]["again"]) == ("beyond limits", "computed again: differs")
    assert found["2"]["differences"] == ["The verdict kept is beyond limits, computed again within limits."]
    assert found["3"]["again"] == "computed again: cannot be read"
    assert found["3"]["drawing"] is None
    assert "within limits as signed, core 1; computed again: agrees" in report_of_show.words


def test_a_caution_stands_beside_the_step_that_can_hurt(told: dict[str, Any]) -> None:
    assert "Mains kills." in step(told, "truck/rig/supply")["caution"]
    assert step(told, "position/1/rig/pads")["caution"] is None


def test_photos_are_printed_or_said_not_to_have_arrived(report_of_show: Printed) -> None:
    assert "photo not arrived" in report_of_show.words
    with pikepdf.open(report_of_show.file) as pdf:
        pictures = [
            one
            for page in pdf.pages
            for one in page.get_images().values()
            if one.get("/Filter") == "/DCTDecode"
        ]
        assert {int(one.Width) for one in pictures} == {720}
    assert b"METADATA-OF-THE-PHONE" in worked.picture("x")
    assert b"METADATA-OF-THE-PHONE" not in report_of_show.file.read_bytes()


def test_a_locker_is_told_item_by_item_and_stage_by_stage(told: dict[str, Any]) -> None:
    locker = next(one for one in told["lockers"] if one["id"] == "L2")
    assert [one["stage"] for one in locker["stages"]] == ["pack", "de-rig", "stow"]
    assert locker["stages"][0]["by"] == ["Bram Oakley, Fri 2 May 09:00"]
    viewfinder = row(told, "L2", "VF-2")
    assert [one["said"] for one in viewfinder["counts"]] == ["1 of 1", "", "0 of 1"]
    assert (viewfinder["word"], viewfinder["place"]) == ("missing", "last at position 2, Lena Sorrel")


def test_missing_is_told_apart_from_never_counted(told: dict[str, Any]) -> None:
    by_word = {one["word"]: one["points"] for one in told["open"]}
    assert [one.split(" ")[0] for one in by_word["Missing"]] == ["VF-2", "CLIP-3"]
    assert by_word["Missing"][0] == ("VF-2 Viewfinder 2 from L2: 0 of 1; last at position 2, Lena Sorrel")
    assert by_word["Not counted back"][0] == "R3: all 7"
    assert not any("VF-2" in one for one in by_word["Not counted back"])


def test_unsigned_sheets_of_lockers_are_named_by_their_stage(told: dict[str, Any]) -> None:
    unsigned = next(one for one in told["open"] if one["word"] == "Unsigned")
    assert unsigned["points"][-2:] == [
        "pack of L1, L2, L3, R1, R2, R3, LB, T1, T4, T2, T3, T5, K1, K2",
        "stow of L1, L2, L3, R1, R2",
    ]
    assert unsigned["points"][0] == "Position 1: lens"
    assert unsigned["count"] == len(unsigned["points"]) - 2 + 14 + 5


def test_tagged_shut_and_strangers_are_told(told: dict[str, Any]) -> None:
    assert step(told, "locker/R1/stow/seal")["values"][0]["when"] == "Sun 4 May 23:40"
    locker = next(one for one in told["lockers"] if one["id"] == "L1")
    assert locker["strangers"] == ["BARS-3 Pan bars 3, pair, belongs in R1"]


def test_a_drum_is_told_with_its_place_tests_and_runs(told: dict[str, Any]) -> None:
    drums = {one["tag"]: one for one in told["drums"]}
    assert drums["CAB-001"]["runs"] == ["2"]
    assert drums["CAB-013"]["runs_before"] == ["1"]  # a side of a dispute stands nowhere
    assert [one["states"] for one in drums["CAB-014"]["tests"]] == ["fail: Cores 17 and 18 open"]
    assert drums["CAB-001"]["where"] == "home T1"


def test_the_lifting_register_tells_marks_dates_and_state(
    told: dict[str, Any], report_of_show: Printed
) -> None:
    gear = {one["tag"]: one for one in told["lifting"]}
    assert gear["SHACKLE-2"]["state"] == "suspect"
    assert gear["SLING-2"]["overdue"] is True
    assert gear["SLING-1"]["overdue"] is False
    page = next(one for one in report_of_show.pages if "Lifting register" in one)
    for said in ("TE-2031-BAG-1", "2031-07-20", "1000", "overdue", "The lift leader passes"):
        assert said in page


def test_the_register_names_what_stops_a_piece_and_what_its_report_lacks(
    told: dict[str, Any], report_of_show: Printed
) -> None:
    """The demo's kit says of SLING-2 no date of the report, paragraph 11 of the schedule (from memory there)."""
    gear = {one["tag"]: one for one in told["lifting"]}
    assert gear["SLING-2"]["lacking"] == ["(11) date of the report"]
    assert gear["SLING-1"]["lacking"] == []
    assert [one["stop"] for one in gear["SLING-2"]["stops"]] == ["overdue"]
    assert [one["stop"] for one in gear["SHACKLE-2"]["stops"]] == ["unfit"]
    [check] = gear["SLING-1"]["checks"]
    assert (check["states"], check["whose"]) == ("passed", "Bram Oakley")
    assert report_of_show.words.count("Report incomplete,") == 1


def test_a_lift_plan_is_told_with_its_gear_its_figures_and_who_passed_it(
    told: dict[str, Any], report_of_show: Printed
) -> None:
    """Four points: two of four carry all, so each is rated for half the load, 29.5 / 2 kg (statics).

    Tackle: a tenth of the load more for each of four sheaves and the lead block, over four parts.
    """
    gear = position(told, "1")["gear"]
    assert [one["tag"] for one in gear["pieces"]] == worked.LIFT_GEAR
    assert all(one["stops"] == [] and one["due"] > "2031-05-05" for one in gear["pieces"])
    figures = {
        name: {
            f"{one['label']}, {one['unit']}": one["value"]
            for one in step(told, f"position/1/lift-plan/{name}")["readings"][0]["verdict"]["figures"]
        }
        for name in worked.LIFT_FIGURES
    }
    assert figures["centre"]["rate each, kg"] == "14.75"
    assert figures["weakest"]["needed WLL, kg"] == "29.5"
    assert figures["pull"]["pull, kg"] == "11.06"
    assert figures["to-the-foot"]["worst, kg"] == "16.23"
    [passed] = step(told, "position/1/lift-plan/passed")["values"]
    assert passed["whose"] == "Bram Oakley, seen by Lena Sorrel"
    [area] = step(told, "position/1/lift-plan/area")["evidence"]
    assert area["states"].startswith("Six metres")
    for said in (
        "figures within: the lift leader passes it as signed",
        "figures within: a competent person passes it as signed",
        "BAG-1 Lifting bag, 150 kg",
        "Starting, stopping and swinging loads are in none of these figures.",
        "Two of four carry: US Navy training manuals",
    ):
        assert said in report_of_show.words


def test_gear_that_may_not_be_lifted_with_says_so_at_its_position(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    show.write("Bram", "position/4/chain/gear", "assign", {"tags": ["SLING-2", "NONE-1", "CLIP-1"]})
    show.write("Bram", "kit/CLIP-1/pre-use", "choice", {"choice": "failed", "reason": "Gate stays open"})
    pieces = {one["tag"]: one["stops"] for one in position(gather(show.record()), "4")["gear"]["pieces"]}
    assert {tag: [one["stop"] for one in stops] for tag, stops in pieces.items()} == {
        "SLING-2": ["overdue"],
        "NONE-1": ["unknown"],
        "CLIP-1": ["check-failed"],
    }
    words = printed(show, tmp_path).words
    assert "Thorough examination due 2031-05-03, before the show ends on 2031-05-05." in words
    assert "It failed a pre-use check, and nobody has passed it since." in words


def test_a_fault_is_told_with_its_evidence(told: dict[str, Any]) -> None:
    [fault] = told["faults"]
    assert fault["where"] == "position 3, Boathouse terrace"
    assert fault["about"] == "Drum 004, 101-way, 60 m"
    assert [one["kind"] for one in fault["evidence"]] == ["photo"]


def test_a_signature_is_told_with_name_key_statement_and_what_changed(
    told: dict[str, Any], show: worked.Show
) -> None:
    signed = {one["sheet"]: one for one in told["signatures"]}
    line_up = signed["Position 1: line-up"]
    assert line_up["drawn"].octets is not None
    assert line_up["key"] == show.phones["Tomas"].kid
    assert line_up["statement"].startswith("This camera was warm")
    assert line_up["since"] == []
    rig = signed["Position 1: rig"]["since"]
    assert "Legs spread, locked, tied down, level" in rig
    assert "Boards under on soft ground" not in rig
    assert signed["Lifting gear: pre-use check"]["drawn"].says == "no name was drawn"


def test_every_page_says_which_it_is(report_of_show: Printed) -> None:
    last = len(report_of_show.pages)
    for number, page in enumerate(report_of_show.pages, start=1):
        assert page.endswith(f"page {number} of {last}")


def test_an_answer_of_the_next_crew_is_in_the_next_report(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    show.hand_over("All in.")
    before = gather(show.record())
    assert all(not one["accepted"] for one in before["lockers"])
    digest = show.file("Tomas", worked.picture("Cracked hood"), "image/jpeg")
    exceptions = [
        {"tag": "VF-2", "text": "Hood cracked", "photo": digest},
        {"tag": "HEAD-2", "text": "Stiff", "photo": jws.sha256(b"never")},
    ]
    body = {"locker": "L2", "seen": "otherwise", "exceptions": exceptions}
    show.write("Tomas", "locker/L2/accept", "accept", body)
    show.write("Tomas", "locker/L1/accept", "accept", {"locker": "L1", "seen": "as the report says"})
    found = printed(show, tmp_path)
    assert "2 of 14 doors; L2, VF-2: Hood cracked (Tomas Wick)" in found.pages[0]
    assert "Next crew: otherwise Tomas Wick, Fri 2 May 09:00 VF-2: Hood cracked" in found.words
    assert "HEAD-2: Stiff photo not arrived" in found.words
    with pikepdf.open(found.file) as pdf:
        assert any(
            one.get("/Filter") == "/DCTDecode" for page in pdf.pages for one in page.get_images().values()
        )


def test_lockers_of_which_nothing_is_written_stand_in_one_sentence_a_vehicle(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    show.write("Bram", "locker/L2/de-rig/count/VF-2", "count", {"number": "0"})
    show.write("Bram", "kit/BARS-3/place", "place", {"where": "locker/L1"})
    show.write("Bram", "locker/T1", "remark", {"text": "Hinge bent"})
    show.write("Tomas", "kit/CAB-014/state", "state", {"state": "suspect", "reason": "Kinked"})
    show.write("Bram", "locker/K1/pack/seal", "reopen", {"reason": "Found loose or wrong"})
    show.write("Tomas", "locker/K2/accept", "accept", {"locker": "K2", "seen": "as the report says"})
    told = gather(show.record())
    assert [one["id"] for one in told["lockers"]] == ["L1", "L2", "R1", "T1", "T2", "K1", "K2"]
    assert told["untold"] == [
        {
            "vehicle": "Camera vehicle",
            "lockers": [
                "L3 Lifting and carrying (23)",
                "R2 Camera 4 (7)",
                "R3 Camera 5 (7)",
                "LB Lens bay (8)",
            ],
        },
        {
            "vehicle": "Cable tender",
            "lockers": ["T4 Legs and columns (8)", "T3 Drums, fibre, short (6)", "T5 Ramps and blocks (6)"],
        },
    ]


def drawn(name: str, news: int, sides: int = 2) -> dict[str, Any]:
    return {"id": name, "name": name, "news": news, "drawings": [{}] * sides}


def test_of_many_vehicles_those_with_the_most_news_are_drawn_and_the_others_named() -> None:
    few = [drawn("A", doors.NOTHING, 3), drawn("B", doors.OPEN, 3), drawn("C", doors.COUNTED)]
    assert doors.on_first(few) == few
    assert doors.not_drawn(few, few) == ""
    many = [
        *few,
        drawn("D", doors.OPEN),
        drawn("E", doors.COUNTED, 2),
        *(drawn(name, doors.NOTHING) for name in "FGH"),
    ]
    first = doors.on_first(many)
    assert [one["id"] for one in first] == ["B", "C", "D"]
    assert doors.not_drawn(many, first) == "Drawn on page 2: E. Nothing counted back in: A, F, G, H."


def test_a_report_says_by_whom_it_was_handed_over_and_with_what_open(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    assert gather(show.record())["handed_over"] is None
    for locker in show.definition["lockers"]:
        for held in locker["holds"]:
            number = "0" if held["tag"] in {"VF-2", "HEAD-2", "TAPE"} else held["number"]
            subject = f"locker/{locker['id']}/de-rig/count/{held['tag']}"
            if held["tag"] != "EXT-3":
                show.write("Bram", subject, "count", {"number": number})
    show.write("Bram", "kit/HEAD-2/place", "place", {"where": "locker/R1"})
    lent = {"where": "away/lent", "text": "to the tower crew, until Tuesday"}
    show.write("Bram", "kit/TAPE/place", "place", lent)
    name = show.hand_over("Nearly all in.")
    told = gather(show.record())
    assert (told["draft"], told["handed_over"]["whose"]) == (False, "Ines Calder")
    assert told["handed_over"]["open"] == 3
    assert told["handed_over"]["gaps"] == "1 missing, 1 in the wrong locker, 1 not counted back"
    page = printed(show, tmp_path).pages[0]
    assert "HANDED OVER BY INES CALDER WITH 3 GAPS OPEN" in page.upper()
    assert "Neither back nor accounted for: 1 missing, 1 in the wrong locker, 1 not counted back." in page
    by_word = {one["word"]: one["points"] for one in told["open"]}
    assert by_word["Missing"] == ["VF-2 Viewfinder 2 from L2: 0 of 1; no place written"]
    assert by_word["In the wrong locker"] == [
        "HEAD-2 Pan head 2 from L2: 0 of 1; last at locker R1, Bram Oakley"
    ]
    assert by_word["Not counted back"] == ["K2: EXT-3"]
    assert by_word["Away, accounted for"] == [
        "TAPE Marking tape and tags, roll from T5: 0 of 6; "
        "lent: to the tower crew, until Tuesday, Bram Oakley"
    ]
    show.write("Ines", "hand-over", "withdraw", {"entries": [name], "reason": "Said in error"})
    again = gather(show.record())
    assert (again["draft"], again["handed_over"], again["told"]) == (True, None, [])


def test_a_vehicle_of_which_nothing_was_counted_back_is_named_once(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    show.write("Bram", "locker/L2/de-rig/count/VF-2", "count", {"number": "1"})
    points = {one["word"]: one["points"] for one in gather(show.record())["open"]}["Not counted back"]
    assert points[1].startswith("L2: CAM-2, HEAD-2")
    assert points[-2:] == ["Cable tender: all 5 lockers", "Control truck: all 2 lockers"]


def test_what_is_used_though_unfit_is_told_with_the_reason_and_on_whose_word(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    show.write("Tomas", "kit/LENS-1/state", "state", {"state": "suspect", "reason": "Ring slips"})
    show.write("Tomas", "kit/LENS-2/state", "state", {"state": "suspect", "reason": "Ring slips"})
    though = [{"tag": "LENS-1", "reason": "No other that reaches", "who": "the director"}]
    slot = "position/5/chain/lens"
    planned = [one.name for one in values(folded(show.record()).held, slot)]
    show.write("Lena", slot, "assign", {"tag": "LENS-1", "though": though}, replaces=planned)
    points = {one["word"]: one["points"] for one in gather(show.record())["open"]}["Used though unfit"]
    lens = "LENS-1 Lens 1, 16 to 256 mm, suspect, as lens of position 5: "
    assert f"{lens}No other that reaches, on the word of the director, Lena Sorrel" in points
    assert any(one.startswith("LENS-2") and "no reason written" in one for one in points)


def test_what_is_written_on_no_step_is_told_where_it_stands(tmp_path: Path) -> None:
    show = worked.begin(tmp_path)
    show.write("Bram", "locker/T1", "remark", {"text": "Hinge bent"})
    show.write("Bram", "kit/CAM-1", "remark", {"text": "Hood strap worn"})
    show.write("Bram", "show", "remark", {"text": "Gate code changed"})
    found = printed(show, tmp_path)
    assert "Hinge bent Bram Oakley" in found.words
    assert "Also written CAM-1 Camera 1, four-tube camera body Hood strap worn Bram Oakley" in found.words
    assert "show Gate code changed Bram Oakley" in found.words


def counted(show: worked.Show, stage: str, who: str = "Bram", **otherwise: str) -> None:
    """Count all of locker L2 at a stage at its listed number, but what is given."""
    held = next(one["holds"] for one in show.definition["lockers"] if one["id"] == "L2")
    for one in held:
        number = otherwise.get(one["tag"].replace("-", "_"), one["number"])
        if number:
            show.write(who, f"locker/L2/{stage}/count/{one['tag']}", "count", {"number": number})


@pytest.mark.parametrize(
    ("otherwise", "is_one_sentence"),
    [
        pytest.param({}, True, id="all in at both"),
        pytest.param({"VF_2": "0"}, False, id="one was missing when it was packed"),
        pytest.param({"VF_2": ""}, False, id="one was not counted when it was packed"),
    ],
)
def test_a_locker_that_is_all_in_stands_in_one_sentence(
    tmp_path: Path, otherwise: dict[str, str], is_one_sentence: bool
) -> None:
    show = worked.begin(tmp_path)
    counted(show, "pack", **otherwise)
    counted(show, "stow", "Lena")
    show.write("Lena", "locker/L2/stow/seal", at="2031-05-04T23:40:00+01:00")
    found = printed(show, tmp_path)
    told = gather(show.record())
    assert [one["in_a_sentence"] for one in told["lockers"]] == ["All in" if is_one_sentence else ""]
    assert (
        "All in: CAM-2 Camera 2, three-tube camera body; VF-2 Viewfinder 2;" in found.words
    ) is is_one_sentence
    assert "Counted at stow: Lena Sorrel, Fri 2 May 09:00" in found.words
    assert (
        "L2: stow, 2 of 3 done, not signed: Latched and tagged shut Lena Sorrel, Sun 4 May 23:40"
        in found.words
    )
    assert "The next crew has accepted no locker yet." in found.words


@pytest.mark.parametrize(
    ("subject", "kind", "body"),
    [
        ("kit/VF-2/state", "state", {"state": "suspect", "reason": "Flickers"}),
        ("kit/VF-2/place", "place", {"where": "position/2"}),
        ("locker/L2/stow/count/VF-2", "count", {"number": "0"}),
    ],
)
def test_a_locker_of_which_a_thing_has_a_word_of_its_own_keeps_its_table(
    tmp_path: Path, subject: str, kind: str, body: dict[str, str]
) -> None:
    show = worked.begin(tmp_path)
    counted(show, "stow")
    assert gather(show.record())["lockers"][0]["in_a_sentence"]
    show.write("Lena", subject, kind, body)
    assert not gather(show.record())["lockers"][0]["in_a_sentence"]
