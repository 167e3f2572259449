"""What is carried over from other logs, by the server: whole enough to be judged, nothing more; what a record takes."""

from collections.abc import Callable
from typing import Any

from flask import Flask

from server.crew.cards import unit_jwk
from server.logbook import kinds
from server.logbook.carried import carried_over, carried_used
from server.logbook.entry import parse
from server.logbook.fold import Fold
from server.logbook.values import values
from server.store import reading
from tests.conftest import OTHER_UNIT, UNIT, Phone

NOW = "show-2"
BEFORE = "show-1"
STATE = "kit/LEN-1/state"
SUSPECT = {"state": "suspect"}
SERVICEABLE = {"state": "serviceable"}

Phones = Callable[..., Phone]


def carried(app: Flask, unit: str = UNIT) -> list[dict[str, Any]]:
    with app.app_context(), reading() as session:
        return [dict(one) for one in carried_over(session, unit, NOW)]


def name(text: str) -> str:
    return parse(text).name


def test_what_other_logs_say_of_kit_verbatim_and_nothing_of_this_log_or_another_unit(
    app: Flask, phone: Phones
) -> None:
    ann, elsewhere = phone("Ann", "rigger"), phone("Bo", "rigger", unit=OTHER_UNIT)
    old = [ann.write(BEFORE, STATE, "state", body=SUSPECT), ann.write(BEFORE, "locker/L1/pack/seal")]
    yard = [ann.write("yard-north", "kit/LEN-1", "fault", body={"text": "haze"})]
    ann.post(BEFORE, old)
    ann.post("yard-north", yard)
    ann.post(NOW, [ann.write(NOW, STATE, "state", body=SERVICEABLE)])
    ann.post("show-0", [ann.write("show-0", "locker/L1/pack/seal")])
    elsewhere.post(BEFORE, [elsewhere.write(BEFORE, STATE, "state", body=SUSPECT)])
    assert carried(app) == [
        {"log": BEFORE, "entries": old[:1]},
        {"log": "yard-north", "entries": yard},
    ]
    assert [one["log"] for one in carried(app, OTHER_UNIT)] == [BEFORE]


def test_what_is_written_later_is_carried_over_too(app: Flask, phone: Phones) -> None:
    ann = phone("Ann", "rigger")
    first = ann.write(BEFORE, STATE, "state", body=SUSPECT)
    ann.post(BEFORE, [first])
    assert carried(app) == [{"log": BEFORE, "entries": [first]}]
    second = ann.write(BEFORE, STATE, "state", body=SERVICEABLE, replaces=[name(first)])
    ann.post(BEFORE, [second])
    assert carried(app) == [{"log": BEFORE, "entries": [first, second]}]


def test_withdrawn_and_cut_off_entries_come_with_what_says_so(app: Flask, phone: Phones) -> None:
    ann, cy = phone("Ann", "rigger"), phone("Cy", "chief")
    seal = ann.write(BEFORE, "locker/L1/pack/seal")
    kept = ann.write(BEFORE, STATE, "state", body=SUSPECT)
    late = ann.write(BEFORE, "kit/LEN-2/state", "state", body=SUSPECT)
    taken_back = cy.write(BEFORE, "kit/LEN-3/state", "state", body=SUSPECT)
    withdraw = cy.write(
        BEFORE, "show", "withdraw", body={"entries": [name(taken_back)], "reason": "said in error"}
    )
    other = cy.write(BEFORE, "show", "withdraw", body={"entries": [name(seal)], "reason": "mistyped"})
    revoke = cy.write(BEFORE, "show", "revoke", body={"device": ann.kid, "head": name(kept)})
    cy.post(BEFORE, [seal, kept, late, taken_back, withdraw, other, revoke], [ann.card])
    [one] = carried(app)
    assert seal in one["entries"]  # the revoked device's chain: the head leads back through it
    assert other not in one["entries"]
    with app.app_context():
        fold = Fold(log=NOW, unit_key=unit_jwk(UNIT), kinds=kinds.load(), sheets=[])
    fold.add_cards([ann.card, cy.card])
    fold.add_carried([{"log": one["log"], "entries": one["entries"]}])
    [shelf] = [held for held in fold.held.logs_together() if held.log == BEFORE]
    stands = {tag: len(values(shelf, f"kit/{tag}/state")) for tag in ("LEN-1", "LEN-2", "LEN-3")}
    assert stands == {"LEN-1": 1, "LEN-2": 0, "LEN-3": 0}


def test_a_record_takes_what_its_entries_lean_on_and_what_its_pages_tell(app: Flask, phone: Phones) -> None:
    ann = phone("Ann", "rigger")
    leant_on = ann.write(BEFORE, STATE, "state", body=SUSPECT)
    same_thing = ann.write("yard-north", STATE, "state", body=SERVICEABLE)
    told = ann.write(BEFORE, "kit/CAB-1/place", "place", body={"where": "locker/L1"})
    fault = ann.write(BEFORE, "kit/CAB-1", "fault", body={"text": "sheath cut"})
    unused = ann.write(BEFORE, "kit/CAB-10/state", "state", body=SUSPECT)
    ann.post(BEFORE, [leant_on, told, fault, unused])
    ann.post("yard-north", [same_thing])
    here = parse(ann.write(NOW, STATE, "state", body=SERVICEABLE, replaces=[name(leant_on)]))
    with app.app_context(), reading() as session:
        shelf = carried_over(session, UNIT, NOW)
    assert carried_used(shelf, []) == []
    assert carried_used(shelf, [here]) == [
        {"log": BEFORE, "entries": [leant_on]},
        {"log": "yard-north", "entries": [same_thing]},
    ]
    assert carried_used(shelf, [], ["CAB-1"]) == [{"log": BEFORE, "entries": [told, fault]}]
