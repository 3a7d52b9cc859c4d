"""An input as an address, so that a worked calculation can be kept and sent on.

Plain numbers stand under their own keys and can be changed by hand; anything with
lists travels as the JSON that the command reads. Too long for an address: no address.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from typing import Any
from urllib.parse import quote, urlencode

from fieldapp.calc.calculation import Calculation
from fieldapp.calc.inputs import Choice, Number, Record
from fieldapp.web.calculations.reading import JSON_FIELD, Given

LONGEST = 6_000
"""Characters of an address that every browser, proxy and bookmark takes."""
READABLE = ",:[]{}"


def as_json(data: Any) -> str:
    """Write an input as the command reads it."""
    return json.dumps(data, ensure_ascii=False, default=lambda _: None)


def query_of(calculation: Calculation, given: Given) -> str | None:
    """Give the query that asks for the same again, or None where it is too long."""
    own = _plain(calculation.inputs, given.data, "")
    asked = list(own) if _all_plain(calculation.inputs) else [_json(given.data)]
    asked += [
        (f"heading.{name}", text)
        for name, text in asdict(given.heading).items()
        if text
    ]
    asked += [(f"source.{key}", text) for key, text in given.sources.items()]
    query = urlencode(asked, quote_via=quote, safe=READABLE)
    return query if len(query) <= LONGEST else None


def _json(data: Any) -> tuple[str, str]:
    return JSON_FIELD, json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _all_plain(kind: Record) -> bool:
    return all(
        _all_plain(f.kind) if isinstance(f.kind, Record)
        else isinstance(f.kind, Number | Choice)
        for f in kind.fields
    )  # fmt: skip


def _plain(
    kind: Record, data: Mapping[str, Any], place: str
) -> Iterator[tuple[str, str]]:
    for each in kind.fields:
        name = f"{place}{each.key}"
        value = data.get(each.key)
        if isinstance(each.kind, Record) and value is not None:
            yield from _plain(each.kind, value, f"{name}.")
        elif value is not None:
            yield name, str(value)
