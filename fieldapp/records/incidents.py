"""What went otherwise than planned, each with what became of it: a STOP with who made
it safe and what was raised meanwhile, an alarm with which it was.
"""

from collections.abc import Iterator
from dataclasses import replace

from fieldapp.core.entries import Entry
from fieldapp.core.stops import stops
from fieldapp.records.acts import Act, act, signer, when
from fieldapp.records.figures import short
from fieldapp.records.opened import Opened
from fieldapp.records.unrecorded import unrecorded

INCIDENTS = ("refusal", "call_withdrawn", "stopped", "made_safe", "discarded", "note",
             "sighting", "condition_closed", "spoken", "acknowledged")  # fmt: skip


def incidents(opened: Opened) -> tuple[Act, ...]:
    """Tell refusals, withdrawn calls, STOPs, what was discarded, alarms and notes."""
    told = []
    for entry in opened.entries:
        if entry.kind in INCIDENTS:
            plain = act(opened, entry)
            more = "; ".join((*filter(None, [plain.text]), *_more(opened, entry)))
            told.append(replace(plain, text=more))
    return tuple(told)


def _more(opened: Opened, entry: Entry) -> Iterator[str]:
    if entry.kind == "acknowledged":
        yield alarm_told(opened, str(entry.about["alarm"]))
    if entry.kind == "stopped":
        yield from _became(opened, entry)


def _became(opened: Opened, stop: Entry) -> Iterator[str]:
    """Say who made a STOP safe, and what was reported of it."""
    history = opened.scene.view.history
    place = history.graph.index[stop.id]
    safe = next(
        (
            each
            for each in opened.entries
            if each.kind == "made_safe"
            and history.saw(history.graph.index[each.id], place)
        ),
        None,
    )
    if safe is None:
        yield "not made safe"
    else:
        who = signer(opened, safe).name
        yield f"made safe {when(opened, safe)} by {who} ({short(safe.id)})"
    step, said = unrecorded(opened.scene.view).get(stop.id, ("", ""))
    if step:
        yield said.format(opened.words.fact("step", step))
    for told in stops(opened.scene):
        for each in told["reported"] if told["entry"] == stop.id else ():
            yield f"nonconformance {short(each)} reported: {_decided(opened, each)}"


def _decided(opened: Opened, raised: str) -> str:
    """Say what was decided, by right, of a nonconformance that was reported."""
    faults = {each["id"]: each for each in opened.state["nonconformances"]}
    order = opened.by_id.get(faults.get(raised, {}).get("disposition", ""))
    if order is None:
        return "not decided"
    verdict = opened.words.verdict(faults[raised]["verdict"])
    return f"{verdict}, {when(opened, order)}, {signer(opened, order).name}"


def alarm_told(opened: Opened, alarm: str) -> str:
    """Say which alarm it was, by the titles of its clock or gate."""
    late = "time is past" if ".past" in alarm else "time is near"
    for clock in opened.raw.get("clocks", ()):
        for ratio in clock["ratios"]:
            if f"{clock['id']}.{ratio['id']}." in alarm:
                rest = alarm.partition(f"{clock['id']}.{ratio['id']}.")[2]
                start = opened.part(clock["start"])
                lines = {e["id"]: str(e["label"]) for e in start.get("lines", ())}
                line = lines.get(rest.partition(".")[0], "")
                what = f"{line} {ratio['title']}".strip()
                return f"{what} ({clock['title']}): {late}"
    for name, point in opened.raw["points"].items():
        if alarm.startswith(f"release.{name}"):
            return f"{point['title']}: its release runs out soon"
    return alarm
