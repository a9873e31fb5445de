"""Everything in Python that knows VPython's private names. On the page those in `page/picture` do.

VPython's own server ends the program when a tab closes, needs two ports, serves files from above its folder and builds
nothing until a browser has connected. So a module of ours replaces `vpython.no_notebook`, which holds that server; VPython
then starts none, and its objects wait in `baseObj` until `ObjectStream.drain` takes them.

A `MeshObject` is ours, because the page draws it many times faster than VPython's own shapes: it is sent as arrays and becomes
one model on the graphics card, which copies of it share.
"""

from __future__ import annotations

import hashlib
import logging
import math
import sys
import types
import warnings
from collections.abc import Iterable, Sequence
from functools import cache
from importlib.metadata import PackageNotFoundError, distribution, version
from pathlib import Path
from typing import Any

from visual.host.encoding import encoded

log = logging.getLogger("thumbwise")

VPYTHON_NEEDED = "7.6.5"
SAME_IN_ALL = "THE REST OF THIS FILE"


class WrongVPython(ImportError):
    """The installed VPython is not the version whose private names are used here, or a package that it needs is missing."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence, name="vpython")


def _import_vpython() -> Any:
    found = _installed("vpython")
    if found != f"{VPYTHON_NEEDED} is":
        needed = f"vpython=={VPYTHON_NEEDED}"
        raise WrongVPython(f"Thumbwise needs vpython {VPYTHON_NEEDED}, and {found} installed; {_mended_by(needed)}")
    stand_in = types.ModuleType("vpython.no_notebook")
    stand_in.__dict__["_"] = None
    sys.modules["vpython.no_notebook"] = stand_in
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "pkg_resources is deprecated", UserWarning)  # a user can do nothing about it
        try:
            import vpython
        except ModuleNotFoundError as wrong:
            if wrong.name != "pkg_resources":
                raise
            raise WrongVPython(
                f"Thumbwise needs setuptools below 82, and {_installed('setuptools')} installed; {_mended_by('setuptools<82')}"
            ) from None

    return vpython


def _installed(package: str) -> str:
    try:
        return f"{version(package)} is"
    except PackageNotFoundError:
        return "none is"


def _mended_by(package: str) -> str:
    """The command that installs what is needed, as the user types it."""
    python = f'"{sys.executable}"' if " " in sys.executable else sys.executable
    return f'mend it with: {python} -m pip install "{package}"'


vpython = _import_vpython()
_core: Any = sys.modules["vpython.vpython"]
_base = _core.baseObj
_base._view_constructed = True
FOLDER = Path(vpython.__file__).parent


def page_scripts() -> dict[str, bytes]:
    """VPython's own scripts for the page, by the name they are served under."""
    libraries = FOLDER / "vpython_libraries"
    scripts = {
        name: (libraries / name).read_bytes() for name in ("jquery.min.js", "jquery-ui.custom.min.js", "glow.min.js", "plotly.min.js")
    }
    scripts["handlers.js"] = message_handlers((libraries / "glowcomm.html").read_text("utf-8")).encode("utf-8")
    return scripts


def licence() -> str:
    """VPython's own, which goes along with its scripts."""
    installed = distribution("vpython")
    found = [file.read_text() for file in installed.files or () if file.name == "LICENSE.txt"]  # where it lies depends on what built it
    return (found[0] if found else installed.metadata["License"] or "").strip()


def message_handlers(page: str) -> str:
    """The part of VPython's page that turns messages into objects, cut out of that page's text."""
    if page.count(SAME_IN_ALL) != 1 or page.count("</script>", page.find(SAME_IN_ALL)) != 1:
        raise WrongVPython(f"Thumbwise needs the page of vpython {VPYTHON_NEEDED}: this one has a different layout.")
    after = page[page.index(SAME_IN_ALL) :]
    start = after.index("\n") + 1
    return after[start : after.index("</script>")]


class MeshObject(_core.standardAttributes):  # type: ignore[misc]  # VPython has no types
    """A shape given by arrays. `pos` is its origin, m; `axis` and `up` are the directions of its x and y.

    The length of `axis` stretches it along x; `size` holds the three stretches, 1 for as built.
    """

    def __init__(self, arrays: dict[str, Any] | None, like: MeshObject | None = None, **place: Any) -> None:
        place["_default_size"] = vpython.vector(1, 1, 1)
        place["_objName"] = "compound"
        place.setdefault("shininess", 0.2)
        self._origin = vpython.vector(0, 0, 0)
        super().setup(place)
        command = _base.updates["cmds"][-1]
        command["cmd"] = "mesh"
        if like is None:
            command["mesh"] = arrays
        else:
            command["like"] = like.idx

    def place(
        self, pos: Iterable[float], x_axis: Iterable[float], y_axis: Iterable[float], stretch: Sequence[float] = (1.0, 1.0, 1.0)
    ) -> None:
        """Put the origin at `pos`, m, turn x and y along two unit vectors at right angles, and stretch it along its own axes."""
        axis = [part * stretch[0] for part in x_axis]
        for name, held, value in (
            ("pos", self._pos, pos),
            ("size", self._size, stretch),
            ("axis", self._axis, axis),
            ("up", self._up, y_axis),
        ):
            if held.value != [*value]:
                held.value = vpython.vector(*value)
                self.addattr(name)


def letters_object(role: str, lines: Sequence[tuple[int, Sequence[float], Sequence[float], float]], **look: Any) -> Any:
    """VPython's label with what the page needs beside it to find it a place: its `role`, and the `lines` that it names, each
    (index of a drawn object, from and to in that object's own lengths, half its thickness in these)."""
    made = vpython.label(**look)
    _base.updates["cmds"][-1] |= {"role": role, "lines": [[idx, [*start], [*end], radius] for idx, start, end, radius in lines]}
    return made


CHANGES = ("pos", "size", "axis", "up", "color", "visible", "text", "background")  # what the bench changes of what it has made


class ObjectStream:
    """VPython's objects as messages: the changes since the last call, and everything that a new page needs.

    Every command and the newest value of every attribute are kept, so that a page that joins late, or reconnects, shows
    exactly what the others show. Commands are kept in JSON, as they are sent: they hold megabytes of shapes, which would
    take half a second to encode again for every new page.
    """

    # sent in this order, as turning one axis turns the other
    ORDER = {"size": 0, "axis": 1, "up": 2}

    def __init__(self) -> None:
        self.commands: list[str] = []
        self.attributes: dict[tuple[int, str], str] = {}
        self.names: dict[str, int] = {}
        self._shapes: dict[bytes, int] = {}  # by what is sent of it, the object that a shape was first sent with
        self._first: dict[int, int] = {}  # of an object whose shape was sent before, that other object
        self._warned: set[str] = set()

    @property
    def live(self) -> int:
        """How many of VPython's objects there are: it frees none that was ever made."""
        return len(_base.object_registry)

    def drain(self) -> tuple[int, list[tuple[int, str]], dict[str, int]]:
        """Take what has changed: the number of commands so far, the attributes that changed, and the names of objects."""
        _base.handle_attach()
        self.commands.extend(encoded(self._shape_once(command)) for command in _base.updates["cmds"])
        changed = []
        for key in sorted(_base.attrs, key=lambda key: (key[0], self.ORDER.get(key[1], 3))):
            index, name = key
            told = _told(index, name)
            if told is None:
                self._warn(name)
            elif self.attributes.get(key) != told:
                self.attributes[key] = told
                changed.append(key)
        _base.initialize()
        return len(self.commands), changed, self.names

    def _shape_once(self, command: dict[str, Any]) -> dict[str, Any]:
        """The command, its shape left out if an object of the same shape was sent before."""
        if "like" in command:
            return command | {"like": self._first.get(command["like"], command["like"])}
        if "mesh" not in command:
            return command
        shape = hashlib.blake2b(encoded(command["mesh"]).encode()).digest()
        first = self._shapes.setdefault(shape, command["idx"])
        if first == command["idx"]:
            return command
        self._first[command["idx"]] = first
        return {name: value for name, value in command.items() if name != "mesh"} | {"like": first}

    def _warn(self, name: str) -> None:
        if name not in self._warned:
            self._warned.add(name)
            log.error("something is drawn whose %s is no number: it stays where it was", name)

    def message(self, first_command: int, keys: Iterable[tuple[int, str]], fresh: bool) -> str:
        """Commands from `first_command` on and the newest values of `keys`, in JSON, as the page's handlers expect them; empty
        if there are none. `fresh` tells the page that this is everything."""
        changed = self.in_order({key: self.attributes[key] for key in keys})
        commands = self.commands[first_command:]
        parts = []
        if commands:
            parts.append(f'"cmds":[{",".join(commands)}]')
        if changed:
            parts.append(f'"attrs":{encoded(changed)}')
        if parts and fresh:
            parts.append('"fresh":true')
        return f"{{{','.join(parts)}}}" if parts else ""

    @classmethod
    def in_order(cls, attributes: dict[tuple[int, str], str]) -> list[str]:
        """Attributes in the order in which a page applies them."""
        return [attributes[key] for key in sorted(attributes, key=lambda key: (key[0], cls.ORDER.get(key[1], 3)))]

    @staticmethod
    def as_they_are(indices: Iterable[int]) -> dict[tuple[int, str], str]:
        """All that may ever change of these objects, as it is now."""
        found = {}
        for index in indices:
            for name in CHANGES:
                if hasattr(_base.object_registry[index], name):
                    text = _told(index, name)
                    if text is not None:
                        found[index, name] = text
        return found

    @staticmethod
    def hidden(indices: Iterable[int]) -> list[str]:
        """The attributes that hide these objects."""
        return [_core._encode_attr({index: {"visible": False}}, False)[0] for index in sorted(indices)]

    @staticmethod
    def in_sight(indices: Iterable[int]) -> set[int]:
        """Which of these objects are shown."""
        return {index for index in indices if _base.object_registry[index].visible}

    def name(self, name: str, drawn: Any) -> None:
        """Let tests and tools find the object on the page by `name`."""
        self.names[name] = drawn.idx


def _told(index: int, name: str) -> str | None:
    """An attribute as the page's handlers expect it, to six significant figures: finer than a screen shows, in half the bytes.

    `None` if it is not a finite number: the page then keeps the last one.
    """
    value = getattr(_base.object_registry[index], name)
    if isinstance(value, vpython.vector):  # most are; VPython would write sixteen figures
        x, y, z = value.x + 0.0, value.y + 0.0, value.z + 0.0  # no negative noughts
        if not (math.isfinite(x) and math.isfinite(y) and math.isfinite(z)):
            return None
        list_of, code = _vector_prefix(name)
        return f"{list_of}{index}{code}{x:.6g},{y:.6g},{z:.6g}"
    if isinstance(value, float):
        if not math.isfinite(value):
            return None
        value = float(f"{value:.6g}") + 0.0
    told: str = _core._encode_attr({index: {name: value}}, False)[0]
    return told


@cache
def _vector_prefix(name: str) -> tuple[str, str]:
    """The letters before and after an object's number that tell the page's handlers which of its vectors follows."""
    list_of, _, code = _core._encode_attr({0: {name: (0, 0, 0)}}, False)[0][:3]
    return list_of, code
