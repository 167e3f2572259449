"""A phone with a good key that signs whatever it likes: nothing breaks, and both readers say the same of it."""

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from server.crew.cards import unit_jwk
from server.logbook import cases, kinds, views
from server.logbook.carried import about, is_of_kit
from server.logbook.entry import Entry, Refused, parse
from server.logbook.fold import Fold
from tests.conftest import UNIT, Phone
from tests.logbook import book
from tests.logbook.book import Crew, step
from tests.logbook.histories import DEFINITION, VIEWS
from tests.logbook.hostile import LOG, RIG, texts, values

READER = Path(__file__).with_name("read-entries.mjs")
ROLES = ["rigger", "camera", "engineer", "lift-leader", "sound", "driver", "chief"]
SHEETS = [
    book.sheet(
        RIG,
        step(f"{RIG}/legs", ended_by=["knocked"], minutes=30, about=["lens", "run"]),
        step(f"{RIG}/level", asks="reading", after=[f"{RIG}/legs"], minutes=10),
        step(f"{RIG}/count", asks="count", items={"A": "2"}),
    )
]
IN_ONE_SERVER = settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
crew = Crew("hostile")
ann = crew.device("ann", *ROLES)
bea = crew.device("bea", "chief")


def reading(text: str) -> Entry | None:
    try:
        return parse(text, LOG)
    except Refused:
        return None


def test_no_signed_text_breaks_the_server(app: Flask, phone: Callable[..., Phone]) -> None:
    sender = phone("Ann", *ROLES)
    device = book.Device("of the app", sender.person)
    device.key, device.jwk, device.kid = sender.key, sender.jwk, sender.kid

    @IN_ONE_SERVER
    @given(st.lists(texts(device), min_size=2, max_size=6))
    def posted(entries: list[str]) -> None:
        answer = sender.web.post(f"/api/logs/{LOG}/entries", json={"cards": [], "entries": entries})
        assert answer.status_code == 200, answer.text
        answers = answer.json["answers"]
        assert len(answers) == len(entries)
        for text, said in zip(entries, answers, strict=True):
            entry = reading(text)
            if entry is None:
                assert said["answer"] == "refused"
                assert len(said["reason"]) > 10
            else:
                assert said["answer"] in {"stored", "known"} if entry.kid == device.kid else {"wait"}
                assert said["name"] == entry.name

    posted()
    held = all_of(sender)
    assert len(held) > 20
    with app.app_context():
        shown = Fold(log=LOG, unit_key=unit_jwk(UNIT), kinds=kinds.load(), sheets=SHEETS)
    shown.add_cards([sender.card])
    shown.add_entries(held)
    assert {entry["counts"] for entry in shown.answer()["entries"].values()} == {True, False}
    for name, *of in VIEWS:
        getattr(views, name)(shown, DEFINITION, *of)
    about([parse(text) for text in held], is_of_kit)


def test_no_body_of_a_post_breaks_the_server(phone: Callable[..., Phone]) -> None:
    sender = phone("Ann", *ROLES)

    @IN_ONE_SERVER
    @given(values | st.fixed_dictionaries({"entries": values, "cards": values}))
    def posted(body: object) -> None:
        answer = sender.web.post(
            f"/api/logs/{LOG}/entries", data=json.dumps(body), content_type="application/json"
        )
        if answer.status_code == 200:
            assert all(one["answer"] == "refused" and one["reason"] for one in answer.json["answers"])
            return
        assert answer.status_code in {400, 422}, answer.text
        assert answer.mimetype == "application/problem+json"
        assert {"type", "title", "status", "detail"} <= set(answer.json)

    posted()


@settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(texts(ann), min_size=60, max_size=60))
def test_both_readers_and_both_folds_say_the_same(tmp_path_factory: Any, entries: list[str]) -> None:
    folder = tmp_path_factory.mktemp("signed")
    file = folder / "texts.json"
    file.write_text(json.dumps(entries))
    done = subprocess.run(["node", READER, file, LOG], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    ours = [entry and entry.name for entry in map(reading, entries)]
    assert [text for text, a, b in zip(entries, ours, json.loads(done.stdout), strict=True) if a != b] == []
    case = {
        "name": "hostile",
        "log": LOG,
        "unit_key": crew.jwk,
        "sheets": SHEETS,
        "cards": crew.cards,
        "entries": entries,
        "definition": DEFINITION,
        "views": [*VIEWS, ["sheet", RIG]],
    }
    case_file = folder / "case.json"
    case_file.write_text(json.dumps({"kinds": kinds.load(), "cases": [case]}))
    assert cases.phone_answers(case_file) == [cases.answer(kinds.load(), case)]


def all_of(sender: Phone) -> list[str]:
    """All that the server gives out of the log."""
    page = sender.fetch(LOG)
    found: list[str] = page["entries"]
    while page["more"]:
        page = sender.fetch(LOG, cursor=page["cursor"])
        found += page["entries"]
    return found
