"""The arithmetic inside a browser's WebAssembly answers as CPython does: words equal, figures to 1e-9."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from server import pack
from tests.browser.conftest import OpenPhone, Server
from tests.browser.webkit import display, webkit_driver
from tests.trade.test_vectors import difference

pytestmark = pytest.mark.browser

VECTORS = Path(__file__).parents[1] / "trade" / "vectors"
ANSWERS = """async (pairs) => {
  const { assess, BadInput } = await import("/static/trade/core.js");
  const answers = [];
  for (const [name, input] of pairs) {
    answers.push(await assess(name, input).catch((error) => {
      if (error instanceof BadInput) return { problems: error.problems };
      throw error;
    }));
  }
  return answers;
}"""
IN_WEBKIT = f"""
const [pairs, done] = arguments;
({ANSWERS})(pairs).then((answers) => done(JSON.stringify(answers)), (error) => done(JSON.stringify([String(error)])));
"""


def vectors() -> list[tuple[str, dict[str, Any]]]:
    """Each computation's name with each of its written pairs of input and answer."""
    paths = sorted(VECTORS.glob("*.json"))
    return [(path.stem, pair) for path in paths for pair in json.loads(path.read_text())]


def differences(answers: list[Any]) -> list[str]:
    """Where the answers differ from those written, in words."""
    found = [
        (f"{name}, {pair['about']}", difference(pair["answer"], answer))
        for (name, pair), answer in zip(vectors(), answers, strict=True)
    ]
    return [f"{about}: {where}" for about, where in found if where]


def asked() -> list[tuple[str, Any]]:
    """What a browser is asked, in the same order."""
    return [(name, pair["input"]) for name, pair in vectors()]


def answered_in(page: Page) -> list[Any]:
    answers: list[Any] = page.evaluate(ANSWERS, asked())
    return answers


@pytest.mark.parametrize("name", sorted(pack.files()))
def test_the_phone_has_the_arithmetic_of_this_source(name: str) -> None:
    path = pack.CORE / name
    assert path.exists() and path.read_bytes() == pack.files()[name], "run make setup"


def test_chromium_answers_as_written(server: Server, open_phone: OpenPhone) -> None:
    page = open_phone("ana").pages[0]
    page.goto(server.site)
    assert len(vectors()) >= 4 * len({name for name, _ in vectors()}) > 40
    assert differences(answered_in(page)) == []


def test_webkit_answers_as_written(server: Server, tmp_path: Path) -> None:
    with display() as screen:
        driver = webkit_driver(tmp_path / "webkit", screen)
        try:
            driver.get(server.site)
            answers = json.loads(driver.execute_async_script(IN_WEBKIT, asked()))
        finally:
            driver.quit()
    assert differences(answers) == []
