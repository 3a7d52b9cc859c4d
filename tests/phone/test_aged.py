"""A reading not made again counts as the hottest certified, and this is told."""

from fieldapp.clock import utc_now_ms
from tests.phone.gang import ALL_READ, Gang

MINUTE_MS = 60_000
SAID = "Unless read again, counts as hottest from"
PRESSURE_BY = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.clocks["open-warm"].deadlines.pressure;
}"""
TOLD = f"""() => [...document.querySelectorAll("#minutes .times li")]
  .find((one) => one.textContent.includes("{SAID}")).querySelector("b").textContent"""


def test_a_hotter_reading_moves_a_deadline_on_and_the_screen_says_why(
    gang: Gang,
) -> None:
    phone = gang.phone
    read = utc_now_ms() - 10 * MINUTE_MS
    gang.tell({"step": "faces", "values": ALL_READ, "at": read}, {"step": "ready"})
    gang.release("leofric")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    phone.sees(SAID, "#minutes")
    before, aged = phone.page.evaluate(PRESSURE_BY), phone.page.evaluate(TOLD)
    # 21.5 at the warmest then; 24.0 now. From five minutes on it counted as 35.
    gang.tell({"step": "face-temp", "values": {"hottest": 240}})
    phone.until(f"async () => (await ({PRESSURE_BY})()) !== {before}")
    assert phone.page.evaluate(PRESSURE_BY) > before
    phone.until(f"() => ({TOLD})() !== '{aged}'")
