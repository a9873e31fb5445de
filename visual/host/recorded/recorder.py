"""Keeps what a page would be sent, in reels each of which can be shown without the others, for a page that has no bench.

A reel begins with everything that is to be seen then, and goes on with what changes from picture to picture: the messages of
`visual.host.messages`, as a page on the network would be sent them.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

from visual.host.bridge import ObjectStream
from visual.host.server import Host
from visual.host.viewers import Viewer

NOT_FOR_A_FILM = ("names", "working", "address", "run", "share", "lesson")  # they are of use only where there is a bench


@dataclass
class Reel:
    """One piece of a film.

    shapes: the commands that make what no reel before has made; hides: the attributes that hide all of it; scene: the number of the
    first reel of the same scene, whose things are seen in this one; begin: everything at its beginning; pictures: what changes,
    picture by picture.
    """

    scene: int
    shapes: list[dict[str, Any]]
    hides: list[str]
    begin: dict[str, Any]
    pictures: list[dict[str, Any]] = field(default_factory=list)


class Recorder:
    """Records a host as a page of `role` would be sent it. Make it before anything is drawn."""

    def __init__(self, host: Host, role: str) -> None:
        self.host = host
        self.role = role
        self.reels: list[Reel] = []
        self._first: dict[str, int] = {}  # by a scene's name, its first reel
        self._scene_of: dict[int, int] = {}  # by a thing's index, the first reel of its scene
        self._at_first: dict[tuple[int, str], str] = {}  # of every thing, how it was made
        self._at_begin: list[dict[tuple[int, str], str]] = []  # of every reel, what had changed since
        self._known: list[set[int]] = []  # of every reel, the things that there were
        self._commands = 0
        self._sent: list[bytes | str] = []
        self._viewer = Viewer(self._sent.append, (), role)
        self._viewer.fresh = False
        host.stream.drain()
        self._always = {json.loads(command)["idx"] for command in host.stream.commands}  # the light, the ground

    def begin(self, scene: str) -> Reel:
        """A new reel, which begins with what is shown now; `scene` names what is drawn, so that it is known when it comes again."""
        host, number = self.host, len(self.reels)
        host.flush()
        first = self._first.setdefault(scene, number)
        shapes = [json.loads(command) for command in host.stream.commands[self._commands :]]
        made = {command["idx"] for command in shapes} - self._always
        self._scene_of |= dict.fromkeys(made, first)
        self._at_first |= host.stream.as_they_are(made)
        self._known.append(set(self._scene_of))
        self._at_begin.append({key: text for key, text in host.stream.attributes.items() if self._of(key[0], first)})
        said = {key: json.loads(text) for key, text in host.heard_by(self.role).items() if key not in NOT_FOR_A_FILM}
        chart = {"clear": True, "points": host.chart.since(host.chart.begun)}
        reel = Reel(first, shapes, ObjectStream.hidden(made), {**said, "chart": chart})
        self.reels.append(reel)
        self._commands = self._viewer.commands = len(host.stream.commands)
        self._viewer.chart = host.chart.count
        self._viewer.attributes.clear()
        self._viewer.keys.clear()
        host.viewers.add(self._viewer)
        return reel

    def _of(self, index: int, scene: int) -> bool:
        """Whether a thing is seen in that scene."""
        return self._scene_of.get(index, scene) == scene

    def picture(self) -> None:
        """Add what has changed since the last picture to the newest reel."""
        self._viewer.ready = True
        self.host.flush()
        assert len(self.host.stream.commands) == self._commands, "nothing is made while a scene runs"
        changed: dict[str, Any] = {}
        for text in self._sent:
            changed |= json.loads(text)
        self._sent.clear()
        self.reels[-1].pictures.append({key: value for key, value in changed.items() if key not in NOT_FOR_A_FILM})

    def finish(self) -> tuple[Reel, ...]:
        """All reels; each begins with everything that any of them changes, as it was then."""
        ever = self.host.stream.attributes
        for reel, changed, known in zip(self.reels, self._at_begin, self._known, strict=True):
            mine = {index for index in self._scene_of if self._of(index, reel.scene)}
            as_made = {key: self._at_first[key] for key in ever if key[0] in mine & known}
            later = ObjectStream.hidden(mine - known)
            reel.begin["stream"] = {"attrs": [*later, *ObjectStream.in_order(as_made | changed)]}
        self.host.viewers.discard(self._viewer)
        return tuple(self.reels)
