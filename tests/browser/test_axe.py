"""Every screen, day and night, at the narrowest phone: no violation that axe-core finds, nothing too small."""

import re
from pathlib import Path

import pytest

from tests.browser.conftest import ROOT, OpenPhone, Server
from tests.browser.show_at_work import fill, phone_at_work

pytestmark = pytest.mark.browser

AXE = Path(ROOT / "static/node_modules/axe-core/axe.min.js")
# WCAG 2.0, 2.1 and 2.2, levels A and AA, by axe-core's tags, and its best practices.
RUN = """async () => {
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const { violations } = await axe.run(document, { runOnly: tags });
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(" | ")}`);
}"""
# What is touched, as high as it is drawn; a radio button is touched by its label.
LOW = """() => [...document.querySelectorAll(
  "button, select, textarea, input:not([type=radio], [type=checkbox], [type=file]), "
  + "label.option, label.file, a.act, a.slip, a.row-text, .head a, .edge a")]
  .filter((target) => target.getBoundingClientRect().height < 56)
  .map((target) => target.outerHTML.slice(0, 120))"""
# A link that stands alone, and not within a sentence.
NARROW = """() => [...document.querySelectorAll("#app a, #app summary, #app button")]
  .filter((target) => !target.closest("svg") && !target.closest("p:not(.do)"))
  .filter((target) => {
    const { width, height } = target.getBoundingClientRect();
    return width > 0 && Math.min(width, height) < 48;
  })
  .map((target) => target.outerHTML.slice(0, 120))"""
SMALL = """() => [...document.querySelectorAll("#app *:not(title, desc)")]
  .filter((element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
  .filter((element) => {
    const svg = element.closest("svg");
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    return parseFloat(getComputedStyle(element).fontSize) * scale < 15.9;
  })
  .map((element) => element.outerHTML.slice(0, 120))"""
WIDER = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"

SCREENS = [
    "",
    *(f"van/{stage}" for stage in ("pack", "travel", "de-rig", "stow")),
    *(f"positions/{stage}" for stage in ("rig", "line-up", "on-air")),
    "position/3",
    "sheet/position/2/rig",
    "sheet/position/3/on-air",
    "sheet/locker/L2/de-rig",
    "sheet/truck/rig",
    "step/position/2/rig/pads",
    "step/position/2/rig/column-pinned",
    "settle/position/2/rig/pads",
    "sign/position/2/rig",
    "count/locker/L2/de-rig/count",
    "count/locker/L3/de-rig/count",
    "reading/truck/rig/supply",
    "photo/position/2/rig/pads",
    "remark/position/2/rig/pads",
    "event/position/3",
    "fault/position/3",
    "given-up/4",
    "chain/2",
    "gear/1",
    "change",
    "change/SLING-2",
    "change-list/L1",
    "due",
    "labels",
    "loading/VAN",
    "reconcile",
    "register",
    "k/CAB-009",
    "reading/vehicle/VAN/pack/load-figured",
    "kit/CAB-009",
    "locker/L3",
    "tags/VAN",
    "k/NO-SUCH-TAG",
    "unsent",
    "hand-in",
    "hand-over",
    "accept",
    "accept/L2",
    "accept-report",
    "crew",
    "make-show",
    "amend",
    "shows",
    "settings",
    "people",
    "join",
    "no-such-screen",
]


def test_every_screen_is_looked_at() -> None:
    paths = re.findall(r'path: "([^"]*)"', (ROOT / "static" / "screens" / "routes.js").read_text())
    assert len(paths) > 30
    assert set(paths) - {path.split("/")[0] for path in SCREENS} == set()


@pytest.mark.parametrize("look", ["light", "dark"])
def test_no_screen_keeps_anybody_out(look: str, server: Server, open_phone: OpenPhone) -> None:
    page = open_phone("ana").pages[0]
    page.set_viewport_size({"width": 320, "height": 780})
    page.emulate_media(color_scheme="dark" if look == "dark" else "light")
    phone = phone_at_work(page, server)
    fill(phone)
    found: dict[str, list[str]] = {}
    for path in SCREENS:
        phone.to(path)
        page.evaluate(AXE.read_text())
        faults = [*page.evaluate(RUN), *page.evaluate(LOW), *page.evaluate(NARROW), *page.evaluate(SMALL)]
        if page.evaluate(WIDER) > 0:
            faults.append("wider than the phone")
        if faults:
            found[path] = faults
    assert found == {}
