"""Equipment and material with the certificates it was read by: number and last day.

A reading names the registration it relied on; what is told here is what that said. An
item nobody registered is told as the sheet has it. Of a certificate corrected since,
everything is told: what it said, what it says, who changed it and why.
"""

import re
from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from typing import Any, Protocol

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.register import certificate_of
from fieldapp.records.acts import local
from fieldapp.records.figures import day, figure, short
from fieldapp.records.opened import Opened
from fieldapp.records.out_of_use import out_told
from fieldapp.records.uses import DISCARDED, REPLACED, Use, uses_standing

CORRECTED = "item_corrected"
CERTIFICATE = "Certificate: "
"""What the site's files put before the name of a certificate among other facts."""
TABLE = " | "
"""What a phone puts between that name and the points of a jack."""
NUMBERED, MANY = re.compile(r"(.*?)(\d+)"), 2
"""What ends with a number; so many are each named."""
LINE_PLACES = 7
"""Places of the force a jack's line gives, in kN (plan.bindings.jack)."""
Part = Mapping[str, Any]
Paper = tuple[str, int | None, bool, str, str]
"""What a certificate is called, until when it is good, whether it was corrected, its
name and last day since, where those are other ones, and since when it was out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """Things that were read with, by one certificate: labels, name, last day.

    corrected: whether what it said was put right since; now: name and last day since,
    where those are other ones; out: since when and why it is out of use, or was as the
    reading knew; discarded, replaced: whether all read with them was
    discarded, or read anew with others.
    """

    things: str
    certificate: str
    last_day: str
    corrected: bool
    now: str
    out: str
    discarded: bool
    replaced: bool


class Numbers(Protocol):
    """What calls the numbers of certificates by name, and tells their figures."""

    def number_title(self, kind: str, name: str) -> str:
        """Give what a number of an item's certificate is called."""

    def number(self, kind: str, name: str, value: int) -> str:
        """Give a number of an item's certificate with its unit, where it has one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPaper:
    """The numbers of certificates as paper tells them, by what the site calls them."""

    known: Mapping[str, Part]

    def number_title(self, kind: str, name: str) -> str:
        """Give what a number of an item's certificate is called."""
        return str(self.known.get(f"{kind}/{name}", {}).get("title", name))

    def number(self, kind: str, name: str, value: int) -> str:
        """Give a number of an item's certificate with its unit, where it has one."""
        known = self.known.get(f"{kind}/{name}", {})
        return figure(value, known.get("places", 0), known.get("unit", ""))


def quantities_of(site: Part) -> dict[str, Part]:
    """Give unit, places and title of certificates' numbers, by `kind/number`."""
    return {
        f"{kind['id']}/{number['id']}": number
        for kind in site.get("item_kinds", ())
        for number in (*kind.get("numbers", ()), *_line_of_points(kind))
    }


def _line_of_points(kind: Part) -> Iterator[Part]:
    """Give the numbers of the line through a jack's points, as a sheet scales them."""
    if "calibration" in kind:
        places = kind["calibration"]["places"]
        bar = {"unit": "bar", "places": places}
        slope = {"unit": "kN/bar", "places": LINE_PLACES - places}
        yield {"id": "slope", "title": "force per bar", **slope}
        shift = {"unit": "kN", "places": LINE_PLACES}
        yield {"id": "intercept", "title": "force at 0 bar", **shift}
        yield {"id": "low", "title": "certified from", **bar}
        yield {"id": "high", "title": "certified to", **bar}


def changes(
    numbers: Numbers, before: Entry, after: Entry
) -> Iterator[tuple[str, str, str]]:
    """Yield what a certificate says otherwise now: what it is, what it was, what is."""
    kind = after.about["kind"]
    for name in ("label", "text"):
        old, new = before.about.get(name, ""), after.about.get(name, "")
        if old != new:
            title = {"label": "Label", "text": "Certificate"}[name]
            yield title, old or "nothing", new or "nothing"
    for name in sorted(before.values.keys() | after.values.keys()):
        old, new = (
            numbers.number(kind, name, value) if isinstance(value, int) else "nothing"
            for value in (before.values.get(name), after.values.get(name))
        )
        if old != new:
            yield numbers.number_title(kind, name), old, new


def used_things(opened: Opened) -> tuple[Used, ...]:
    """Tell each thing the subject was read with, those of one certificate together."""
    told = registrations(opened)
    wrong = {str(e.about["replaces"]): e for e in told.values()
             if e.about.get("reason") and "replaces" in e.about}  # fmt: skip
    found: dict[tuple[Paper, str, str, str], dict[str, None]] = {}
    for (name, entry), fate in uses_standing(opened):
        label, paper = _paper(opened, told, wrong, (name, entry))
        if any(paper):
            head, _, tail = label.partition(", ")
            # Bars of one heat differ by their number alone; what is alike for want of
            # a certificate is not.
            alone = "" if paper[0] else head
            found.setdefault((paper, tail, alone, fate), {})[head] = None
    return tuple(
        Used(
            things=_run(list(heads)) + (f", {tail}" if tail else ""),
            certificate=certificate or "no certificate named",
            last_day="no last day" if end is None else _last_day(opened, end),
            corrected=corrected,
            now=now,
            out=out,
            discarded=fate == DISCARDED,
            replaced=fate == REPLACED,
        )
        for (
            (certificate, end, corrected, now, out),
            tail,
            _,
            fate,
        ), heads in found.items()
    )


def _run(heads: list[str]) -> str:
    """Name what is numbered one after the other by its ends: "Bar 01 to Bar 06"."""
    found = [NUMBERED.fullmatch(each) for each in heads]
    numbers = [(each[1], int(each[2])) for each in found if each]
    first = numbers[0] if numbers else ("", 0)
    row = [(first[0], first[1] + place) for place in range(len(heads))]
    if len(heads) > MANY and numbers == row:
        return f"{heads[0]} to {heads[-1]}"
    return ", ".join(heads)


def corrected_told(opened: Opened, fault: Part, raised: Entry | None) -> list[str]:
    """Tell the corrections of the certificate a nonconformance is about, in order."""
    if fault["code"] != CORRECTED or raised is None:
        return []
    item = str(raised.values.get(fault["check"], ""))
    told = {n: e for n, e in registrations(opened).items() if e.about["item"] == item}
    wrong, found = set(raised.needs), []
    while fresh := [e for e in told.values() if e not in found and _corrects(e, wrong)]:
        found += fresh
        wrong |= {each.id for each in fresh}
    return [_corrected(opened, told, e) for e in found if e.about["replaces"] in told]


def _corrects(entry: Entry, wrong: Set[str]) -> bool:
    return bool(entry.about.get("reason")) and entry.about.get("replaces") in wrong


def registrations(opened: Opened) -> dict[str, Entry]:
    """Give the certificates the evidence carries and that count, in ledger order."""
    items = opened.evidence.standing.get("items", {})
    every = [read_entry(row.body.encode("utf-8")) for row in opened.evidence.office]
    return {
        each.id: each
        for each in every
        if each.kind == "registered"
        and each.id in items.get(each.about["item"], {}).get("certificates", ())
    }


def certificate_name(text: str) -> str:
    """Give what a certificate is called, without what stands beside it."""
    facts = text.partition(TABLE)[0].split("; ")
    named = [f.removeprefix(CERTIFICATE) for f in facts if f.startswith(CERTIFICATE)]
    return named[0] if named else "; ".join(facts)


def _paper(
    opened: Opened,
    told: Mapping[str, Entry],
    wrong: Mapping[str, Entry],
    use: Use,
) -> tuple[str, Paper]:
    """Give the label of an item, and the certificate a reading relied on."""
    name, entry = use
    relied = (told[each] for each in sorted(entry.needs) if each in told)
    mine = next((each for each in relied if each.about["item"] == name), None)
    if mine is not None:
        return str(mine.about["label"]), _relied(opened, told, wrong, mine)
    item, out = opened.items.get(name, {}), out_told(opened, told, name)
    facts = {str(f["label"]): str(f["value"]) for f in item.get("facts", ())}
    paper = (facts.get("Certificate", ""), item.get("expires"), False, "", out)
    return str(item.get("label", name)), paper


def _relied(
    opened: Opened, told: Mapping[str, Entry], wrong: Mapping[str, Entry], mine: Entry
) -> Paper:
    """Tell the certificate; of what was taken out of use, the one it had, and that."""
    had = certificate_of(mine, told)
    # What takes an item out says why in place of a certificate.
    out = out_told(opened, told, mine.about["item"], mine)
    named, end = ("", None) if had is None else _stated(had)
    last, seen = mine, {mine.id}
    while (after := wrong.get(last.id)) is not None and after.id not in seen:
        last = after
        seen.add(after.id)
    now = "" if last is mine else _otherwise(opened, (named, end), _stated(last))
    return named, end, mine.id in wrong, now, out


def _stated(certificate: Entry) -> tuple[str, int | None]:
    about = certificate.about
    return certificate_name(str(about.get("text", ""))), about.get("expires")


def _otherwise(
    opened: Opened, before: tuple[str, int | None], after: tuple[str, int | None]
) -> str:
    """Tell name and last day that a certificate was corrected to, if other ones."""
    ends = [_end(opened, end) for _, end in (before, after)]
    said = [after[0]] if before[0] != after[0] else []
    said += [f"last day {ends[1]}"] if ends[0] != ends[1] else []
    return ", ".join(said)


def _last_day(opened: Opened, end_ms: int) -> str:
    """Give the last day of what is good until a moment: midnight ends a day."""
    return day(end_ms - 1, opened.zone)


def _corrected(opened: Opened, told: Mapping[str, Entry], after: Entry) -> str:
    replaced = told[after.about["replaces"]]
    before = certificate_of(replaced, told) or replaced
    numbers = OnPaper(known=quantities_of(opened.evidence.site))
    found = changes(numbers, before, after)
    pairs = ((what, *_named(old, new)) for what, old, new in found)
    # Where a jack's points alone differ, the line through them says so.
    said = [f"{what} {old} → {new}" for what, old, new in pairs if old != new]
    if before is not replaced:
        said.insert(0, "in use again")
    ends = [_end(opened, each.about.get("expires")) for each in (before, after)]
    if ends[0] != ends[1]:
        said.append(f"last day {ends[0]} → {ends[1]}")
    who = "the office" if after.key == opened.site_key else _signer(opened, after)
    when = local(opened, after.at, after.zone)
    return (
        f"{'; '.join(said) or 'what it states is unchanged'} – corrected by {who},"
        f" {when}: “{after.about['reason']}” (entry {short(after.id)}, in place of"
        f" {short(replaced.id)})"
    )


def _named(old: str, new: str) -> tuple[str, str]:
    """Give what two certificates are called; all they say where that is the same."""
    names = certificate_name(old), certificate_name(new)
    whole = old.partition(TABLE)[0], new.partition(TABLE)[0]
    return names if names[0] != names[1] else whole


def _end(opened: Opened, end_ms: int | None) -> str:
    return "none" if end_ms is None else day(end_ms - 1, opened.zone)


def _signer(opened: Opened, entry: Entry) -> str:
    person = opened.people.get(entry.person, {})
    name = opened.words.fact("person", entry.person)
    roles = opened.words.roles(person.get("roles", ()))
    return f"{name}, {roles}" if roles else name
