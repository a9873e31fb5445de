"""The unattended loop: the bench goes through its scenes by itself, and a visitor may take it over for a while."""

from __future__ import annotations

from dataclasses import dataclass

from scenes import catalogue
from scenes.bench import Bench
from scenes.scene import Scene

QUIET = 60.0  # s without a touch, after which a visitor is taken to have gone
FOR_VISITORS = {"next", "reverse"}  # what a visitor may ask for; all else is passed over


@dataclass(frozen=True)
class Stop:
    """One stay of the loop: what is said, where it is seen from, and what is reversed for it."""

    caption: str
    view: str
    reverse: str = ""


def stops_of(scene: Scene) -> list[Stop]:
    """The stays at a scene: its narration, what reversing does, and its other views."""
    first = scene.views[0].name
    stops = [Stop(scene.narration, first)]
    roles = [control.role for control in scene.controls if control.role]
    stops += [Stop(f"Now the {role} is reversed. {scene.principle}", first, role) for role in dict.fromkeys(roles)]
    stops += [Stop(scene.principle, view.name) for view in scene.views[1:]]
    return stops


class ExhibitBench(Bench):
    """A bench that needs nobody. After `quiet` seconds without a touch everything a visitor did is undone."""

    def __init__(self, host, minutes_per_scene: float = 1.0, quiet: float = QUIET):
        super().__init__(host)
        self.seconds_per_scene = 60 * minutes_per_scene
        self.quiet = quiet
        self.untouched = quiet  # s since a visitor last touched it; at the start nobody is there
        self.begin(0)

    @property
    def visited(self) -> bool:
        return self.untouched < self.quiet

    def begin(self, place: int) -> None:
        """Put the scene at `place` of the lesson on the bench, as it is built, at the first of its stops."""
        self.place = place % len(catalogue.NAMES)
        self.show(catalogue.NAMES[self.place])
        self.scene.set_all({control.name: control.default for control in self.scene.controls})
        self.scene.restart()
        self.running = True
        self.stops = stops_of(self.scene)
        self.here = -1
        self.go_on()

    def go_on(self) -> None:
        """To the next stop, or to the next scene when they are through."""
        self.here += 1
        self.stayed = 0.0
        if self.here >= len(self.stops):
            self.begin(self.place + 1)
            return
        stop = self.stops[self.here]
        if stop.reverse:
            self.scene.reverse(stop.reverse)
        self.look(stop.view)
        self.say_where()

    def say_where(self) -> None:
        roles = {control.role for control in self.scene.controls}
        caption = self.scene.principle if self.visited else self.stops[self.here].caption
        self.host.say("exhibit", {"title": self.scene.title, "caption": caption, "visited": self.visited,
                                  "reverse": [role for role in ("current", "field") if role in roles]})
        self.show_state()

    def take(self, message: dict, viewer=None) -> None:
        """A touch. Nothing but what is meant for visitors is done, and nothing that goes wrong is told to the public."""
        if message["do"] not in FOR_VISITORS:
            return
        came = not self.visited
        self.untouched = 0.0
        if message["do"] == "next":
            self.begin(self.place + 1)
        else:
            try:
                self.scene.reverse(str(message.get("what")))
            except ValueError:
                return
        if came or message["do"] == "reverse":
            self.say_where()

    def tell(self, sentence: str) -> None:
        """An exhibit shows no notices."""

    def frame(self, seconds: float) -> None:
        was_visited = self.visited
        self.untouched = min(self.quiet, self.untouched + seconds)
        if was_visited and not self.visited:
            self.begin(self.place)
        elif not self.visited:
            self.stayed += seconds
            if self.stayed >= self.seconds_per_scene / len(self.stops):
                self.go_on()
        super().frame(seconds)
