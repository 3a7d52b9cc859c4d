"""A sheet written by hand is copied in the evening: nothing on it is left out."""

from datetime import datetime, timedelta

from tests.phone.gang import ALL_READ, JOINT, Gang

WRITER = "Tamsin Orbell"


def test_what_is_asked_only_where_known_is_offered_from_paper(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    _face_read(gang, "19.5")
    # Here and now nobody is asked for the coldest point: the key would save.
    phone.sees("SAVE", '#dock [data-key="go"]')
    phone.tap('[data-field="paper"]')
    phone.tap('[data-value="paper"]')
    phone.page.fill("#writer", WRITER)
    gang.save()
    _done_at(gang, 3)
    phone.sees("not on the paper", '#dock [data-key="go"]')
    phone.sees("Coldest point", ".field.active")
    gang.figure("17.4")
    gang.save()
    phone.sees("Copying from paper", "#copying")
    # The sheet goes on; a point that was not written down is passed over.
    _face_read(gang, "19.8")
    gang.save()
    phone.sees("Coldest point", ".field.active")
    gang.save()
    phone.sees("Photos", ".field.active")
    gang.save()
    _done_at(gang, 2)
    # Still without its photo: asked once more, and saved without.
    gang.save()
    phone.until("() => location.hash.startsWith('#/joint/')")
    copied = [row["bytes"] for row in phone.storage("entries")
              if '"copied"' in row["bytes"]]  # fmt: skip
    assert ['"coldest":174' in row for row in copied] == [True, False]
    assert ['"coldest"' in row for row in copied] == [True, False]


def _face_read(gang: Gang, hottest: str) -> None:
    script = f"() => {{ location.hash = '#/form/{JOINT}/face-temp/-'; }}"
    gang.phone.page.evaluate(script)
    gang.phone.sees("Hottest point", ".field.active")
    gang.phone.type_figure(hottest)


def _done_at(gang: Gang, minutes_ago: int) -> None:
    gang.phone.sees("When", ".field.active")
    when = datetime.now().astimezone() - timedelta(minutes=minutes_ago)
    gang.figure(when.strftime("%H%M"))
