"""Turns a story's readings into the whole numbers an entry carries.

A story says 4.5 and "dry"; the sheet's field says with how many places and which
option that is. What does not fit is a fault of the story, never rounded.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from fieldapp.play.world import PlayFault


def values_for(
    where: str, step: Mapping[str, Any], told: Mapping[str, Any]
) -> dict[str, int | str]:
    """Give the values of an entry at a step. Errors: `PlayFault`."""
    fields = {each["id"]: each for each in step.get("fields", ())}
    values = {}
    for name, value in told.items():
        if name not in fields:
            known = ", ".join(fields) or "no field"
            raise PlayFault(f"{where}, values: found {name}, allowed: {known}")
        values[name] = _value(f"{where}, {name}", fields[name], value)
    return values


def _value(where: str, field: Mapping[str, Any], value: object) -> int | str:
    if field["kind"] == "choice" and isinstance(value, str):
        labels = {each["label"]: each["value"] for each in field.get("options", ())}
        if value not in labels:
            raise PlayFault(f"{where}: found {value!r}, allowed: {', '.join(labels)}")
        return int(labels[value])
    if isinstance(value, bool) or not isinstance(value, int | Decimal | str):
        raise PlayFault(f"{where}: found {value!r}, allowed: a number or text")
    if isinstance(value, str):
        return value
    places = field.get("places", 0) if field["kind"] == "number" else 0
    scaled = Decimal(value).scaleb(places)
    if scaled != scaled.to_integral_value():
        raise PlayFault(f"{where}: found {value}, allowed: at most {places} places")
    return int(scaled)
