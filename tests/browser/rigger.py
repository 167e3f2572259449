"""Somebody of the crew with one phone: goes where a thumb goes, and reads what the screen says."""

import re
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import BrowserContext, Download, Locator, Page, expect

from tests.browser.conftest import OpenPhone, Server

SHOW = "Reservoir regatta"
LOADED_MS = 90_000
HELD_MS = 1100
ENOUGH_STEPS = 30
ON_WORD = "Go on, on somebody's word"
FIRST_SUM_MS = 60_000  # the arithmetic starts with the first form


@dataclass(frozen=True)
class Person:
    """Somebody of the show's crew."""

    id: str
    name: str


@dataclass
class Answers:
    """What a rigger answers where a step asks for more than a touch, by the step's last word.

    `figures` go on the number pad; `asked` are a computation's fields, by label. With `on_word` the mate has said
    that whatever is not on this phone is done. After the step `last` nothing more is worked.
    """

    figures: dict[str, str] = field(default_factory=dict)
    asked: dict[str, dict[str, str]] = field(default_factory=dict)
    choices: dict[str, str] = field(default_factory=dict)
    remark: str = "As found"
    photo: Path | None = None
    not_there: frozenset[str] = frozenset()
    on_word: bool = False
    last: str | None = None


class Rigger:
    """Whoever holds one phone; `mate` is whose word is taken and who else looks."""

    def __init__(self, open_phone: OpenPhone, server: Server, person: Person, mate: Person) -> None:
        self.open_phone = open_phone
        self.server = server
        self.person = person
        self.mate = mate
        self.open()

    def open(self, *, offline: bool = False) -> None:
        """Open the app on this phone, as after it was closed."""
        self.context: BrowserContext = self.open_phone(self.person.id)
        self.context.set_offline(offline)
        self.page: Page = self.context.pages[0]
        self.page.clock.install()  # a held button needs no waiting second

    def enrol(self, roles: str) -> None:
        """Make the phone this person's, and load the show and all that works without signal."""
        self.page.goto(self.server.invite(self.person.name, roles, self.person.id)["link"])
        self.page.get_by_role("button", name="Make this phone mine").click()
        self.page.get_by_role("button", name=SHOW).click()
        expect(self.heading).to_have_text(SHOW)
        self.touch("Settings", "link")
        expect(self.page.get_by_text("The arithmetic is on this phone")).to_be_visible(timeout=LOADED_MS)
        self.home()

    def reopen(self, *, offline: bool) -> None:
        """Close the app and open it again by its address."""
        self.context.close()
        self.open(offline=offline)
        self.page.goto(self.server.site)
        expect(self.heading).to_have_text(SHOW)

    def lose_signal(self) -> None:
        self.context.set_offline(True)

    def find_signal(self) -> None:
        self.context.set_offline(False)

    @property
    def heading(self) -> Locator:
        return self.page.get_by_role("heading", level=1)

    @property
    def edge(self) -> Locator:
        """What the bottom edge says."""
        return self.page.get_by_role("contentinfo")

    def touch(self, name: str | re.Pattern[str], role: str = "button", *, exact: bool = False) -> None:
        """Touch the first thing of that name."""
        self.page.get_by_role(role, name=name, exact=exact).first.click()  # type: ignore[arg-type]

    def home(self) -> None:
        """Go back, screen by screen, to the stages."""
        for _ in range(6):
            if self.heading.text_content() == SHOW:
                return
            here = self.page.url
            self.page.locator("header.head a").click()
            expect(self.page).not_to_have_url(here)
        raise AssertionError(f"no way back to the stages from {self.page.url}")

    def go_to(self, stage: str, title: str) -> None:
        """From the stages to a sheet, by its name or its door."""
        self.home()
        self.page.locator("a.row-text", has=self.page.get_by_text(stage, exact=True)).click()
        expect(self.heading).to_have_text(stage)
        door = re.fullmatch(r"([A-Z]+\d): .*", title)
        if door:
            self.touch_door(door[1])
        else:
            self.touch(title, "link")
        expect(self.heading).to_have_text(title)

    def touch_door(self, locker: str) -> None:
        """Touch a locker's door, walking round the vehicle until it is seen."""
        door = self.page.get_by_role("link", name=re.compile(f"^{locker} "))
        walks = self.page.get_by_role("button", name="Walk round")
        for turn in range(2 * walks.count()):
            if door.count() > 0:
                break
            walks.nth(turn // 2).click()
        door.click()

    def work(self, stage: str, title: str, answers: Answers | None = None) -> int:
        """Work a sheet down its rope as far as this person can; how many steps were done."""
        answers = answers or Answers()
        self.go_to(stage, title)
        expect(self.page.locator("ol.rope-list")).to_be_visible()
        for steps in range(ENOUGH_STEPS):
            card = self.page.locator("[aria-current=step]")
            if card.count() == 0 or card.get_by_text(" is writing.").count() > 0:
                return steps
            if not answers.on_word and card.get_by_role("button", name=ON_WORD).count() > 0:
                return steps
            subject = str(card.locator(".do a").get_attribute("href")).removeprefix("#/step/")
            self._step(card, subject.split("/")[-1], answers)
            expect(self.heading).to_have_text(title)
            expect(card.locator(f'.do a[href="#/step/{subject}"]')).to_have_count(0)
            if answers.last == subject.split("/")[-1]:
                return steps + 1
        raise AssertionError(f"{title} has no end")

    def _step(self, card: Locator, step: str, answers: Answers) -> None:
        if card.get_by_role("link", name="Count, item by item").count() > 0:
            self.touch("Count, item by item", "link")
            self.count(answers.not_there)
        elif card.get_by_role("link", name="give the reading").count() > 0:
            self.touch("give the reading", "link")
            self._reading(answers.figures.get(step, ""), answers.asked.get(step, {}))
        elif card.get_by_role("link", name="Take the photo").count() > 0:
            assert answers.photo
            self.touch("Take the photo", "link")
            self._take_word_and_mate(self.page.locator("main"))
            self.take_photo(answers.photo)
            self.page.locator("button.act.main").click()
        elif card.get_by_role("link", name="Write it down").count() > 0:
            self.touch("Write it down", "link")
            self._take_word_and_mate(self.page.locator("main"))
            self.page.get_by_label("In your own words").fill(answers.remark)
            self.page.locator("button.act.main").click()
        else:
            self._take_word_and_mate(card)
            options = card.locator("div.options")
            if options.count() > 0:
                options.get_by_role("button", name=answers.choices[step]).click()
            else:
                self.press(card.locator("button.act.main"))

    def _take_word_and_mate(self, where: Locator) -> None:
        word = where.get_by_role("button", name=ON_WORD)
        if word.count() > 0:
            word.click()
            where.get_by_label("Who says that it is done?").fill(self.mate.name)
        mate = where.get_by_label(re.compile("Who else sees it|Who is at the other end"))
        if mate.count() > 0:
            mate.select_option(self.mate.id)

    def _reading(self, figure: str, asked: dict[str, str]) -> None:
        self._take_word_and_mate(self.page.locator("main"))
        for label, given in asked.items():
            asks = self.page.get_by_label(re.compile(f"^{label}"))
            expect(asks).to_be_attached()
            if not asks.is_visible():
                self.page.locator("summary", has_text="More:").click()
            asks.fill(given)
        for key in figure.removeprefix("-"):
            self.touch("Decimal point" if key == "." else key, exact=True)
        if figure.startswith("-"):
            self.touch("Change the sign", exact=True)
        written = self.page.locator("button.act.main")
        expect(written).to_be_enabled(timeout=FIRST_SUM_MS)
        self.press(written)

    def press(self, button: Locator) -> None:
        """Touch a button, or hold it where it is one to hold."""
        if "hold" not in str(button.get_attribute("class")).split():
            button.click()
            return
        button.hover()
        self.page.mouse.down()
        self.page.clock.run_for(HELD_MS)
        self.page.mouse.up()

    def count(self, not_there: frozenset[str] = frozenset()) -> None:
        """Count every item, then go back to the sheet."""
        expect(self.heading).to_have_text("Count")
        self._take_word_and_mate(self.page.locator("main"))
        for item in self.page.locator("li.item").all():
            tag = item.get_by_role("link").first.inner_text().split(",")[0]
            there = "Not there" if tag in not_there else re.compile("^(There|All there)")
            item.get_by_role("button", name=there).click()
            expect(item.get_by_role("button", name="Count again")).to_be_visible()
        self.touch("The sheet", "link")

    def take_photo(self, photo: Path) -> None:
        """Give the camera's picture to the app and see it shown."""
        self.page.locator("input[type=file]").set_input_files(photo)
        expect(self.page.get_by_alt_text("The photo just taken")).to_be_visible()

    def sign(self, stage: str, title: str) -> None:
        """Draw a name under a sheet."""
        self.go_to(stage, title)
        self.touch(re.compile("^(Sign this sheet|Sign again)"), "link")
        field = self.page.locator("canvas")
        field.scroll_into_view_if_needed()
        box = field.bounding_box()
        assert box
        self.page.mouse.move(box["x"] + 20, box["y"] + 90)
        self.page.mouse.down()
        for step in range(12):
            self.page.mouse.move(box["x"] + 20 + 18 * step, box["y"] + 90 + 30 * (step % 2))
            self.page.clock.run_for(20)
        self.page.mouse.up()
        self.touch(f"Sign as {self.person.name}")
        expect(self.heading).to_have_text(title)
        expect(self.page.get_by_text("Signed", exact=True)).to_be_visible()

    def row(self, subject: str) -> Locator:
        """A step's row on the sheet that is open."""
        return self.page.locator("li.row", has=self.page.locator(f'a[href="#/step/{subject}"]'))

    def word(self) -> Locator:
        """The word that stands for all that this phone holds."""
        self.edge.get_by_role("link").first.click()
        return self.page.get_by_role("region", name="What this phone holds of the show").locator(".verdict")

    def send(self) -> None:
        """Try to send now, and see that it has all come back."""
        self.home()
        self.edge.get_by_role("link").first.click()
        self.touch("Try to send now")
        expect(self.page.get_by_role("status")).to_contain_text("Tried.")
        expect(self.edge).to_contain_text("Nothing unsent")

    def download(self, name: str) -> Download:
        """Touch a link that gives a file."""
        with self.page.expect_download() as given:
            self.touch(name, "link")
        return given.value
