"""The bench in a JupyterHub: an entry in the launcher starts one for the user who asks for it, at .../thumbwise/.

jupyter-server-proxy finds `server` by its entry point in pyproject.toml, starts the program and ends it with the user's
server. It asks everybody for his password and looks where a socket comes from, and hands Host and Origin on as the
browser sent them. The bench answers to this machine's names alone, so both are put in its words. A Unix socket, where
there is one, keeps the bench from the other users of that machine, as a port would not.
"""

from __future__ import annotations

import socket
import sys
from pathlib import Path

SLOW_MACHINE = 60  # s to the first answer


def server() -> dict:
    """What jupyter-server-proxy is to start, and what stands in the launcher."""
    on_a_socket = hasattr(socket, "AF_UNIX")
    where = ("--socket", "{unix_socket}") if on_a_socket else ("--port", "{port}")
    return {
        # -P: a student's own physics.py is not taken for ours
        "command": [sys.executable, "-P", "-m", "scenes", "--no-browser", *where],
        "unix_socket": on_a_socket,
        "request_headers_override": {"Host": "localhost", "Origin": "http://localhost"},
        "timeout": SLOW_MACHINE,
        "launcher_entry": {"title": "Thumbwise", "icon_path": str(Path(__file__).with_suffix(".svg")), "category": "Other"},
    }
