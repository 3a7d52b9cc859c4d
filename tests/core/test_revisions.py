"""An entry is judged by the sheet it was made under; steps that differ reopen."""

from fieldapp.core.canonical import fingerprint
from fieldapp.core.revisions import revisions_of
from fieldapp.core.sheet import part_hashes, prepare
from tests.core.small import LIFE, raw_sheet
from tests.core.story import Story


def test_work_done_through_a_gate_stays_done_under_a_revised_sheet() -> None:
    raws = [raw_sheet(amended=1), raw_sheet(amended=1, revision=2)]
    raws[1]["steps"]["face"]["title"] = "Face temperature, shaded"
    keys = [fingerprint(each) for each in raws]
    sheets = dict(zip(keys, raws, strict=True))
    find = revisions_of(sheets, {fingerprint(LIFE): LIFE})
    old, new = map(find, keys)
    assert old is not None
    assert new is not None
    story = Story(old)
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    # A release under the old sheet opens nothing under the new, whose step is open.
    story.sheet = new
    assert story.state()["points"]["may_mix"]["status"] == "waiting"
    story.sheet = old
    story.at(4).done("mix", line="k1")
    story.sheet = new
    state = story.state()
    # The step that reads otherwise is open again; what its gate let through stays.
    assert state["steps"]["face"]["status"] == "open"
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "ok"
    assert state["points"]["may_mix"]["status"] == "released"
    assert state["nonconformances"] == []
    assert [f["code"] for f in state["flags"]] == ["other_sheet"]
    # A sheet alone, without those before it, judges every act by itself.
    older = {old.hash: part_hashes(old.raw)}
    story.sheet = prepare(new.raw, {fingerprint(LIFE): LIFE}, older)
    assert [f["code"] for f in story.state()["nonconformances"]] == ["gate_shut"]
