"""A language is one file: the same keys, the same values said, nothing left out."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from tests.javascript import JavaScript

ROOT = Path(__file__).resolve().parents[2]
WORDS = "tests/js/phone_words.js"
RULES = json.loads((ROOT / "fieldapp" / "core" / "words.json").read_text("utf-8"))
OTHERS = ("de", "es")
SAME_EVERYWHERE = {"Hand", "Version", "minus"}


@pytest.mark.parametrize("language", OTHERS)
def test_every_language_says_what_english_says_and_no_more(
    javascript: JavaScript, language: str
) -> None:
    english, other = _words(javascript, "en"), _words(javascript, language)
    assert other.keys() == english.keys()
    phrases = {key: text for key, text in english.items() if _is_phrase(text)}
    assert phrases
    assert {key: other[key] for key in phrases} == phrases


@pytest.mark.parametrize("language", OTHERS)
def test_every_rule_has_its_words_with_the_same_facts(
    javascript: JavaScript, language: str
) -> None:
    told = _rules(javascript, language)
    assert RULES.keys() - told.keys() == set()
    for code, text in told.items():
        if code not in RULES:
            # A rule that went: its words may stay until somebody tidies up.
            continue
        assert _facts(text) == _facts(RULES[code]["text"]), code


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_was_left_in_english(javascript: JavaScript, language: str) -> None:
    english, other = _words(javascript, "en"), _words(javascript, language)
    same = {
        key: text
        for key, text in english.items()
        if other[key] == text and not _is_phrase(text) and len(text) > 3
    }
    assert set(same.values()) <= SAME_EVERYWHERE


def test_no_text_of_a_language_is_empty(javascript: JavaScript) -> None:
    for language in ("en", *OTHERS):
        words = _words(javascript, language)
        assert [key for key, text in words.items() if not text.strip()] == []


def _words(javascript: JavaScript, language: str) -> dict[str, str]:
    laid: dict[str, Any] = javascript.call(WORDS, "laidOut", language)
    return {key: text for key, text in laid.items() if not key.startswith("rules.")}


def _rules(javascript: JavaScript, language: str) -> dict[str, str]:
    laid: dict[str, str] = javascript.call(WORDS, "laidOut", language)
    return {
        key.removeprefix("rules."): text
        for key, text in laid.items()
        if key.startswith("rules.")
    }


def _is_phrase(text: str) -> bool:
    return text.startswith("(")


def _facts(text: str) -> set[str]:
    return set(re.findall(r"\{(\w+)\}", text))
