"""Calls of the vectors in Python: plain data in, plain data out, nothing missing.

A ratio is written "n/d", what is missing "missing", what a table does not reach "out",
an entry of a story "@label". `tests/js/core_vectors.js` says the same in JavaScript.
"""

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

from fieldapp.core import (
    ahead,
    canonical,
    certificates,
    chain,
    clocks,
    dispositions,
    entries,
    graph,
    heard,
    kernel,
    kinds,
    numbers,
    plan_signing,
    refusals,
    register,
    revisions,
    roster,
    rules,
    scene,
    sheet,
    standing,
    view,
    witness,
    words,
)
from tests.core.vector_moments import MOMENTS

BASES = {
    "note": {"kind": "note", "about": {"text": "x"}},
    "done": {"kind": "done", "step": "wipe"},
}
COMMON = {
    "format": 1, "site": "test", "subject": "J1", "rules": 1, "person": "ann",
    "device": "d", "key": "ab" * 32, "seq": 1, "after": [], "at": 1, "at_by": "tap",
    "made": 1, "zone": 0, "session": "s", "mono": 0, "shell": "v",
}  # fmt: skip
SHOWN = ("kind", "line", "values", "about", "photos", "needs", "after")


def ratio_of(text: str) -> numbers.Ratio:
    """Read "n/d"."""
    top, _, bottom = text.partition("/")
    return (int(top), int(bottom))


def plain(value: Any) -> Any:
    """Write a ratio, nothing, or tuples in the words of the vectors."""
    if value is None:
        return "missing"
    if value is numbers.OUT:
        return "out"
    return [plain(each) for each in value] if isinstance(value, tuple | list) else value


def shown_ratio(value: numbers.Value) -> str:
    """Write a kernel's value."""
    if value is None or value is numbers.OUT:
        return str(plain(value))
    return f"{value[0]}/{value[1]}"


class FakeSituation:
    """Answers the kernel from plain data."""

    def __init__(self, given: dict[str, Any]) -> None:
        self.given, self.memo = given, {}
        self.steps = {k: dict(v) for k, v in given.get("readings", {}).items()}

    def reading(self, step: str, line: str, field: str) -> Any:
        if self.disputed(step, line):
            return None
        return self.steps.get(step, {}).get(line, {}).get(field)

    def item_number(self, item: str, name: str) -> Any:
        return self.given.get("items", {}).get(item, {}).get("numbers", {}).get(name)

    def line_ids(self, step: str, among: list[str] | None = None) -> list[str]:
        read = list(self.steps.get(step, {}))
        return read if among is None else [each for each in among if each in read]

    def disputed(self, step: str, line: str) -> bool:
        return [step, line] in self.given.get("disputed", [])

    def line_of(self, step: str) -> str | None:
        return self.line_ids(step)[-1] if self.steps.get(step) else None

    def elapsed_ms(
        self, start: Any, end: Any, use_by: bool, typed_ms: int = 0
    ) -> int | None:
        return self.given.get("elapsed", {}).get("use_by" if use_by else "not_before")

    def life_used(self, clock: str, line: str, end: Any) -> numbers.Value:
        found = self.given.get("lives", {}).get(f"{clock}/{line}")
        return None if found is None else ratio_of(found)

    def reached(self, what: str, name: str, subject: str | None) -> bool:
        place = name if subject is None else f"{subject}/{name}"
        return f"{what}:{place}" in self.given.get("reached", [])


def _expression(given: dict[str, Any], make: str) -> Callable[[str], Any]:
    parts = {key: given.get(key, {}) for key in ("steps", "values", "conditions")}
    made = kernel.Kernel(parts, given.get("tables", {}))
    evaluate = getattr(made, make)(given["expression"])
    at = FakeSituation(given)
    for line in given.get("before", ()):
        evaluate(at, line)
    return evaluate(at, given.get("line", ""))


def kernel_value(given: dict[str, Any]) -> str:
    return shown_ratio(_expression(given, "value"))


def kernel_condition(given: dict[str, Any]) -> bool | str:
    found = _expression(given, "condition")
    return "unknown" if found is None else found


def entry_of(given: dict[str, Any]) -> dict[str, Any]:
    document: Any = given.get("document")
    if document is None:
        document = {**COMMON, **BASES[given["base"]], **given.get("change", {})}
        for name in given.get("drop", ()):
            del document[name]
    entry = entries.entry_of(document, "0" * 64)
    return {name: _listed(getattr(entry, name)) for name in SHOWN}


def adds_photo(given: dict[str, Any]) -> bool:
    plain: dict[str, Any] = {"values": {}, "about": {}, "photos": []}
    entry: Any = SimpleNamespace(**{**plain, **given})
    return entries.adds_photo(entry)


def _listed(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def order(given: dict[str, Any]) -> dict[str, Any]:
    found = graph.order(_entries(given))
    count = len(found.entries)
    return {
        "order": [entry.id for entry in found.entries],
        "past": [[i for i in range(count) if mask >> i & 1] for mask in found.past],
        "heads": list(found.heads),
        "missing": list(found.missing),
    }


def _entries(given: dict[str, Any]) -> Any:
    missing = {"after": (), "prev": None, "values": {}, "needs": (), "at": 1}
    missing["kind"] = "registered"
    return [SimpleNamespace(**{**missing, **each}) for each in given["entries"]]


def _of(given: dict[str, Any], call: Any, told: Any = lambda found: found) -> Any:
    known = {each.id: each for each in _entries(given)}
    found = call(known[given["of"]], known)
    return "missing" if found is None else told(found)


def _signatures(given: dict[str, Any]) -> Any:
    plain = {"kind": "plan_signed", "needs": (), "unlocked": "pin"}
    return [SimpleNamespace(**{**plain, **each}) for each in given["entries"]]


def chain_faults(given: dict[str, Any]) -> list[dict[str, Any]]:
    return [
        {"code": f.code, "device": f.device, "seq": f.seq, "entries": list(f.entries)}
        for f in chain.chain_faults(_entries(given))
    ]


def run_life(given: dict[str, Any]) -> dict[str, Any]:
    knots = [clocks.Knot(*each) for each in given["knots"]]
    late = given.get("spent_when_read", False)
    life = clocks.run_life(given["table"], knots, given["age_ms"], spent_when_read=late)
    found = {
        "used": [shown_ratio(life.used(at)) for at in given["used_at"]],
        "deadlines": [life.deadline_ms(*each) for each in given["deadlines"]],
    }
    extra = {"alarm": life.alarm, "spent_ms": life.spent_ms}
    return found | {k: v for k, v in extra.items() if v is not None}


def heard_of(given: dict[str, Any]) -> dict[str, Any]:
    """Ask of entries written short: what is not given of one is not known."""
    told = [SimpleNamespace(**{"offset": None, **each}) for each in given["entries"]]
    mine = [SimpleNamespace(needs=tuple(each["needs"])) for each in given["mine"]]
    return heard.heard_of(told, mine)  # type: ignore[arg-type]


def prepare(given: dict[str, Any]) -> str:
    return sheet.prepare(given["sheet"], given["tables"]).hash


def revisions_of(given: dict[str, Any]) -> list[list[bool]] | str:
    """Ask one of some sheets of each of them: does its part count, is it here?"""
    known = {canonical.fingerprint(each): each for each in given["sheets"]}
    keys = list(known)
    found = revisions.revisions_of(known, given["tables"])(keys[given["ask"]])
    if found is None:
        return "not here"
    return [
        [found.counts(key, given["part"]), found.before(key) is not None]
        for key in keys
    ]


PURE: dict[str, Callable[[dict[str, Any]], Any]] = {
    "canonical.canonical": lambda g: canonical.canonical(g["document"]).decode(),
    "canonical.fingerprint": lambda g: canonical.fingerprint(g["document"]),
    "canonical.sha256_hex": lambda g: canonical.sha256_hex(g["text"].encode()),
    "canonical.read_canonical": lambda g: canonical.read_canonical(g["text"].encode()),
    "numbers.ratio": lambda g: shown_ratio(numbers.ratio(*ratio_of(g["of"]))),
    "numbers.compare": lambda g: numbers.compare(
        ratio_of(g["left"]), ratio_of(g["right"])
    ),
    "numbers.rounded": lambda g: plain(numbers.rounded(ratio_of(g["of"]))),
    "numbers.ceiling": lambda g: str(numbers.ceiling(ratio_of(g["of"]))),
    "kinds.needs_pin": lambda g: kinds.needs_pin(g["kind"]),
    "words.say": lambda g: words.say(g["code"], g["facts"]),
    "entries.entry_of": entry_of,
    "entries.adds_photo": adds_photo,
    "entries.read_entry": lambda g: entries.read_entry(g["text"].encode()).id,
    "graph.order": order,
    "chain.chain_faults": chain_faults,
    "chain.forked": lambda g: sorted(chain.forked(_entries(g))),
    "roster.roster": lambda g: roster.roster(_entries(g), g["office"]),
    "roster.find_key": lambda g: plain(
        roster.find_key(g["people"], g["person"], g["key"])
    ),
    "witness.witnessed": lambda g: witness.witnessed(g["late"], g["earlier"]),
    "witness.led_to": lambda g: witness.led_to(g["bodies"], g["names"]),
    "register.register": lambda g: register.register(_entries(g)),
    "register.by_item": lambda g: {
        item: sorted(known) for item, known in register.by_item(_entries(g)).items()
    },
    "register.certificate_of": lambda g: _of(
        g, register.certificate_of, lambda entry: entry.id
    ),
    "register.end_of": lambda g: _of(g, register.end_of),
    "register.takes_out": lambda g: register.takes_out(SimpleNamespace(**g)),
    "register.numbers_of": lambda g: register.numbers_of(SimpleNamespace(**g)),
    "certificates.certified": lambda g: certificates.certified(_entries(g)),
    "certificates.items_relied_on": lambda g: certificates.items_relied_on(
        g["items"], _entries(g)
    ),
    "plan_signing.plan_signatures": lambda g: {
        part: entry.id
        for part, entry in plan_signing.plan_signatures(
            g["plan"], _signatures(g), g["people"]
        ).items()
    },
    "plan_signing.plan_refusals": lambda g: plan_signing.plan_refusals(
        g["plan"], _signatures(g), g["people"], g["person"]
    ),
    "kernel.value": kernel_value,
    "kernel.condition": kernel_condition,
    "kernel.straight": lambda g: shown_ratio(
        kernel.straight(g["xs"], g["values"], ratio_of(g["x"]))
    ),
    "kernel.least_squares_slope": lambda g: shown_ratio(
        kernel.least_squares_slope([(ratio_of(x), ratio_of(y)) for x, y in g["pairs"]])
    ),
    "clocks.run_life": run_life,
    **MOMENTS,
    "heard.heard_of": heard_of,
    "sheet.part_hashes": lambda g: sheet.part_hashes(g["sheet"]),
    "sheet.prepare": prepare,
    "revisions.revisions_of": revisions_of,
    "ahead.behind": lambda g: plain(
        ahead.behind(g["since"], [(at, done) for at, done in g["events"]], g["here"])
    ),
    "dispositions.computed_id": lambda g: dispositions.computed_id(*g["parts"]),
    "dispositions.reading_fault_id": lambda g: dispositions.reading_fault_id(
        g["check"], g["entry"]
    ),
    "refusals.refusal": lambda g: refusals.refusal(g["code"], **g["facts"]),
    "rules.possible": lambda g: rules.possible(g.get("field"), g["value"]),
    "rules.reading_refusals": lambda g: rules.reading_refusals(g["step"], g["values"]),
    "scene.milestones_of": lambda g: scene.milestones_of(g["standing"], g["subject"]),
    "standing.standing_of": lambda g: standing.standing_of(g["state"], g["as_of"]),
    "view.allowed": lambda g: view.allowed(g["standing"], g["person"], g["wanted"]),
}
