"""A figure of the arithmetic, dressed for paper: a drawing in a PDF takes colours from its own style sheet alone."""

from functools import cache
from pathlib import Path

STYLE = Path(__file__).parents[2] / "templates" / "handover" / "figure.css"


@cache
def _style() -> str:
    return f"<style>{STYLE.read_text(encoding='utf-8')}</style>"


def on_paper(svg: str) -> str:
    """The SVG of `register.drawing` with the paper's colours and typeface in it."""
    return svg.replace("</desc>", f"</desc>{_style()}", 1)
