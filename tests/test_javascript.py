"""The bridge to JavaScript alters nothing on the way, and says so when it cannot."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.javascript import (
    UNDEFINED,
    BigInt,
    Call,
    EngineStopped,
    JavaScript,
    JavaScriptError,
)

ECHO = "tests/js/echo.js"

# Minus zero has no JSON text that both languages keep, so it may not cross.
plain = st.none() | st.booleans() | st.integers() | st.text() | st.binary()
values = st.recursive(
    plain,
    lambda inner: st.lists(inner) | st.dictionaries(st.text("abc"), inner),
    max_leaves=20,
)


@given(batch=st.lists(values, max_size=10))
def test_values_come_back_as_they_were_sent(
    javascript: JavaScript, batch: list[object]
) -> None:
    assert javascript.each(ECHO, "same", [[value] for value in batch]) == batch


@pytest.mark.parametrize(
    ("sent", "kind"),
    [
        (2**53 - 1, "number"),
        (2**53, "bigint"),
        (-(2**53), "bigint"),
        (BigInt(1), "bigint"),
        (0.5, "number"),
        (UNDEFINED, "undefined"),
    ],
    ids=repr,
)
def test_a_number_arrives_as_the_type_it_needs(
    javascript: JavaScript, sent: object, kind: str
) -> None:
    assert javascript.call(ECHO, "kind", sent) == kind


def test_bytes_arrive_as_uint8array(javascript: JavaScript) -> None:
    assert javascript.call(ECHO, "isBytes", b"\x00\xff") is True


def test_a_promise_is_waited_for(javascript: JavaScript) -> None:
    assert javascript.call(ECHO, "later", [1, 2]) == [1, 2]


def test_undefined_is_told_from_null(javascript: JavaScript) -> None:
    assert javascript.call(ECHO, "nothing") is UNDEFINED
    assert javascript.call(ECHO, "same", None) is None


@pytest.mark.parametrize("function", ["notANumber", "aMap"])
def test_what_json_would_alter_is_an_error(
    javascript: JavaScript, function: str
) -> None:
    with pytest.raises(JavaScriptError, match="cannot cross"):
        javascript.call(ECHO, function)


def test_an_error_keeps_its_code_and_its_place_in_the_batch(
    javascript: JavaScript,
) -> None:
    before, thrown, after = javascript.batch(
        [Call(ECHO, "same", (1,)), Call(ECHO, "refuse", ("e1",)), Call(ECHO, "kind")]
    )
    assert (before, after) == (1, "undefined")
    assert (thrown.name, thrown.message, thrown.code) == (
        "RangeError",
        "outside the table",
        "e1",
    )


def test_an_unknown_export_is_an_error(javascript: JavaScript) -> None:
    with pytest.raises(JavaScriptError, match="exports no function missing"):
        javascript.call(ECHO, "missing")


def test_what_a_module_prints_does_not_disturb_the_answers(
    javascript: JavaScript,
) -> None:
    assert javascript.call(ECHO, "noise") is UNDEFINED
    assert javascript.call(ECHO, "same", "after") == "after"


def test_a_line_longer_than_a_pipe_crosses(javascript: JavaScript) -> None:
    text = "£" * 1_000_000
    assert javascript.call(ECHO, "same", text) == text


def test_half_a_surrogate_pair_crosses_as_it_is(javascript: JavaScript) -> None:
    assert javascript.call(ECHO, "same", "a\ud800") == "a\ud800"


def test_a_word_of_the_bridge_is_no_key(javascript: JavaScript) -> None:
    with pytest.raises(TypeError, match="words of the bridge"):
        javascript.call(ECHO, "same", {"$int": "1"})


def test_an_endless_loop_is_stopped() -> None:
    with (
        JavaScript(timeout_s=1.0) as engine,
        pytest.raises(EngineStopped, match="no answer"),
    ):
        engine.call(ECHO, "hang")
