"""Nothing holds up STOP, or a race that runs."""

from tests.phone.gang import ALL_READ, JOINT, Gang

SLOWLY = """() => new Promise((done) => {
  const real = performance.now.bind(performance);
  let late = 0;
  performance.now = () => real() + (late += 400);
  const dock = document.getElementById("dock");
  const watch = new MutationObserver(() => {
    if (!dock.querySelector("[data-card]")) return;
    watch.disconnect();
    performance.now = real;
    done(dock.inert || dock.querySelector("[data-card]").disabled);
  });
  watch.observe(dock, { childList: true });
  document.getElementById("stop").click();
})"""
"""What the screen took to come: longer than a double tap."""
LEFT = """async (subject) => {
  const { putMeta } = await import("/phone/device/database.js");
  const now = Date.now();
  await putMeta("copying",
    { subject, writer: "", at: now, hashes: [], shift: "jorun 0", noted: now });
}"""
"""A sheet of paper was in hand in an earlier shift of the same day."""
COMES_LATE = """async () => {
  const { changed, model } = await import("/phone/screens/model.js");
  const held = () => document.querySelector("#dock button").disabled;
  const sheet = model.copying;
  const drawn = async (copying) => {
    model.copying = copying;
    changed();
    for (let tries = 200; tries; tries -= 1) {
      const isThere = document.querySelector("#copying-left") !== null;
      if (isThere === Boolean(copying)) return;
      await new Promise((on) => setTimeout(on, 10));
    }
    throw new Error("never drawn");
  };
  await drawn(undefined);
  await new Promise((on) => setTimeout(on, 400));
  const before = held();
  await drawn(sheet);
  return [before, held()];
}"""


def test_the_reasons_of_a_stop_that_came_slowly_take_the_first_tap(gang: Gang) -> None:
    held = gang.phone.page.evaluate(SLOWLY)
    assert held is False


def test_a_race_that_runs_is_not_held_up_by_a_sheet_left(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    phone.page.evaluate(LEFT, JOINT)
    phone.restart()
    phone.sees("Copying from the paper sheet", "#copying-left")
    # In place of keys that record now it comes under no thumb.
    assert phone.page.evaluate(COMES_LATE) == [False, True]
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    phone.until("() => document.querySelector('#copying-left') === null")
    assert phone.page.locator("#dock .main").count() > 0
