"""What paper calls things: titles of the sheet, names of people, words of the rules.

The words of refusals, flags and faults come from the one file of words. A thing
without a name is printed by its id, never left out.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.words import say
from fieldapp.records.figures import figure, moment, short
from fieldapp.records.foreign import Foreign, told_of

_TIMES = ("until", "at")
_OF_FIELD = ("item_", "taken_back")
"""What the codes begin with that name a field: of unfit items, of what went back."""
ELSEWHERE = "other_subject"
_KINDS = {
    "done": "recorded",
    "copied": "copied from paper",
    "anyway": "happened anyway",
    "correction": "correction",
    "called": "called",
    "call_withdrawn": "call withdrawn",
    "notice": "notice received",
    "release": "release",
    "spoken": "spoken release",
    "refusal": "refusal",
    "discarded": "discarded",
    "nonconformance": "nonconformance raised",
    "proposal": "proposal",
    "disposition": "disposition",
    "closing": "closing",
    "condition_closed": "condition closed",
    "crew": "crew declared",
    "stopped": "STOP",
    "made_safe": "made safe",
    "acknowledged": "alarm acknowledged",
}
_VERDICTS = {
    "use_as_is": "use as is",
    "repair": "repair",
    "rework": "rework",
    "reject": "reject",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """What to call things: `names` by the kind of fact, then by id."""

    names: Mapping[str, Mapping[str, str]]
    zone: int
    foreign: Foreign

    def say(self, told: Mapping[str, Any]) -> str:
        """Give a refusal or flag in words."""
        if told["code"].startswith(_OF_FIELD) and "lines" in told.get("facts", {}):
            return self.unfit({**told["facts"], "code": told["code"]})
        facts = {n: self.fact(n, v) for n, v in told.get("facts", {}).items()}
        if told["code"] == ELSEWHERE:
            # The file of words speaks of what one phone knows; paper knows all.
            return f"{facts['subject']} must have {facts['name']} first."
        return say(told["code"], facts)

    def say_all(self, told: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
        """Give refusals in words, each wording once."""
        return tuple(dict.fromkeys(self.say(each) for each in told))

    def fault(self, fault: Mapping[str, Any], entry: Entry | None) -> str:
        """Give a nonconformance in words: a person's own, a check's, or its code's."""
        if entry is not None and entry.kind == "nonconformance":
            return str(entry.about["text"])
        if fault["code"] == "gate_shut":
            return say("anyway", {})
        if fault["code"].startswith(_OF_FIELD):
            return self.unfit(fault)
        place = self.fact("step", fault.get("step", ""))
        known = self.names["check"].get(_check_key(fault))
        return known or say(fault["code"], {**fault, "step": place, "point": place})

    def unfit(self, told: Mapping[str, Any]) -> str:
        """Say what is wrong with what a field (`check`) of a line names."""
        step, line = told.get("step", ""), told.get("line", "")
        field = f"{step}/{told.get('check', '')}"
        lines = told.get("lines", "").split(",")
        code = told["code"]
        if code == "item_expired" and field in self.names["calibrated"]:
            code = "item_uncalibrated"
        named = self.names["named"].get(f"{step}/{line}/{told.get('check', '')}")
        facts = {
            "step": self.fact("step", step),
            "item": self.fact("item", told.get("item", "")),
            "lines": " / ".join(self.fact("line", f"{step}/{each}") for each in lines),
            "check": named or self.fact("field", field),
        }
        return say(code, {**facts, **told_of(self.foreign, told)})

    def failure(self, step: str, line: str, check: str) -> str:
        """Say what a line fails that is no check of the plan: an unfit item, say."""
        code, _, field = check.partition(":")
        return self.unfit({"code": code, "step": step, "line": line, "check": field})

    def fact(self, name: str, value: Any) -> str:
        """Give a fact of a refusal by its name: titles, people, local times."""
        if name in _TIMES and isinstance(value, int):
            return moment(value, self.zone)
        found = self.names.get(name, {}).get(value)
        if found is None and name == "id":
            return short(str(value))
        return str(value if found is None else found)

    def kind(self, kind: str) -> str:
        """Give the kind of an entry in words."""
        return _KINDS.get(kind, kind.replace("_", " "))

    def verdict(self, verdict: str) -> str:
        """Give the verdict of a disposition in words."""
        return _VERDICTS.get(verdict, verdict)

    def roles(self, roles: Iterable[str]) -> str:
        """Give the titles of roles."""
        return ", ".join(self.fact("role", role) for role in roles)


def named(label: str, text: str) -> str:
    """Give what goes before a value: nothing where the value begins with it."""
    return "" if text.casefold().startswith(f"{label.casefold()} ") else label


def worded(field: Mapping[str, Any], value: int | str, items: Mapping[str, Any]) -> str:
    """Give a reading as a person would say it, by its field's kind; items by id."""
    if field["kind"] == "choice":
        labels = {each["value"]: each["label"] for each in field.get("options", ())}
        return str(labels.get(value, value))
    if field["kind"] == "item":
        item = items.get(str(value))
        return str(item["label"] if item else value)
    if isinstance(value, int):
        return figure(value, field.get("places", 0), field.get("unit", ""))
    return value


def wording(
    sheet: Mapping[str, Any],
    state: Mapping[str, Any],
    site: Mapping[str, Any],
    people: Mapping[str, Mapping[str, Any]],
    entries: Mapping[str, Entry],
    *,
    foreign: Foreign,
    elsewhere: Mapping[str, str] | None = None,
) -> Wording:
    """Gather what sheet and site call their parts; entries by id.

    elsewhere: what the sheets of subjects it waits for call what it awaits of them.
    """
    parts = {**sheet["steps"], **sheet["points"]}
    titles = {name: str(part["title"]) for name, part in parts.items()}
    titles |= {each["id"]: str(each["title"]) for each in sheet.get("milestones", ())}
    names: dict[str, Mapping[str, str]] = {
        "name": {**(elsewhere or {}), **titles},
        "subject": {
            each["id"]: str(each["title"]) for each in site.get("subjects", ())
        },
        "step": titles,
        "point": titles,
        "check": dict(_checks(sheet)),
        "requirement": {
            each["id"]: each["text"]
            for point in sheet["points"].values()
            for each in point.get("requires", ())
        },
        "hold": {each["id"]: each["title"] for each in sheet.get("holds", ())},
        "reason": {each["id"]: each["title"] for each in sheet.get("cards", ())},
        **_items(sheet, state),
        "person": {name: str(who.get("name", name)) for name, who in people.items()},
        "role": dict(site.get("roles", {})),
        "organisation": {
            each["id"]: each["name"] for each in site.get("organisations", ())
        },
    }
    zone = int(site.get("zone", 0))
    bare = Wording(names=names, zone=zone, foreign=foreign)
    faults = {
        each["id"]: bare.fault(each, entries.get(each.get("entry", "")))
        for each in state["nonconformances"]
    }
    return Wording(names={**names, "id": faults}, zone=zone, foreign=foreign)


def _items(
    sheet: Mapping[str, Any], state: Mapping[str, Any]
) -> dict[str, dict[str, str]]:
    """Give what items, lines and the fields that name items are called."""
    labels = {name: str(item["label"]) for name, item in sheet.get("items", {}).items()}
    fields, calibrated, lines, named = {}, {}, {}, {}
    kinds = kinds_calibrated(sheet)
    for step, part in sheet["steps"].items():
        for line in part.get("lines", ()):
            lines[f"{step}/{line['id']}"] = str(line["label"])
        for field in part.get("fields", ()):
            fields[f"{step}/{field['id']}"] = str(field["label"])
            if field.get("items") in kinds:
                calibrated[f"{step}/{field['id']}"] = ""
            for line_id, read in state["steps"][step]["lines"].items():
                value = str(read["values"].get(field["id"], ""))
                if field["kind"] == "item" and value:
                    key = f"{step}/{line_id}/{field['id']}"
                    named[key] = labels.get(value, value)
    return {
        "item": labels,
        # A step without lines has its fields for places.
        "line": fields | lines,
        "field": fields,
        "calibrated": calibrated,
        "named": named,
    }


def kinds_calibrated(sheet: Mapping[str, Any]) -> set[str]:
    """Give the kinds of items that run out of calibration, where a lot expires.

    Fields say so too; sheets from before they did are known by the line of a jack's
    certificate.
    """
    return {
        str(item["kind"])
        for item in sheet.get("items", {}).values()
        if "slope" in item.get("numbers", {})
    } | {
        str(field["items"])
        for part in sheet["steps"].values()
        for field in part.get("fields", ())
        if "items" in field and field.get("calibrated")
    }


def _checks(sheet: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    for step, part in sheet["steps"].items():
        for check in part.get("checks", ()):
            yield f"{step}/{check['id']}", str(check["text"])
            yield check["id"], str(check["text"])
    for clock in sheet.get("clocks", ()):
        for ratio in clock["ratios"]:
            if "text" in ratio:
                yield f"{clock['start']}//{ratio['id']}", str(ratio["text"])


def _check_key(fault: Mapping[str, Any]) -> str:
    between = "//" if fault["code"] == "clock_over" else "/"
    return f"{fault.get('step', '')}{between}{fault.get('check', '')}"
