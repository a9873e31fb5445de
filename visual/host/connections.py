"""How many connections may wait on a port, so that nobody who opens very many keeps the others out or uses up the files
that a program may have open."""

from __future__ import annotations

from collections import Counter

import tornado.httpserver
from tornado.iostream import IOStream

MOST_WAITING = 128  # connections that are no socket of a page; a browser opens six at once, and keeps them for a while
PATIENCE = 20.0  # s for the rest of a request, for the next one on the same connection, and for a stalled reader


class BoundedServer(tornado.httpserver.HTTPServer):
    """Lets the oldest connection of who has the most go when there are too many. The pages' sockets are not among them:
    how many of these there may be is the business of the way in."""

    def initialize(self, *arguments, **settings):
        super().initialize(*arguments, idle_connection_timeout=PATIENCE, body_timeout=PATIENCE, **settings)
        self._waiting: dict[IOStream, str] = {}  # from where, the oldest first

    def handle_stream(self, stream, address):
        if len(self._waiting) >= MOST_WAITING:
            self._let_one_go()
        self._waiting[stream] = address[0] if address else ""  # who comes by a Unix socket has none
        super().handle_stream(stream, address)

    def on_close(self, server_conn):
        super().on_close(server_conn)
        self._waiting.pop(server_conn.stream, None)

    def _let_one_go(self) -> None:
        ((most, _),) = Counter(self._waiting.values()).most_common(1)
        oldest = next(stream for stream, address in self._waiting.items() if address == most)
        del self._waiting[oldest]
        oldest.close()
