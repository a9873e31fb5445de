"""How Chromium is started to be looked through, by tests and benchmarks alike."""

from __future__ import annotations

import shutil

FLAGS = [  # the page is composited in software and only the canvas drawn by the software renderer, as without a graphics card
    "--no-sandbox",
    "--enable-unsafe-swiftshader",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
KINDS = {"software": FLAGS, "renderer": [*FLAGS, "--use-gl=angle", "--use-angle=swiftshader"]}


def chromium() -> str:
    path = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert path, "a browser is needed: install Chromium (Debian: apt-get install chromium)"
    return path
