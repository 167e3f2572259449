"""`handline begin`: a unit of one's own is set up from its definitions, once, and its chief enrols."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from server.cli import main
from server.settings import CHECKLISTS


@pytest.fixture
def handline(tmp_path: Path):
    environ = {"HANDLINE_DATA": str(tmp_path / "data"), "HANDLINE_SITE": "https://truck.test"}

    def run(*words: str):
        return CliRunner().invoke(main, words, env={**environ, "HANDLINE_DATABASE": None})

    (tmp_path / "data").mkdir(mode=0o700)
    return run


def test_a_unit_is_set_up_and_its_chief_invited(handline):
    begun = handline("begin", str(CHECKLISTS / "demo-unit"), "--chief", "Ines Calder")
    assert begun.exit_code == 0, begun.output
    assert re.search(r"^link https://truck\.test/join#", begun.output, re.MULTILINE)
    another = handline("invite", "Bram Oakley", "--roles", "rigger")
    assert another.exit_code == 0, another.output


def test_a_server_holds_one_unit(handline):
    handline("begin", str(CHECKLISTS / "demo-unit"), "--chief", "Ines Calder")
    again = handline("begin", str(CHECKLISTS / "demo-unit"), "--chief", "Ines Calder")
    assert again.exit_code == 1
    assert "This server holds Heron unit already" in again.output


def test_a_folder_elsewhere_is_refused(handline, tmp_path: Path):
    refused = handline("begin", str(tmp_path), "--chief", "Ines Calder")
    assert refused.exit_code == 1
    assert "put the unit's definitions there" in refused.output


def test_a_role_that_is_none_sets_nothing_up(handline):
    refused = handline("begin", str(CHECKLISTS / "demo-unit"), "--chief", "Ines", "--roles", "captain")
    assert refused.exit_code == 1
    assert "Give one role or more of: rigger" in refused.output
    assert "holds 0 units" in handline("invite", "Ines", "--roles", "chief").output


def test_without_a_unit_the_way_on_is_said(handline):
    assert "handline begin" in handline("invite", "Ines", "--roles", "chief").output
