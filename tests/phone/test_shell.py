"""The shell on the phone: whole, installable, and switched only by a person."""

import re
import shutil
from pathlib import Path

import pytest

from fieldapp.web.shell import FIRST
from tests.phone.conftest import Make
from tests.phone.gang import Gang
from tests.phone.office import Office
from tests.phone.screens import WHOLE
from tests.sources import ROOT, script_imports

NEWER = "Joint record, newer"
MOST_OF_THE_FLOW = 30
PRESSED_AT_ONCE = """addEventListener("DOMContentLoaded", () => {
  if (location.href === "about:blank") return;
  const { theme } = document.documentElement.dataset;
  window.first = [theme, document.getElementById("screen").childElementCount === 0];
  document.getElementById("stop").click();
})"""
"""Runs before the storage has answered: notes the theme, and that nothing is drawn."""
DRAWN = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { mount } = await import("/phone/screens/joint.js");
  const { shownOf } = await import("/phone/screens/kept.js");
  const whole = model.open;
  const drawn = (open) => {
    model.open = open;
    const [screen, dock] = [document.createElement("div"), document.createElement("p")];
    const leave = mount(screen, { dock, go() {} });
    screen.querySelectorAll("[data-fold] .row").forEach((one) => one.click());
    const found = whole.sheet.flow.map((id) => {
      const row = `:is([data-step="${id}"], [data-point="${id}"]) > .row`;
      screen.querySelector(row)?.click();
      return screen.innerHTML + dock.innerHTML;
    });
    leave();
    return found;
  };
  const both = [drawn(whole), drawn(JSON.parse(JSON.stringify(shownOf(whole))))];
  model.open = whole;
  return both;
}"""
"""The joint's screen with every row opened in turn: from the state, and from what is
kept of it."""
LATER_PART = "/phone/screens/later.en.js"
_FORGET = """async (paths) => {
  const cache = await caches.open((await caches.keys())
    .find((name) => name.startsWith("shell-")));
  const gone = await Promise.all(paths.map((path) => cache.delete(path)));
  if (!gone.every(Boolean)) throw new Error("was not there");
}"""
_COMES = "async (path) => (await fetch(path).catch(() => ({ ok: false }))).ok"
PAGE = ROOT / "templates" / "phone" / "index.html"


@pytest.fixture
def copied_office(office_of_gang: Office, tmp_path: Path) -> Office:
    """The gang's office run from a copy of the program, which a test may change."""
    program = tmp_path / "program"
    for folder in ("fieldapp", "static", "templates"):
        shutil.copytree(ROOT / folder, program / folder)
    office_of_gang.program = program
    return office_of_gang


_LACKING = """async () => {
  const kept = await caches.match("/phone/later.json");
  const listed = Object.keys(kept ? await kept.json() : { "/phone/later.json": "" });
  const here = await Promise.all(listed.map((one) => caches.match(one)));
  return listed.filter((_, place) => !here[place]);
}"""


def test_a_newer_version_waits_for_a_person_and_comes_whole(
    gang: Gang, copied_office: Office
) -> None:
    phone = gang.phone
    copied_office.start()
    before = _version(gang)
    _offer_newer(gang, copied_office)
    assert _version(gang) == before, "a killed browser has switched the version"
    phone.tap("#update")
    phone.sees(NEWER)
    assert _version(gang) != before
    # Nothing of it is still to come: a network that dies now takes no screen away.
    copied_office.kill()
    phone.restart()
    phone.tap("#more")
    phone.sees(NEWER)
    assert phone.page.evaluate(_LACKING) == []


def test_a_version_that_cannot_be_fetched_whole_changes_nothing(
    gang: Gang, copied_office: Office
) -> None:
    phone = gang.phone
    copied_office.start()
    before = _version(gang)
    _offer_newer(gang, copied_office)
    copied_office.kill()
    phone.tap("#update")
    phone.sees("This version stays")
    assert _version(gang) == before
    phone.restart()
    phone.sees("Joint W1")


def test_no_version_is_switched_under_a_running_clock(
    gang: Gang, copied_office: Office
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm"})
    phone.sees("in hand", "#minutes")
    copied_office.start()
    _change_words(copied_office)
    phone.restart()
    phone.tap("#more")
    phone.sees("can go in when no clock runs")
    assert phone.page.locator("#update").count() == 0


def test_the_shell_can_be_installed(office: Office, handset_of: Make) -> None:
    phone = handset_of(office).start()
    phone.until("() => navigator.serviceWorker.controller !== null")
    session = phone.page.context.new_cdp_session(phone.page)
    found = session.send("Page.getInstallabilityErrors")
    # A headless window is never offered an installation prompt; all else must hold.
    assert [
        each["errorId"]
        for each in found["installabilityErrors"]
        if each["errorId"] != "in-incognito"
    ] == []


def test_what_comes_later_is_kept_too_and_only_as_this_version_has_it(
    office: Office, handset_of: Make
) -> None:
    phone = handset_of(office).start()
    later = '"/phone/screens/icons/icon-512.png"'
    phone.until(f"async () => (await caches.match({later})) !== undefined")
    office.kill()
    assert phone.page.evaluate(f"async () => (await fetch({later})).ok")


def test_a_later_part_of_another_version_is_not_taken(
    gang: Gang, copied_office: Office
) -> None:
    phone = gang.phone
    assert copied_office.program is not None
    copied_office.start()
    phone.until(WHOLE)
    part = copied_office.program / "static" / "phone" / "later.en.js"
    part.write_text(part.read_text("utf-8") + "globalThis.newer = true;\n", "utf-8")
    # As if the network had gone before the list and this part came.
    phone.page.evaluate(_FORGET, ["/phone/later.json", LATER_PART])
    phone.restart()
    phone.sees("Joint W1")
    assert phone.page.evaluate(_COMES, "/phone/screens/more.js")
    assert not phone.page.evaluate(_COMES, LATER_PART)


def test_the_first_screen_asks_for_one_script_and_the_browser_keeps_it_compiled(
    office: Office, handset_of: Make
) -> None:
    page = PAGE.read_text("utf-8")
    assert re.findall(r'src="(/phone/[\w./-]+\.js)"', page) == [FIRST]
    assert "module" not in page, "a module is compiled anew at every cold start"


def test_what_is_kept_for_a_start_draws_the_same_joint(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm"})
    true, kept = gang.phone.page.evaluate(DRAWN)
    assert len(true) > MOST_OF_THE_FLOW
    assert kept == true


def test_stop_is_there_and_the_night_is_dark_before_anything_is_read(
    gang: Gang,
) -> None:
    phone = gang.phone
    phone.tap("#more")
    phone.tap('[data-setting="theme-night"]')
    phone.until("() => document.documentElement.dataset.theme === 'night'")
    phone.page.add_init_script(PRESSED_AT_ONCE)
    # Not killed: a browser writes this some seconds later, and it is only a look.
    phone.page.goto("about:blank")
    phone.page.goto(f"{phone.url}/phone/")
    phone.until("() => document.body.dataset.screen === 'stop'")
    assert phone.page.evaluate("() => window.first") == ["night", True]


def test_the_first_screen_needs_no_engine() -> None:
    needed = _needed_by("phone/main.js")
    assert not any(name.startswith("core/") for name in needed)
    assert "screens/engine.js" not in needed


def test_every_word_a_screen_uses_is_in_its_language_file(
    office: Office, handset_of: Make
) -> None:
    phone = handset_of(office).start()
    first, later = (phone.page.evaluate(_WORDS, name) for name in ("words", "later"))
    missing = [
        f"{path.name}: {part}.{word}"
        for path in sorted((ROOT / "static" / "phone").glob("*.js"))
        for source in [path.read_text("utf-8")]
        for part, word in _words_used(source)
        if word not in (later if "./later.js" in source else first).get(part, ())
    ]
    assert missing == []


_WORDS = """async (name) => {
  const { words } = await import(`/phone/screens/${name}.js`);
  return Object.fromEntries(Object.entries(words)
    .map(([name, part]) => [name, Object.keys(part)]));
}"""
"""The words a screen has; those that come later are brought by whoever says them."""


def _words_used(source: str) -> list[tuple[str, str]]:
    bare = re.sub(r"words\.\w\w\.js", "", source)
    found = re.findall(r"\bwords\.(\w+)\.(\w+)", bare)
    own = re.search(r"^const text = words\.(\w+);", source, re.MULTILINE)
    if own:
        found += [(own[1], word) for word in re.findall(r"(?<![\w.])text\.(\w+)", bare)]
    return found


def _offer_newer(gang: Gang, office: Office) -> None:
    """Change the office's shell, kill the browser, and look at what waits for one."""
    _change_words(office)
    gang.phone.restart()
    gang.phone.sees("Joint W1")
    gang.phone.tap("#more")
    gang.phone.sees("It waits for you")


def _version(gang: Gang) -> str:
    found: str = gang.phone.page.evaluate(
        """async () => (await caches.match("/phone/version",
          { cacheName: "version-in-use" })).text()"""
    )
    return found


def _change_words(office: Office) -> None:
    assert office.program is not None
    path = office.program / "static" / "phone" / "words.en.js"
    text = path.read_text("utf-8")
    assert 'title: "This phone"' in text
    path.write_text(text.replace('title: "This phone"', f'title: "{NEWER}"'), "utf-8")


def _needed_by(start: str) -> set[str]:
    """Follow the static imports of a script; gives addresses below /phone/."""
    found: set[str] = set()
    waiting = [ROOT / "static" / start]
    while waiting:
        path = waiting.pop()
        name = path.relative_to(ROOT / "static").as_posix()
        address = name.replace("phone/", "screens/", 1)
        if address in found or path.suffix != ".js":
            continue
        found.add(address)
        source = path.read_text("utf-8")
        plain = re.sub(r"\bimport\([^)]*\)", "", source)
        waiting += [(path.parent / each).resolve() for each in script_imports(plain)]
    return found
