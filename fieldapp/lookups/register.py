"""The register for pages, labels and phones, traced both ways.

An item leads to every reading that named it and to the certificate that reading
relied on; a reading leads to its item. What was registered by somebody who may not is
told apart and never counts.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.register import certificate_of, takes_out
from fieldapp.lookups.facts import Facts, all_facts
from fieldapp.lookups.folding import Folded
from fieldapp.lookups.natural import natural
from fieldapp.lookups.reading import Reader, roster_of, sheet_of, subjects_issued
from fieldapp.store.register import (
    counted,
    items_registered,
    registrations,
    roles_that_register,
)

READING = ("done", "copied", "anyway", "correction")


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """One reading that named an item.

    `stands`: it is what the line says now; `certificate`: the registration it relied
    on, or None where the phone knew none.
    """

    subject: str
    title: str
    step: str
    line: str
    item: str
    entry: Entry
    stands: bool
    certificate: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Registered:
    """One item with its history: every registration that counts, and those that not.

    `uses`: subjects that name it; `limit`: how many may, or None; `out`: what took it
    out of use, if it stands so.
    """

    id: str
    label: str
    kind: str
    numbers: dict[str, int]
    expires: int | None
    entry: str
    history: tuple[Entry, ...]
    refused: tuple[Entry, ...]
    subjects: tuple[str, ...]
    limit: int | None
    out: Entry | None = None

    @property
    def certificates(self) -> tuple[Entry, ...]:
        """Give its certificates, oldest first; what took it out of use is none."""
        return tuple(entry for entry in self.history if not takes_out(entry))

    @property
    def certificate(self) -> str:
        """Give what its last certificate is called."""
        told = self.certificates
        return str(told[-1].about.get("text", "")) if told else ""

    @property
    def uses(self) -> int:
        """Give how many subjects have used it."""
        return len(self.subjects)


def register_of(reader: Reader) -> list[Registered]:
    """Give every item of the register, by kind and id."""
    items, facts = items_registered(reader.store, reader.office_key), all_facts(reader)
    told = registrations(reader.store)
    good = {entry.id for entry in _counted(reader, told)}
    found = [
        _registered(
            name,
            item,
            [entry for entry in told if entry.about["item"] == name],
            good,
            _users(facts, name),
        )
        for name, item in items.items()
    ]
    return sorted(found, key=lambda each: (each.kind, natural(each.id)))


def _users(facts: Mapping[str, Facts], item: str) -> tuple[str, ...]:
    used = (subject for subject, each in facts.items() if item in each.items)
    return tuple(sorted(used, key=natural))


def never_counted(reader: Reader) -> list[Entry]:
    """Give the registrations by people who may not register, oldest first."""
    told = registrations(reader.store)
    good = {entry.id for entry in _counted(reader, told)}
    return [entry for entry in told if entry.id not in good]


def uses_in(found: Folded) -> Iterator[Use]:
    """Yield every reading of a subject that named an item, in order of arrival."""
    standing = {
        entry_id
        for step in found.state["steps"].values()
        for line in step["lines"].values()
        for entry_id in (line["entry"],)
    }
    for entry in found.entries:
        step = found.sheet.steps.get(entry.step or "")
        if step is None or entry.kind not in READING:
            continue
        for field, _ in step.items:
            name = entry.values.get(field)
            if isinstance(name, str):
                yield Use(
                    subject=found.sheet.subject,
                    title=found.sheet.raw["title"],
                    step=step.id,
                    line=entry.line,
                    item=name,
                    entry=entry,
                    stands=entry.id in standing,
                    certificate=_certificate(found, name, entry),
                )


def told_to_phones(reader: Reader) -> dict[str, Any]:
    """Give what a phone needs to register: roles that may, numbers each kind wants."""
    sheets = [sheet_of(reader, subject) for subject in subjects_issued(reader)]
    known = [sheet for sheet in sheets if sheet]
    kinds: dict[str, set[str]] = {
        kind: set()
        for sheet in known
        for step in sheet.steps.values()
        for _, kind in step.items
    }
    for item in (i for sheet in known for i in sheet.raw.get("items", {}).values()):
        if item["kind"] in kinds:
            kinds[item["kind"]] |= set(item.get("numbers", {}))
    return {
        "roles": list(roles_that_register(reader.store)),
        "kinds": {kind: {"numbers": sorted(n)} for kind, n in sorted(kinds.items())},
    }


def corrections_of(reader: Reader, item: str) -> list[tuple[Entry, Entry]]:
    """Give each certificate of an item that was corrected, with what replaced it."""
    told = [e for e in registrations(reader.store) if e.about["item"] == item]
    good = {entry.id: entry for entry in _counted(reader, told)}
    return [
        (good[entry.about["replaces"]], entry)
        for entry in good.values()
        if entry.about.get("reason") and entry.about.get("replaces") in good
    ]


def certificate_had(reader: Reader, entry: Entry) -> Entry:
    """Give the certificate an item had, whatever took it out of use since."""
    told = _counted(reader, registrations(reader.store))
    return certificate_of(entry, {each.id: each for each in told}) or entry


def _counted(reader: Reader, told: Iterable[Entry]) -> list[Entry]:
    roles = roles_that_register(reader.store)
    return counted(told, roster_of(reader), roles, reader.office_key)


def _registered(
    name: str,
    item: dict[str, Any],
    told: list[Entry],
    good: set[str],
    subjects: tuple[str, ...],
) -> Registered:
    return Registered(
        id=name,
        label=item["label"],
        kind=item["kind"],
        numbers=item["numbers"],
        expires=item.get("expires"),
        entry=item["entry"],
        history=tuple(entry for entry in told if entry.id in good),
        refused=tuple(entry for entry in told if entry.id not in good),
        subjects=subjects,
        limit=item["numbers"].get("uses_max"),
        out=next((e for e in told if e.id == item["entry"] and "out" in item), None),
    )


def _certificate(found: Folded, name: str, entry: Entry) -> str | None:
    known = found.register.get(name, {}).get("certificates", {}).keys()
    return min(known & set(entry.needs), default=None)
