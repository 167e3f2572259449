"""The page that says how a phone comes to trust the truck, and the commands that serve it."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from cryptography import x509
from flask import Flask
from flask.testing import FlaskClient

from server.app import create_app
from server.cli import main
from server.host import Host
from server.settings import BadSetting, Settings, served_last
from server.truck import Truck
from server.trust import TRUCK, page_of_its_own


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(f"sqlite:///{tmp_path / 'test.sqlite'}", tmp_path, "https://truck.local:8000")


@pytest.fixture
def truck(settings: Settings) -> Truck:
    return Truck.at(settings, Host.read("truck.local"), 8000, 8001)


@pytest.fixture
def plain(truck: Truck) -> FlaskClient:
    """The port that phones open before they trust the truck."""
    return page_of_its_own(truck).test_client()


@pytest.fixture
def app(settings: Settings) -> Flask:
    return create_app(settings)


def test_the_page_has_what_a_phone_must_show_and_where_to_go_on(plain: FlaskClient, truck: Truck) -> None:
    page = plain.get("/trust")
    assert page.status_code == 200
    words = re.sub(r"<[^>]+>", " ", page.text)
    assert "".join(words.split()).count(truck.authority.fingerprint.replace(":", "")) == 1
    assert '<a class="act main" href="https://truck.local:8000/">' in page.text
    assert page.text.count('<a class="act" href="/trust/handline.crt">') == 2
    assert page.text.count("<svg") == 2
    for address in ("http://truck.local:8001/trust", "https://truck.local:8000"):
        assert f"<title>{address}</title>" in page.text


def test_the_file_is_the_authority_as_phones_take_it(plain: FlaskClient, truck: Truck) -> None:
    file = plain.get("/trust/handline.crt")
    assert file.headers["Content-Type"] == "application/x-x509-ca-cert"
    assert x509.load_der_x509_certificate(file.data) == truck.authority.certificate


@pytest.mark.parametrize(
    "path", ["/", "/join", "/api/shows", "/static/app.js", "/sw.js", "/verify", "/trust/x"]
)
def test_the_plain_port_serves_nothing_else(path: str, plain: FlaskClient) -> None:
    for answer in (plain.get(path), plain.post(path)):
        assert (answer.status_code, answer.headers["Location"]) == (302, "/trust")


def test_the_page_needs_no_script_and_no_style_of_its_own(plain: FlaskClient) -> None:
    page = plain.get("/trust")
    policy = page.headers["Content-Security-Policy"]
    assert "default-src 'none'; style-src 'self'; base-uri" in policy
    assert not re.search(r"<script|<style|\sstyle=|\son\w+=", page.text)
    look = plain.get("/trust/look.css")
    assert look.mimetype == "text/css"
    assert "--canvas" in look.text


def test_the_app_has_the_page_too(app: Flask, truck: Truck) -> None:
    app.config[TRUCK] = truck
    page = app.test_client().get("/trust", base_url=truck.site)
    assert truck.fingerprint_rows[0] in page.text
    assert "font-src 'self'" in page.headers["Content-Security-Policy"]


def test_behind_a_public_name_there_is_nothing_to_trust(app: Flask) -> None:
    web = app.test_client()
    assert "Nothing to trust here" in web.get("/trust").text
    assert web.get("/trust/handline.crt").status_code == 404


def test_what_is_printed_can_be_read_out_and_scanned(truck: Truck) -> None:
    said = truck.said()
    assert "http://truck.local:8001/trust" in said
    assert re.findall(r"[0-9A-F]{2}", "".join(truck.fingerprint_rows)) == truck.authority.fingerprint.split(
        ":"
    )
    assert all(row in said for row in truck.fingerprint_rows)
    assert "▀" in said


def run(tmp_path: Path, *words: str, **environ: str) -> Result:
    known = {"HANDLINE_DATA": str(tmp_path / "data"), "HANDLINE_SITE": "", "HANDLINE_DATABASE": ""}
    return CliRunner().invoke(main, words, env={**known, **environ})


@pytest.mark.parametrize(
    ("words", "environ", "says"),
    [
        (("--site", "https://truck.local"), {}, "--site: https://truck.local is more than a host"),
        (
            ("--site", "truck.local"),
            {"HANDLINE_SITE": "https://ob.example"},
            "HANDLINE_SITE: it is https://ob.example",
        ),
        (
            ("--site", "truck.local", "--port", "8100", "--trust-port", "8100"),
            {},
            "--trust-port: 8100 is the port",
        ),
        (("--port", "70000"), {}, "--port: port 70000 cannot be used"),
    ],
)
def test_what_cannot_be_served_is_named(
    words: tuple[str, ...], environ: dict[str, str], says: str, tmp_path: Path
) -> None:
    for command in ("serve", "demo"):
        done = run(tmp_path, command, *words, **environ)
        assert done.exit_code == 1
        assert done.output.startswith(f"Error: {says}")
        assert served_last(tmp_path / "data") is None


def test_links_are_made_for_the_site_that_was_served_last(settings: Settings, tmp_path: Path) -> None:
    environ = {"HANDLINE_DATA": str(tmp_path)}
    assert Settings.read(environ).site == "http://127.0.0.1:8000"
    settings.remember_site()
    assert Settings.read(environ).site == "https://truck.local:8000"
    assert Settings.read({**environ, "HANDLINE_SITE": "https://ob.example"}).site == "https://ob.example"
    (tmp_path / "site").write_text("truck")
    with pytest.raises(BadSetting, match="truck is not an address"):
        Settings.read(environ)
