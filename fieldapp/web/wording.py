"""Puts a sheet's own titles and texts into the words of refusals, flags and faults.

The words come from the one file of words; ids in their facts are replaced by what
the sheet calls them. What has no name here is shown as it is.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.words import say
from fieldapp.records.foreign import Foreign, told_of
from fieldapp.records.wording import kinds_calibrated
from fieldapp.web.display import when

SHORT = 10
GATE_SHUT = "gate_shut"
ELSEWHERE = "other_subject"
OF_FIELD = ("item_", "taken_back")
"""What the codes begin with whose check is a field: unfit items, what went back."""
_TIMES = ("until", "at")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """What to call things: `names` by the kind of fact, then by id."""

    names: Mapping[str, Mapping[str, str]]
    zone: int
    foreign: Foreign

    def say(self, told: Mapping[str, Any]) -> str:
        """Give a refusal, flag or other coded fact in words."""
        if "lines" in told.get("facts", {}):
            return self._twice({**told["facts"], "code": told["code"]})
        facts = {
            name: self._called(name, value)
            for name, value in told.get("facts", {}).items()
        }
        if told["code"] == ELSEWHERE:
            # The file of words speaks of what one phone knows; the desk knows all.
            return f"{facts['subject']} must have {facts['name']} first."
        return say(told["code"], facts)

    def say_all(self, refusals: Iterable[Mapping[str, Any]]) -> list[str]:
        """Give refusals in words, each thing that is missing named once.

        Nonconformances that say the same are told once, with their lines.
        """
        told: dict[str, str] = {}
        lines: dict[str, list[str]] = {}
        for each in refusals:
            facts, said = each.get("facts", {}), self.say(each)
            thing = facts.get("step") or facts.get("name") or str(each)
            if each["code"] == "nonconformance":
                thing = said
                line = self.names["line_of"].get(facts["id"])
                lines.setdefault(thing, []).extend([line] if line else [])
            told.setdefault(thing, said)
        where = {
            thing: f" ({' / '.join(each)})" for thing, each in lines.items() if each
        }
        return [said + where.get(thing, "") for thing, said in told.items()]

    def fault(self, fault: Mapping[str, Any]) -> str:
        """Give a nonconformance in words: a person's own, a check's, or its code's."""
        if fault["id"] in self.names["by_hand"]:
            return self.names["by_hand"][fault["id"]]
        if fault["code"].startswith(OF_FIELD):
            if "lines" in fault:
                return self._twice(fault)
            return self._unfit(fault["step"], fault.get("line", ""), fault)
        step, check = fault.get("step", ""), fault.get("check", "")
        if fault["code"] == GATE_SHUT:
            said = say("anyway", {})
            return f"{self._called('step', step)}: {said[:1].lower()}{said[1:]}"
        if fault["code"] == "clock_over":
            told = self.names["ratio"].get(f"{step}/{check}")
        else:
            told = self._check(step, check)
        place = self._called("step", step)
        return told or say(fault["code"], {**fault, "step": place, "point": place})

    def failure(self, step: str, line: str, check: str) -> str:
        """Say in words what a line or step fails: a check, or an unfit item."""
        code, _, field = check.partition(":")
        if field:
            return self._unfit(step, line, {"code": code, "check": field})
        return self._check(step, check) or check

    def _unfit(self, step: str, line: str, told: Mapping[str, Any]) -> str:
        code, field = told["code"], told.get("check")
        if code == "item_expired" and f"{step}/{field}" in self.names["calibrated"]:
            code = "item_uncalibrated"
        named = self.names["item"].get(f"{step}/{line}/{field}")
        item = named or self._called("field", f"{step}/{field}")
        more = told_of(self.foreign, {**told, "step": step, "line": line})
        return say(code, {"check": item, **more})

    def failures(self, step: str, now: Mapping[str, Any]) -> list[str]:
        """Say what a step fails as a whole, an item at two places with both of them."""
        twice = now.get("twice", ())
        told = [f"item_twice:{each['field']}" for each in twice]
        checks = [each for each in now["failed"] if each not in told]
        return [
            *(self.failure(step, "", each) for each in checks),
            *(
                self._twice({**each, "code": "item_twice", "step": step})
                for each in twice
            ),
        ]

    def _twice(self, told: Mapping[str, Any]) -> str:
        step = told["step"]
        lines = (
            self._called("line", f"{step}/{each}") for each in told["lines"].split(",")
        )
        item = self._called("label", told["item"])
        place = self._called("step", step)
        facts = {"step": place, "item": item, "lines": " / ".join(lines)}
        return say(told["code"], facts)

    def line_of(self, fault: Mapping[str, Any]) -> str:
        """Give the line a nonconformance is about; "" for a whole step."""
        where = f"{fault.get('step', '')}/{fault.get('line', '')}"
        return self.names["line"].get(where, "")

    def person(self, person: str) -> str:
        """Give a person's name."""
        return self._called("person", person)

    def _check(self, step: str, check: str) -> str | None:
        return self.names["check"].get(f"{step}/{check}")

    def _called(self, name: str, value: Any) -> str:
        if name in _TIMES and isinstance(value, int):
            return when(value, self.zone)
        found = self.names.get(name, {}).get(value)
        if found is None and name == "id":
            return str(value)[:SHORT]
        return str(value if found is None else found)


def wording(
    sheet: Mapping[str, Any],
    state: Mapping[str, Any],
    *,
    people: Mapping[str, str],
    zone: int,
    subjects: Mapping[str, str] | None = None,
    elsewhere: Mapping[str, str] | None = None,
    by_hand: Mapping[str, str] | None = None,
    foreign: Foreign | None = None,
) -> Wording:
    """Gather what a sheet calls its parts; people and other subjects by id.

    elsewhere: what the sheets of subjects it waits for call theirs; by_hand: what
    people wrote of the nonconformances they raised, by entry.
    """
    parts = {**sheet["steps"], **sheet["points"]}
    titles = {**(elsewhere or {}), **titles_of(sheet)}
    names = {
        "name": titles,
        "step": titles,
        "point": titles,
        "check": {
            f"{name}/{check['id']}": check["text"]
            for name, part in parts.items()
            for check in part.get("checks", ())
        },
        "ratio": {
            f"{clock['start']}/{ratio['id']}": ratio["text"]
            for clock in sheet.get("clocks", ())
            for ratio in clock["ratios"]
            if "text" in ratio
        },
        "requirement": {
            each["id"]: each["text"]
            for part in sheet["points"].values()
            for each in part.get("requires", ())
        },
        "hold": {each["id"]: each["title"] for each in sheet.get("holds", ())},
        "reason": {each["id"]: each["title"] for each in sheet.get("cards", ())},
        "person": dict(people),
        "subject": dict(subjects or {}),
        "by_hand": dict(by_hand or {}),
        "item": dict(_items_named(sheet, state)),
        "line_of": {},
        **_items_known(sheet),
    }
    named = foreign or {}
    bare = Wording(names=names, zone=zone, foreign=named)
    faults = {each["id"]: bare.fault(each) for each in state["nonconformances"]}
    placed = {each["id"]: bare.line_of(each) for each in state["nonconformances"]}
    known = {**names, "id": faults, "line_of": placed}
    return Wording(names=known, zone=zone, foreign=named)


def titles_of(sheet: Mapping[str, Any]) -> dict[str, str]:
    """Give what a sheet calls its steps, points and milestones, by id."""
    parts = {**sheet["steps"], **sheet["points"]}
    titles = {name: str(part["title"]) for name, part in parts.items()}
    return titles | {m["id"]: m["title"] for m in sheet.get("milestones", ())}


def _items_known(sheet: Mapping[str, Any]) -> dict[str, Mapping[str, str]]:
    """Give what items and lines are called, and which fields hold calibrated ones."""
    steps, kinds = sheet["steps"].items(), kinds_calibrated(sheet)
    fields = {
        f"{name}/{field['id']}": field["label"]
        for name, part in steps
        for field in part.get("fields", ())
    }
    return {
        "label": {n: item["label"] for n, item in sheet.get("items", {}).items()},
        # A step without lines has its fields for places.
        "line": fields
        | {
            f"{name}/{line['id']}": line["label"]
            for name, part in steps
            for line in part.get("lines", ())
        },
        "field": fields,
        "calibrated": {
            f"{name}/{field['id']}": ""
            for name, part in steps
            for field in part.get("fields", ())
            if field.get("items") in kinds
        },
    }


def _items_named(
    sheet: Mapping[str, Any], state: Mapping[str, Any]
) -> Iterator[tuple[str, str]]:
    """Yield what each line's item fields name, by step, line and field."""
    labels = {name: item["label"] for name, item in sheet.get("items", {}).items()}
    for step, now in state["steps"].items():
        fields = sheet["steps"][step].get("fields", ())
        wanted = [each["id"] for each in fields if each["kind"] == "item"]
        for line, read in now["lines"].items() if wanted else ():
            for field in wanted:
                value = read["values"].get(field)
                if value is not None:
                    yield f"{step}/{line}/{field}", labels.get(value, value)
