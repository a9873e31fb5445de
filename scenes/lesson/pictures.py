"""The pictures on a lesson's own pages, in a folder beside its file: PNG or JPEG, known by what is in them, not by their names."""

from __future__ import annotations

import base64
import hashlib
import re
import struct
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from physics.arguments import quoted
from scenes.files import replacing

LARGEST = 5_000_000  # bytes of one picture
LONGEST_SIDE = 10_000  # pixels: a browser unpacks all of them, however small the file
TOGETHER = 60_000_000  # bytes of all pictures of a lesson, which are kept in memory
PNG = b"\x89PNG\r\n\x1a\n"
JPEG = b"\xff\xd8"
NAMED = re.compile(r"(?!\.)[^\x00-\x1f/\\:]{1,100}/(?!\.)[^\x00-\x1f/\\:]{1,100}|(?!\.)[^\x00-\x1f/\\:]{1,100}")
OF_WINDOWS = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)  # names that no file may have there


@dataclass(frozen=True)
class Picture:
    """A picture's bytes; `kind` is "png" or "jpeg", `served_as` a name for its address that nobody can guess."""

    body: bytes
    kind: str
    served_as: str

    @classmethod
    def of(cls, body: bytes) -> Picture:
        """The picture in these bytes; `ValueError`, in a sentence, if they are none that is taken."""
        if len(body) > LARGEST:
            raise ValueError(f"A picture has at most {LARGEST / 1e6:g} MB, this one {len(body) / 1e6:.1f} MB.")
        kind, size = "png" if body.startswith(PNG) else "jpeg", size_of(body)
        if size is None or 0 in size:
            raise ValueError("A picture is a PNG or JPEG file, and this is neither.")
        if max(size) > LONGEST_SIDE:
            raise ValueError(f"A picture has at most {LONGEST_SIDE} pixels a side, this one {size[0]} x {size[1]}.")
        return cls(body, kind, f"{hashlib.sha256(body).hexdigest()[:32]}.{kind}")

    def as_address(self) -> str:
        """An address that holds the picture itself, for a page without a server."""
        return f"data:image/{self.kind};base64,{base64.b64encode(self.body).decode()}"


class Pictures:
    """The pictures beside the lesson's file at `lesson`, by name as that file names them, such as "motors-pictures/rotor.jpg"."""

    def __init__(self, lesson: Path):
        self._beside = lesson.parent
        self._folder = f"{_safe(lesson.stem, 'lesson')}-pictures"
        self._kept: dict[str, Picture] = {}

    def __getitem__(self, name: str) -> Picture:
        """The picture of that name, read when it is first asked for; `ValueError`, in a sentence, if there is none."""
        if name not in self._kept:
            self._keep(name, Picture.of(self._read(name)))
        return self._kept[name]

    def put(self, body: bytes, called: str) -> str:
        """Keep a new picture in the folder, under a safe name like that which it was `called`; returns how the lesson names it.
        `ValueError`, in a sentence, if it is refused; `OSError` if it cannot be written."""
        picture = Picture.of(body)
        stem = _safe(Path(called.replace("\\", "/")).stem, "picture")
        (self._beside / self._folder).mkdir(exist_ok=True)
        for number in range(1, 1000):
            name = f"{self._folder}/{stem}{f'-{number}' if number > 1 else ''}.{picture.kind.replace('jpeg', 'jpg')}"
            file = self._beside / name
            if file.exists() and file.read_bytes() != body:
                continue
            self._keep(name, picture)
            if not file.exists():
                with replacing(file) as written:
                    written.write(body)
            return name
        raise ValueError(f"There are a thousand pictures called {quoted(stem)}; give this one another name.")

    def _keep(self, name: str, picture: Picture) -> None:
        if len(picture.body) + sum(len(other.body) for other in self._kept.values()) > TOGETHER:
            raise ValueError(f"The pictures of a lesson have at most {TOGETHER / 1e6:g} MB together; make this one smaller.")
        self._kept[name] = picture

    def _read(self, name: str) -> bytes:
        if not NAMED.fullmatch(name):
            raise ValueError(f'picture takes a file beside the lesson or in a folder beside it, "folder/name.png", not {quoted(name)}.')
        file = self._beside / name
        try:
            if not file.resolve().is_relative_to(self._beside.resolve()):
                raise ValueError(f"The picture {quoted(name)} leads out of the lesson's folder; copy it there.")
            if not file.is_file():  # a pipe would never end
                raise FileNotFoundError
            with open(file, "rb") as opened:
                return opened.read(LARGEST + 1)
        except OSError as wrong:
            raise ValueError(f"The picture {quoted(name)} cannot be read: {(wrong.strerror or 'no such file').lower()}.") from None


def _safe(called: str, otherwise: str) -> str:
    """A name for a file on any system, like the one given."""
    plain = unicodedata.normalize("NFKD", called).encode("ascii", "ignore").decode()
    name = re.sub(r"[^A-Za-z0-9]+", "-", plain)[:40].strip("-") or otherwise
    return f"{otherwise}-{name}" if OF_WINDOWS.fullmatch(name) else name


def size_of(body: bytes) -> tuple[int, int] | None:
    """Width and height of a PNG or JPEG in pixels; None if it is neither."""
    return _size_of_png(body) if body.startswith(PNG) else _size_of_jpeg(body)


def _size_of_png(body: bytes) -> tuple[int, int] | None:
    """Width and height from the first chunk (PNG specification, 11.2.2 IHDR)."""
    return struct.unpack(">II", body[16:24]) if len(body) > 33 and body[12:16] == b"IHDR" else None


def _size_of_jpeg(body: bytes) -> tuple[int, int] | None:
    """Width and height from the frame header, before which segments of other kinds may stand (ITU-T T.81, B.1.1.4 and B.2.2)."""
    place = 2
    if not body.startswith(JPEG):
        return None
    while place + 9 <= len(body) and body[place] == 0xFF:
        marker, length = body[place + 1], int.from_bytes(body[place + 2 : place + 4], "big")
        if marker == 0xFF:  # a filling byte
            place += 1
        elif 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            height, width = struct.unpack(">HH", body[place + 5 : place + 9])
            return width, height
        else:
            place += 2 + length
    return None
