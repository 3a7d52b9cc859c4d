"""A phone for tests: Debian's Chromium as its own process, so that it can be killed.

The profile folder is the phone's flash: starting again on the same folder is what a
person does after the browser died. Everything is done by tapping what a person sees.
"""

import os
import re
import signal
import subprocess
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, Playwright, expect

CHROMIUM = "/usr/bin/chromium"
WIDTH, HEIGHT = 360, 740
ARGUMENTS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic",
    "--no-first-run", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--remote-debugging-port=0", "--hide-scrollbars",
    f"--window-size={WIDTH},{HEIGHT}", "about:blank",
    # Pages made ready behind an address bar nobody sees: half of what a start costs.
    "--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup",
)  # fmt: skip
PATIENCE_S = 60.0
"""Far above what anything takes: machines are slow, and waiting costs nothing."""
DOUBLE_TAP_MS = 320
"""Longer than the time within which a second tap is not taken."""
_TWICE = """async (selector) => {
  const key = document.querySelector(selector);
  const { x, y, width, height } = key.getBoundingClientRect();
  const there = () => document.elementFromPoint(x + width / 2, y + height / 2)
    ?.closest("button");
  const since = performance.now();
  key.click();
  key.click();
  while ([key, null, undefined].includes(there()) && performance.now() - since < 250) {
    await new Promise((on) => setTimeout(on, 5));
  }
  there()?.click();
}"""
"""Clicks a key twice, and then what stands where it stood."""
_QUICK_PINS = """(() => {
  const { subtle } = crypto;
  const derive = subtle?.deriveBits.bind(subtle);
  if (derive) subtle.deriveBits = (how, ...rest) =>
    derive(how.name === "PBKDF2" ? { ...how, iterations: 1 } : how, ...rest);
})()"""
STEP_S, LONGEST_STEP_S = 0.02, 0.2


@dataclass(slots=True)
class Handset:
    """One phone with its browser; `page` is what is on its screen."""

    playwright: Playwright
    profile: Path
    url: str
    process: subprocess.Popen[bytes] | None = None
    browser: Any = None
    page: Page = field(init=False)
    faults: list[str] = field(default_factory=list)
    arguments: tuple[str, ...] = ()
    """More for the browser's command line, a camera say."""
    quick_pins: bool = False
    """Guessing a PIN is made slow on purpose, a third of a second each time: whoever is
    not asking about that may do with one round. Chosen once for a profile."""

    def start(self, path: str = "/phone/") -> "Handset":
        """Start the browser from cold and open the shell."""
        self.wake()
        self.page.goto(self.url + path)
        return self

    def wake(self) -> None:
        """Start the browser on its profile, with an empty page."""
        port_file = self.profile / "DevToolsActivePort"
        port_file.unlink(missing_ok=True)
        self.process = subprocess.Popen(
            [CHROMIUM, f"--user-data-dir={self.profile}", *self.arguments, *ARGUMENTS],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True,
        )  # fmt: skip
        port = _wait_for_port(port_file)
        self.browser = self.playwright.chromium.connect_over_cdp(
            f"http://127.0.0.1:{port}"
        )
        context = self.browser.contexts[0]
        if self.quick_pins:
            context.add_init_script(_QUICK_PINS)
        self.page = context.pages[0] if context.pages else context.new_page()
        self.page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
        self.page.set_default_timeout(PATIENCE_S * 1000)
        self.page.on("pageerror", lambda fault: self.faults.append(str(fault)))

    def kill(self) -> None:
        """End the browser as the system does when memory is short: SIGKILL."""
        if self.process is None:
            return
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self.process = None
        (self.profile / "SingletonLock").unlink(missing_ok=True)

    def restart(self) -> None:
        """Kill the browser and start it again on what its flash holds."""
        self.kill()
        self.start()

    def tap(self, selector: str, text: str | None = None) -> None:
        """Tap the first visible thing a selector (and its text) finds."""
        found = self.page.locator(selector)
        if text is not None:
            found = found.filter(has_text=text)
        found.first.click()

    def tap_twice(self, selector: str) -> None:
        """Tap a key as a gloved thumb does, and at once what comes in its place."""
        self.page.locator(selector).first.wait_for()
        self.page.wait_for_timeout(DOUBLE_TAP_MS)
        self.page.evaluate(_TWICE, selector)

    def sees(self, text: str, within: str = "body") -> None:
        """Wait until a text is on the screen."""
        expect(self.page.locator(within).first).to_contain_text(
            text, timeout=PATIENCE_S * 1000
        )

    def until(self, condition: str) -> None:
        """Wait until a function of the page answers true."""
        end, step = time.monotonic() + PATIENCE_S, STEP_S
        while time.monotonic() < end:
            if self.page.evaluate(condition):
                return
            time.sleep(step)
            # What takes longer is not held up by being asked all the time.
            step = min(2 * step, LONGEST_STEP_S)
        shown = self.page.inner_text("body")
        raise AssertionError(f"never true: {condition}; on the screen: {shown}")

    def type_pin(self, pin: str) -> None:
        """Tap a PIN on the pad that is open."""
        for digit in pin:
            self.tap(f'.pinpad [data-key="{digit}"]:visible')

    def type_figure(self, text: str) -> None:
        """Tap a figure on the keys, not at once as they come; a minus goes first."""
        self.page.wait_for_timeout(DOUBLE_TAP_MS)
        names = {",": ".", "-": "minus"}
        for key in text:
            self.tap(f'#dock [data-key="{names.get(key, key)}"]')

    def enrol(self, code: str, pin: str) -> None:
        """Put a person on this phone by a code from the office."""
        self.page.fill("#code", code)
        self.tap("#dock .main")
        self.sees("Choose a PIN")
        self.type_pin(pin)
        self.sees("The same PIN again")
        self.type_pin(pin)
        self.until("() => location.hash === '#/people'")

    def start_shift(self, person: str, pin: str) -> None:
        """Start a person's shift, unless enrolling has: recording needs no PIN."""
        card = self.page.locator(f'[data-person="{person}"]')
        card.locator(".good, .act").first.wait_for()
        if card.locator(".act").count():
            card.locator(".act").click()
            self.type_pin(pin)
        self.sees("records now", f'[data-person="{person}"]')

    def try_office(self) -> None:
        """Have the phone try the office now; by itself it does within 15 seconds."""
        self.page.evaluate(_TRY_OFFICE)

    def storage(self, store: str) -> Any:
        """Read a whole object store, past the screens."""
        return self.page.evaluate(_READ_STORE, store)

    def picture(self, path: Path) -> None:
        """Keep what is on the screen as a PNG."""
        self.page.screenshot(path=str(path))


_TRY_OFFICE = """async () => {
  const { kick } = await import("/phone/device/sync.js");
  kick();
}"""
_READ_STORE = """async (name) => {
  const database = await new Promise((resolve, reject) => {
    const asked = indexedDB.open("fieldapp");
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  const rows = await new Promise((resolve, reject) => {
    const asked = database.transaction(name).objectStore(name).getAll();
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  database.close();
  return rows.map((row) => (row instanceof CryptoKey ? "key" : row));
}"""


def _wait_for_port(port_file: Path) -> int:
    for _ in range(int(PATIENCE_S / STEP_S)):
        if port_file.exists():
            found = re.match(r"(\d+)\n", port_file.read_text("ascii"))
            if found:
                return int(found[1])
        time.sleep(STEP_S)
    raise AssertionError("the browser did not start")
