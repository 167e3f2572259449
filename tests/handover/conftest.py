"""The worked show, made once, and its report printed and sealed once."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from server.handover.report import report
from server.store import reading
from tests.conftest import UNIT
from tests.handover import worked


@dataclass
class Printed:
    """A report's file, and its words page by page with every run of white space as one blank."""

    file: Path
    pages: list[str]

    @property
    def words(self) -> str:
        """All pages' words."""
        return " ".join(self.pages)


def printed(show: worked.Show, folder: Path) -> Printed:
    """The report of a show as it stands."""
    file = folder / "report.pdf"
    with show.app.app_context(), reading() as session:
        file.write_bytes(report(session, UNIT, show.log, folder))
    return Printed(file, worked.words_of(file.read_bytes()))


@pytest.fixture(scope="session")
def show(tmp_path_factory: pytest.TempPathFactory) -> worked.Show:
    """The demo's show, worked and handed over."""
    made = worked.begin(tmp_path_factory.mktemp("worked"))
    worked.work(made)
    made.hand_over(
        "All in but one viewfinder. CAB-014 is tagged at both ends.", at="2031-05-05T00:20:00+01:00"
    )
    return made


@pytest.fixture(scope="session")
def report_of_show(show: worked.Show, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """Its report."""
    return printed(show, tmp_path_factory.mktemp("printed"))
