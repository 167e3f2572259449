"""How a phone comes to trust the truck's server: a page in plain words, the authority's file, codes to scan.

The same pages stand in the app, and alone on a port of their own by plain HTTP, for phones that do not trust it
yet. What comes by plain HTTP can be changed on its way: the fingerprint is compared with the truck's screen.
"""

import segno
from cryptography.hazmat.primitives import serialization
from flask import Blueprint, Flask, Response, current_app, redirect, render_template_string, request
from markupsafe import Markup
from werkzeug.exceptions import NotFound

from server.shell import ROOT
from server.truck import Truck

TRUCK = "HANDLINE_TRUCK"
"""The name in an app's configuration of the Truck that it serves; none behind a reverse proxy."""

pages = Blueprint("trust", __name__)


def page_of_its_own(truck: Truck) -> Flask:
    """An app of nothing but these pages; every other address leads to them."""
    app = Flask(__name__, static_folder=None)
    app.config[TRUCK] = truck
    app.register_blueprint(pages)
    app.register_error_handler(404, lambda _: redirect("/trust"))
    return app


@pages.get("/trust")
def show_page() -> str:
    """The page; where a public authority vouches for this server it says that there is nothing to do."""
    truck = _truck()
    return render_template_string(
        (ROOT / "templates" / "trust.html").read_text(),
        truck=truck,
        site=truck.site if truck else current_app.config["HANDLINE_SITE"],
        codes=[_code(truck.trust_page), _code(truck.site)] if truck else [],
    )


@pages.get("/trust/look.css")
def show_look() -> Response:
    """The page's look: the app's tokens, then what only this page has."""
    style = ROOT / "static" / "style"
    text = (style / "tokens.css").read_text() + (style / "trust.css").read_text()
    return Response(text, mimetype="text/css")


@pages.get("/trust/handline.crt")
def show_authority() -> Response:
    """The authority's certificate, which phones offer to install."""
    truck = _truck()
    if truck is None:
        raise NotFound
    der = truck.authority.certificate.public_bytes(serialization.Encoding.DER)
    return Response(der, mimetype="application/x-x509-ca-cert")


@pages.after_request
def _guard(response: Response) -> Response:
    fonts = "font-src 'self'; " if request.is_secure else ""  # the plain port has none
    response.headers["Content-Security-Policy"] = (
        f"default-src 'none'; style-src 'self'; {fonts}base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cache-Control"] = "no-store"
    return response


def _truck() -> Truck | None:
    truck: Truck | None = current_app.config.get(TRUCK)
    return truck


def _code(address: str) -> dict[str, str]:
    svg = segno.make(address, error="m").svg_inline(omitsize=True, border=4, light="#fff", title=address)
    return {"address": address, "svg": Markup(svg)}  # noqa: S704 - made here, from an address made here
