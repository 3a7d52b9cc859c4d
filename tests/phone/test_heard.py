"""When the office was last heard is the same hour before and after a browser's end."""

from tests.phone.handset import Handset

MINUTE = 60_000
TEN = 10 * 60 * MINUTE
_HEARD = """async (times) => {
  const { noteHeard } = await import("/phone/device/heard.js");
  const { getMeta } = await import("/phone/device/database.js");
  const found = [];
  for (const at of times) found.push([await noteHeard(at), await getMeta("heard")]);
  return found;
}"""


def test_what_is_kept_is_of_the_minute_that_was_shown(emptied: Handset) -> None:
    # Every few seconds, over three minutes, and by a clock that was put back.
    times = [TEN + 50_000 + n * 4_000 for n in range(45)]
    found = emptied.page.evaluate(_HEARD, [*times, TEN - 1_000])
    shown = [at // MINUTE for at, _ in found]
    assert [kept // MINUTE for _, kept in found] == shown
    # Not at every answer: a phone's flash is not written for nothing.
    assert len({kept for _, kept in found}) == len(set(shown))
