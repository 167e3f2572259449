"""The sheet a figure is drawn on: words and strokes one below the other, with a title and a description."""

from __future__ import annotations

from collections.abc import Sequence

from server.trade import figure as pen
from server.trade.answer import Assessment, Verdict


class Sheet:
    """A figure in the making: words and strokes, one below the other."""

    def __init__(self) -> None:
        self._height = pen.EDGE
        self._drawn: list[str] = []

    def put(self, height: float, *strokes: str) -> None:
        """Strokes, their origin at the left edge below what is there."""
        self._drawn.append(pen.moved(0, self._height, *strokes))
        self._height += height

    def say(self, text: str, *, tone: str = "ink", heavy: bool = False) -> None:
        """Words over the whole width."""
        for line in pen.wrapped(text, pen.WIDTH - 2 * pen.EDGE, heavy=heavy):
            self.put(pen.LEADING, pen.words(pen.EDGE, pen.SIZE, line, tone=tone, heavy=heavy))

    def verdict(self, answer: Assessment) -> None:
        """The verdict's words; what is beyond stands out."""
        beyond = answer.verdict in (Verdict.BEYOND, Verdict.FIGURES_BEYOND)
        spoken = f"{answer.words[0].upper()}{answer.words[1:]}."
        self.say(spoken, tone="alarm" if beyond else "ink", heavy=True)

    def gap(self, height: float = 8) -> None:
        """Room."""
        self._height += height

    def svg(self, title: str, described: Sequence[str]) -> str:
        """The document: its title, and the sentences that say to a listener what is drawn."""
        wide, high = pen.unit(pen.WIDTH), pen.unit(self._height + pen.EDGE)
        said = pen.plain(" ".join(described).replace(pen.FIRM, " "))
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="figure" role="img" viewBox="0 0 {wide} {high}" '
            f'width="{wide}" height="{high}" font-family="Arial, Helvetica, sans-serif" '
            f'font-size="{pen.unit(pen.SIZE)}">'
            f"<title>{pen.plain(title)}</title><desc>{said}</desc>{''.join(self._drawn)}</svg>\n"
        )
