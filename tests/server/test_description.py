"""The API's own description, turned against it: nothing that it lets a client send is a fault of the server."""

import schemathesis
from hypothesis import HealthCheck, given, settings

EXAMPLES = 3


def test_nothing_that_the_description_allows_fails_the_server(app, phone):
    chief = phone("Ines", "chief")
    cookie = chief.web.get_cookie("handline")
    cookies = {cookie.key: cookie.value}
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    answered = {}
    for operation in (found.ok() for found in schema.get_all_operations()):

        @settings(
            max_examples=EXAMPLES,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy())
        def call(case):
            label, response = case.operation.label, case.call(cookies=cookies)
            assert response.status_code < 500, (label, response.text)
            if response.status_code >= 400:
                assert response.headers["content-type"] == ["application/problem+json"], label
            answered.setdefault(label, set()).add(response.status_code)

        call()
    assert len(answered) >= 12
    assert all(401 not in statuses for statuses in answered.values())
