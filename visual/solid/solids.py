"""Visible things: solid shapes, arrows to scale, letters, and the groups a scene is made of."""

from __future__ import annotations

import math
from base64 import b64encode
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.host.bridge import MeshObject, letters_object, vpython
from visual.solid import mesh
from visual.solid.mesh import Mesh
from visual.solid.told import Told, point

AS_BUILT = ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0])  # x and y of what is not turned


class Hideable:
    """Something that can be hidden; `_show` shows or hides its parts, and setting an unchanged value costs nothing."""

    _visible = True

    @property
    def visible(self) -> bool:
        return self._visible

    @visible.setter
    def visible(self, value: bool) -> None:
        if bool(value) != self._visible:
            self._visible = bool(value)
            self._show()

    def _show(self) -> None:
        raise NotImplementedError


class Seen(Hideable):
    """Something VPython draws."""

    def __init__(self, drawn):
        self.drawn = drawn

    def _show(self) -> None:
        self.drawn.visible = self._visible


class Solid(Seen):
    """A shape on the bench. Copies made with `copy` share its triangles and cost next to nothing to send."""

    def __init__(self, shape: Mesh | None, like: Solid | None = None):
        super().__init__(MeshObject(None if shape is None else _arrays(shape), like.drawn if like else None))
        self._place: tuple[list[float], list[float], list[float], list[float]] | None = None
        self._sent: tuple[list[float], list[float], list[float], list[float]] | None = None
        self._colour: tuple[float, ...] | None = None

    def copy(self) -> Solid:
        return Solid(None, like=self)

    def put(self, pos, rotation=None, stretch=1.0) -> None:
        """Put its origin at `pos`, turned by a 3x3 `rotation`, stretched by one number or by three along its axes."""
        x_axis, y_axis = AS_BUILT if rotation is None else np.asarray(rotation, float).T[:2].tolist()
        self.put_along(pos, x_axis, y_axis, stretch)

    def put_along(self, pos, x_axis: list[float], y_axis: list[float], stretch=1.0) -> None:
        """The same, turned so that its x and y lie along two unit vectors at right angles."""
        # plain numbers: for three at a time numpy is slower
        pos = [float(part) for part in pos]
        grow = [float(stretch)] * 3 if isinstance(stretch, (int, float)) else [float(part) for part in stretch]
        self._place = (pos, x_axis, y_axis, grow)
        if self._visible:
            self._send()

    @property
    def place(self) -> tuple[list[float], list[float], list[float], list[float]]:
        """Where it was put: origin, x and y axis, stretch. Nothing that was never put has a place."""
        assert self._place is not None
        return self._place

    def _show(self) -> None:
        super()._show()
        if self._visible:
            self._send()  # where it was put while nobody saw it

    def _send(self) -> None:
        if self._place is not None and self._place != self._sent:
            self._sent = self._place
            self.drawn.place(*self._place)

    def colour(self, colour) -> None:
        """Tint the whole shape; white shows it as built."""
        colour = tuple(map(float, colour))
        if colour != self._colour:
            self._colour = colour
            self.drawn.color = vpython.vector(*colour)


def _arrays(shape: Mesh) -> dict:
    """A mesh as the page takes it: whole numbers, as fine as the eye needs, of which `unit` is one metre's part; normals
    and colours in hundredths, a colour that is the same all over only once. Each packed, which is half as long as in figures."""
    assert len(shape.points) <= 2**16, "a shape has more corners than are counted in two bytes"
    extent = max(float(np.abs(shape.points).max()), 1e-9)
    parts = 10.0 ** np.ceil(3.2 - np.log10(extent))
    colours = shape.colours[:1] if np.ptp(shape.colours, axis=0).max() == 0 else shape.colours
    return {
        "unit": 1 / parts,
        "pos": _packed(shape.points * parts, "<i2"),
        "normal": _packed(shape.normals * 100, "i1"),
        "color": _packed(colours * 100, "u1"),
        "index": _packed(shape.triangles, "<u2"),
    }


def _packed(numbers: np.ndarray, kind: str) -> str:
    """Rounded, as numpy's `kind` of whole numbers, in base64."""
    return b64encode(np.rint(numbers).astype(kind).tobytes()).decode("ascii")


@dataclass(frozen=True)
class NamedLine:
    """A line of a drawn thing which its letter names and may not cover: from and to as the thing was built, half its thickness."""

    solid: Solid
    start: tuple[float, float, float]
    end: tuple[float, float, float]
    radius: float


class Letters(Seen):
    """A short text at a place, on a patch of colour, always upright and of the same size on screen.

    The page may move it a little from there, so that it covers no other and none of the `lines` it names, of which the last
    ends where it points; and it shows those first that the scene's `letters` name, by text or by `role`.
    """

    def __init__(self, text: str, colour=palette.INK, height: int = 18, ground=None, *, role: str = "", lines: Sequence[NamedLine] = ()):
        patch = palette.PAPER if ground is None else ground
        super().__init__(
            letters_object(
                role,
                [(line.solid.drawn.idx, line.start, line.end, line.radius) for line in lines],
                text=text,
                height=height,
                box=False,
                opacity=0 if ground is None else 1,
                line=False,
                color=vpython.vector(*palette.readable(colour, patch)),
                background=vpython.vector(*patch),
                pos=vpython.vector(0, 0, 0),
            )
        )
        self._pos = None
        self._text = text
        self._patched = ground is not None
        self._painted: tuple[tuple[float, ...], tuple[float, ...]] | None = None

    def put(self, pos) -> None:
        pos = tuple(float(f"{value:.5g}") for value in pos)
        if pos != self._pos:
            self._pos = pos
            self.drawn.pos = vpython.vector(*pos)

    @property
    def text(self) -> str:
        return self._text

    @text.setter
    def text(self, value: str) -> None:
        if value != self._text:
            self._text = value
            self.drawn.text = value

    def tell(self, found: Told) -> None:
        if self._text and self._pos is not None:
            patch = self.drawn.background
            colour = palette.hexadecimal((patch.x, patch.y, patch.z)) if self._patched else ""
            found.letters.append((self._text, point(self._pos), colour))

    def paint(self, colour, ground) -> None:
        """Write it in another colour on another patch."""
        colour, ground = tuple(map(float, colour)), tuple(map(float, ground))
        if (colour, ground) != self._painted:
            self._painted = colour, ground
            self.drawn.color = vpython.vector(*palette.readable(colour, ground))
            self.drawn.background = vpython.vector(*ground)


class Arrow(Hideable):
    """An arrow from a point along a vector, `metres_per_unit` long for each unit of it, with its letter at the tip.

    Shorter than its own head it shrinks as a whole, so that direction and length stay true down to nothing. An arrow
    without a letter at its tip `stands_for` the quantity of that letter all the same.
    """

    _shaft: Solid | None = None
    _head: Solid | None = None

    def __init__(self, letter: str, colour, thickness: float, metres_per_unit: float = 1.0, height: int = 22, stands_for: str = ""):
        if Arrow._shaft is None:
            Arrow._shaft = Solid(mesh.rod([0, 0, 0], [1, 0, 0], 0.5, (1, 1, 1), sides=10))
            Arrow._head = Solid(mesh.cone([0, 0, 0], [1, 0, 0], 0.5, (1, 1, 1), sides=14))
            Arrow._shaft.visible = Arrow._head.visible = False
        self.thickness = thickness
        self.metres_per_unit = metres_per_unit
        assert Arrow._head is not None  # made with the shaft
        self.shaft, self.head = Arrow._shaft.copy(), Arrow._head.copy()
        self.shaft.colour(colour)
        self.head.colour(colour)
        self.lines = (NamedLine(self.shaft, (0, 0, 0), (1, 0, 0), 0.5), NamedLine(self.head, (0, 0, 0), (1, 0, 0), 0.35))
        self.letters = Letters(letter, palette.PAPER, height, ground=colour, lines=self.lines) if letter else None
        self.stands_for = letter or stands_for
        self.start, self.vector = (0.0, 0.0, 0.0), np.zeros(3)

    def put(self, start, vector) -> None:
        """Stand the arrow on `start`; a vector of no length hides it."""
        self.vector = np.asarray(vector, float)
        # plain numbers: for three at a time numpy is slower
        x, y, z = self.start = point(start)
        along = [self.metres_per_unit * part for part in self.vector.tolist()]
        length = math.hypot(*along)
        self._drawable = length > 0.05 * self.thickness
        self._show()
        if not self._drawable or not self._visible:
            return
        ahead = [part / length for part in along]
        across = mesh.at_right_angles(ahead)
        head = min(3.2 * self.thickness, length)
        width = head / 3.2

        def on(metres: float) -> tuple[float, float, float]:
            return x + metres * ahead[0], y + metres * ahead[1], z + metres * ahead[2]

        self.shaft.put_along((x, y, z), ahead, across, (max(length - head, 1e-6), width, width))
        self.head.put_along(on(length - head), ahead, across, (head, 2.4 * width, 2.4 * width))
        if self.letters:
            self.letters.put(on(length + 2.2 * self.thickness))

    _drawable = False

    def tell(self, found: Told) -> None:
        if self._drawable:
            found.arrows.append((self.stands_for, self.start, point(self.vector)))
            if self.letters:
                self.letters.tell(found)

    def _show(self) -> None:
        for part in (self.shaft, self.head, self.letters):
            if part is not None:
                part.visible = self._visible and self._drawable


class Group(Hideable):
    """Parts shown or hidden together, each with its own visibility as well."""

    def __init__(self):
        self.parts = []
        self._wanted = {}

    def add(self, part):
        """Take `part` in and hand it back."""
        self.parts.append(part)
        return part

    def _show(self) -> None:
        for part in self.parts:
            if self._visible:
                part.visible = self._wanted.get(id(part), True)
            else:
                self._wanted[id(part)] = part.visible
                part.visible = False
