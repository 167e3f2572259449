"""What the app needs to start is in the part that the service worker caches whole."""

import json
import re
from pathlib import PurePosixPath

from server.shell import LARGE, STATIC

STATIC_IMPORT = re.compile(
    r"""^\s*(?:import\s+(?:[^"'();]*?\sfrom\s+)?|export\s+(?:\*|\{[^}]*\})\s*from\s+)["']([^"']+)["']""",
    re.MULTILINE,
)
ADDRESS = "/static/"


def started_with(first: str) -> set[str]:
    """Every file of ours that a module loads before it runs, and the libraries that those name."""
    named: dict[str, str] = json.loads((STATIC / "importmap.json").read_text())["imports"]
    found: set[str] = set()
    to_read = [first]
    while to_read:
        name = to_read.pop()
        if name in found:
            continue
        found.add(name)
        asked = [] if name.startswith("vendor/") else STATIC_IMPORT.findall((STATIC / name).read_text())
        to_read += [_resolved(named.get(one, one), name) for one in asked]
    return found


def _resolved(asked: str, by: str) -> str:
    if asked.startswith(ADDRESS):
        return asked.removeprefix(ADDRESS)
    parts: list[str] = []
    for part in (PurePosixPath(by).parent / asked).parts:
        parts = parts[:-1] if part == ".." else [*parts, part]
    return "/".join(parts)


def test_the_app_starts_without_what_is_cached_in_the_background() -> None:
    needed = started_with("app.js")
    assert "logbook/book.js" in needed
    assert "vendor/preact.mjs" in needed
    assert sorted(name for name in needed if name.startswith(LARGE)) == []
