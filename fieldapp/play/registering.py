"""What a story says of an item, as the certificate a registration carries.

A line gives `item`, and where they differ from what the phone knows `kind`, `label`,
`expires` and `values` (the whole numbers of the certificate); `replaces = true` takes
the place of the registration the phone knows; `out`, why the item is taken out of
use, takes it too, with the numbers as they were.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from fieldapp.play.world import PlayFault

KEYS = frozenset({"item", "kind", "label", "expires", "replaces", "out"})
Items = Mapping[str, Mapping[str, Any]]


def certificate(
    where: str, said: Mapping[str, Any], known: Items, wall: int
) -> dict[str, Any]:
    """Give the `about` and `values` of a registration. Errors: `PlayFault`.

    known: the register as the phone has it; wall: the phone's time, ms UTC.
    """
    if "item" not in said:
        raise PlayFault(f"{where}, item: found nothing, allowed: the item's id")
    before = known.get(said["item"], {})
    about = {name: said[name] for name in ("item", "reason", "text") if name in said}
    for name in ("kind", "label"):
        about[name] = said.get(name, before.get(name))
        if about[name] is None:
            raise PlayFault(f"{where}, {name}: found nothing, allowed: the item's own")
    expires = said.get("expires", before.get("expires"))
    if expires is not None:
        about["expires"] = _moment_ms(where, expires)
    if "out" in said:
        about |= {"text": said["out"], "expires": wall}
    if said.get("replaces") or "out" in said:
        if not before:
            raise PlayFault(f"{where}, replaces: found no {said['item']} to replace")
        about["replaces"] = before["entry"]
    return {
        "about": about,
        "values": {**before.get("numbers", {}), **_numbers(where, said)},
    }


def _numbers(where: str, said: Mapping[str, Any]) -> dict[str, int]:
    numbers = said.get("values", {})
    for name, value in numbers.items():
        if type(value) is not int:
            allowed = "a whole number of the certificate"
            raise PlayFault(f"{where}, {name}: found {value!r}, allowed: {allowed}")
    return dict(numbers)


def _moment_ms(where: str, told: object) -> int:
    if isinstance(told, datetime) and told.tzinfo is not None:
        return int(told.timestamp() * 1_000)
    if type(told) is int:
        return told
    raise PlayFault(
        f"{where}, expires: found {told!r}, allowed: a moment with its zone"
    )
