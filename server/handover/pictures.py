"""Pictures from people, as they may be printed: drawn anew, so that nothing but the picture is left of them.

A file is what its octets say and not what its name says; how many pixels it would unpack to is read from its head
and judged before any of them is unpacked.
"""

import warnings
from dataclasses import dataclass
from io import BytesIO

from PIL import Image, ImageFile, ImageOps

NAME_PIXELS = 4_000_000
"""A drawn name is drawn on a phone's screen: more than this is none."""
PHOTO_PIXELS = 50_000_000
NAME_SIZE = (1200, 600)
PHOTO_SIZE = (720, 720)


@dataclass(frozen=True)
class Picture:
    """A picture as printed, or why there is none: `octets` are None then, and `says` is the reason."""

    octets: bytes | None
    says: str = ""


NOT_ARRIVED = Picture(None, "photo not arrived")


class _Unfit(ValueError):  # noqa: N818 - said of the file
    """The file cannot be printed; the message says why."""


def drawn_name(octets: bytes) -> Picture:
    """A drawn name as a PNG made anew, without metadata."""
    return _printed(octets, ["PNG"], NAME_PIXELS, NAME_SIZE, "PNG")


def photo(octets: bytes) -> Picture:
    """A photo as a JPEG made anew, upright, without metadata, no larger than paper shows."""
    return _printed(octets, ["JPEG", "PNG", "WEBP"], PHOTO_PIXELS, PHOTO_SIZE, "JPEG")


def _printed(octets: bytes, known: list[str], pixels: int, size: tuple[int, int], form: str) -> Picture:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of what a hostile file asks; it is judged here instead
            return Picture(_anew(octets, known, pixels, size, form))
    except _Unfit as fault:
        return Picture(None, str(fault))
    except Exception:  # a decoder of hostile octets raises whatever it likes
        return Picture(None, f"its file is no picture that can be read ({' or '.join(known)})")


def _anew(octets: bytes, known: list[str], pixels: int, size: tuple[int, int], form: str) -> bytes:
    ImageFile.LOAD_TRUNCATED_IMAGES = (
        False  # WeasyPrint, once imported, lets half a picture pass for a whole one
    )
    with Image.open(BytesIO(octets), formats=known) as picture:
        width, height = picture.size
        if width * height > pixels:
            raise _Unfit(
                f"its file claims {width} by {height} pixels, and {pixels // 10**6} million are printed at most"
            )
        picture.draft("RGB", size)
        picture.thumbnail(size)
        whole = ImageOps.exif_transpose(picture).convert("RGBA")
    on_paper = Image.new("RGB", whole.size, "white")
    on_paper.paste(whole, mask=whole.getchannel("A"))
    out = BytesIO()
    on_paper.save(out, form, **({"quality": 72} if form == "JPEG" else {}))
    return out.getvalue()
