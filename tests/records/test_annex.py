"""What the annex tells of the limits, and what it only counts."""

from types import SimpleNamespace
from typing import Any, cast

from fieldapp.records.annex import NO_SOURCE, limits_annex


def _part(title: str, *rules: tuple[str, str]) -> Any:
    told = tuple(SimpleNamespace(text=text, source=source) for text, source in rules)
    return SimpleNamespace(title=title, rules=told)


def _annex(*parts: Any) -> Any:
    opened = SimpleNamespace(state={"clocks": {}}, raw={"flow": ()})
    return limits_annex(cast(Any, opened), parts)


def test_what_can_be_looked_up_is_told_and_the_rest_is_counted() -> None:
    annex = _annex(
        _part(
            "Faces",
            ("A face is wet.", NO_SOURCE),
            ("A face is below 0.1 °C.", NO_SOURCE),
            ("A seal is loose.", "seal at each duct, practice (from memory, confirm)"),
        ),
        _part("Ready", ("The tools are not there.", NO_SOURCE)),
    )
    (faces,) = annex.limits
    assert [text for text, _ in faces.texts] == [
        "A face is below 0.1 °C.",
        "A seal is loose.",
    ]
    assert annex.by_eye == 2


def test_a_source_named_often_stands_once_under_a_letter() -> None:
    annex = _annex(_part("Film", ("Under 1 mm.", "maker"), ("Over 3 mm.", "maker")))
    assert annex.letters == (("a", "maker"),)
    assert [source for _, source in annex.limits[0].texts] == ["a", "a"]
    assert annex.by_eye == 0


def test_what_names_no_source_at_all_is_told_not_counted_as_practice() -> None:
    annex = _annex(_part("Faces", ("A face is wet.", ""), ("Dusty.", NO_SOURCE)))
    assert annex.limits[0].texts == (("A face is wet.", ""),)
    assert annex.by_eye == 1


def test_two_checks_of_a_step_that_say_the_same_are_told_once() -> None:
    same = ("Offset by more than 6 mm.", "a standard")
    annex = _annex(_part("Dry fit", same, same, ("A gap.", NO_SOURCE)))
    assert annex.limits[0].texts == (same,)
    assert annex.by_eye == 1
