"""Random states of a scene for the oracles: set-ups, instants and ready views, the same for the same number."""

from __future__ import annotations

import os
import random

from scenes import catalogue
from scenes.scene.controls import Choice, Number, Switch
from scenes.scene.state import as_data, reached

COUNT = int(os.environ.get("THUMBWISE_STATES", "60"))  # of each scene; 1000 where there is time
_BUILT: dict = {}  # scenes by name: building is what takes long


def states(name: str, longest: float, fixed=(), count: int = COUNT):
    """Yield (scene, data) of `count` random states within `longest` seconds of the scene's own time; `fixed`: controls that
    keep their default."""
    scene = _BUILT.setdefault(name, None) or catalogue.scene_class(name)()
    _BUILT[name] = scene
    for number in range(count):
        dice = random.Random(f"{name} {number}")
        scene.set_all({control.name: drawn(control, dice) for control in scene.controls if control.name not in fixed})
        seconds = dice.choice((0.0, 1.0, 1.0, 1.0)) * dice.uniform(0, longest)
        reached(scene, seconds, dice.choice(scene.views).name)
        yield scene, as_data(scene, seconds)


def drawn(control, dice: random.Random):
    """A value that the control takes; numbers on its steps, and none now and then."""
    if isinstance(control, Number):
        steps = round((control.high - control.low) / control.step)
        if control.low <= 0 <= control.high and dice.random() < 0.12:
            return 0.0
        return min(control.high, round(control.low + dice.randint(0, steps) * control.step, 9))
    if isinstance(control, Choice):
        return dice.choice([value for value, _ in control.choices])
    assert isinstance(control, Switch)
    return dice.random() < 0.5


def reading(data: dict, symbol: str):
    """The value of the first reading with that symbol."""
    return next(each["value"] for each in data["readings"] if each["symbol"] == symbol)


def view_of(scene):
    """Where the eye looks and what is upward there."""
    view = next(view for view in scene.views if view.name == scene.view)
    return view.forward, view.up
