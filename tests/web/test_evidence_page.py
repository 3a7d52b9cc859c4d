"""One point with everything it rests on, and a joint told with its turns."""

from pathlib import Path

import pytest

from fieldapp.core.canonical import fingerprint
from fieldapp.lookups.register import Registered, register_of
from fieldapp.store.database import connected
from tests.people import INSPECTOR, SUBJECT, put_in_force
from tests.web.race import (
    ENGINEER,
    LIFE,
    OTHER,
    PICTURE,
    Race,
    amend,
    race,
    race_sheet,
)

POINT = f"/joints/{SUBJECT}/points/go"


@pytest.fixture
def site(tmp_path: Path) -> Race:
    return race(tmp_path)


def test_a_point_tells_readings_with_limits_and_sources_and_who_may_not_sign(
    site: Race,
) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    text = site.at(3).read(POINT)
    for words in ("Nothing that the plan asks for is missing", "21.5 °C",
                  "(at least 5.0)", "[the maker&#39;s sheet]", "/photos/",
                  "Did part of the work, so cannot sign:</strong> Ida Fell",
                  "still to sign", "Inspector (Tarn Board)", "✓ met",
                  "type your PIN", "Shut until it is released: Mix"):  # fmt: skip
        assert words in text, words


def test_what_is_bounded_or_worked_out_for_a_gate_is_read_there_as_a_figure(
    site: Race,
) -> None:
    # A step that is read once has no lines: its checks are of the step, and of its own.
    steps = race_sheet()["steps"]
    steps["wipe"]["checks"][0]["scope"] = "step"
    fact = {"label": "Out of balance", "source": "the pier's design"}
    facts = [fact | {"value": "4575 kNm", "point": "go"}, fact | {"value": "12 kNm"}]
    changed, door = race_sheet(steps=steps, facts=facts), site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, changed, people=[ENGINEER], tables=[LIFE], **PICTURE)
    site.at(0).wiped(sheet=fingerprint(changed))
    assert '21.5 °C</b> <span class="limit">(at least 5.0)' in site.read(POINT)


def test_what_was_taken_out_of_use_since_is_told_to_whoever_signs(site: Race) -> None:
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, race_sheet(), race_sheet(OTHER), people=[ENGINEER],
                     tables=[LIFE], register=["foreman"], **PICTURE)  # fmt: skip
        (gauge,) = register_of(site.desk.site.wired.reader)
    site.at(0).wiped(needs=[gauge.entry])
    assert "out of use" not in site.read(POINT)
    about = {"item": "g1", "kind": "gauge", "label": gauge.label, "text": "Bent",
             "replaces": gauge.entry}  # fmt: skip
    site.at(5)
    about |= {"expires": site.desk.site.now}
    out = site.say("registered", subject=None, about=about, values={"zero": 35})
    text = site.read(POINT)
    told = text[text.index('id="rests"') :]
    assert "Gauge one</a> is out of use since" in told
    assert "by Ida Fell: “Bent”" in told
    # Put back, nothing is said of it any more.
    del about["expires"]
    back = about | {"text": "GC-12", "replaces": out}
    site.at(6).say("registered", subject=None, about=back, values={"zero": 35})
    assert "out of use" not in site.read(POINT)


def test_what_is_missing_of_a_point_is_told_first(site: Race) -> None:
    text = site.read(POINT)
    assert "Wipe the face is not recorded yet." in text
    assert "✕ not met" in text
    assert "Nobody has called, released or refused it." in text
    site.at(0).wiped(send=False)
    assert "by Ida Fell has not arrived" in site.read(POINT)


def test_a_correction_is_told_with_what_was_read_before_and_lapses_the_release(
    site: Race,
) -> None:
    wiped = site.at(0).wiped()
    site.at(1).say("release", by=INSPECTOR, point="go")
    about = {"target": wiped, "reason": "read the wrong gauge"}
    site.at(2).say("correction", step="wipe", values={"temp": 203}, about=about)
    text = site.at(3).read(POINT)
    corrected = text[text.index('id="corrected"') :]
    assert "21.5 °C" in corrected
    assert "20.3 °C" in corrected
    assert "“read the wrong gauge”" in corrected
    assert "lapsed" in text
    story = site.read(f"/joints/{SUBJECT}")
    assert "21.5 °C → 20.3 °C" in story
    # What the correction ended is told with it, and that it was released again.
    assert "lapsed" in story
    assert "released anew" not in story
    site.at(4).say("release", by=INSPECTOR, point="go")
    story = site.read(f"/joints/{SUBJECT}")
    turns = story[story.index('id="turns"') : story.index('id="work"')]
    assert turns.index("lapsed") < turns.index("released anew")


def test_a_photograph_added_is_no_correction_and_lapses_no_release(
    site: Race,
) -> None:
    issued = amend(site)
    wiped = site.at(0).wiped(**issued)
    site.at(1).say("release", by=INSPECTOR, point="go", **issued)
    about = {"target": wiped, "reason": "Photo added"}
    added = {"about": about, "photos": ["ab" * 32], **issued}
    site.at(2).say("correction", step="wipe", **added)
    text = site.at(3).read(POINT)
    assert 'id="corrected"' not in text
    assert "✓ signed" in text
    story = site.read(f"/joints/{SUBJECT}")
    assert "photograph added" in story
    assert "corrected" not in story
    assert "lapsed" not in text + story


def test_a_gate_passed_on_a_release_that_lapsed_is_said_to_be_that(
    site: Race,
) -> None:
    wiped = site.at(0).wiped()
    site.at(1).say("release", by=INSPECTOR, point="go")
    for kit in ("k1", "k2"):
        site.at(2).say("done", step="mix", line=kit)
    assert "✓</span> released" in site.read(POINT)
    assert "✓ signed" in site.read(POINT)
    about = {"target": wiped, "reason": "read the wrong gauge"}
    site.at(3).say("correction", step="wipe", values={"temp": 203}, about=about)
    for path in (POINT, f"/joints/{SUBJECT}"):
        text = site.read(path)
        assert "passed on a release that lapsed later" in text
        assert "✓</span> released" not in text


def test_a_joint_is_told_with_its_turns_in_the_ledgers_order(site: Race) -> None:
    door = site.desk.site.wired.door
    card = {**race_sheet()["cards"][0], "step": "wipe"}
    with connected(door.store):
        put_in_force(door, race_sheet(cards=[card]), race_sheet(OTHER),
                     people=[ENGINEER], tables=[LIFE], **PICTURE)  # fmt: skip
    site.at(0).wiped()
    site.at(1).say("refusal", by=INSPECTOR, point="go", about={"reason": "still wet"})
    site.at(2).say("stopped", about={"reason": "rain"})
    # The face was wiped before the first STOP; of the second nobody recorded anything.
    assert "nothing recorded" not in site.read(f"/joints/{SUBJECT}")
    site.at(4).say("stopped", about={"reason": "rain"})
    text = site.read(f"/joints/{SUBJECT}")
    assert text.count("nothing recorded as “Wipe the face”") == 1
    turns = text[text.index('id="turns"') : text.index('id="work"')]
    assert turns.index("“still wet”") < turns.index("STOP")
    assert "Rain" in turns, "a stop is told by the title of its card"
    assert "Omar Beck" in turns


def test_pictures_are_drawn_with_a_name_for_who_cannot_see_them(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("release", by=INSPECTOR, point="go")
    site.at(2).say("done", step="mix", line="k1")
    text = site.at(4).read(f"/joints/{SUBJECT}")
    pictures = text[text.index('id="pictures"') :]
    assert '<svg role="img"' in pictures
    assert "aria-label=" in pictures


@pytest.mark.parametrize(
    "path", [f"/joints/{SUBJECT}/points/none", "/joints/J9/points/go"]
)
def test_a_point_that_is_not_there_is_404(site: Race, path: str) -> None:
    assert site.desk.client.get(path).status_code == 404


def test_a_point_not_begun_reads_too(site: Race) -> None:
    text = site.read(f"/joints/{OTHER}/points/go")
    assert "Joint 1 must have Joint shut first." in text


def test_what_was_decided_stays_in_the_evidence_once_the_gate_was_opened(
    site: Race,
) -> None:
    issued = amend(site)
    (gauge,) = registered(site)
    site.at(0).wiped(needs=[gauge.entry], **issued)
    site.at(1).say("release", by=INSPECTOR, point="go", **issued)
    for kit in ("k1", "k2"):
        site.at(2).say("done", step="mix", line=kit, **issued)
    about = {"item": "g1", "kind": "gauge", "label": gauge.label,
             "replaces": gauge.entry, "reason": "Misread by stores"}  # fmt: skip
    site.at(3).say("registered", subject=None, about=about, values={"zero": 41})
    text = section(site.read(POINT))
    assert "Its certificate was corrected afterwards" in text
    assert "“Misread by stores”" in text
    chipped = {"text": "Edge chipped", "step": "wipe"}
    fault = site.at(4).say("nonconformance", about=chipped, **issued)
    reason = {"target": fault, "verdict": "use_as_is", "reason": "small"}
    site.at(5).say("disposition", by=ENGINEER["id"], about=reason, **issued)
    text = section(site.read(POINT))
    assert "Edge chipped" in text
    assert "use as is" in text
    assert "“small”" in text
    # What is of another gate's work is not this one's evidence.
    assert 'id="nc"' not in site.read(f"/joints/{SUBJECT}/points/look")


def section(text: str) -> str:
    """Give a page from what it tells of nonconformances on."""
    return text[text.index('id="nc"') : text.index('id="acts"')]


def registered(site: Race) -> list[Registered]:
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, race_sheet(amended=2), people=[ENGINEER], tables=[LIFE],
                     register=["foreman"], **PICTURE)  # fmt: skip
        return register_of(site.desk.site.wired.reader)
