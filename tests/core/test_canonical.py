"""One byte form in both languages, held against an independent library and hashlib."""

import hashlib
import json
import unicodedata
from typing import Any

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.core.canonical import NotCanonical, canonical, read_canonical
from tests.javascript import UNDEFINED, JavaScript, JavaScriptError

MODULE = "static/core/canonical.js"
SHA256 = "static/core/sha256.js"

keys = st.text(st.characters(max_codepoint=127), max_size=6)
# Letters that both languages' Unicode tables have known for years.
letters = st.characters(max_codepoint=0x1F64F, exclude_categories=["Cs", "Cn"])
texts = st.text(letters, max_size=8).map(lambda t: unicodedata.normalize("NFC", t))
numbers = st.integers(-(2**53) + 1, 2**53 - 1)
documents = st.recursive(
    st.booleans() | numbers | texts,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(keys, inner, max_size=4)
    ),
    max_leaves=12,
)


@given(document=documents)
def test_bytes_are_those_of_an_independent_library(document: Any) -> None:
    assert canonical(document) == rfc8785.dumps(document)


@given(batch=st.lists(documents, max_size=10))
def test_both_languages_write_the_same_bytes(
    javascript: JavaScript, batch: list[Any]
) -> None:
    written = javascript.each(MODULE, "canonical", [[each] for each in batch])
    assert [text.encode() for text in written] == [canonical(each) for each in batch]


@given(document=documents)
def test_canonical_bytes_read_back_as_the_document(document: Any) -> None:
    assert read_canonical(canonical(document)) == document


REFUSED = {
    "a fraction": 1.5,
    "a whole float beyond 2^53": 2.0**53,
    "nothing": None,
    "2^53": 2**53,
    "-2^53": -(2**53),
    "text not in normal form C": "e\u0301",
    "a key that is not ASCII": {"é": 1},
    "a list 41 deep": json.loads("[" * 41 + "]" * 41),
    "a text 41 deep": json.loads("[" * 40 + '"a"' + "]" * 40),
    "a map's text 41 deep": json.loads('{"a":' * 40 + '"a"' + "}" * 40),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_foreign_document_is_refused_in_both_languages(
    javascript: JavaScript, name: str
) -> None:
    with pytest.raises(NotCanonical):
        canonical(REFUSED[name])
    with pytest.raises(JavaScriptError, match="NotCanonical"):
        javascript.call(MODULE, "canonical", REFUSED[name])


def test_a_lone_surrogate_is_refused_in_both_languages(javascript: JavaScript) -> None:
    with pytest.raises(NotCanonical, match="surrogate"):
        canonical("\ud800")
    with pytest.raises(JavaScriptError, match="NotCanonical"):
        javascript.call(MODULE, "readCanonical", '"\\ud800"')


NOT_CANONICAL = [
    *("", " 1", "1 ", "1.0", "1e2", "-0", "01", "+1", "NaN", "Infinity", "null"),
    *('{"b":1,"a":2}', '{"a":1,"a":1}', '{"a": 1}', "[1,]", "[1 ,2]", "'a'"),
    *('"\\u0061"', '"\\/"', '"\\u000A"', '"\\u0008"', '"\t"', '"\\u00e9"'),
    *("9007199254740992", "-9007199254740992", "1e400", '"e\u0301"', '{"é":1}'),
    *('"a', "[", "{}{}", "tru", "\ufeff1", "[" * 41 + "]" * 41),
]


@pytest.mark.parametrize("text", NOT_CANONICAL)
def test_text_in_another_form_is_refused_in_both_languages(
    javascript: JavaScript, text: str
) -> None:
    with pytest.raises(NotCanonical):
        read_canonical(text.encode())
    for raw in (text, text.encode()):
        with pytest.raises(JavaScriptError, match="NotCanonical"):
            javascript.call(MODULE, "readCanonical", raw)


def test_bytes_that_are_not_utf8_are_refused(javascript: JavaScript) -> None:
    raw = b'"\xff"'
    with pytest.raises(NotCanonical):
        read_canonical(raw)
    with pytest.raises(JavaScriptError, match="NotCanonical"):
        javascript.call(MODULE, "readCanonical", raw)


def test_a_key_without_a_value_is_missing(javascript: JavaScript) -> None:
    document = {"a": 1, "b": UNDEFINED}
    assert javascript.call(MODULE, "canonical", document) == '{"a":1}'


def test_hashes_are_those_of_hashlib_at_every_length(javascript: JavaScript) -> None:
    raws = [bytes(n % 251 for n in range(length)) for length in range(260)]
    found = javascript.each(SHA256, "sha256Hex", [[raw] for raw in raws])
    assert found == [hashlib.sha256(raw).hexdigest() for raw in raws]


@given(raw=st.binary(max_size=3_000))
def test_hashes_are_those_of_hashlib(javascript: JavaScript, raw: bytes) -> None:
    assert javascript.call(SHA256, "sha256Hex", raw) == hashlib.sha256(raw).hexdigest()
