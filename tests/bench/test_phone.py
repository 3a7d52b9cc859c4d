"""How fast the phone is where it matters: cold, offline, on a slow processor.

Run by name: sh tests/run.sh tests/bench/test_phone.py -s
The slow-down of four times is the browser's own; it does not reach the service
worker, the storage or Web Crypto, so the figures compare and do not promise. On a busy
machine only the processor time of the page's own thread says what a change did.
"Saved" is what the journal calls durable: written strictly, and read back. It counts
from the moment the browser's input took the tap, not from when the page heard of it;
the fold that says on the screen what the entry means comes after it.
"""

import statistics
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from flask import Flask

from fieldapp.web.shell import WORKER, later_files, shell, shell_files
from tests.phone.by_hand import ByHand

# The fixtures of the phone's tests serve here as well.
from tests.phone.conftest import (  # noqa: F401
    Make,
    handset_of,
    playwright,
    sample_data,
    sample_office,
)
from tests.phone.gang import Gang
from tests.phone.handset import DOUBLE_TAP_MS, Handset
from tests.phone.office import Office

ROOT = Path(__file__).resolve().parents[2]
SLOWER = 4
STARTS = 5
TRACED = 3
SAVES = 8
SETTLE_MS = 5_000
LOOK_MS = 50
COLD_START_MS = 500
TAP_TO_SAVED_MS = 60
FOLDED_MS = 150
NOTE_TAPS = """() => addEventListener("click", (event) =>
  performance.mark("tap", { startTime: event.timeStamp }), true)"""
PAYLOAD_BYTES = 120 * 1024


def test_cold_offline_start_and_tap_to_saved(
    sample_office: Office,  # noqa: F811
    handset_of: Make,  # noqa: F811
) -> None:
    phone = handset_of(sample_office).start()
    gang = Gang(phone)
    gang.enrol_everybody(sample_office)
    phone.until("() => navigator.serviceWorker.controller !== null")
    gang.open_joint()
    thumbs = ByHand(gang)
    sample_office.kill()
    thumbs.hang_segment()
    thumbs.prepare_surfaces()
    thumbs.release("leofric")
    thumbs.go_on()
    folded = _folded(phone)
    phone.page.wait_for_timeout(SETTLE_MS)
    worked = [_processor_time(phone) for _ in range(TRACED)]
    starts = [_cold_start(phone) for _ in range(STARTS)]
    slow_taps, slow_folded = _slow_taps(phone)
    usable, seen, ready = zip(*starts, strict=True)
    print(
        f"\ncold offline start to a usable joint, slowed {SLOWER}x, ms: "
        f"{[round(each) for each in usable]}"
    )
    print(f"  painted, ms: {[round(each) for each in seen]}")
    print(f"  state folded anew behind it, ms: {[round(each) for each in ready]}")
    print(
        "  processor time of the page's thread to usable, unslowed, ms: "
        f"{[round(each) for each in worked]}"
    )
    print(f"tap to saved, slowed {SLOWER}x, ms: {[round(t) for t in slow_taps]}")
    print(f"  saved and folded, ms: {[round(t) for t in slow_folded]}")
    print(
        f"saved and folded, unslowed, ms: median {statistics.median(folded):.0f}, "
        f"worst {max(folded):.0f} of {len(folded)}"
    )
    assert statistics.median(usable) <= COLD_START_MS
    assert statistics.median(slow_taps) <= TAP_TO_SAVED_MS
    assert statistics.median(slow_folded) <= FOLDED_MS


def test_the_payload_is_small() -> None:
    app = Flask("fieldapp", root_path=str(ROOT / "fieldapp"),
                static_folder=str(ROOT / "static"),
                template_folder=str(ROOT / "templates"))  # fmt: skip
    app.register_blueprint(shell)
    with app.test_request_context():
        files, later = [*shell_files(), f"/phone/{WORKER}"], later_files()
    ask = {"Accept-Encoding": "gzip"}
    client = app.test_client()

    def total(addresses: Iterable[str]) -> int:
        return sum(len(client.get(one, headers=ask).data) for one in addresses)

    print(
        f"\nphone payload as served: {total(files):,} bytes in {len(files)} files for "
        f"the first start, then {total(later):,} bytes in {len(later)} behind it"
    )
    assert total(files) <= PAYLOAD_BYTES


def _cold_start(phone: Handset) -> tuple[float, float, float]:
    """Give ms to the usable screen, to its paint, and to the state folded behind it."""
    phone.kill()
    phone.wake()
    _slow(phone)
    phone.page.goto(phone.url + "/phone/", wait_until="commit")
    # Asking meanwhile would itself slow the page down.
    phone.page.wait_for_timeout(SETTLE_MS)
    phone.until("() => performance.getEntriesByName('ready').length > 0")
    phone.sees("Look and decide")
    usable, seen, ready = phone.page.evaluate(
        """() => ["usable", "painted", "ready"].map((name) =>
          performance.getEntriesByName(name)[0].startTime)"""
    )
    return usable, seen, ready


def _processor_time(phone: Handset) -> float:
    """Give ms of the page's own thread from a cold start to the usable screen."""
    phone.kill()
    phone.wake()
    session = phone.browser.new_browser_cdp_session()
    events: list[dict[str, Any]] = []
    ended: list[object] = []

    def end(told: object) -> None:
        ended.append(told)

    session.on("Tracing.dataCollected", lambda told: events.extend(told["value"]))
    session.on("Tracing.tracingComplete", end)
    session.send("Tracing.start", {"categories": "blink.user_timing,toplevel"})
    phone.page.goto(phone.url + "/phone/", wait_until="commit")
    phone.page.wait_for_timeout(SETTLE_MS)
    phone.sees("Look and decide")
    session.send("Tracing.end")
    while not ended:
        phone.page.wait_for_timeout(LOOK_MS)
    return _thread_time(events) / 1_000


def _thread_time(events: list[dict[str, Any]]) -> float:
    """Give microseconds that the thread which says "usable" worked until then."""
    usable = next(one for one in events if one["name"] == "usable")
    here = [one for one in events if one["tid"] == usable["tid"]
            and one["pid"] == usable["pid"] and one["ts"] <= usable["ts"]]  # fmt: skip
    begun = max(one["ts"] for one in here if one["name"] == "navigationStart")
    # The task that says it is cut off there, by its share.
    worked: float = sum(
        one["tdur"] * min(1.0, (usable["ts"] - one["ts"]) / max(one["dur"], 1))
        for one in here
        # A task too short to be timed has no processor time in the trace.
        if one["name"].endswith("RunTask")
        and "tdur" in one
        and one["ts"] + one["dur"] > begun
    )
    return worked


def _slow_taps(phone: Handset) -> tuple[list[float], list[float]]:
    """Give ms from a tap to the durable save, and from asking for it to its fold."""
    phone.page.evaluate(NOTE_TAPS)
    before = len(_marks(phone, "durable"))
    _choose_closing(phone)
    for _ in range(SAVES):
        phone.tap("#dock .main")
        phone.page.wait_for_timeout(DOUBLE_TAP_MS)
        phone.tap('#dock [data-value="1"]')
        phone.until("() => location.hash.startsWith('#/joint')")
        _choose_closing(phone)
    taps, saved = _marks(phone, "tap"), _marks(phone, "durable")[before:]
    assert len(saved) == SAVES
    waits = [one - max(tap for tap in taps if tap < one) for one in saved]
    return waits, _folded(phone)


def _choose_closing(phone: Handset) -> None:
    """Choose a step that is behind: what is done lies in a fold."""
    phone.until("() => document.querySelector('[data-fold], [data-step=close]')")
    while phone.page.locator('[data-step="close"] .row').count() == 0:
        phone.tap("[data-fold] .row")
    phone.tap('[data-step="close"] .row')


def _slow(phone: Handset) -> None:
    session = phone.page.context.new_cdp_session(phone.page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


def _marks(phone: Handset, name: str) -> list[float]:
    found: list[float] = phone.page.evaluate(
        "(name) => performance.getEntriesByName(name).map((one) => one.startTime)", name
    )
    return sorted(found)


def _folded(phone: Handset) -> list[float]:
    found: list[float] = phone.page.evaluate(
        "() => performance.getEntriesByName('saved-and-folded')"
        ".map((one) => one.duration)"
    )
    return found
