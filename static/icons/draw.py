"""Draws the PNG icons from handline.svg with the tests' Chromium: `python static/icons/draw.py`."""

from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
SIZES = (180, 192, 512)

with sync_playwright() as playwright:
    browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
    for size in SIZES:
        page = browser.new_page(viewport={"width": size, "height": size})
        svg = (HERE / "handline.svg").read_text()
        page.set_content(f"<style>body{{margin:0}}svg{{display:block;width:{size}px}}</style>{svg}")
        page.screenshot(path=HERE / f"handline-{size}.png")
    browser.close()
