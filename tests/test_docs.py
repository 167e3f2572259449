"""The documents cannot lag: what is added and not written of fails here."""

import re
from dataclasses import fields
from pathlib import Path

import pytest

from server.app import create_app
from server.cli import main
from server.logbook.kinds import load
from server.settings import Settings
from server.trade.register import assessments

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()


@pytest.mark.parametrize("command", sorted(main.commands))
def test_the_readme_has_each_command(command: str) -> None:
    assert f"`handline {command}" in README


@pytest.mark.parametrize("setting", [field.name for field in fields(Settings)])
def test_the_readme_has_each_setting(setting: str) -> None:
    assert f"`HANDLINE_{setting.upper()}`" in README


@pytest.mark.parametrize("kind", sorted(load()))
def test_the_developers_guide_has_each_kind(kind: str) -> None:
    assert f"`{kind}`" in DEVELOPERS


@pytest.mark.parametrize("name", sorted(assessments()))
def test_the_developers_guide_has_each_computation(name: str) -> None:
    assert f"`{name}`" in DEVELOPERS


def test_the_developers_guide_has_each_route(tmp_path: Path) -> None:
    app = create_app(Settings(f"sqlite:///{tmp_path / 'docs.sqlite'}", tmp_path, "http://127.0.0.1:8000"))
    routes = {re.sub(r"<(?:\w+:)?(\w+)>", r"{\1}", rule.rule) for rule in app.url_map.iter_rules()}
    spoken = {rule for rule in routes if rule.startswith("/api/") or rule == "/verify"}
    assert len(spoken) > 10
    assert [rule for rule in sorted(spoken) if f"`{rule}`" not in DEVELOPERS] == []


@pytest.mark.parametrize(
    "room", sorted(path.name for path in (ROOT / "server").iterdir() if (path / "__init__.py").exists())
)
def test_the_developers_guide_has_each_room(room: str) -> None:
    assert f"`server/{room}/`" in DEVELOPERS


def test_the_developers_guide_shows_a_computation_as_it_stands() -> None:
    source = (ROOT / "server" / "trade" / "condensation.py").read_text()
    (shown,) = re.findall(r"```python\n(.*?)\n```", DEVELOPERS, re.DOTALL)
    definitions = re.split(r"\n\n\n", shown)
    assert len(definitions) == 3
    assert [one for one in definitions if one not in source] == []
