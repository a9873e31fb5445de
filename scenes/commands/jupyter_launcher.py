"""The bench in a JupyterHub: the launcher's entry starts one for its user, at .../thumbwise/.

jupyter-server-proxy finds `server` by its entry point in pyproject.toml, starts the program and ends it with the user's
server. It asks every user for a password and checks a socket's origin, but passes Host and Origin on as the browser
sent them. The bench answers only to this machine's names, so both are rewritten. A Unix socket, where the system has them,
keeps the bench from other users of that machine, which a port would not.
"""

from __future__ import annotations

import socket
import sys
from pathlib import Path

SLOW_MACHINE = 60  # s to the first answer


def server() -> dict:
    """What jupyter-server-proxy is to start, and the launcher's entry."""
    on_a_socket = hasattr(socket, "AF_UNIX")
    where = ("--socket", "{unix_socket}") if on_a_socket else ("--port", "{port}")
    return {
        # -P: so that a student's own physics.py is not imported for ours
        "command": [sys.executable, "-P", "-m", "scenes", "--no-browser", *where],
        "unix_socket": on_a_socket,
        "request_headers_override": {"Host": "localhost", "Origin": "http://localhost"},
        "timeout": SLOW_MACHINE,
        "launcher_entry": {"title": "Thumbwise", "icon_path": str(Path(__file__).with_suffix(".svg")), "category": "Other"},
    }
