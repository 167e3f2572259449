"""Packs the arithmetic for the phone: `static/core/trade.zip`, and the forms that show before Python is up.

Run as `python -m server.pack`, which `make setup` does. The same sources give the same bytes.
"""

import json
import zipfile
from io import BytesIO
from pathlib import Path

from server.trade.register import assessments, form

ROOT = Path(__file__).parent.parent
CORE = ROOT / "static" / "core"
SOURCES = ("server/__init__.py", "server/trade/*.py")
LONG_AGO = (1980, 1, 1, 0, 0, 0)


def trade_zip() -> bytes:
    """The arithmetic's own files, uncompressed (how zlib compresses differs by version)."""
    octets = BytesIO()
    with zipfile.ZipFile(octets, "w", zipfile.ZIP_STORED) as packed:
        for path in sorted(path for pattern in SOURCES for path in ROOT.glob(pattern)):
            packed.writestr(zipfile.ZipInfo(path.relative_to(ROOT).as_posix(), LONG_AGO), path.read_bytes())
    return octets.getvalue()


def forms_json() -> bytes:
    """What each computation asks, by its name."""
    forms = {name: form(name) for name in assessments()}
    return json.dumps(forms, ensure_ascii=False, separators=(",", ":")).encode()


def files() -> dict[str, bytes]:
    """Every file of static/core by name."""
    return {"forms.json": forms_json(), "trade.zip": trade_zip()}


def main() -> None:
    """Write what is not there as it should be."""
    CORE.mkdir(exist_ok=True)
    for name, octets in files().items():
        path = CORE / name
        if not path.exists() or path.read_bytes() != octets:
            path.write_bytes(octets)


if __name__ == "__main__":
    main()
