"""The report's pages: HTML from a template, printed as PDF/A-3a in a child process with limits on time and memory."""

import base64
import hashlib
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from server.handover import HEADS, rope
from server.handover.figures import on_paper

TEMPLATES = Path(__file__).parents[2] / "templates" / "handover"
FONTS = Path(__file__).parents[2] / "static" / "vendor" / "fonts"
FACES = {
    "read-400.woff2": "atkinson-400.woff2",
    "read-700.woff2": "atkinson-700.woff2",
    "stencil.woff2": "saira-stencil-400.woff2",
}
LONGEST_S = 240
PNG = b"\x89PNG"


class CannotPrint(Exception):  # noqa: N818 - said to whoever asked for the report, by this name
    """The pages could not be made; the message says why and what to do."""


class _Resources:
    """Every octet that the pages may show, by an address that stands for nothing outside."""

    def __init__(self) -> None:
        self.held = {name: (FONTS / file).read_bytes() for name, file in FACES.items()}
        self.held["report.css"] = (TEMPLATES / "report.css").read_bytes()
        self.held |= {f"{name}.svg": svg.encode() for name, svg in rope.marks().items()}

    def drawing(self, svg: str, *, figure: bool = False) -> str:
        """The address of a drawing; a computation's figure wears the style of figures."""
        octets = (on_paper(svg) if figure else svg).encode()
        name = f"{hashlib.sha256(octets).hexdigest()[:32]}.svg"
        self.held[name] = octets
        return f"handline:{name}"

    def picture(self, octets: bytes) -> str:
        """The address of a picture that was drawn anew: PNG or JPEG."""
        form = "png" if octets.startswith(PNG) else "jpg"
        name = f"{hashlib.sha256(octets).hexdigest()[:32]}.{form}"
        self.held[name] = octets
        return f"handline:{name}"


def pages(report: dict[str, Any], record: bytes) -> bytes:
    """The report as PDF with its record attached; the same for the same input.

    Raises CannotPrint.
    """
    try:
        resources = _Resources()
    except OSError as fault:
        raise CannotPrint(f"a typeface is missing ({fault}): run `make setup`") from None
    template = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    ).get_template("report.html")
    html = template.render(report | HEADS | {"drawing": resources.drawing, "show": resources.picture})
    order = {
        "html": html,
        "record": base64.b64encode(record).decode(),
        "resources": {name: base64.b64encode(held).decode() for name, held in resources.held.items()},
    }
    command = (sys.executable, "-m", "server.handover.press")
    try:
        done = subprocess.run(  # noqa: S603 - this program's own press
            command, input=json.dumps(order).encode(), capture_output=True, timeout=LONGEST_S, check=False
        )
    except subprocess.TimeoutExpired:
        raise CannotPrint(f"the pages took longer than {LONGEST_S} s; nothing was printed") from None
    if done.returncode != 0 or not done.stdout.startswith(b"%PDF"):
        last = done.stderr.decode(errors="replace").strip().splitlines()[-1:]
        raise CannotPrint(f"the pages could not be made: {' '.join(last) or 'the press was stopped'}")
    return done.stdout
