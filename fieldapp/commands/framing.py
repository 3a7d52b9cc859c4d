"""How long a request says it is, read strictly: digits, or it is refused at once.

The server takes any whole number. One below nought reads on until the other end hangs
up, and `1_0` counts as ten: either would hold one of its few threads for nothing.
Source: RFC 9110, chapter 8.6 (one or more decimal digits).
"""

from typing import Any

from cheroot.server import HeaderReader, HTTPConnection, HTTPRequest


class StrictHeaders(HeaderReader):
    """Reads a request's headers; errors: `ValueError`, answered by 400 and the end."""

    def __call__(self, rfile: Any, hdict: Any = None) -> Any:
        """Read them as the library does, then look at the length."""
        found = super().__call__(rfile, hdict)
        if not found.get(b"Content-Length", b"0").isdigit():
            raise ValueError("Malformed Content-Length Header.")
        return found


class StrictRequest(HTTPRequest):
    """A request whose headers were read so."""

    header_reader = StrictHeaders()


class StrictConnection(HTTPConnection):
    """A connection of such requests."""

    RequestHandlerClass = StrictRequest
