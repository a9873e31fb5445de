"""A page of ours and a film for it in one HTML file, which runs from a disk without a bench, a network or a server.

Scripts and reels are packed with gzip in base64; the browser unpacks them itself (`DecompressionStream`). The page's modules become
blobs that an import map names; in place of the line to the bench stands the player of the film.
"""

from __future__ import annotations

import base64
import gzip
import html
import json
import posixpath
import re
from collections.abc import Sequence
from importlib.resources import files
from typing import Any

from visual.host import bridge
from visual.host.pages import page_files
from visual.host.recorded.recorder import Reel

VERSION = 1  # of the file; DEVELOPERS.md says what is in it
LINE, PLAYER = "common/socket.js", "common/film.js"
IMPORT = re.compile(r'((?:\bfrom|\bimport)\s*\(?\s*)"(\.\.?/[^"]+)"')
STYLE = re.compile(r'<link rel="stylesheet" href="page/([^"]+)">')
SCRIPT = re.compile(r'<script (?:defer|type="module") src="([^"]+)"></script>\n?')
FETCHED_LATER = "plotly.min.js"  # with the first curve, which not every film has


def one_file(page: str, entry: str, title: str, about: dict[str, Any], reels: Sequence[Reel]) -> str:
    """The page of that name, begun by the module `entry`, as the text of one file.

    about: what the player is told of the film as a whole; reels: one for every step, to be unpacked when it comes.
    """
    found = page_files()
    text = found[page].decode()
    text = re.sub(r"<title>.*?</title>", lambda _: f"<title>{html.escape(title)}</title>", text)
    text = STYLE.sub(lambda one: f"<style>\n{found[one[1]].decode()}</style>", text)
    classic = [name for name in SCRIPT.findall(text) if not name.endswith(posixpath.basename(page).replace(".html", ".js"))]
    text = SCRIPT.sub("", text)
    vpython = bridge.page_scripts()
    code = {
        "first": [_file(name, found, vpython) for name in classic],
        "modules": {path: _with_names(path, body.decode()) for path, body in found.items() if path.endswith(".js") and path != LINE},
        "entry": entry,
        "instead": {LINE: PLAYER},
    }
    parts = [
        ("about", _packed({"version": VERSION} | about)),
        ("code", _packed(code)),
        ("later", _packed(vpython[FETCHED_LATER].decode())),
        *(
            (f"shapes-{number}", _packed({"scene": one.scene, "shapes": one.shapes, "hides": one.hides}))
            for number, one in enumerate(reels)
            if one.shapes
        ),
        *(
            (f"reel-{number}", _packed({"scene": one.scene, "begin": one.begin, "pictures": one.pictures}))
            for number, one in enumerate(reels)
        ),
    ]
    data = "\n".join(f'<script type="text/plain" id="film-{name}">{_kept_in_a_script(part)}</script>' for name, part in parts)
    licences = html.escape(files("visual.page").joinpath("licences.txt").read_text("utf-8") + bridge.licence())
    data = f"{data}\n<!--\n{licences.replace('--', '-&#45;')}\n-->\n<script>\n{found['one_file/one-file.js'].decode()}</script>"
    watch = f"<head>\n<script>\n{found['one_file/damaged.js'].decode()}</script>"
    text = text.replace("<head>", f'{watch}\n<meta name="generator" content="Thumbwise, take-home file {VERSION}">', 1)
    return text.replace("</body>", f"{data}\n</body>")


def _file(name: str, ours: dict[str, bytes], vpython: dict[str, bytes]) -> str:
    folder, _, rest = name.partition("/")
    return (ours if folder == "page" else vpython)[rest].decode()


def _with_names(path: str, text: str) -> str:
    """A module's text whose imports name the others by their path below the page's folder."""
    return IMPORT.sub(lambda one: f'{one[1]}"thumbwise/{posixpath.normpath(posixpath.join(posixpath.dirname(path), one[2]))}"', text)


def _packed(what: Any) -> str:
    """JSON, compressed, in letters that a script element may hold."""
    return base64.b64encode(gzip.compress(json.dumps(what, separators=(",", ":"), allow_nan=False).encode(), 9, mtime=0)).decode()


def _kept_in_a_script(text: str) -> str:
    return text.replace("</", "<\\/")
