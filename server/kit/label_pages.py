"""Labels as pages: a code that opens the thing in the app, its tag in letters that are read across a field.

Imported where labels are printed and not before: its library's import takes longer than all of the server's start.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import segno
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from weasyprint import HTML
from weasyprint.urls import URLFetcher, URLFetcherResponse

from server.kit.labels import CannotLabel, Label
from server.kit.papers import Paper

TEMPLATES = Path(__file__).parents[2] / "templates" / "labels"
FONTS = Path(__file__).parents[2] / "static" / "vendor" / "fonts"
FACES = {
    "read.woff2": "atkinson-400.woff2",
    "read-ext.woff2": "atkinson-ext-400.woff2",
    "stencil.woff2": "saira-stencil-400.woff2",
}
MOST = 1200
"""As many labels as are printed at once."""

PAD_MM = 1.5
STENCIL_WIDTH = 0.66
"""Width of a letter of the stencil face over its size, on average, as measured from the face."""


def print_labels(labels: Sequence[Label], paper: Paper, site: str, skip: int = 0) -> bytes:
    """The labels as PDF; on the first page `skip` labels are left empty, being used already.

    Raises CannotLabel.
    """
    if not labels:
        raise CannotLabel("there is nothing to label: ask for lockers, kit or drums, or name tags")
    if len(labels) > MOST:
        raise CannotLabel(f"at most {MOST} labels are printed at once, not {len(labels)}: ask for fewer")
    if not 0 <= skip < paper.on_a_page:
        raise CannotLabel(
            f"skip from 0 to {paper.on_a_page - 1} labels: {paper.name} has {paper.on_a_page} a page"
        )
    placed = [_placed(label, paper, site, place + skip) for place, label in enumerate(labels)]
    pages = [[label for label in placed if label["page"] == page] for page in range(placed[-1]["page"] + 1)]
    template = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    ).get_template("labels.html")
    html = template.render(paper=paper, pages=pages, faces=list(FACES))
    octets = HTML(string=html, base_url="handline:/", url_fetcher=_Faces()).write_pdf(
        pdf_identifier=b"handline-labels"
    )
    return bytes(octets)


def address(site: str, tag: str) -> str:
    """What a label's code says: a plain address of the app."""
    return f"{site}/k/{tag}"


def _placed(label: Label, paper: Paper, site: str, place: int) -> dict[str, Any]:
    page, on_page = divmod(place, paper.on_a_page)
    left, top = paper.at(on_page)
    wide, high = (side - 2 * PAD_MM for side in paper.label_mm)
    upright = high > 0.9 * wide
    code = min(wide, high * 0.6) if upright else min(high, wide * 0.45)
    words = wide if upright else wide - code - PAD_MM
    size = max(2.2, min(words / (STENCIL_WIDTH * len(label.tag)), high * (0.2 if upright else 0.42), 24))
    return {
        "page": page,
        "left": left,
        "top": top,
        "upright": upright,
        "code_mm": code,
        "words_mm": words,
        "size_mm": size,
        "text_mm": max(1.6, min(high * 0.085, wide * 0.05, 4)),
        "tag": label.tag,
        "name": label.name,
        "more": label.more,
        "svg": segno.make(address(site, label.tag), micro=False, error="m").svg_inline(
            omitsize=True, border=4, light="#fff"
        ),
    }


class _Faces(URLFetcher):  # type: ignore[misc]  # WeasyPrint carries no types
    """Serves the typefaces and nothing else."""

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        """The octets of a face. Raises ValueError for any other address."""
        del headers
        name = url.removeprefix("handline:/").removeprefix("handline:")
        if name not in FACES:
            raise ValueError(f"{url} is no typeface of the labels")
        return URLFetcherResponse(url, (FONTS / FACES[name]).read_bytes(), {"Content-Type": "font/woff2"})
