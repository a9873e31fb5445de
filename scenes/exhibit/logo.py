"""A logo from a file, checked, as the page takes it."""

from __future__ import annotations

import base64
from pathlib import Path
from xml.etree import ElementTree

LARGEST = 500_000  # bytes
PNG = b"\x89PNG\r\n\x1a\n"  # ISO/IEC 15948, 5.2
SVG = "{http://www.w3.org/2000/svg}svg"


def read_logo(path: Path) -> str:
    """The PNG or SVG at `path` as a data URL (RFC 2397); `ValueError`, in a sentence, if it is neither."""
    try:
        with open(path, "rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as wrong:
        raise ValueError(f"The logo {path} cannot be read: {(wrong.strerror or str(wrong)).lower()}.") from None
    if len(content) > LARGEST:
        raise ValueError(f"A logo has at most {LARGEST // 1000} kB; {path} has more.")
    if content.startswith(PNG) and content[12:16] == b"IHDR" and content.rstrip(b"\0").endswith(b"IEND\xaeB`\x82"):
        kind = "png"
    elif _is_svg(content):
        kind = "svg+xml"
    else:
        raise ValueError(f"A logo is a PNG or an SVG file; {path} is neither, or is damaged.")
    return f"data:image/{kind};base64,{base64.b64encode(content).decode()}"


def _is_svg(content: bytes) -> bool:
    if b"<!ENTITY" in content:  # which may grow without end
        return False
    try:
        return ElementTree.fromstring(content).tag == SVG
    except (ElementTree.ParseError, ValueError, LookupError):
        return False
