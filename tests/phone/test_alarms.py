"""Alarms: told until somebody has seen them, and seen is signed."""

import json
from typing import Any

from fieldapp.clock import utc_now_ms
from tests.phone.gang import PINS, TIMES_OVER, Gang


def test_an_alarm_flashes_until_somebody_has_seen_it(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.first_kit_at(utc_now_ms() - 25 * 60_000)
    phone.sees("Kit on the face by: time is past", "#alarm")
    phone.until("() => document.getElementById('alarm').classList.contains('unseen')")
    period_s: float = phone.page.evaluate(
        """() => parseFloat(getComputedStyle(
          document.querySelector('#alarm .icon')).animationDuration)"""
    )
    assert 1 / period_s < 3
    phone.tap("#alarm .seen")
    phone.until("() => !document.getElementById('alarm').classList.contains('unseen')")
    # Seen is not silenced: it stays to be read.
    phone.sees("time is past", "#alarm")
    assert len(_seen(gang)) == 1
    phone.restart()
    phone.sees("time is past", "#alarm")
    phone.until("() => !document.getElementById('alarm').classList.contains('unseen')")


def test_an_alarm_is_seen_by_pin_where_no_shift_runs_and_ends_once_it_is_decided(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.first_kit_at(utc_now_ms() - 25 * 60_000)
    phone.sees("Kit on the face by: time is past", "#alarm")
    phone.page.evaluate(_SHIFT_RUNS_OUT)
    phone.tap("#alarm .seen")
    phone.tap('#over [data-person="jorun"]')
    phone.type_pin(PINS["jorun"])
    phone.until("() => !document.getElementById('alarm').classList.contains('unseen')")
    assert _seen(gang)[0]["person"] == "jorun"
    (fault,) = phone.page.evaluate(TIMES_OVER)
    about = {"target": fault, "verdict": "use_as_is", "reason": "Set aside"}
    gang.sign({"kind": "disposition", "about": about}, "caspar")
    phone.until("() => document.getElementById('alarm').hidden")
    assert "Kit on the face by" not in phone.page.inner_text("#minutes")


_SHIFT_RUNS_OUT = """async () => {
  const { changed, model } = await import("/phone/screens/model.js");
  model.shift = undefined;
  changed();
}"""


def _seen(gang: Gang) -> list[dict[str, Any]]:
    rows = [json.loads(row["bytes"]) for row in gang.phone.storage("entries")]
    return [entry for entry in rows if entry["kind"] == "acknowledged"]
