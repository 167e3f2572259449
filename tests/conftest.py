"""A server in this process, on SQLite and, where one is named, PostgreSQL; phones that enrol and sign."""

import json
import os
import secrets
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from flask import Flask
from werkzeug.test import TestResponse

from server.app import create_app
from server.crew import jws
from server.crew.cards import set_up_unit
from server.crew.invite import invite
from server.logbook import entry
from server.settings import Settings
from server.setup import make_tables
from server.shows import demo
from server.store import db, writing

POSTGRES = os.environ.get("HANDLINE_TEST_POSTGRES", "")
SITE = "http://127.0.0.1:8000"
UNIT = "north"
OTHER_UNIT = "south"


class Phone:
    """A phone: its key, its own cookie jar `web`, and its place in each log that it wrote in."""

    def __init__(self, app: Flask) -> None:
        self.key = ec.generate_private_key(ec.SECP256R1())
        self.jwk = jws.public_jwk(self.key)
        self.kid = jws.thumbprint(self.jwk)
        self.web = app.test_client()
        self.card = ""
        self.person = ""
        self._heads: dict[str, tuple[int, str | None]] = {}

    def enrol(self, code: str) -> TestResponse:
        """Register this phone's key by a code."""
        answer = self.web.post("/api/devices", json={"code": code, "public_key": self.jwk})
        if answer.status_code == 201:
            self.hold(answer.json["card"])
        return answer

    def hold(self, card: str) -> None:
        """Keep a card and write as its person."""
        self.card = card
        self.person = json.loads(jws.split(card)[1])["person"]

    def write(self, log: str, subject: str = "locker/L2/pack/seal", kind: str = "tick", **more: Any) -> str:
        """Sign the next entry of this phone's chain in a log."""
        number, previous = self._heads.get(log, (0, None))
        payload = {
            "log": log,
            "number": number + 1,
            "previous": previous,
            "at": "2031-05-02T09:00:00+01:00",
            "by": self.person,
            "subject": subject,
            "kind": kind,
            "body": {},
            **more,
        }
        text = entry.write(payload, self.key)
        self._heads[log] = (payload["number"], entry.parse(text).name)
        return text

    def post(self, log: str, entries: list[str], cards: list[str] | None = None) -> TestResponse:
        """Hand in entries."""
        return self.web.post(f"/api/logs/{log}/entries", json={"cards": cards or [], "entries": entries})

    def answers(self, log: str, entries: list[str], cards: list[str] | None = None) -> list[str]:
        """Hand in entries; the word said of each."""
        response = self.post(log, entries, cards)
        assert response.status_code == 200, response.text
        return [answer["answer"] for answer in response.json["answers"]]

    def fetch(self, log: str, **query: object) -> Any:
        """One page of a log."""
        response = self.web.get(f"/api/logs/{log}/entries", query_string=query)
        assert response.status_code == 200, response.text
        return response.json


@pytest.fixture(params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def app(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Flask]:
    """The app with two units and nobody in them but the server; nothing of it is left afterwards."""
    if request.param == "sqlite":
        yield from _serving(f"sqlite:///{tmp_path / 'test.sqlite'}", tmp_path)
        return
    if not POSTGRES:
        pytest.skip("HANDLINE_TEST_POSTGRES names no PostgreSQL")
    schema = f"test_{secrets.token_hex(8)}"
    with psycopg.connect(POSTGRES.replace("+psycopg", ""), autocommit=True) as connection:
        connection.execute(f'CREATE SCHEMA "{schema}"')
        try:
            yield from _serving(f"{POSTGRES}?options=-csearch_path%3D{schema}", tmp_path)
        finally:
            connection.execute(f'DROP SCHEMA "{schema}" CASCADE')


@pytest.fixture
def invited(app: Flask) -> Callable[..., str]:
    """Invite somebody by name and roles; the code."""

    def code_of(name: str, *roles: str, unit: str = UNIT) -> str:
        with app.app_context(), writing() as session:
            return invite(session, unit, name, list(roles)).code

    return code_of


@pytest.fixture
def phone(app: Flask, invited: Callable[..., str]) -> Callable[..., Phone]:
    """A phone of somebody with these roles, enrolled; with no name, one that nobody has enrolled."""

    def made(name: str | None = None, *roles: str, unit: str = UNIT) -> Phone:
        one = Phone(app)
        if name is not None:
            assert one.enrol(invited(name, *roles, unit=unit)).status_code == 201
        return one

    return made


@pytest.fixture
def problem() -> Callable[..., str]:
    """Assert that a response is a problem document of this status about these fields; its detail."""

    def detail_of(response: TestResponse, status: int, *fields: str) -> str:
        assert response.status_code == status, response.text
        assert response.mimetype == "application/problem+json"
        said = response.json
        assert (said["type"], said["status"]) == ("about:blank", status)
        assert said["title"]
        assert said["detail"]
        assert [error["field"] for error in said.get("errors", [])] == list(fields)
        assert all(error["detail"] for error in said.get("errors", []))
        return str(said["detail"])

    return detail_of


def _serving(database: str, data: Path) -> Iterator[Flask]:
    app = create_app(Settings(database, data, SITE))
    with app.app_context():
        make_tables()
        with writing() as session:
            for unit in (UNIT, OTHER_UNIT):
                set_up_unit(session, unit, f"Unit {unit}", demo.FOLDER.name)
    yield app
    with app.app_context():
        db.session.remove()
        db.engine.dispose()
