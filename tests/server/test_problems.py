"""Every error is a problem document (RFC 9457) that says what is wrong, where, and what to do."""

import json

import pytest

LOG = "/api/logs/show-1/entries"


@pytest.mark.parametrize(
    ("method", "address", "status"),
    [
        ("get", "/api/nothing", 404),
        ("post", "/api/nothing", 404),
        ("delete", "/api/shows", 405),
        ("get", LOG, 404),
        ("get", "/api/shows/none", 404),
        ("get", "/api/shows/%00", 404),
    ],
)
def test_an_address_that_is_not_there(phone, problem, method, address, status):
    problem(getattr(phone("Ines", "chief").web, method)(address), status)


def test_a_wrong_method_says_the_right_ones(phone, problem):
    response = phone("Ines", "chief").web.delete("/api/shows")
    problem(response, 405)
    assert {"GET", "POST"} <= set(response.headers["Allow"].replace(" ", "").split(","))


@pytest.mark.parametrize(
    "address", ["/api/crew", "/api/shows", "/api/shows/x", "/api/unit", LOG, "/api/files/" + "A" * 43]
)
def test_nobody_reads_without_a_card(phone, problem, address):
    response = phone().web.get(address)
    problem(response, 401)
    assert "WWW-Authenticate" in response.headers


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"\xef\xbb\xbf{}",
        b'{"entries": [], "entries": []}',
        b'{"entries": ["\\ud800"]}',
        b'{"entries": ["\\u0000"]}',
        b'{"entries": [1.5]}',
        b"[" * 17 + b"]" * 17,
        b'{"entries": ["\xff"]}',
    ],
)
def test_a_body_that_is_not_strict_json(phone, problem, body):
    one = phone("Ines", "chief")
    problem(one.web.post(LOG, data=body, content_type="application/json"), 400, "body")


def test_a_body_of_another_type(phone, problem):
    one = phone("Ines", "chief")
    assert "application/json" in problem(one.web.post(LOG, data=b"{}", content_type="text/plain"), 415)


@pytest.mark.parametrize(
    ("body", "fields"),
    [
        ({}, ["entries"]),
        ({"entries": "x"}, ["entries"]),
        ({"entries": ["x", 1]}, ["entries.1"]),
        ({"entries": [], "cards": [None]}, ["cards.0"]),
        ({"entries": [], "more": 1}, ["more"]),
        ([], ["body"]),
    ],
)
def test_each_field_at_fault_is_named(phone, problem, body, fields):
    problem(phone("Ines", "chief").web.post(LOG, json=body), 422, *fields)


def test_an_address_with_a_log_that_no_log_can_be(phone, problem):
    one = phone("Ines", "chief")
    problem(one.web.post("/api/logs/a%20b/entries", json={"entries": []}), 422, "log")
    problem(one.web.get("/api/logs/" + "a" * 121 + "/entries"), 422, "log")


def test_a_fault_of_the_server_gives_nothing_of_its_inside_away(phone, problem, monkeypatch):
    one = phone("Ines", "chief")

    def fails(*_):
        raise RuntimeError("inside")

    monkeypatch.setattr("server.logbook.api.receive", fails)
    response = one.web.post(LOG, json={"entries": []})
    problem(response, 500)
    assert "inside" not in response.text


def test_every_route_describes_its_errors_as_problems(phone):
    description = phone().web.get("/api/openapi.json").json
    document = json.dumps({"$ref": "#/components/schemas/ProblemDocument"})
    described = [
        (path, method, status, response)
        for path, methods in description["paths"].items()
        for method, operation in methods.items()
        if method != "parameters"
        for status, response in operation["responses"].items()
        if status.startswith("4")
    ]
    assert len(described) > 30
    for path, method, status, response in described:
        content = response.get("content", {})
        assert list(content) == ["application/problem+json"], (path, method, status)
        assert json.dumps(content["application/problem+json"]["schema"]) == document
