"""Pictures of a record, one module a binding, chosen by what the sheet's plan drew.

A picture is plain shapes in millimetres of paper that a template only sets. A binding
not known here is left out of the pictures; its figures stand in the tables.
"""

from collections.abc import Callable, Iterator
from typing import Any

from fieldapp.records.opened import Opened
from fieldapp.records.pictures.course import course
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.force_extension import (
    force_extension,
    force_extension_apart,
)
from fieldapp.records.pictures.joint_stress import joint_stress
from fieldapp.records.pictures.thickness import thickness
from fieldapp.records.pictures.within import within, within_slim

_BINDINGS: dict[str, Callable[[Opened, dict[str, Any]], Iterator[Drawing]]] = {
    "joint_stress": joint_stress,
    "force_extension": force_extension,
    "thickness": thickness,
}
_APART = {"force_extension": force_extension_apart}
"""What a screen shows as several pictures, and paper as one."""


def drawings(opened: Opened, *, apart: bool = False) -> Iterator[Drawing]:
    """Draw every picture the sheet asks for and the readings allow.

    A sheet that asks for none gets those that fit any: its raced steps against time,
    and its readings against their limits. apart: for a screen, which may be narrow.
    """
    bindings = _BINDINGS | _APART if apart else _BINDINGS
    asked = opened.raw.get("pictures", ())
    for picture in asked:
        draw = bindings.get(picture["binding"])
        if draw is not None:
            yield from draw(opened, picture)
    if not asked:
        ran = course(opened)
        yield from [ran] if ran else []
        yield from (within_slim if apart else within)(opened)
