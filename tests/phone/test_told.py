"""What a subject is told of others is of one moment: entries, people and register."""

from tests.phone.conftest import BARE
from tests.phone.gang import JOINT, Gang
from tests.phone.office import Office

_ASKED_TOO_EARLY = """async ([after, other]) => {
  const { model } = await import("/phone/screens/model.js");
  const { readySheet, standingFor } = await import("/phone/screens/told.js");
  const { people } = await import("/phone/device/library.js");
  const ready = await readySheet(after);
  const asked = async () =>
    Object.keys((await standingFor(ready, [])).subjects[other].milestones);
  // As on a phone just put on: the entries are there, who is who is read last.
  model.people = {};
  model.items = {};
  const early = await asked();
  model.people = await people();
  return [early, await asked()];
}"""


def test_a_standing_worked_out_before_the_people_were_read_is_worked_out_again(
    gang: Gang, office_of_gang: Office
) -> None:
    office_of_gang.start()
    page = gang.phone.page
    page.goto(gang.phone.url + BARE)
    early, late = page.evaluate(_ASKED_TOO_EARLY, ["j-w2", JOINT])
    # Nobody known, nothing released: and the very same entries say so after.
    assert "lift" not in early
    assert "lift" in late
