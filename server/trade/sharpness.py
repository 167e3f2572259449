"""The house limit for sharp, asked for and explained in one way wherever it is used."""

from __future__ import annotations

from server.trade.declare import quantity
from server.trade.errors import InputError
from server.trade.fields import shown
from server.trade.thin_lens import blur_circle


def image_height_mm() -> float:
    """Declares the height of the picture on the sensor or target."""
    height: float = quantity(
        "picture height on the sensor", "mm", 1, 40,
        "2/3 inch 16:9: 5.4; 2/3 inch 4:3: 6.6; 1 inch tube: 9.6; 30 mm tube: 12.8",
    )  # fmt: skip
    return height


def active_lines() -> float | None:
    """Declares the number of lines that sets the blur circle."""
    lines: float | None = quantity(
        "active lines", "lines", 100, 5000,
        "1080, 575 or 485; one line of these is the blur circle", default=None, whole=True,
    )  # fmt: skip
    return lines


def blur_circle_mm() -> float | None:
    """Declares the blur circle, for who knows better than one line."""
    blur: float | None = quantity(
        "blur circle", "mm", 0.0005, 0.5,
        "instead of the active lines: the largest blur on the sensor that still counts as sharp",
        default=None,
    )  # fmt: skip
    return blur


def one_of_two(lines: float | None, blur_mm: float | None) -> None:
    """Raises InputError unless exactly one of the two is given."""
    if lines is None and blur_mm is None:
        raise InputError(("active_lines", "is missing; give it (100 to 5000 lines), or blur_circle_mm in mm"))
    if lines is not None and blur_mm is not None:
        raise InputError(("blur_circle_mm", "is given beside active_lines; give one of the two"))


def blur_mm(height_mm: float, lines: float | None, given_mm: float | None) -> float:
    """The blur circle in mm, given or one line of the picture."""
    return given_mm if given_mm is not None else blur_circle(height_mm, lines or 0)


def blur_basis(height_mm: float, lines: float | None, given_mm: float | None) -> str:
    """What the blur circle is, with the line count beside it, and whose limit."""
    blur_um = shown(1000 * blur_mm(height_mm, lines, given_mm))
    if given_mm is not None:
        return f"Blur circle {blur_um} um, as given: a house limit, editable."
    return (
        f"Blur circle {blur_um} um, one line of {shown(lines or 0)} in {shown(height_mm)} mm: "
        "a house limit, editable."
    )
