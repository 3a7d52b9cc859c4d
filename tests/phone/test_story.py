"""One joint from enrolment to the office, on a real browser, with the server dead.

This is the job itself: a gang, an inspector and an engineer round one phone; the
server is killed before the first reading and the browser right after a "saved".
"""

from pathlib import Path

from pypdf import PdfReader

from fieldapp.clock import utc_now_ms
from tests.phone.by_hand import ByHand, Taps
from tests.phone.conftest import Make
from tests.phone.gang import JOINT, PINS, Gang
from tests.phone.handset import Handset
from tests.phone.ledger import arrived, state_at_office
from tests.phone.office import Office
from tests.phone.read_preparation import called, cost, since_hung, watch
from tests.phone.screens import WHOLE

MINUTE_MS = 60_000
LATE_MIN = 75
"""A first kit so long ago is past 70 % of any open time of the sample's tables."""
MOST_FIGURES, MOST_TAPS = 30, 20
BARS, ROUNDS = 6, 3
SPECIMENS, FIGURE_TAPS = 1, 3
"""The figure of the specimens; two digits of an extension and the key that saves."""
MOST_S = {"hung to call": 225, "day before to call": 400}
"""Reading every word once, tapping and typing; a preparation's aim is four minutes."""
AFTER_PRESSURE = ("bead", "ducts", "final-marks")


def test_a_joint_is_finished_with_the_server_dead_and_arrives_once(
    sample_office: Office, handset_of: Make, tmp_path: Path
) -> None:
    office, phone = sample_office, handset_of(sample_office).start()
    gang = Gang(phone)
    gang.enrol_everybody(office)
    phone.until("() => navigator.serviceWorker.controller !== null")
    gang.open_joint()
    thumbs = ByHand(gang)
    # The screen of a gate comes behind the first start.
    phone.until(WHOLE)
    office.kill()

    thumbs.count()
    _prepared_in_time(thumbs)
    thumbs.release("leofric")
    phone.sees("GO", "#go")
    before = thumbs.counted()
    thumbs.go_on()
    phone.sees("ready to call")
    race = thumbs.counted()
    saved = {row["id"] for row in phone.storage("entries")}
    phone.restart()
    phone.sees("Look and decide")
    assert {row["id"] for row in phone.storage("entries")} == saved
    thumbs.count()
    thumbs.release("leofric")
    thumbs.release("edric")
    thumbs.take_weight_off()
    thumbs.sign_off()
    phone.sees("complete")
    after = thumbs.counted()
    _within_practice(before, race, after)

    _arrives_once(office, phone)
    lines = state_at_office(office, JOINT)["steps"]["bars-in"]["lines"].values()
    # The thumb took the first bar on the list at each place: none is offered twice.
    assert len({line["values"]["bar"] for line in lines}) == BARS
    record = _record(office, tmp_path / "joint.pdf")
    assert "Joint W1" in record
    for name in ("Jorun Faleck", "Leofric Mayne", "Edric Vanholt"):
        assert name in record


def test_a_joint_over_its_time_is_disposed_of_and_begun_again(
    gang: Gang, office_of_gang: Office
) -> None:
    phone = gang.phone
    # Mixing was released before it: what is done earlier is against the gate.
    gang.clock_on(-LATE_MIN - 2)
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.clock_on(LATE_MIN + 2)
    gang.first_kit_at(utc_now_ms() - LATE_MIN * MINUTE_MS)
    phone.sees("TIME OVER", "#minutes")
    phone.sees("ACT NOW", "#alarm")
    gang.go_on()
    gang.release("leofric")
    gang.act()
    phone.sees("An open nonconformance shuts this gate")
    phone.tap("#release")
    phone.sees("not ready", "#screen .note")
    phone.tap("#back")

    gang.dispose("caspar", "rework", "faces", "Pressure too late: part, clean, again.")
    phone.sees("attempt 2")
    phone.sees("Joint parted and cleaned")

    made = {row["id"] for row in phone.storage("entries") if row.get("waiting")}
    office_of_gang.start()
    phone.try_office()
    phone.sees("all at the office")
    entries = arrived(office_of_gang, JOINT)
    assert made <= {entry.id for entry in entries}
    disposition = [entry for entry in entries if entry.kind == "disposition"]
    assert {entry.person for entry in disposition} == {"caspar"}
    assert all(entry.unlocked == "pin" for entry in disposition)
    state = state_at_office(office_of_gang, JOINT)
    assert state["attempts"] == 2
    assert state["verdict"] == "incomplete"


def test_a_gate_cannot_be_released_by_whoever_did_the_work(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.act()
    gang.phone.tap("#release")
    # The foreman is not even asked: the PIN pad is the inspector's.
    gang.phone.sees("PIN of Leofric Mayne", "#over")
    gang.phone.type_pin(PINS["jorun"])
    gang.phone.sees("Wrong PIN", "#over")


def _prepared_in_time(thumbs: ByHand) -> None:
    """Prepare the joint up to its call, and judge what that cost a reader of it all."""
    watch(thumbs.gang)
    thumbs.hang_segment()
    thumbs.prepare_surfaces()
    thumbs.phone.sees("not released")
    prepared = called(thumbs)
    assert cost(since_hung(prepared)).seconds <= MOST_S["hung to call"]
    assert cost(prepared).seconds <= MOST_S["day before to call"]


def _arrives_once(office: Office, phone: Handset) -> None:
    """Start the office again: it has each entry once, and nothing waits."""
    made = {row["id"] for row in phone.storage("entries") if row.get("waiting")}
    office.start()
    phone.sees("all at the office")
    entries = arrived(office, JOINT)
    assert sorted(entry.id for entry in entries) == sorted(made)
    assert all(not row.get("waiting") for row in phone.storage("entries"))
    assert state_at_office(office, JOINT)["verdict"] == "complete"


def _within_practice(before: Taps, race: Taps, after: Taps) -> None:
    """Judge what recording cost: practice allows 30 typed figures a joint.

    Not counted is the specimens' one, wanted only where the force is reduced before 24
    hours are over. In the race, until pressure, 20 taps, and at target one a bar and
    round (two more open the first and choose the jack); in the last round each bar has
    a figure besides, its extension.
    """
    typed = sum(one.figures() for one in (before, race, after))
    assert typed - SPECIMENS <= MOST_FIGURES
    assert race.others(without={"bars", *AFTER_PRESSURE}) <= MOST_TAPS
    most = BARS * ROUNDS + 2 + BARS * FIGURE_TAPS
    assert BARS * ROUNDS <= race.of("bars") <= most


def _record(office: Office, path: Path) -> str:
    office.command("record", JOINT, "--pdf", str(path))
    return "\n".join(page.extract_text() for page in PdfReader(path).pages)
