"""Limits on waiting connections, so that nobody can keep the others out, or use up the program's file handles, by opening very
many."""

from __future__ import annotations

import contextlib
from collections import Counter
from typing import Any

import tornado.httpserver
from tornado.iostream import IOStream

resource: Any
try:
    import resource
except ImportError:  # Windows has no such limit
    resource = None

MOST_WAITING = 300  # connections other than the pages' sockets: fifty browsers that open six each
PATIENCE = 20.0  # s for the rest of a request, for the next one on the same connection, and for a stalled reader
FILES = 1024  # open at once: more than all connections and pages need; on a Mac the usual limit is 256


def allow_files() -> None:
    """Raise the program's limit of open files as far as needed and allowed."""
    if resource is None:
        return
    usual, most = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = FILES if most == resource.RLIM_INFINITY else min(FILES, most)
    if usual != resource.RLIM_INFINITY and usual < wanted:
        with contextlib.suppress(OSError, ValueError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, most))


class BoundedServer(tornado.httpserver.HTTPServer):
    """A server that drops a connection when too many wait: of the address with the most, the oldest over which nothing is being
    sent, so that a file is cut short only if there is no other. The pages' sockets are not counted: `pages` limits these."""

    def initialize(self, *arguments: Any, **settings: Any) -> None:
        settings |= {"idle_connection_timeout": PATIENCE, "body_timeout": PATIENCE}
        super().initialize(*arguments, **settings)
        allow_files()
        self._waiting: dict[IOStream, str] = {}  # the address each comes from, the oldest first

    def handle_stream(self, stream: IOStream, address: tuple[Any, ...]) -> None:
        if len(self._waiting) >= MOST_WAITING:
            self._let_one_go()
        self._waiting[stream] = address[0] if address else ""  # a Unix socket has none
        super().handle_stream(stream, address)

    def on_close(self, server_conn: object) -> None:
        super().on_close(server_conn)
        self._waiting.pop(server_conn.stream, None)  # type: ignore[attr-defined]  # an HTTP1ServerConnection

    def _let_one_go(self) -> None:
        ((most, _),) = Counter(self._waiting.values()).most_common(1)
        theirs = [stream for stream, address in self._waiting.items() if address == most]
        gone = next((stream for stream in theirs if not stream.writing()), theirs[0])
        del self._waiting[gone]
        gone.close()
