"""Runs the project's JavaScript modules from Python tests, in Playwright's Node.

One process serves a whole test run; calls travel in batches, one JSON line each
way (`tests/js/bridge.js` is the other end). Values cross unchanged or not at all:
dict, list, str, bool, None, float, bytes (as Uint8Array) and int, where an `int`
beyond 2^53 - 1, or wrapped in `BigInt`, arrives as a BigInt and a BigInt comes
back as `int`. `undefined` comes back as `UNDEFINED`.
"""

import base64
import contextlib
import json
import subprocess
import threading
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Self

ROOT = Path(__file__).resolve().parent.parent
BRIDGE = ROOT / "tests" / "js" / "bridge.js"
LARGEST_NUMBER = 2**53 - 1
RESERVED = {"$bytes", "$int", "$undefined"}


class JavaScriptError(Exception):
    """What a called function threw: its name, message and `code`, if it has one."""

    def __init__(self, fault: dict[str, Any]) -> None:
        super().__init__(f"{fault['name']}: {fault['message']}\n{fault['stack']}")
        self.name: str = fault["name"]
        self.message: str = fault["message"]
        self.code: str | None = fault["code"]


class EngineStopped(Exception):
    """The engine gave no answer: it crashed, never started or ran out of time."""


class Undefined:
    """The type of `UNDEFINED`, JavaScript's answer of a function without one."""

    def __repr__(self) -> str:
        """Answer with the name that tests import."""
        return "UNDEFINED"


UNDEFINED = Undefined()


@dataclass(frozen=True, slots=True)
class BigInt:
    """An int that must arrive as a BigInt, however small it is."""

    value: int


@dataclass(frozen=True, slots=True)
class Call:
    """One call: a module's path from the project's root, an export, arguments."""

    module: str
    function: str
    arguments: tuple[Any, ...] = ()


class JavaScript:
    """A running engine; use it as a context manager, or the fixture `javascript`."""

    def __init__(self, *, timeout_s: float = 60.0) -> None:
        self._timeout_s = timeout_s
        self._process = subprocess.Popen(
            [node_executable(), str(BRIDGE)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            encoding="utf-8",
        )
        try:
            self.version: str = self._read_answers(1)[0]["value"]
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> Self:
        """Answer with the engine itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop the process, whatever it is doing."""
        self.close()

    def call(self, module: str, function: str, *arguments: Any) -> Any:
        """Answer with what one function returned, or raise `JavaScriptError`."""
        answer = self.batch([Call(module, function, arguments)])[0]
        if isinstance(answer, JavaScriptError):
            raise answer
        return answer

    def each(
        self, module: str, function: str, arguments: Iterable[Sequence[Any]]
    ) -> list[Any]:
        """Call one function once for each sequence of arguments; see `batch`."""
        return self.batch([Call(module, function, tuple(each)) for each in arguments])

    def batch(self, calls: Sequence[Call]) -> list[Any]:
        """Answer each call in order; a `JavaScriptError` stands where one threw."""
        line = json.dumps(
            [[str(ROOT / c.module), c.function, _pack(c.arguments)] for c in calls],
            allow_nan=False,
        )
        self._write(line)
        return [_outcome(answer) for answer in self._read_answers(len(calls))]

    def close(self) -> None:
        """End the process and its pipes; a second call does nothing."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None and not pipe.closed:
                # What was still unsent has nobody left to read it.
                with contextlib.suppress(BrokenPipeError):
                    pipe.close()

    def _write(self, line: str) -> None:
        assert self._process.stdin is not None
        try:
            self._process.stdin.write(line + "\n")
            self._process.stdin.flush()
        except (BrokenPipeError, ValueError) as error:
            raise EngineStopped("the JavaScript engine is not running") from error

    def _read_answers(self, count: int) -> list[dict[str, Any]]:
        assert self._process.stdout is not None
        watch = threading.Timer(self._timeout_s, self._process.kill)
        watch.start()
        try:
            line = self._process.stdout.readline()
        finally:
            watch.cancel()
        if not line.endswith("\n"):
            raise EngineStopped(
                f"no answer within {self._timeout_s} s, or the engine crashed: "
                f"exit code {self._process.wait()}"
            )
        answers: list[dict[str, Any]] = json.loads(line, object_hook=_unpack)
        assert len(answers) == count, f"{count} calls, {len(answers)} answers"
        return answers


def node_executable() -> str:
    """Answer with the path of the Node that the playwright package carries."""
    from playwright._impl._driver import compute_driver_executable

    path = Path(compute_driver_executable()[0])
    assert path.is_file(), f"{path} is missing: run sh tests/run.sh once"
    return str(path)


def _outcome(answer: dict[str, Any]) -> Any:
    if "error" in answer:
        return JavaScriptError(answer["error"])
    return answer["value"]


def _pack(value: Any) -> Any:
    match value:
        case bool() | None | str() | float():
            return value
        case BigInt():
            return {"$int": str(value.value)}
        case int():
            small = abs(value) <= LARGEST_NUMBER
            return value if small else {"$int": str(value)}
        case bytes():
            return {"$bytes": base64.b64encode(value).decode("ascii")}
        case dict():
            if RESERVED & value.keys():
                raise TypeError(f"{sorted(RESERVED)} are words of the bridge")
            return {key: _pack(item) for key, item in value.items()}
        case list() | tuple():
            return [_pack(item) for item in value]
        case Undefined():
            return {"$undefined": True}
    raise TypeError(f"a {type(value).__name__} cannot cross to JavaScript")


def _unpack(found: dict[str, Any]) -> Any:
    if "$int" in found:
        return int(found["$int"])
    if "$bytes" in found:
        return base64.b64decode(found["$bytes"])
    if "$undefined" in found:
        return UNDEFINED
    return found
