"""How fast the phone is where it matters: cold, offline, on a slow processor.

Run by name: sh tests/run.sh tests/bench/test_phone.py -s
The slow-down of four times is the browser's own; it does not reach the service
worker, the storage or Web Crypto, so the figures compare and do not promise.
"""

import statistics
from collections.abc import Iterable
from pathlib import Path

from flask import Flask

from fieldapp.web.shell import WORKER, later_files, shell, shell_files
from tests.phone.by_hand import ByHand

# The fixtures of the phone's tests serve here as well.
from tests.phone.conftest import (  # noqa: F401
    Make,
    handset_of,
    playwright,
    sample_office,
)
from tests.phone.gang import DOUBLE_TAP_MS, Gang
from tests.phone.handset import Handset
from tests.phone.office import Office

ROOT = Path(__file__).resolve().parents[2]
SLOWER = 4
STARTS = 5
SETTLE_MS = 5_000
COLD_START_MS = 500
TAP_TO_SAVED_MS = 60
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
    taps = _taps(phone)
    phone.page.wait_for_timeout(SETTLE_MS)
    starts = [_cold_start(phone) for _ in range(STARTS)]
    slow_taps = _slow_taps(phone)
    usable, ready = zip(*starts, strict=True)
    print(
        f"\ncold offline start to a usable joint, slowed {SLOWER}x, ms: "
        f"{[round(each) for each in usable]}"
    )
    print(f"  state folded anew behind it, ms: {[round(each) for each in ready]}")
    print(
        f"tap to saved, ms: median {statistics.median(taps):.0f}, "
        f"worst {max(taps):.0f} of {len(taps)} unslowed"
    )
    print(f"tap to saved, slowed {SLOWER}x, ms: {[round(t) for t in slow_taps]}")
    assert statistics.median(usable) <= COLD_START_MS
    assert statistics.median(slow_taps) <= TAP_TO_SAVED_MS


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


def _cold_start(phone: Handset) -> tuple[float, float]:
    """Give ms to the usable screen and to the state folded anew behind it."""
    phone.kill()
    phone.wake()
    _slow(phone)
    phone.page.goto(phone.url + "/phone/", wait_until="commit")
    # Asking meanwhile would itself slow the page down.
    phone.page.wait_for_timeout(SETTLE_MS)
    phone.sees("Look and decide")
    found: list[float] = phone.page.evaluate(
        """() => ["usable", "ready"].map((name) =>
          performance.getEntriesByName(name)[0].startTime)"""
    )
    return found[0], found[1]


def _slow_taps(phone: Handset) -> list[float]:
    phone.tap('[data-step="close"] .row')
    for _ in range(8):
        phone.tap("#dock .main")
        phone.page.wait_for_timeout(DOUBLE_TAP_MS)
        phone.tap('#dock [data-value="1"]')
        phone.until("() => location.hash.startsWith('#/joint')")
        phone.tap('[data-step="close"] .row')
    return _taps(phone)


def _slow(phone: Handset) -> None:
    session = phone.page.context.new_cdp_session(phone.page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


def _taps(phone: Handset) -> list[float]:
    found: list[float] = phone.page.evaluate(
        "() => performance.getEntriesByName('tap-to-saved').map((one) => one.duration)"
    )
    return found
