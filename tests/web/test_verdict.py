"""No page says complete while something is to be decided, and it says how much."""

from pathlib import Path

import pytest

from fieldapp.records.marks import verdict_mark
from tests.people import INSPECTOR, SUBJECT
from tests.web.race import race


@pytest.mark.parametrize(
    ("verdict", "faults", "word"),
    [
        ("incomplete", [], "incomplete"),
        ("incomplete", ["open"], "incomplete: 1 nonconformance open"),
        ("incomplete", ["proposed", "open"], "incomplete: 2 nonconformances open"),
        ("incomplete", ["disposed", "closed"], "incomplete"),
        ("concession", ["disposed"], "complete under concession"),
        ("rejected", ["open"], "rejected"),
    ],
)
def test_a_verdict_counts_what_is_to_be_decided(
    verdict: str, faults: list[str], word: str
) -> None:
    told = [{"status": status} for status in faults]
    assert verdict_mark({"verdict": verdict, "nonconformances": told}).word == word


def test_the_joint_and_what_is_missing_tell_it(tmp_path: Path) -> None:
    site = race(tmp_path)
    site.at(0).wiped()
    site.at(2).say("release", by=INSPECTOR, point="go")
    about = {"text": "chipped key", "step": "close"}
    raised = site.at(3).say("nonconformance", about=about)
    for path in (f"/joints/{SUBJECT}", "/missing"):
        assert "incomplete: 1 nonconformance open" in site.read(path), path
    about = {"target": raised, "verdict": "use_as_is", "reason": "within the cover"}
    site.at(4).say("disposition", by=INSPECTOR, about=about)
    assert "nonconformance open" not in site.read(f"/joints/{SUBJECT}")
