"""Pictures of a given size, made by the rules of their formats (PNG specification; ITU-T T.81)."""

from __future__ import annotations

import struct
import zlib


def png(width: int = 4, height: int = 3, shade: int = 120) -> bytes:
    """A whole grey PNG."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = (b"\0" + bytes([shade]) * width) * height
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def jpeg(width: int = 4, height: int = 3) -> bytes:
    """A JPEG as far as its frame header, with a comment and tables before it."""
    comment, tables = b"\xff\xfe\x00\x06mine", b"\xff\xdb\x00\x43\x00" + b"\x10" * 64
    frame = b"\xff\xc0\x00\x0b\x08" + struct.pack(">HH", height, width) + b"\x01\x01\x11\x00"
    return b"\xff\xd8" + comment + tables + b"\xff" + frame + b"\xff\xd9"
