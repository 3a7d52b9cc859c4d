"""Chapters: lines told once for many stories, moved in time, their words filled in."""

from pathlib import Path
from typing import Any

import pytest

from fieldapp.play.chapters import with_chapters
from fieldapp.play.world import PlayFault

WIPE = '{ who = "ida", do = "done", step = "wipe", values = { "$field" = "$temp" } }'
LATER = '{ at = "1:30", typed = "1:00", who = "ida", do = "done", step = "mix" }'


def chapter(folder: Path, *lines: str, name: str = "wiped.toml") -> None:
    (folder / name).write_text("lines = [\n" + ",\n".join(lines) + "\n]\n", "utf-8")


def told(folder: Path, at: str = "19:00", **words: Any) -> Any:
    line = {"at": at, "chapter": "wiped.toml", "with": words}
    return with_chapters([{"phone": "gang"}, line], folder)


def test_the_lines_stand_where_the_chapter_was_with_its_words(tmp_path: Path) -> None:
    chapter(tmp_path, WIPE, LATER)
    before, wipe, later = told(tmp_path, field="temp", temp=4)
    assert before == {"phone": "gang"}
    assert (wipe["at"], wipe["values"]) == ("19:00:00", {"temp": 4})
    assert (later["at"], later["typed"]) == ("20:30:00", "20:00:00")


def test_minutes_and_seconds_carry_over(tmp_path: Path) -> None:
    chapter(tmp_path, '{ at = "0:40:50", do = "note" }')
    assert told(tmp_path, at="23:59:10")[1]["at"] == "24:40:00"


def test_a_chapter_may_name_another_but_not_itself_for_ever(tmp_path: Path) -> None:
    chapter(tmp_path, '{ at = "0:10", chapter = "other.toml" }')
    chapter(tmp_path, '{ at = "0:05", do = "note" }', name="other.toml")
    assert told(tmp_path)[1]["at"] == "19:15:00"
    chapter(tmp_path, '{ at = "0:10", chapter = "wiped.toml" }')
    with pytest.raises(PlayFault, match="4 deep at most"):
        told(tmp_path)


@pytest.mark.parametrize(
    ("lines", "words", "said"),
    [
        ([WIPE], {"field": "temp"}, "found no temp"),
        ([WIPE], {"field": "temp", "temp": 4, "lot": "l"}, "no line asks for lot"),
        ([], {}, "allowed: a list of lines"),
        (['{ at = "soon", do = "note" }'], {}, "hours:minutes"),
    ],
)
def test_a_chapter_that_does_not_fit_is_a_fault_of_the_story(
    tmp_path: Path, lines: list[str], words: dict[str, Any], said: str
) -> None:
    chapter(tmp_path, *lines)
    with pytest.raises(PlayFault, match=said):
        told(tmp_path, **words)


def test_a_chapter_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    with pytest.raises(PlayFault, match=r"wiped\.toml"):
        told(tmp_path)
