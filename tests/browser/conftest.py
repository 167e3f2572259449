"""Real servers and real browsers: each test has its own data folder, port and browser profile."""

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from urllib.request import urlopen

import pytest
from click.testing import CliRunner
from playwright.sync_api import BrowserContext, Error, Playwright, sync_playwright
from selenium.webdriver import WebKitGTK

from server.cli import main
from tests.browser.webkit import display, webkit_driver

ROOT = Path(__file__).parents[2]
HANDLINE = (sys.executable, "-c", "from server.cli import main; main()")
CHROMIUM = "/usr/bin/chromium"
TRIES = 400


class Server:
    """One server as a crew would run it: `stop` is no network, `start` brings it back with what it kept."""

    options: tuple[str, ...] = ()

    def __init__(self, data: Path, root: Path = ROOT) -> None:
        self.root = root
        with closing(socket.socket()) as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = int(probe.getsockname()[1])
        self.data = data
        self.site = f"http://127.0.0.1:{self.port}"
        self.environ = {**os.environ, "HANDLINE_DATA": str(data), "HANDLINE_SITE": self.site}
        self.environ.pop("HANDLINE_DATABASE", None)
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start, and return once it answers."""
        log = (self.data.parent / "server.log").open("ab")
        command = (*HANDLINE, "demo", "--port", str(self.port), *self.options)
        self.process = subprocess.Popen(command, cwd=self.root, env=self.environ, stdout=log, stderr=log)
        for _ in range(TRIES):
            assert self.process.poll() is None, (self.data.parent / "server.log").read_text()
            try:
                self.ask()
                return
            except OSError:
                self.process_wait()
        raise AssertionError("the server does not answer")

    def ask(self) -> None:
        """Ask it for something small. Raises OSError where it does not answer."""
        urlopen(self.site + "/sw.js", timeout=10).close()  # noqa: S310 - the server just started

    def process_wait(self) -> None:
        """A tenth of a second for the server to come up, or its end."""
        assert self.process is not None
        try:
            self.process.wait(0.1)
        except subprocess.TimeoutExpired:
            return

    def stop(self) -> None:
        """End the server; nothing answers at its address from then on."""
        if self.process is not None:
            self.process.terminate()
            self.process.wait(30)
            self.process = None

    def invite(self, name: str, roles: str, person: str | None = None) -> dict[str, str]:
        """An invitation's `code` and `link`; `person` is somebody's whom the unit knows already."""
        known = () if person is None else ("--person", person)
        command = ("invite", name, "--roles", roles, *known, "--json")
        environ = {"HANDLINE_DATABASE": None, "HANDLINE_DATA": str(self.data), "HANDLINE_SITE": self.site}
        done = CliRunner().invoke(main, command, env=environ, catch_exceptions=False)
        assert done.exit_code == 0, done.output
        made: dict[str, str] = json.loads(done.output)
        return made


@contextmanager
def serving(folder: Path, root: Path = ROOT) -> Iterator[Server]:
    """A running server on a free port with its own data folder and the demo's unit and show."""
    running = Server(folder / "data", root)
    running.data.mkdir(mode=0o700)
    running.start()
    try:
        yield running
    finally:
        running.stop()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    """A server of this test's own."""
    with serving(tmp_path) as running:
        yield running


@pytest.fixture
def changeable_server(tmp_path: Path) -> Iterator[Server]:
    """A server that runs from a copy of the house, so that a test may change a file of the app."""
    root = tmp_path / "house"
    for folder in ("server", "static", "templates", "checklists"):
        unserved = shutil.ignore_patterns("node_modules", "__pycache__")
        shutil.copytree(ROOT / folder, root / folder, ignore=unserved)
    with serving(tmp_path, root) as running:
        yield running


@pytest.fixture(scope="module")
def playwright() -> Iterator[Playwright]:
    """Ends with its file: its event loop would stand in the way of whatever seals a report afterwards."""
    with sync_playwright() as running:
        yield running


OpenPhone = Callable[[str], BrowserContext]


@contextmanager
def phones_in(playwright: Playwright, folder: Path) -> Iterator[OpenPhone]:
    """Opens the phone of that name, 390x844, in a profile that outlives its closing."""
    contexts: list[BrowserContext] = []

    def open_named(name: str) -> BrowserContext:
        context = playwright.chromium.launch_persistent_context(
            folder / f"phone-{name}",
            executable_path=CHROMIUM,
            args=["--no-sandbox"],
            viewport={"width": 390, "height": 844},
        )
        contexts.append(context)
        return context

    try:
        yield open_named
    finally:
        for context in contexts:
            with suppress(Error):  # a killed one is closed already
                context.close()


@pytest.fixture
def open_phone(playwright: Playwright, tmp_path: Path) -> Iterator[OpenPhone]:
    """Phones of this test's own."""
    with phones_in(playwright, tmp_path) as opening:
        yield opening


@pytest.fixture(scope="module")
def lasting_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server for all tests of a file, each of which finds what those before it wrote."""
    with serving(tmp_path_factory.mktemp("lasting")) as running:
        yield running


@pytest.fixture(scope="module")
def lasting_phones(playwright: Playwright, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenPhone]:
    """Phones for all tests of a file."""
    with phones_in(playwright, tmp_path_factory.mktemp("phones")) as opening:
        yield opening


OpenWebKit = Callable[[str], WebKitGTK]


@pytest.fixture
def open_webkit(tmp_path: Path) -> Iterator[OpenWebKit]:
    """Opens the phone of that name in WebKit, in a profile that outlives its closing."""
    opened: list[WebKitGTK] = []
    with display() as screen:

        def open_named(name: str) -> WebKitGTK:
            opened.append(webkit_driver(tmp_path / f"webkit-{name}", screen))
            return opened[-1]

        yield open_named
        for driver in opened:
            driver.service.stop()


def kill(profile: Path) -> None:
    """End the browser of a profile as an empty battery does: no page and no process is asked."""
    argument = f"--user-data-dir={profile}".encode()
    pids = [int(path.name) for path in Path("/proc").iterdir() if path.name.isdigit()]
    browsers = [pid for pid in pids if argument in _arguments(pid)]
    assert browsers, f"no browser runs on {profile}"
    for pid in browsers:
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)


def _arguments(pid: int) -> list[bytes]:
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes().split(b"\0")
    except OSError:
        return []
