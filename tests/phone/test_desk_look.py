"""The desk in a real browser: accessible in both themes, fitting, by keyboard alone.

One browser visits every page once for all tests. It stands here because one browser
engine serves the whole run.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page, Playwright

from fieldapp.store.database import connected
from fieldapp.web.faults import HEADERS
from tests.desk import OFFICE_NAME, PASSWORD, Desk
from tests.people import FOREMAN, INSPECTOR, SUBJECT, put_in_force
from tests.phone.handset import CHROMIUM
from tests.phone.letters import letters, too_small
from tests.phone.office import Office, free_port
from tests.web.race import ENGINEER, LIFE, OTHER, PICTURE, Race, race, race_sheet

LONG = "Joint of the westernmost half-segment above the Marrowfen railway cutting, "
UNBROKEN = "Northmarrowfenrailwaycuttingviaductjointnumber"
PAGES = ("/", "/?q=nothing+like+it", "/today", "/queue", "/nonconformances", "/missing",
         "/archive", "/import", "/sessions", "/protocol",
         "/register/", "/register/g1", "/plan/", "/plan/tie", "/people",
         f"/joints/{SUBJECT}", f"/joints/{OTHER}", f"/joints/{SUBJECT}/points/go",
         f"/joints/{SUBJECT}/points/look", f"/joints/{OTHER}/points/go",
         "/calculations",
         "/calculations/dew-point/example", "/nothing", "/being-read")  # fmt: skip
THEMES = ("light", "dark")
NARROW = (320, 360, 412)
LETTERS_FROM = 360
SPILL = "document.documentElement.scrollWidth - innerWidth"
RENAME = """() => {
  const long = "Bartholomew-Maximilian van der Featherstonehaugh-Mayneworthington";
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const { data } = walk.currentNode;
    const renamed = data.replace(/Ida Fell|Omar Beck|Elin Marsh/g, long);
    if (renamed !== data) walk.currentNode.data = renamed;
  }
}"""
# Everything for WCAG 2.2, and text at 7 to 1 besides.
CHECK = """async () => {
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa",
                "best-practice"];
  const found = await axe.run({
    runOnly: tags, rules: {"color-contrast-enhanced": {enabled: true}},
  });
  return found.violations.map((each) =>
    [each.id, each.nodes.slice(0, 3).map((node) => node.html.slice(0, 160))]);
}"""


@dataclass(slots=True)
class Seen:
    """What was seen of each page, by theme or width."""

    faults: list[tuple[str, Any]] = field(default_factory=list)
    spills: list[tuple[str, int]] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    lettered: set[str] = field(default_factory=set)
    small: list[tuple[str, float, str]] = field(default_factory=list)
    visits: int = 0


@pytest.fixture(scope="module")
def desk_page(
    playwright: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Page]:
    data = tmp_path_factory.mktemp("desk")
    site = race(data)
    recorded(site)
    unread = page_while_read(site.desk)
    office = Office(data=data, port=free_port())
    office.start()
    browser = playwright.chromium.launch(
        executable_path=CHROMIUM, args=["--no-sandbox"]
    )
    page = browser.new_context(base_url=office.url).new_page()
    page.route(
        "**/being-read",
        lambda route: route.fulfill(
            body=unread, content_type="text/html", headers=HEADERS
        ),
    )
    yield page
    browser.close()
    office.kill()


def page_while_read(desk: Desk) -> str:
    """Give what a page of the whole site shows while the site is still being read."""
    desk.sign_in()
    warming = desk.app.extensions["fieldapp"].warming
    warming.done.clear()
    warming.read, warming.total = 120, 320
    answer = desk.client.get("/archive")
    warming.done.set()
    assert answer.status_code == 503
    return answer.text


def recorded(site: Race) -> None:
    """Put long names and a bridge in force, and leave something in every state."""
    segments = [
        {"id": name, "title": f"segment {name}", "order": number, "at": 5_000 * number,
         "length": 3_000, "depth": 2_000, "level": 45_000, "joint": name}
        for number, name in enumerate((SUBJECT, OTHER), 1)
    ]  # fmt: skip
    arm = {"id": "east", "side": 1, "segments": segments}
    pier = {"id": "p", "title": "Pier 1", "at": 0, "level": 45_000, "half": 2_500,
            "arms": [arm]}  # fmt: skip
    sheets = [race_sheet(title=LONG + SUBJECT), race_sheet(OTHER, title=UNBROKEN * 2)]
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, *sheets, people=[ENGINEER], tables=[LIFE],
                     **(PICTURE | {"piers": [pier]}))  # fmt: skip
    site.at(0).wiped(temp=49)
    site.at(1).wiped(send=False)
    site.at(2).say("called", point="go")
    condition = {"text": "cover the spare kit", "before": "close"}
    site.at(3).say("refusal", by=INSPECTOR, point="go", about={"reason": "not dry"})
    site.at(4).say("called", point="go")
    site.at(5).say(
        "release", by=INSPECTOR, point="go", about={"conditions": [condition]}
    )
    site.at(6).say("done", step="mix", line="k1")
    site.at(7).say("anyway", step="close", about={"reason": "rain"})
    site.at(8).say("stopped", about={"reason": "rain"})
    site.at(9).say("nonconformance", about={"text": "chipped key, " + UNBROKEN})
    site.at(10).say("called", by=FOREMAN, point="look")


@pytest.fixture(scope="module")
def seen(desk_page: Page) -> Seen:
    found = Seen()
    page = desk_page
    page.on("console", lambda said: found.errors.append(f"{page.url}: {said.text}"))
    page.goto("/sign-in")
    look(page, "/sign-in", found)
    page.get_by_label("Name").fill(OFFICE_NAME)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/today")
    for path in PAGES:
        page.goto(path)
        look(page, path, found)
    return found


def look(page: Page, path: str, found: Seen) -> None:
    """Look at a page in both themes and at every width."""
    found.visits += 1
    page.set_viewport_size({"width": 1280, "height": 800})
    page.evaluate(AXE_SCRIPT)
    for theme in THEMES:
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        faults = page.evaluate(CHECK)
        found.faults += [(f"{path} {theme}", fault) for fault in faults]
    for width in (*NARROW, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        spill = page.evaluate(SPILL)
        if spill > 0:
            found.spills.append((f"{path} at {width}", spill))
        if width >= LETTERS_FROM:
            found.lettered.update({path} if letters(page) else ())
            found.small += [(f"{path} at {width}", *each) for each in too_small(page)]
    page.set_viewport_size({"width": min(NARROW), "height": 800})
    page.evaluate(RENAME)
    spill = page.evaluate(SPILL)
    if spill > 0:
        found.spills.append((f"{path} with people of long names", spill))


def test_every_page_was_seen(seen: Seen) -> None:
    assert seen.visits == len(PAGES) + 1


def test_no_page_has_a_fault_of_accessibility_in_either_theme(seen: Seen) -> None:
    assert seen.faults == [], seen.faults


def test_no_page_spills_over_its_width_even_with_long_names(seen: Seen) -> None:
    assert seen.spills == [], seen.spills


def test_letters_in_pictures_can_be_read_at_every_width(seen: Seen) -> None:
    assert {"/", f"/joints/{SUBJECT}"} <= seen.lettered
    assert seen.small == [], seen.small


def test_no_page_asks_for_what_its_policy_forbids(seen: Seen) -> None:
    missing = "the server responded with a status of 404"
    assert [each for each in seen.errors if missing not in each] == []


def test_the_keyboard_comes_first_to_the_page_and_shows_where_it_is(
    desk_page: Page, seen: Seen
) -> None:
    assert seen.visits
    page = desk_page
    page.goto("/today")
    page.keyboard.press("Tab")
    assert page.locator(":focus").inner_text() == "Skip to the page"
    assert page.locator(":focus").bounding_box()["height"] > 20  # type: ignore[index]
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    inside = "document.querySelector('main').contains(document.activeElement)"
    assert page.evaluate(inside)
    outline = "getComputedStyle(document.activeElement).outlineStyle"
    assert page.evaluate(outline) == "solid"


def test_on_paper_nothing_is_pressed_and_what_is_small_stays_small(
    desk_page: Page, seen: Seen
) -> None:
    assert seen.visits
    desk_page.set_viewport_size({"width": 1280, "height": 800})
    desk_page.emulate_media(media="print")
    found = {}
    for path in ("/archive", "/people", "/register/", f"/joints/{SUBJECT}"):
        desk_page.goto(path)
        found[path] = desk_page.evaluate(ON_PAPER)
    desk_page.emulate_media(media="screen")
    assert found == {path: {"pressed": [], "larger": []} for path in found}


ON_PAPER = """() => {
  const seen = (query) => [...document.querySelectorAll(query)]
    .filter((one) => one.checkVisibility());
  const size = (one) => parseFloat(getComputedStyle(one).fontSize);
  return {
    pressed: seen("button, input:not([type=hidden]), .button, summary + form")
      .map(({ outerHTML }) => outerHTML.slice(0, 80)),
    larger: seen("main .small, main .id, main code")
      .filter((one) => size(one) > size(one.parentElement) + 0.1)
      .map(({ textContent }) => textContent.trim().slice(0, 40)),
  };
}"""
"""What could only be pressed, and small words that stand out from their line."""


def test_a_calculations_sheet_keeps_its_words_whole_on_a_narrow_screen(
    desk_page: Page, seen: Seen
) -> None:
    assert seen.visits
    desk_page.set_viewport_size({"width": NARROW[0], "height": 800})
    desk_page.goto("/calculations/dew-point/example")
    widths = desk_page.evaluate(
        "() => [...document.querySelectorAll('.values tbody th')]"
        ".map((one) => one.getBoundingClientRect().width)"
    )
    # Five columns beside each other left 40 px to a name: four letters a line.
    assert min(widths) >= 90, widths
