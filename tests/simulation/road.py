"""The road between a phone and the office, with everything that goes wrong on one.

Requests go to the real server over real sockets. A fault is drawn for each request:
it may never arrive, its answer may be lost or cut, it may arrive twice, arrive cut,
or arrive once more much later, after others.
"""

import http.client
import json
import socket
from collections import Counter
from dataclasses import dataclass, field
from random import Random
from typing import Any

PATIENCE_S = 60.0
FAULTS = (
    "request lost",
    "answer lost",
    "answer cut",
    "request twice",
    "request cut",
    "request again later",
)


class Lost(Exception):
    """No answer that can be used came back."""


class Refused(Exception):
    """The office answered with an error status."""

    def __init__(self, status: int, answer: dict[str, Any]) -> None:
        self.status, self.answer = status, answer
        super().__init__(f"{status}: {answer}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """One request as it goes over the wire; `photo`: the hash if the body is one."""

    method: str
    path: str
    body: bytes | None
    token: str | None
    photo: str | None = None


@dataclass(slots=True, kw_only=True)
class Road:
    """All phones' road to one server. `rate`: how often a request meets a fault."""

    port: int
    rng: Random
    rate: float = 0.0
    met: Counter[str] = field(default_factory=Counter)
    late: list[Request] = field(default_factory=list)

    def ask(self, path: str, body: Any = None, token: str | None = None) -> Any:
        """Ask the office; gives its answer. Errors: `Lost`, `Refused`."""
        raw = None if body is None else json.dumps(body).encode()
        method = "GET" if raw is None else "POST"
        request = Request(method=method, path=path, body=raw, token=token)
        return self._answer(self._carry(request))

    def bring_photo(self, raw: bytes, name: str, token: str | None) -> Any:
        """Offer a photo; gives the answer. Errors: `Lost`, `Refused`."""
        request = Request(
            method="POST", path="/api/photo", body=raw, token=token, photo=name
        )
        return self._answer(self._carry(request))

    def deliver_late(self) -> None:
        """Let what was held up on the way arrive now; nobody hears the answers."""
        waiting, self.late = self.late, []
        self.rng.shuffle(waiting)
        for request in waiting:
            _ignored(self.port, request)

    def _carry(self, request: Request) -> tuple[int, bytes]:
        fault = self.rng.choice(FAULTS) if self.rng.random() < self.rate else None
        if fault is None:
            return _sent(self.port, request)
        self.met[fault] += 1
        if fault == "request lost":
            raise Lost(fault)
        if fault == "request cut":
            _cut(self.port, request)
            raise Lost(fault)
        if fault == "request again later":
            self.late.append(request)
        if fault == "request twice":
            _ignored(self.port, request)
        status, raw = _sent(self.port, request)
        if fault == "answer lost":
            raise Lost(fault)
        return status, raw[: len(raw) // 2] if fault == "answer cut" else raw

    def _answer(self, told: tuple[int, bytes]) -> Any:
        status, raw = told
        try:
            answer = json.loads(raw)
        except ValueError as fault:
            raise Lost(f"{status}, not JSON") from fault
        if status != 200:
            raise Refused(status, answer)
        return answer


def _sent(port: int, request: Request) -> tuple[int, bytes]:
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
    try:
        line.request(
            request.method, request.path, request.body, headers=_headers(request)
        )
        answer = line.getresponse()
        return answer.status, answer.read()
    except (OSError, http.client.HTTPException) as fault:
        raise Lost(str(fault)) from fault
    finally:
        line.close()


def _ignored(port: int, request: Request) -> None:
    try:
        _sent(port, request)
    except Lost:
        return


def _cut(port: int, request: Request) -> None:
    """Send half of a request's bytes and hang up."""
    body = request.body or b""
    told = "".join(f"{name}: {value}\r\n" for name, value in _headers(request).items())
    head = (
        f"{request.method} {request.path} HTTP/1.1\r\nHost: 127.0.0.1\r\n{told}"
        f"Content-Length: {len(body)}\r\n\r\n"
    )
    raw = head.encode() + body
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_S) as line:
            line.sendall(raw[: max(1, len(raw) - len(body) // 2 - 1)])
    except OSError:
        return


def _headers(request: Request) -> dict[str, str]:
    headers = {"Content-Type": "application/json"} if request.body is not None else {}
    if request.photo:
        headers = {"Content-Type": "image/jpeg", "X-Photo-Hash": request.photo}
    if request.token:
        headers["Authorization"] = f"Bearer {request.token}"
    return headers
