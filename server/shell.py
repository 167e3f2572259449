"""What a browser fetches before anything else: the shell page, its policy, the service worker, the files.

The list that the service worker caches is read from the folder itself, each file with the SHA-256 of its
content, so that it cannot fall behind what is served.
"""

import base64
import hashlib
import json
from functools import lru_cache
from pathlib import Path

from flask import Blueprint, Response, current_app, send_from_directory
from werkzeug.exceptions import NotFound

ROOT = Path(__file__).parent.parent
STATIC = ROOT / "static"
SERVED = {
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".css": "text/css",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".wasm": "application/wasm",
    ".zip": "application/zip",
}
"""What is served by its ending; anything else in the folder is nobody's."""

TOOLS = {"vendor.mjs", "package.json", "package-lock.json", "tsconfig.json", "biome.json", "importmap.json"}
LARGE = ("vendor/pyodide/", "vendor/pdfjs/", "vendor/barcode/", "core/")
"""What the phone can start without: cached file by file, in the background."""

PAGES = ("/", "/join", "/k/<tag>")

shell = Blueprint("shell", __name__)


def served_files() -> list[str]:
    """Names below static/ that are served, sorted."""
    names = (path.relative_to(STATIC).as_posix() for path in STATIC.rglob("*") if path.suffix in SERVED)
    return sorted(name for name in names if is_served(name))


def is_served(name: str) -> bool:
    """Whether a file of that name below static/ is for browsers, by its name alone."""
    first = name.split("/", 1)[0]
    return first != "node_modules" and name not in TOOLS and Path(name).suffix in SERVED


@lru_cache(maxsize=2048)
def _digest(path: Path, _changed_ns: int) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def digest_of(name: str) -> str:
    """SHA-256 in hex of a served file's bytes; read again only when its time of change moved."""
    path = STATIC / name
    return _digest(path, path.stat().st_mtime_ns)


def page() -> str:
    """The shell with its import map written in: policies allow one inline script, by its hash."""
    html = (ROOT / "templates" / "shell.html").read_text()
    return html.replace("{{ importmap }}", _import_map())


def _import_map() -> str:
    return json.dumps(json.loads((STATIC / "importmap.json").read_text()), separators=(",", ":"))


def policy() -> str:
    """The Content-Security-Policy of the shell and of every file it loads (workers obey their own)."""
    digest = base64.b64encode(hashlib.sha256(_import_map().encode()).digest()).decode()
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src 'self' 'wasm-unsafe-eval' 'sha256-{digest}'",
            "connect-src 'self'",
            "worker-src 'self'",
            "manifest-src 'self'",
            "style-src 'self'",
            "font-src 'self'",
            "img-src 'self' blob:",
            "media-src 'self' blob:",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-ancestors 'none'",
            "require-trusted-types-for 'script'",
            "trusted-types handline",
        )
    )


def listing() -> dict[str, object]:
    """What the worker caches: `version` (hex), `shell` and `core`, each `[{url, sha256}]`, sha256 in hex."""
    html = page().encode()
    files = [{"url": f"/static/{name}", "sha256": digest_of(name)} for name in served_files()]
    large = tuple(f"/static/{name}" for name in LARGE)
    small = [
        {"url": "/", "sha256": hashlib.sha256(html).hexdigest()},
        *(file for file in files if not file["url"].startswith(large)),
    ]
    version = hashlib.sha256(json.dumps([small, policy()]).encode()).hexdigest()
    core = [file for file in files if file["url"].startswith(large)]
    return {"version": version, "shell": small, "core": core}


def guarded(response: Response) -> Response:
    """The response with the headers that everything of the shell carries."""
    response.headers["Content-Security-Policy"] = policy()
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cache-Control"] = "no-cache"
    return response


def show_page(tag: str = "") -> Response:
    """The app, whichever of its addresses was opened; the script reads the address itself."""
    del tag
    return guarded(Response(page(), mimetype="text/html"))


for _rule in PAGES:
    shell.add_url_rule(_rule, view_func=show_page)


@shell.get("/sw.js")
def show_worker() -> Response:
    """The service worker with its list in front, so that any change of a file makes a new worker.

    A file `withdraw-worker` in the data folder puts in its place the one that removes itself.
    """
    data = Path(current_app.config["HANDLINE_DATA"])
    if (data / "withdraw-worker").exists():
        script = (STATIC / "withdraw.js").read_text()
    else:
        script = f"self.LIST = {json.dumps(listing())};\n" + (STATIC / "sw.js").read_text()
    return guarded(Response(script, mimetype="text/javascript"))


@shell.get("/manifest.webmanifest")
def show_manifest() -> Response:
    """What the phone shows on its Home Screen."""
    text = (ROOT / "templates" / "manifest.webmanifest").read_text()
    return guarded(Response(text, mimetype="application/manifest+json"))


@shell.get("/static/<path:name>")
def show_file(name: str) -> Response:
    """One file of the app; tooling and what npm installed are not served."""
    if not is_served(name):
        raise NotFound
    response = send_from_directory(STATIC, name, mimetype=SERVED[Path(name).suffix], etag=digest_etag(name))
    return guarded(response)


def digest_etag(name: str) -> str | bool:
    """The file's SHA-256 as its entity tag; where there is no such file, whatever the sender does."""
    return digest_of(name) if (STATIC / name).is_file() else True
