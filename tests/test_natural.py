"""Marks come in the order in which people expect them."""

from fieldapp.lookups.natural import natural


def test_numbers_in_marks_count_as_numbers() -> None:
    marks = ["3E10", "bar-2", "3E2", "b12-w1", "Bar-10", "b2-w1", "W1", "bar-02", ""]
    assert sorted(marks, key=natural) == [
        "", "3E2", "3E10", "b2-w1", "b12-w1", "bar-02", "bar-2", "Bar-10", "W1",
    ]  # fmt: skip


def test_digits_of_other_scripts_do_not_upset_the_order() -> None:
    assert min(["x²", "x٣", "x1"], key=natural) == "x1"
