"""What a called point waits for before anybody may sign it, and for whom.

Nobody is to be sought for a signature that would not count: a reading has grown too
old since the call, a nonconformance came. Every reason is the fold's own refusal.
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.web.aged import aged
from fieldapp.web.desk import Desk
from fieldapp.web.stages import title_of

OF_STEP = ("step_", "item_")
"""What the codes begin with that whoever records mends."""


def waits_first(here: Desk, found: Folded, name: str) -> str:
    """Say whom and what a called point waits for before its signers; "" if for none.

    Of several things the first is told, as the fold has it, and the rest counted.
    """
    point = found.state["points"][name]
    if point["status"] != "called" or not point["refusals"]:
        return ""
    first = point["refusals"][0]
    more = len(here.words(found).say_all(point["refusals"])) - 1
    rest = f", and {more} more" if more else ""
    who = _who(here, found, first)
    what = _what(here, found, name, first)
    return f"{who}: {what}{rest}" if who else f"{what}{rest}"


def _who(here: Desk, found: Folded, refusal: Mapping[str, Any]) -> str:
    """Give who mends a refusal; "" where that is for others, or for time."""
    code, sheet = refusal["code"], found.sheet.raw
    if code == "nonconformance":
        return here.names.signers(sheet["dispose"], " or ")
    if code == "requirement" or code.startswith(OF_STEP):
        roles = sheet["record"]
        return " or ".join(here.names.roles.get(role, role) for role in roles)
    return ""


def _what(here: Desk, found: Folded, name: str, refusal: Mapping[str, Any]) -> str:
    wanted = refusal["facts"].get("requirement")
    for each in aged(found, name, here.now):
        if each.requirement == wanted:
            return f"{title_of(found.sheet.raw, each.step)} read again"
    return here.words(found).say(refusal).removesuffix(".")
