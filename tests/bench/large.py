"""A thousand kinds of kit in twelve vehicles against the demo: the van's screen, one count, the report, as ratios."""

import shutil
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.bench.large_unit import grow
from tests.browser.conftest import CHROMIUM, HANDLINE, ROOT, Server, serving
from tests.browser.show_at_work import fill, phone_at_work

LIMIT = 1.5
COUNT = "locker/L2/de-rig/count"
SHOW = """async () => (await import("/static/logbook/book.js")).book.show.value.id"""

SEEN = """async ([hash, selector]) => {
  location.hash = "#/settings";
  await new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
  const begun = performance.now();
  location.hash = hash;
  while (!document.querySelector(selector)) await new Promise((next) => requestAnimationFrame(next));
  return performance.now() - begun;
}"""
"""Milliseconds from a touch on the way to a screen until what is looked for stands on it."""

COUNTED = """async (name) => {
  const find = (text) => [...document.querySelectorAll("button")].find((one) => one.textContent.trim() === text);
  find(`Count again: ${name}`)?.click();
  while (!find(`There: ${name}`)) await new Promise((next) => requestAnimationFrame(next));
  const begun = performance.now();
  find(`There: ${name}`).click();
  while (!find(`Count again: ${name}`)) await new Promise((next) => requestAnimationFrame(next));
  return performance.now() - begun;
}"""
"""Milliseconds from the touch that counts a thing until the screen says so."""


class Side:
    """One of the two units: its server, and a phone with its show open."""

    def __init__(self, server: Server, page: Page) -> None:
        self.server = server
        self.page = page
        self.phone = phone_at_work(page, server)
        fill(self.phone)
        self.show = page.evaluate(SHOW)

    def van(self) -> float:
        """Seconds until the van's screen stands."""
        return float(self.page.evaluate(SEEN, ["#/van/pack", "svg.van"])) / 1000

    def count(self) -> float:
        """Seconds of one count."""
        if COUNT not in self.page.url:
            self.phone.to(f"count/{COUNT}")
        return float(self.page.evaluate(COUNTED, "HEAD-2, Pan head 2")) / 1000

    def report(self) -> float:
        """Seconds that the report takes at a prompt."""
        begun = time.perf_counter()
        out = self.server.data.parent / "report.pdf"
        command = (*HANDLINE, "handover", self.show, str(out))
        subprocess.run(
            command, cwd=self.server.root, env=self.server.environ, check=True, capture_output=True
        )
        return time.perf_counter() - begun


ASKED: dict[str, tuple[Callable[[Side], float], int]] = {
    "van's screen": (Side.van, 25),
    "one count": (Side.count, 25),
    "report": (Side.report, 5),
}
"""What is measured, and in how many pairs: one unit right after the other, so that a busy machine slows both."""


def house(folder: Path) -> Path:
    """A copy of the house whose demo is the large unit."""
    root = folder / "house"
    for part in ("server", "static", "templates", "checklists"):
        shutil.copytree(
            ROOT / part, root / part, ignore=shutil.ignore_patterns("node_modules", "__pycache__")
        )
    shutil.rmtree(root / "checklists" / "demo-unit")
    grow(ROOT / "checklists" / "demo-unit", root / "checklists" / "demo-unit")
    return root


def told(what: str, pairs: list[tuple[float, float]]) -> str:
    """A line: the medians, and the median of the pairs' ratios against the limit."""
    demo, large = (statistics.median(one) for one in zip(*pairs, strict=True))
    ratio = statistics.median(large / demo for demo, large in pairs)
    word = "within" if ratio <= LIMIT else "beyond"
    return f"{what}: demo {demo:.3f} s, large {large:.3f} s, ratio {ratio:.2f}, {word} {LIMIT}"


def main() -> None:
    """Print both times and their ratio for each."""
    with ExitStack() as stack:
        playwright = stack.enter_context(sync_playwright())
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        stack.callback(browser.close)
        sides = []
        for name, root in (("demo", ROOT), ("large", house(folder))):
            (folder / name).mkdir()
            server = stack.enter_context(serving(folder / name, root))
            sides.append(Side(server, browser.new_context(viewport={"width": 390, "height": 844}).new_page()))
        demo, large = sides
        for what, (once, number) in ASKED.items():
            print(told(what, [(once(demo), once(large)) for _ in range(number)]))


if __name__ == "__main__":
    main()
