"""What a person is told in time: days of silence, a browser that may forget, a new version, a wrong browser."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from tests.browser.conftest import CHROMIUM, OpenPhone, Server
from tests.browser.test_first_line import VERSION_SCRIPT, enrol, tick

pytestmark = pytest.mark.browser

DAY_MS = 24 * 3600 * 1000
IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) "
    "Version/18.5 Mobile/15E148 Safari/604.1"
)
ON_HOME_SCREEN = "Object.defineProperty(Navigator.prototype, 'standalone', { get: () => true })"
KEEPS = "StorageManager.prototype.persisted = async () => true"
DATABASES = "async () => (await indexedDB.databases()).length"
UPDATE = "async () => { await (await navigator.serviceWorker.getRegistration()).update(); }"


@pytest.fixture
def browser(playwright: Playwright) -> Iterator[Browser]:
    running = playwright.chromium.launch(
        executable_path=CHROMIUM,
        args=["--no-sandbox", "--host-resolver-rules=MAP truck.test 127.0.0.1"],
    )
    yield running
    running.close()


def pass_days(page: Page, days: float) -> None:
    """Let time pass on the phone; what was due meanwhile is done."""
    page.clock.fast_forward(int(days * DAY_MS))


def test_three_days_of_silence_are_told_unasked_when_anything_is_unsent(
    server: Server, open_phone: OpenPhone
) -> None:
    page = open_phone("ana").pages[0]
    page.clock.install()
    enrol(page, server, "Ana", "rigger")
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
    server.stop()
    told = page.get_by_role("complementary").get_by_text("the server has not answered for")
    pass_days(page, 4)
    page.goto(f"{server.site}/#/settings")
    expect(page.get_by_text("The server last answered 4 days ago.")).to_be_visible()
    expect(told).to_have_count(0)  # nothing waits
    tick(page, "locker/L1/pack/count")
    expect(told).to_contain_text("1 unsent on this phone only, and the server has not answered for 4 days.")
    expect(told).to_contain_text("This browser may forget them.")
    page.reload()
    expect(told).to_be_visible()
    page.get_by_role("link", name="Send or save them").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Unsent")
    server.start()
    page.get_by_role("button", name="Try to send now").click()
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
    expect(told).to_have_count(0)


def test_less_than_three_days_are_not_told(server: Server, open_phone: OpenPhone) -> None:
    page = open_phone("ana").pages[0]
    page.clock.install()
    enrol(page, server, "Ana", "rigger")
    expect(page.get_by_role("contentinfo")).to_contain_text("Nothing unsent")
    server.stop()
    tick(page, "locker/L1/pack/count")
    pass_days(page, 2.9)
    page.goto(f"{server.site}/#/unsent")
    expect(page.get_by_text("The server last answered 2 days ago.")).to_be_visible()
    told = page.get_by_text("the server has not answered for")
    expect(told).to_have_count(0)
    pass_days(page, 0.2)
    expect(told).to_contain_text("for 3 days.")


def test_whether_the_browser_keeps_is_known_after_a_restart_too(
    server: Server, open_phone: OpenPhone
) -> None:
    page = open_phone("ana").pages[0]
    enrol(page, server, "Ana", "rigger")
    page.goto(f"{server.site}/#/settings")
    page.reload()
    expect(page.get_by_text("The browser has not said that it keeps what is written here")).to_be_visible()
    expect(page.get_by_role("button", name="Ask the browser to keep it")).to_be_visible()
    page.add_init_script(KEEPS)
    page.reload()
    expect(page.get_by_text("The browser has said that it keeps what is written here.")).to_be_visible()
    expect(page.get_by_role("button", name="Ask the browser to keep it")).to_have_count(0)


def test_a_second_tab_is_told_of_the_version_that_the_first_one_started(
    changeable_server: Server, open_phone: OpenPhone
) -> None:
    server = changeable_server
    phone = open_phone("ana")
    one = phone.pages[0]
    enrol(one, server, "Ana", "rigger")
    one.reload()
    two = phone.new_page()
    two.goto(server.site)
    expect(two.get_by_role("contentinfo")).to_contain_text("Ana")
    with (server.root / "static" / "version.js").open("a") as script:
        script.write("\n// another version\n")
    one.evaluate(UPDATE)
    for page in (one, two):
        expect(page.get_by_role("button", name="Start it now")).to_be_visible()
    two.evaluate("globalThis.writing = true")
    with one.expect_navigation():
        one.get_by_role("button", name="Start it now").click()
    expect(one.get_by_role("contentinfo")).to_contain_text("Ana")
    expect(one.get_by_role("button", name="Start it now")).to_have_count(0)
    assert two.evaluate("globalThis.writing")  # nobody took the page from under a hand
    with two.expect_navigation():
        two.get_by_role("button", name="Start it now").click()
    expect(two.get_by_role("contentinfo")).to_contain_text("Ana")
    expect(two.get_by_role("button", name="Start it now")).to_have_count(0)
    assert "another version" in two.evaluate(VERSION_SCRIPT)


def test_an_iphones_tab_enrols_nothing_and_its_installed_app_takes_the_code(
    server: Server, browser: Browser
) -> None:
    invited = server.invite("Ana", "rigger")
    tab = browser.new_context(user_agent=IPHONE).new_page()
    asked: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    tab.goto(invited["link"])
    expect(tab.get_by_role("heading", level=1)).to_have_text("Put Handline on the Home Screen first")
    expect(tab.get_by_text("Add to Home Screen")).to_be_visible()
    expect(tab.locator(".code")).to_have_text(invited["code"])
    assert tab.get_by_role("button").count() == 0
    assert [url for url in asked if "/api/" in url] == []

    installed = browser.new_context(user_agent=IPHONE)  # storage of its own, as on the phone
    installed.add_init_script(ON_HOME_SCREEN)
    app = installed.new_page()
    app.goto(server.site)
    app.get_by_label("Code from the chief").fill(invited["code"])
    app.get_by_role("button", name="Make this phone mine").click()
    expect(app.get_by_role("contentinfo")).to_contain_text("Ana")


def test_an_address_that_is_not_secure_is_told_so_and_asks_for_nothing(
    server: Server, browser: Browser
) -> None:
    page = browser.new_page()
    page.goto(f"http://truck.test:{server.port}/join")
    assert not page.evaluate("isSecureContext")
    expect(page.get_by_role("heading", level=1)).to_have_text("This browser cannot hold the logbook")
    expect(page.get_by_text("not a secure one (https)")).to_be_visible()
    assert page.get_by_role("textbox").count() == 0
    assert page.evaluate(DATABASES) == 0
    page.get_by_role("link", name="How this phone comes to trust the truck").click()
    expect(page.get_by_role("link", name=f"Open Handline at {server.site}")).to_be_visible()
