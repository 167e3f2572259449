"""A server on the truck's network: how a phone comes to trust it, and that it then works with no signal."""

import base64
import hashlib
import ssl
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from socket import socket
from urllib.request import urlopen

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from playwright.sync_api import BrowserContext, Error, Page, Playwright, expect

from tests.browser.conftest import CHROMIUM, Server
from tests.browser.test_axe import AXE, LOW, RUN, SMALL, WIDER
from tests.browser.test_first_line import held, tick

pytestmark = pytest.mark.browser

HOST = "127.0.0.1"
"""An address as any other: Chromium asks for a certificate there too."""


class TruckServer(Server):
    """A server by HTTPS, with the page that says how to trust it on the next port."""

    def __init__(self, data: Path) -> None:
        super().__init__(data)
        with closing(socket()) as probe:
            probe.bind((HOST, 0))
            trust_port = int(probe.getsockname()[1])
        self.site = f"https://{HOST}:{self.port}"
        self.trust_page = f"http://{HOST}:{trust_port}/trust"
        self.options = ("--site", HOST, "--trust-port", str(trust_port))
        del self.environ["HANDLINE_SITE"]

    def ask(self) -> None:
        """As a phone does that trusts the authority and nobody else."""
        trusting = ssl.create_default_context(cafile=str(self.data / "trust" / "authority.pem"))
        urlopen(self.site + "/sw.js", timeout=10, context=trusting).close()  # noqa: S310 - the server just started

    def key_hash(self) -> str:
        """SHA-256 of the server's public key, as Chromium is told whom to believe."""
        leaf = x509.load_pem_x509_certificates((self.data / "trust" / "server.pem").read_bytes())[0]
        spki = leaf.public_key().public_bytes(
            serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
        )
        return base64.b64encode(hashlib.sha256(spki).digest()).decode()


@pytest.fixture
def truck(tmp_path: Path) -> Iterator[TruckServer]:
    running = TruckServer(tmp_path / "data")
    running.data.mkdir(mode=0o700)
    running.start()
    yield running
    running.stop()


@pytest.fixture
def phone(playwright: Playwright, truck: TruckServer, tmp_path: Path) -> Iterator[BrowserContext]:
    """A phone that believes the server's key, as one that trusts its authority would."""
    context = playwright.chromium.launch_persistent_context(
        tmp_path / "phone",
        executable_path=CHROMIUM,
        args=["--no-sandbox", f"--ignore-certificate-errors-spki-list={truck.key_hash()}"],
        viewport={"width": 390, "height": 844},
    )
    yield context
    context.close()


def fingerprint(page: Page) -> str:
    return page.locator(".number").inner_text().replace("\n", " ").replace(" ", "")


def test_enrolled_over_https_the_phone_works_with_the_network_cut(
    truck: TruckServer, phone: BrowserContext
) -> None:
    link = truck.invite("Ana", "rigger")["link"]
    assert link.startswith(f"{truck.site}/join#")
    page = phone.pages[0]
    page.goto(link)
    page.get_by_role("button", name="Make this phone mine").click()
    expect(page.get_by_role("contentinfo")).to_contain_text("Ana")
    page.evaluate("async () => { await navigator.serviceWorker.ready; }")
    cookies = {cookie["name"]: cookie for cookie in phone.cookies()}
    assert cookies["handline"]["secure"]
    assert cookies["handline"]["httpOnly"]
    phone.set_offline(True)
    truck.stop()
    page.reload()
    expect(page.get_by_role("contentinfo")).to_contain_text("Ana")
    name = tick(page, "locker/L1/pack/count")
    expect(page.get_by_role("contentinfo")).to_contain_text("1 unsent")
    truck.start()
    phone.set_offline(False)
    page.reload()
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
    assert [row["name"] for row in held(page)] == [name]


def test_a_phone_that_does_not_trust_the_truck_is_kept_out(
    playwright: Playwright, truck: TruckServer
) -> None:
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
    page = browser.new_page()
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(truck.site)
    page = browser.new_page()
    page.goto(truck.trust_page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Trust this truck's server")
    browser.close()


def test_the_page_the_screen_and_the_file_say_one_fingerprint(
    truck: TruckServer, phone: BrowserContext
) -> None:
    page = phone.pages[0]
    page.goto(truck.trust_page)
    with page.expect_download() as fetched:
        page.get_by_role("link", name="Fetch handline.crt").first.click()
    file = fetched.value
    assert file.suggested_filename == "handline.crt"
    digest = hashlib.sha256(file.path().read_bytes()).hexdigest().upper()
    assert fingerprint(page) == digest
    printed = (truck.data.parent / "server.log").read_text()
    assert digest in printed.replace("\n", "").replace(" ", "")
    page.goto(f"{truck.site}/trust")
    assert fingerprint(page) == digest


@pytest.mark.parametrize("look", ["light", "dark"])
def test_the_page_keeps_nobody_out(look: str, truck: TruckServer, phone: BrowserContext) -> None:
    page = phone.pages[0]
    page.set_viewport_size({"width": 320, "height": 780})
    page.emulate_media(color_scheme="dark" if look == "dark" else "light")
    for address in (truck.trust_page, f"{truck.site}/trust"):
        page.goto(address)
        page.evaluate(AXE.read_text())
        assert [*page.evaluate(RUN), *page.evaluate(LOW), *page.evaluate(SMALL)] == []
        assert page.evaluate(WIDER) <= 0
