"""The calculation pages in a real browser: fitting, by keyboard, without script.

They stand here because one browser engine serves the whole run.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from fieldapp.calc import catalogue
from fieldapp.config import open_door
from fieldapp.store.accounts import Account, set_account
from fieldapp.store.database import connected, writing
from tests.people import FOREMAN, NOON
from tests.phone.handset import CHROMIUM
from tests.phone.letters import letters, too_small
from tests.phone.office import Office, free_port

NAME, PASSWORD = "odalys", "granite and lime"
NARROW, WIDE = {"width": 320, "height": 740}, {"width": 1280, "height": 800}
# What reaches past the window's right edge, without what scrolls within itself.
PATHS = [""] + [
    f"/{name}{end}" for name in catalogue.names() for end in ("", "/example")
]
TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Office]:
    """An office with one account at the desk."""
    data = tmp_path / "office"
    store = open_door(data).store
    with connected(store), writing(store):
        account = Account(name=NAME, person=FOREMAN, office=True)
        set_account(store, account, PASSWORD, NOON)
    office = Office(data=data, port=free_port())
    office.start()
    yield office
    office.kill()


@pytest.fixture
def browser(playwright: Playwright) -> Iterator[Browser]:
    """A browser without script, as the pages must do without it."""
    started = playwright.chromium.launch(
        executable_path=CHROMIUM, args=["--no-sandbox"]
    )
    yield started
    started.close()


def signed_in(browser: Browser, office: Office, *, script: bool = False) -> Page:
    context = browser.new_context(
        base_url=office.url, viewport=WIDE, java_script_enabled=script
    )
    page = context.new_page()
    page.goto("/sign-in")
    page.get_by_label("Name").fill(NAME)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    return page


def test_no_page_of_a_calculation_is_wider_than_its_window(
    browser: Browser, served: Office
) -> None:
    page = signed_in(browser, served, script=True)
    told: list[str] = []
    page.on("console", lambda message: told.append(message.text))
    for path in PATHS:
        page.goto(f"/calculations{path}")
        for viewport in (NARROW, WIDE):
            page.set_viewport_size(viewport)
            assert page.evaluate(TOO_WIDE) <= 0, (viewport, path)
    assert told == [], "nothing against the page's own policy"


def test_letters_in_a_calculations_pictures_can_be_read_on_a_phone(
    browser: Browser, served: Office
) -> None:
    page = signed_in(browser, served, script=True)
    page.set_viewport_size({"width": 360, "height": 740})
    for name in catalogue.names():
        page.goto(f"/calculations/{name}/example")
        assert letters(page), name
        assert too_small(page) == [], name


def test_a_calculation_is_done_by_keyboard_and_without_script(
    browser: Browser, served: Office
) -> None:
    page = signed_in(browser, served)
    page.goto("/calculations")
    page.get_by_role("link", name="Shim in a joint").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Thickness t [mm]").fill("1,6")
    page.keyboard.press("Tab")
    page.keyboard.type("2.5")
    page.keyboard.press("Tab")
    page.keyboard.type("36")
    page.keyboard.press("Enter")
    # By hand: 1.6 mm / 2.5 m x 36 m = 23.04 mm.
    expect(page.get_by_role("region", name="Result")).to_contain_text("23.04 mm")
    expect(page.get_by_role("img", name="Shim in the joint").first).to_be_visible()


def test_rows_are_added_pasted_and_mended_without_script(
    browser: Browser, served: Office
) -> None:
    page = signed_in(browser, served)
    page.goto("/calculations/section")
    for _ in range(2):
        page.get_by_role("button", name="Add a row").first.click()
    cells = page.get_by_label("Outline of the face, row")
    expect(cells).to_have_count(10)
    for cell, text in zip(cells.all(), "0040420x", strict=False):
        cell.fill(text)
    page.get_by_role("button", name="Work out", exact=True).last.click()
    expect(page.get_by_role("alert")).to_contain_text("outline[3].y_m 'x' is not")
    page.get_by_label("Outline of the face, row 3: y").fill("2")
    page.keyboard.press("Enter")
    expect(page.get_by_role("region", name="Result")).to_contain_text("8 m²")
