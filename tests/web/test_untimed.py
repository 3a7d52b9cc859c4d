"""A wait that began by a wrong clock: the desk says that nobody knows, and no hour."""

from pathlib import Path

from tests.people import SUBJECT
from tests.web.race import MINUTE_MS, amend, race


def test_a_wait_nobody_knows_the_beginning_of_has_no_hour(tmp_path: Path) -> None:
    site = race(tmp_path)
    issued = amend(site)
    site.at(10).say("note", about={"text": "Begun"}, **issued)
    # A new session whose clock lies behind: that phone was switched off and on.
    site.phone.restart(site.desk.site.now)
    site.phone.skew_ms, site.phone.offset_ms = -600 * MINUTE_MS, None
    site.at(15).say("done", step="close", **issued)
    site.at(20)
    text = site.read(f"/joints/{SUBJECT}")
    assert "Curing" in text
    assert "not known when it began" in text
    assert "Read the step again on a phone whose clock is right" in text
