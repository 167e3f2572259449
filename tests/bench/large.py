"""A thousand kinds of kit in twelve vehicles against the demo: the van's screen, one count, the report, as ratios."""

import shutil
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.bench.large_unit import grow
from tests.browser.conftest import CHROMIUM, HANDLINE, ROOT, Server, serving
from tests.browser.show_at_work import fill, phone_at_work

LIMIT = 1.5
REPEATS = 7
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


def measured(server: Server, page: Page) -> dict[str, float]:
    """Median seconds of the van's screen and of one count, and the best of two reports."""
    phone = phone_at_work(page, server)
    fill(phone)
    show = page.evaluate(SHOW)

    def median(once: Callable[[], float]) -> float:
        return statistics.median(once() for _ in range(REPEATS)) / 1000

    van = median(lambda: page.evaluate(SEEN, ["#/van/pack", "svg.van"]))
    phone.to(f"count/{COUNT}")
    count = median(lambda: page.evaluate(COUNTED, "HEAD-2, Pan head 2"))
    return {"van's screen": van, "one count": count, "report": min(report(server, show) for _ in range(1))}


def report(server: Server, show: str) -> float:
    """Seconds that the report takes at a prompt."""
    begun = time.perf_counter()
    out = server.data.parent / "report.pdf"
    command = (*HANDLINE, "handover", show, str(out))
    subprocess.run(command, cwd=server.root, env=server.environ, check=True, capture_output=True)
    return time.perf_counter() - begun


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


def main() -> None:
    """Print both times and their ratio for each."""
    found = []
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        for name, root in (("demo", ROOT), ("large", house(Path(folder)))):
            data = Path(folder) / name
            data.mkdir()
            with serving(data, root) as server:
                page = browser.new_context(viewport={"width": 390, "height": 844}).new_page()
                found.append(measured(server, page))
                page.context.close()
        browser.close()
    demo, large = found
    for what, seconds in demo.items():
        ratio = large[what] / seconds
        word = "within" if ratio <= LIMIT else "beyond"
        print(f"{what}: demo {seconds:.3f} s, large {large[what]:.3f} s, ratio {ratio:.2f}, {word} {LIMIT}")


if __name__ == "__main__":
    main()
