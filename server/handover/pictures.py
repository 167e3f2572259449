"""Pictures from people, as they may be printed: drawn anew, so that nothing but the picture is left of them."""

from io import BytesIO

from PIL import Image

LARGEST = (1200, 600)


def drawn_name(octets: bytes) -> bytes | None:
    """A drawn name as a PNG made anew, without metadata; None where the file is no picture."""
    try:
        with Image.open(BytesIO(octets), formats=["PNG"]) as picture:
            picture.thumbnail(LARGEST)
            on_paper = Image.new("RGB", picture.size, "white")
            whole = picture.convert("RGBA")
            on_paper.paste(whole, mask=whole.getchannel("A"))
    except (OSError, ValueError, Image.DecompressionBombError):
        return None
    out = BytesIO()
    on_paper.save(out, "PNG")
    return out.getvalue()
