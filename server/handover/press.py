"""The press: run as a process of its own, which reads an order and writes a PDF, within limits and nothing else.

The order is JSON on standard input, `{html, record, resources}`, octets in base64. What the pages name is served
from `resources` and from nowhere else.
"""

import base64
import json
import resource
import sys
from datetime import UTC, datetime
from io import BytesIO
from urllib.parse import urlsplit

from weasyprint import HTML, Attachment
from weasyprint.urls import URLFetcher, URLFetcherResponse

from server.handover import RECORD

MOST_MEMORY = 3 * 1024**3
MOST_CPU_S = 220
SAME_DAY = datetime(2000, 1, 1, tzinfo=UTC)
"""The attachment's dates: no clock is read, so that the same order gives the same bytes."""

TYPES = {
    ".woff2": "font/woff2",
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
}


class _Known(URLFetcher):  # type: ignore[misc]  # WeasyPrint carries no types
    """Serves the resources of one order."""

    def __init__(self, resources: dict[str, bytes]) -> None:
        super().__init__()
        self._resources = resources

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        """The octets of a known address. Raises ValueError for any other."""
        del headers
        parts = urlsplit(url)
        if parts.scheme != "handline" or parts.path not in self._resources:
            raise ValueError(f"{url} is not of this report")
        kind = TYPES["." + parts.path.rpartition(".")[2]]
        return URLFetcherResponse(url, self._resources[parts.path], {"Content-Type": kind})


def print_order(order: dict[str, object]) -> bytes:
    """The PDF of an order."""
    resources = order["resources"]
    if not isinstance(resources, dict):
        raise TypeError("an order's resources are an object")
    known = {str(name): base64.b64decode(packed) for name, packed in resources.items()}
    record = base64.b64decode(str(order["record"]))
    attached = Attachment(
        file_obj=BytesIO(record),
        name=RECORD,
        description="The full record: entries and cards verbatim, and the definitions",
        relationship="Source",
        created=SAME_DAY,
        modified=SAME_DAY,
    )
    page = HTML(string=str(order["html"]), base_url="handline:/", url_fetcher=_Known(known))
    octets = page.write_pdf(
        pdf_variant="pdf/a-3a", pdf_tags=True, attachments=[attached], pdf_identifier=b"handline-report"
    )
    if not isinstance(octets, bytes):
        raise TypeError("the press gave no octets")
    return octets


def main() -> None:
    """Read an order, write its PDF."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_CPU_S, MOST_CPU_S))
    sys.stdout.buffer.write(print_order(json.load(sys.stdin)))


if __name__ == "__main__":
    main()
