"""What was used though nobody had looked at it is named, with what was looked at."""

from fieldapp.core.fold import present
from fieldapp.core.words import say
from fieldapp.records.foreign import foreign, is_foreign, told_of
from tests.core.story import START_MS
from tests.core.test_looked_at import looked_at


def test_the_words_name_what_was_used_and_what_was_looked_at() -> None:
    story = looked_at("a", "c")
    story.items = {n: {**item, "label": f"Lot {n}"} for n, item in story.items.items()}
    # Looked at afterwards it heals nothing, and is not told as if it had been.
    story.at(5).done("wipe", values={"damp": 0, "lot": "b"})
    state, now = story.state(), {"at": START_MS + 300_000}
    scene = present(story.sheet, story.entries.values(), story.standing(), now)
    assert is_foreign(state)
    known = foreign(scene, state)
    said = "Lot b is none of those looked at before the gate (Lot a, Lot c)."
    line = {"code": "item_foreign", "step": "mix", "line": "k2", "check": "lot"}
    assert say("item_foreign", dict(told_of(known, line))) == said
    entry = state["steps"]["mix"]["lines"]["k2"]["entry"]
    by_entry = {**line, "line": "", "entry": entry}
    assert say("item_foreign", dict(told_of(known, by_entry))) == said
    assert told_of(known, {**line, "line": "k1"}) == {}
