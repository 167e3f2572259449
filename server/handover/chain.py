"""A position's chain drawn as a line: lens, body, the drums of its run, control unit."""

from collections.abc import Sequence

from . import pen

WIDTH, HEIGHT = 520.0, 78.0


def chain_view(lens: str, body: str, run: Sequence[tuple[str, float | None]], control: str) -> str:
    """The SVG of a chain. `run` is the drums in order, each tag with its length in metres if known."""
    start, end = 186.0, 420.0
    drums = []
    step = (end - start) / (len(run) + 1)
    for place, (tag, length_m) in enumerate(run, start=1):
        x = start + place * step
        radius = 7 + min(12.0, (length_m or 0) / 25)
        drums.append(pen.ring(x, 32, radius))
        drums.append(pen.text(x, 64, tag, _fit(tag, step, 12), anchor="middle"))
        if length_m is not None:
            drums.append(pen.text(x, 76, f"{length_m:g} m", 10, fill=pen.SOFT, anchor="middle"))
    return pen.drawing(
        WIDTH,
        HEIGHT,
        pen.rope_across(94, 32, 10),
        pen.rope_across(start, 32, end - start)
        if run
        else pen.line(f"M{start} 32H{end}", width=2, dash="2 6"),
        _box(4, "lens", lens),
        _box(102, "body", body),
        *drums,
        _box(420, "control", control),
    )


def _box(x: float, name: str, tag: str) -> str:
    frame = pen.line(f"M{x:g} 14h92v36h-92z", width=2.6, fill=pen.SHEET)
    words = tag or "not assigned"
    return (
        frame
        + pen.text(x + 46, 37, words, _fit(words, 86, 14), anchor="middle")
        + pen.text(x + 46, 64, name, 12, fill=pen.SOFT, anchor="middle")
    )


def _fit(words: str, width: float, largest: float) -> float:
    return min(largest, width / max(1, len(words)) / 0.56)
