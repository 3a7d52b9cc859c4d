"""Which gate a nonconformance shuts as things stand."""

from dataclasses import replace

from fieldapp.core.fault import Fault
from fieldapp.core.scene import Scene


def shutting(scene: Scene, fault: Fault) -> Fault:
    """Give a nonconformance with the gates it shuts: the next, if its own are behind.

    A release stands whatever comes later; so what arises, or becomes known, when the
    gate it names is passed shuts the next one that is not, and before it every one that
    is released and has let nothing through yet. Sheets from before this was amended let
    it shut nothing.
    """
    sheet = scene.view.sheet
    if not fault.shuts or sheet.amended < 2:
        return fault
    if not all(scene.case.reached(scene, "point", name) for name in fault.shuts):
        return fault
    last = max(fault.shuts, key=sheet.flow.__getitem__)
    unused = [name for name in fault.shuts if not went_through(scene, name)]
    while following := sheet.next_gate(last):
        [last] = following
        if not scene.case.reached(scene, "point", last):
            return replace(fault, blocks=(*unused, last))
        if sheet.points[last].shuts and not went_through(scene, last):
            unused.append(last)
    return fault


def went_through(scene: Scene, point: str) -> bool:
    """Say whether anything is recorded that a point stands before."""
    return any(scene.lines(step) for step in scene.view.sheet.points[point].shuts)
