"""Random expressions of the kernel's fifteen words over a sheet's steps."""

from dataclasses import dataclass, field
from random import Random
from typing import Any

REFERRED = ("J0", "constructor")


@dataclass(slots=True, kw_only=True)
class Parts:
    """What a sheet's expressions may speak of."""

    flow: list[str]
    steps: dict[str, dict[str, Any]]
    points: list[str]
    milestones: list[str]
    clocks: dict[str, bool]

    def before(self, name: str) -> list[str]:
        """Give what may be needed before a step or point."""
        return [*self.flow[: self.flow.index(name)], *self.milestones]

    def told(self, name: str) -> dict[str, Any]:
        """Give a step; its item may have to be one named before (without a draw)."""
        named = [
            [step, "kit"]
            for step in self.flow[: self.flow.index(name)]
            if any(f["id"] == "kit" for f in self.steps.get(step, {}).get("fields", ()))
        ]
        fields = [
            {**each, "among": named} if named and each.get("once") == 0 else each
            for each in self.steps[name]["fields"]
        ]
        return {**self.steps[name], "fields": fields}


@dataclass(slots=True)
class Expressions:
    """Makes values and conditions; named ones refer to earlier ones only."""

    rng: Random
    parts: Parts
    calm: bool = False
    values: dict[str, Any] = field(default_factory=dict)
    conditions: dict[str, Any] = field(default_factory=dict)

    def named_values(self) -> dict[str, Any]:
        """Give the sheet's shared values."""
        for name in ("total", "3", "constructor", "other")[: self.rng.randint(0, 4)]:
            here = self.read_step() if self.rng.random() < 0.3 else None
            self.values[name] = self.value(3, here)
        return self.values

    def named_conditions(self) -> dict[str, Any]:
        """Give the sheet's shared conditions; one may be named like a value."""
        for name in ("dry", "total", "12")[: self.rng.randint(0, 3)]:
            here = self.read_step() if self.rng.random() < 0.3 else None
            self.conditions[name] = self.condition(2, here)
        return self.conditions

    def demand(self, here: str | None) -> dict[str, Any] | str:
        """Give a condition that ordinary readings mostly meet."""
        if not self.calm and self.rng.random() < 0.4:
            return self.condition(2, here)
        step = here or self.read_step()
        return {
            "word": "between",
            "value": self._reading(step, here),
            "low": self.rng.randint(-10, 15),
            "high": self.rng.randint(70, 110),
        }

    def value(self, depth: int = 2, here: str | None = None) -> Any:
        """Give a VALUE; here: the step whose line it is asked on, or None."""
        if depth <= 0 or self.rng.random() < 0.25:
            return self._leaf(here)
        make = self.rng.choice(
            [self._form, self._form, self._table, self._choose, self._reduce,
             self._reduce, self._listed, self._slope, self._elapsed, self._life]
        )  # fmt: skip
        return make(depth - 1, here)

    def condition(self, depth: int = 2, here: str | None = None) -> Any:
        """Give a CONDITION."""
        draw = self.rng.random()
        if self.conditions and draw < 0.15:
            return self.rng.choice(list(self.conditions))
        if draw < 0.25:
            return self._reached()
        if depth > 0 and draw < 0.45:
            count = self.rng.randint(0, 3)
            of = [self.condition(depth - 1, here) for _ in range(count)]
            return {"word": self.rng.choice(["all", "any"]), "of": of}
        if draw < 0.6:
            values = self.rng.sample(range(-2, 60), 15)
            return {"word": "in", "value": self.value(1, here), "set": values}
        return self._between(depth, here)

    def read_step(self) -> str:
        """Give a step, one with fields where there is one."""
        steps = self.parts.steps
        read = [name for name, step in steps.items() if step["fields"]]
        return self.rng.choice(
            read if read and self.rng.random() < 0.9 else list(steps)
        )

    def _between(self, depth: int, here: str | None) -> dict[str, Any]:
        word = {"word": "between", "value": self.value(depth, here)}
        if self.rng.random() < 0.7:
            word["low"] = self.rng.randint(-60, 40)
        if self.rng.random() < 0.7:
            small = self.rng.random() < 0.8
            word["high"] = self.rng.randint(30, 900) if small else self.value(1, here)
        return word

    def _reached(self) -> dict[str, Any]:
        if self.rng.random() < 0.15:
            word = {
                "word": "reached",
                "milestone": self.rng.choice(["hung", "toString"]),
            }
            return {**word, "subject": self.rng.choice(REFERRED)}
        names = {
            "step": list(self.parts.steps),
            "point": self.parts.points,
            "milestone": [*self.parts.milestones, "unheard-of"],
        }
        what = self.rng.choice([name for name, known in names.items() if known])
        return {"word": "reached", what: self.rng.choice(names[what])}

    def _leaf(self, here: str | None) -> Any:
        draw = self.rng.random()
        if draw < 0.15:
            return self.rng.randint(-100, 100)
        if draw < 0.25 and self.values:
            return self.rng.choice(list(self.values))
        if draw < 0.32:
            return {"word": "constant", "name": "share"}
        if draw < 0.38:
            return self._item_number(here)
        return self._reading(here or self.read_step(), here)

    def _reading(self, step: str, here: str | None) -> dict[str, Any]:
        if self.rng.random() < 0.1:
            step = self.read_step()
        fields = [f["id"] for f in self.parts.steps[step]["fields"]]
        chosen = self.rng.choice(fields) if fields else "force"
        word = {"word": "reading", "step": step, "field": chosen}
        lines = self.parts.steps[step].get("lines")
        if lines and (here != step or self.rng.random() < 0.1):
            word["line"] = self.rng.choice(lines)["id"]
        return word

    def _item_number(self, here: str | None) -> dict[str, Any]:
        steps = self.parts.steps
        with_kit = [
            n for n, s in steps.items() if any(f["id"] == "kit" for f in s["fields"])
        ]
        step = self.rng.choice(with_kit or list(steps))
        name = self.rng.choice(["slope", "zero", "valueOf"])
        return {"word": "field", "step": step, "field": "kit", "name": name}

    def _form(self, depth: int, here: str | None) -> dict[str, Any]:
        terms = [
            [self._coefficient(here), self.value(depth, here)]
            for _ in range(self.rng.randint(0, 3))
        ]
        word = {
            "word": "form",
            "terms": terms,
            "divisor": self.rng.choice([1, 3, 7, 10**12]),
        }
        if self.rng.random() < 0.6:
            word["constant"] = self.rng.choice(
                [0, -17, 10**15, self.value(depth, here)]
            )
        return word

    def _coefficient(self, here: str | None) -> Any:
        draw = self.rng.random()
        if draw < 0.6:
            return self.rng.choice([1, -1, 2, -13, 10**9, 10**12])
        if draw < 0.8:
            return {"word": "constant", "name": "share"}
        return self._item_number(here)

    def _table(self, depth: int, here: str | None) -> dict[str, Any]:
        name = self.rng.choice(["straight", "straight", "node", "plane"])
        word = {"word": "table", "table": name, "x": self.value(depth, here)}
        return {**word, "y": self.value(depth, here)} if name == "plane" else word

    def _choose(self, depth: int, here: str | None) -> dict[str, Any]:
        keys = self.rng.sample([0, 1, 2, 50], self.rng.randint(1, 3))
        cases = [[key, self.value(depth, here)] for key in keys]
        word = {"word": "choose", "by": self.value(0, here), "cases": cases}
        if self.rng.random() < 0.6:
            word["otherwise"] = self.value(depth, here)
        return word

    def _listed(self, depth: int, here: str | None) -> dict[str, Any]:
        values = [self.value(depth, here) for _ in range(self.rng.randint(1, 3))]
        return {"word": "reduce", "how": self._how(), "values": values}

    def _reduce(self, depth: int, here: str | None) -> dict[str, Any]:
        step = self.read_step()
        word = {"word": "reduce", "how": self._how(), "step": step, **self._chosen()}
        if self.rng.random() < 0.8:
            word["value"] = self.value(min(depth, 1), step)
        return word

    def _slope(self, depth: int, here: str | None) -> dict[str, Any]:
        step = self.read_step()
        return {
            "word": "slope",
            "step": step,
            "x": self.value(min(depth, 1), step),
            "y": self._reading(step, step),
            **(self._chosen() if self.rng.random() < 0.3 else {}),
        }

    def _chosen(self) -> dict[str, Any]:
        word: dict[str, Any] = {}
        if self.rng.random() < 0.25:
            word["item"] = self.rng.choice(["bar-1", "2"])
        if self.rng.random() < 0.25:
            word["round"] = self.rng.randint(1, 2)
        return word

    def _how(self) -> str:
        return self.rng.choice(["first", "last", "min", "max", "sum", "count"])

    def _elapsed(self, depth: int, here: str | None) -> dict[str, Any]:
        how = self.rng.choice(["use_by", "not_before"])
        minutes = {"word": "elapsed", "from": self._ref(), "to": self._ref(), "as": how}
        if how == "use_by" and "line" in (*minutes["from"], *minutes["to"]):
            minutes["typed_ms"] = 59_999
        return {"word": "form", "terms": [[1, minutes]], "divisor": 60_000}

    def _life(self, depth: int, here: str | None) -> dict[str, Any]:
        if not self.parts.clocks:
            return self._elapsed(depth, here)
        clock = self.rng.choice(list(self.parts.clocks))
        used = {"word": "life", "clock": clock, "to": self._ref()}
        return {"word": "form", "terms": [[100, used]], "divisor": 1}

    def _ref(self) -> Any:
        draw = self.rng.random()
        if draw < 0.2:
            return "now"
        if draw < 0.35 and self.parts.milestones:
            return {"milestone": self.rng.choice(self.parts.milestones)}
        if draw < 0.5 and self.parts.points:
            return {"point": self.rng.choice(self.parts.points)}
        step = self.rng.choice(list(self.parts.steps))
        ref: dict[str, Any] = {"step": step}
        lines = self.parts.steps[step].get("lines")
        if lines and self.rng.random() < 0.3:
            ref["line"] = self.rng.choice(lines)["id"]
        elif self.rng.random() < 0.5:
            ref["pick"] = self.rng.choice(["first", "last"])
        return ref
