"""`fieldapp serve`: serves the desk and the phones of one site."""

import argparse
import ipaddress
import logging
import signal
import socket
from pathlib import Path
from threading import Event
from typing import Any

from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server

from fieldapp.app import create_app
from fieldapp.commands import OPENING_FAULTS, CommandFault, say
from fieldapp.commands.framing import StrictConnection
from fieldapp.commands.warm import begin_warming
from fieldapp.commands.watch import watch
from fieldapp.config import LOCAL_HOSTS, Settings, default_data, hold

KEPT_CONNECTIONS = 400
"""The server's own default of 10 keeps dropping phones."""
WAITING_CONNECTIONS = 512
"""The server's own default of 5 resets phones that come back all at once."""
THREADS = 10
LARGEST_HEADER_BYTES = 64 * 1024
LARGEST_BODY_BYTES = 17 * 1024 * 1024


def add_parser(commands: Any) -> None:
    """Say what `serve` takes."""
    parser = commands.add_parser("serve", help="serve the desk and the phones")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on")
    parser.add_argument("--port", type=int, default=8080)
    parser.add_argument("--data", type=Path, default=default_data())
    parser.add_argument("--tls-cert", type=Path, help="certificate chain, PEM")
    parser.add_argument("--tls-key", type=Path, help="its private key, PEM")
    parser.add_argument(
        "--name", action="append", default=[], metavar="HOST",
        help="a host name by which it is reached; may be repeated",
    )  # fmt: skip
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Serve until interrupted; gives 0."""
    server = make_server(chosen)
    scheme = "https" if chosen.tls_cert else "http"
    say(f"Serving {chosen.data} at {scheme}://{shown_host(chosen.host)}:{chosen.port}/")
    say(f"Phones: {scheme}://{shown_host(chosen.host)}:{chosen.port}/phone/")
    if not chosen.name and shown_host(chosen.host) != chosen.host:
        say("Reached by another name or address? Say so with --name HOST.")
    stopped, wired = Event(), server.wsgi_app.extensions["fieldapp"]
    watch(chosen.data, wired.troubles, stopped)
    begin_warming(wired, stopped)
    serve_until_interrupted(server)
    stopped.set()
    return 0


def serve_until_interrupted(server: Server) -> None:
    """Serve; Ctrl-C or SIGTERM lets running requests finish, then stops."""
    # Begun in the background, a shell has Ctrl-C ignored; asked to stop, it stops.
    for asked in (signal.SIGINT, signal.SIGTERM):
        signal.signal(asked, signal.default_int_handler)
    try:
        server.serve()
    except KeyboardInterrupt:
        say("Stopping.")
    finally:
        server.stop()


def make_server(chosen: argparse.Namespace) -> Server:
    """Make the server, bound to its port. Errors: `CommandFault`."""
    logging.basicConfig(level=logging.WARNING, format="%(levelname)s %(message)s")
    settings = Settings(
        data=chosen.data,
        hosts=hosts(chosen.host, chosen.name),
        secure=bool(chosen.tls_cert),
    )
    try:
        app = create_app(settings)
        hold(chosen.data)
    except OPENING_FAULTS as fault:
        raise CommandFault(f"{chosen.data}: {fault}") from fault
    server = Server(
        (chosen.host, chosen.port),
        app,
        numthreads=THREADS,
        request_queue_size=WAITING_CONNECTIONS,
    )
    server.request_queue_size = WAITING_CONNECTIONS
    server.ConnectionClass = StrictConnection
    server.keep_alive_conn_limit = KEPT_CONNECTIONS
    server.max_request_header_size = LARGEST_HEADER_BYTES
    server.max_request_body_size = LARGEST_BODY_BYTES
    if chosen.tls_cert or chosen.tls_key:
        server.ssl_adapter = _tls(chosen.tls_cert, chosen.tls_key)
    try:
        server.prepare()
    except OSError as fault:
        raise CommandFault(f"{chosen.host}:{chosen.port}: {fault}") from fault
    return server


def hosts(host: str, named: list[str]) -> tuple[str, ...]:
    """Give the host names answered: this machine's, the given ones, the address."""
    return (*LOCAL_HOSTS, socket.gethostname(), *named, *_own_addresses(host))


def shown_host(host: str) -> str:
    """Give the host to print in an address: a name one can type."""
    if host in ("0.0.0.0", "::"):  # noqa: S104  # compared, not bound
        return "127.0.0.1"
    return f"[{host}]" if ":" in host else host


def _own_addresses(host: str) -> list[str]:
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return [host]
    if not address.is_unspecified:
        return [shown_host(host)]
    return _resolved(socket.gethostname())


def _resolved(name: str) -> list[str]:
    try:
        found = socket.getaddrinfo(name, None)
    except OSError:
        return []
    return sorted({shown_host(str(each[4][0])) for each in found})


def _tls(certificate: Path | None, key: Path | None) -> BuiltinSSLAdapter:
    if certificate is None or key is None:
        raise CommandFault("--tls-cert and --tls-key go together")
    try:
        return BuiltinSSLAdapter(str(certificate), str(key))
    except (OSError, ValueError) as fault:
        raise CommandFault(f"{certificate}, {key}: {fault}") from fault
