"""WebKitGTK under WebDriver, its profile in a folder, so that a phone can be killed and opened again.

Desktop WebKit is not an iPhone; it is the engine that an iPhone has.
"""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver import WebKitGTK
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service

DRIVER = "/usr/bin/WebKitWebDriver"
WINDOW = Path(__file__).with_name("webkit_window.py")
WAIT_S = 60
ANSWER_S = 120
"""How long a script in a page may take: the first start of the arithmetic is slow on a busy machine."""


@contextmanager
def display() -> Iterator[str]:
    """A screen that nobody looks at; its name, for DISPLAY."""
    ours, theirs = os.pipe()
    command = ("Xvfb", "-displayfd", str(theirs), "-screen", "0", "800x1000x24", "-nolisten", "tcp")
    screen = subprocess.Popen(command, pass_fds=(theirs,), stderr=subprocess.DEVNULL)
    os.close(theirs)
    with os.fdopen(ours) as said:
        number = said.readline().strip()
    try:
        yield f":{number}"
    finally:
        screen.terminate()
        screen.wait(30)


def webkit_driver(profile: Path, screen: str) -> WebKitGTK:
    """A WebKit window on a profile: what an earlier window left there is there again."""
    options = Options()
    options.binary_location = sys.executable
    options.add_argument(str(WINDOW))
    options.add_argument(str(profile))
    environ = {**os.environ, "DISPLAY": screen}
    if os.geteuid() == 0:  # bubblewrap makes no sandbox for root
        environ["WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS"] = "1"
    driver = WebKitGTK(options=options, service=Service(DRIVER, env=environ))
    driver.set_script_timeout(ANSWER_S)
    return driver


def kill_webkit(driver: WebKitGTK) -> None:
    """End window, web process and network process as an empty battery does, then the driver."""
    running = _below(driver.service.process.pid)
    assert len(running) >= 3, f"a window has three processes at least, and {len(running)} run"
    for pid in running:
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)
    driver.service.stop()


def shown(driver: WebKitGTK, selector: str, words: str) -> WebElement:
    """What is there by that selector and holds these words, once it is there."""

    def found(driver: WebKitGTK) -> WebElement | None:
        elements = driver.find_elements(By.CSS_SELECTOR, selector)
        return next(
            (element for element in elements if words in str(element.get_property("textContent"))), None
        )

    wait = WebDriverWait(driver, WAIT_S, ignored_exceptions=[StaleElementReferenceException])
    return wait.until(found, f"nothing by {selector} says {words}")


def touch(driver: WebKitGTK, selector: str, words: str) -> None:
    """Touch it where a thumb finds it: clear of the bottom edge."""
    target = shown(driver, selector, words)
    driver.execute_script("arguments[0].scrollIntoView({ block: 'center' })", target)
    target.click()


def _below(parent: int) -> list[int]:
    """Every process that this one started, and those that they started."""
    started: list[int] = []
    for path in Path("/proc").iterdir():
        with suppress(OSError, ValueError):
            pid = int(path.name)
            stat = (path / "stat").read_text()
            if int(stat.rpartition(")")[2].split()[1]) == parent:
                started += [pid, *_below(pid)]
    return started
