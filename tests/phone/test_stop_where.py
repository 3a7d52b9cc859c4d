"""Where no joint is named on the screen, STOP asks which one it is."""

import json

from tests.phone.gang import JOINT, Gang

NAMED_TWICE = """(subject) => new Promise((done) => {
  const dock = document.getElementById("dock");
  const watch = new MutationObserver(() => {
    const key = dock.querySelector("[data-card]");
    if (!key) return;
    watch.disconnect();
    setTimeout(() => { key.click(); done(); }, 60);
  });
  watch.observe(dock, { childList: true });
  dock.querySelector(`[data-subject="${subject}"]`).click();
})"""
"""The second tap falls on what came in the joint's place."""


def test_where_no_joint_is_named_stop_asks_which_it_is(gang: Gang) -> None:
    phone, other = gang.phone, "j-e1"
    phone.tap("#more")
    phone.tap("#to-site")
    phone.page.locator(f'[data-subject="{other}"]').wait_for()
    # Pressed twice, as in danger: that does not say which.
    phone.tap("#stop")
    phone.tap("#stop")
    phone.sees("STOP where?", "#screen h2")
    # The one open last is there at once, and stays where it is.
    first = phone.page.locator("#dock [data-subject]").first
    assert first.get_attribute("data-subject") == JOINT
    before = first.bounding_box()
    phone.page.locator(f'#dock [data-subject="{other}"]').wait_for()
    # The second tap draws the list anew: for a moment there may be none.
    after = first.bounding_box()
    while after is None:
        first.wait_for()
        after = first.bounding_box()
    assert after == before
    phone.page.evaluate(NAMED_TWICE, other)
    phone.sees("Joint E1", "#whose")
    assert _stopped(gang) == []
    phone.tap('[data-card="rain"]')
    phone.sees("Stop recorded")
    assert _stopped(gang) == [other]
    # Whoever looked at the bridge is back there.
    phone.tap("#back")
    phone.until("() => document.body.dataset.screen === 'site'")


def _stopped(gang: Gang) -> list[str]:
    rows = [json.loads(row["bytes"]) for row in gang.phone.storage("entries")]
    return [entry["subject"] for entry in rows if entry["kind"] == "stopped"]
