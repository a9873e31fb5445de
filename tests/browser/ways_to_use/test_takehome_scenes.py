"""Every scene in a file that is taken home, opened from a disk with no program running: what the page draws is what the bench would draw
at that moment, worked out here anew."""

from __future__ import annotations

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene.described import described_readings
from scenes.scene.state import NoPage
from scenes.takehome.film import RATE
from visual.host import bridge
from visual.solid.solids import Arrow

SECONDS = 1
MOMENTS = (0, 5, 12)  # pictures after the beginning; readings are written out with every third
READY = "() => window.bench && window.bench.socket.told.scene && document.querySelector('#picture canvas')"
# all that is in sight: meshes (place, direction, the upward one, size) and letters (place and text)
LOOK = """async ([step, picture]) => {
    const { film, told } = window.bench.socket, plain = v => [v.x, v.y, v.z]
    if (film.number !== step) await film.go(step)
    film.hold()
    film.seek(picture)
    const seen = glowObjs.filter(one => one && one.visible && one.pos)
    return {
        scene: told.scene.name, readings: told.readings, says: told.says,
        solids: seen.filter(one => one.axis && one.size).map(one => [one.pos, one.axis.norm(), one.up.norm(), one.size].flatMap(plain)),
        letters: seen.filter(one => one.text !== undefined).map(one => [one.text, ...plain(one.pos)]),
    }
}"""


@pytest.fixture(scope="module")
def file(tmp_path_factory, run_command):
    """Every scene, each as it is seen from its last view."""
    folder = tmp_path_factory.mktemp("home")
    lesson, out = folder / "lesson.toml", folder / "home.html"
    lesson.write_text("\n".join(f'[[step]]\nscene = "{scene.name}"\nview = "{scene.views[-1].name}"' for scene in catalogue.LESSON))
    run_command("takehome", str(lesson), "--seconds", str(SECONDS), "--out", str(out))
    return out


@pytest.fixture
def tab(browser, file):
    context = browser.new_context(viewport={"width": 1100, "height": 700}, offline=True)
    opened = context.new_page()
    opened.goto(file.as_uri())
    opened.wait_for_function(READY)
    return opened


class Anew:
    """A scene in this process, stepped as the film was."""

    def __init__(self, kind):
        self.before = len(bridge._base.object_registry)
        self.scene = kind()
        self.scene.ensure_built(NoPage())
        self.scene.look(kind.views[-1].name)
        self.scene.restart()
        self.picture = 0
        self.read = None

    @property
    def made(self) -> list:
        """All that was drawn of it so far."""
        registry = bridge._base.object_registry
        return [registry[index] for index in range(self.before, len(registry))]

    def at(self, picture: int) -> None:
        self.scene.draw()
        if picture == 0:
            self.read = self._readings()
        while self.picture < picture:
            self.scene.step(1 / RATE / self.scene.slowness)
            self.picture += 1
            if self.picture % 3 == 0:
                self.read = self._readings()
            self.scene.draw()

    def _readings(self):
        return described_readings(self.scene.readings(), True)

    def solids(self) -> np.ndarray:
        rows = []
        for one in self.made:
            if one.visible and hasattr(one, "axis") and not hasattr(one, "text"):
                axis, up = one.axis.norm(), one.up.norm()
                rows.append([part for vector in (one.pos, axis, up, one.size) for part in (vector.x, vector.y, vector.z)])
        return np.array(rows)

    def letters(self) -> list[tuple]:
        return [(one.text, one.pos.x, one.pos.y, one.pos.z) for one in self.made if one.visible and hasattr(one, "text")]


def arrows_in(part):
    """The arrows in sight."""
    if isinstance(part, Arrow):
        if part.shaft.drawn.visible:
            yield part
    elif getattr(part, "visible", True):
        for each in getattr(part, "parts", ()):
            yield from arrows_in(each)


def test_every_scene_shows_what_the_bench_would(tab):
    compared = 0
    for step, kind in enumerate(catalogue.LESSON):
        anew = Anew(kind)
        for picture in MOMENTS:
            anew.at(picture)
            found = tab.evaluate(LOOK, [step, picture])
            where = f"{kind.name} after {picture} pictures"
            assert found["scene"] == kind.name
            expected, drawn = anew.solids(), np.array(found["solids"])
            apart = np.abs(expected[:, None] - drawn).max(axis=2)
            assert apart.min(axis=1).max() < 2e-4, f"{where}: {expected[apart.min(axis=1).argmax()]} is not in the file's picture"
            assert len(drawn) == len(expected), f"{where}: something of another scene, or of another moment, is in the picture"
            letters = sorted(text for text, *_ in found["letters"])
            assert letters == sorted(text for text, *_ in anew.letters()), where
            # the arrows by the physical vectors that they stand for
            for arrow in arrows_in(anew.scene.drawn):
                at_foot = drawn[np.abs(drawn[:, :3] - arrow.start).max(axis=1) < 2e-4]
                along = at_foot[:, 3:6] @ arrow.vector / np.linalg.norm(arrow.vector)
                assert len(along) and along.max() > 0.9999, f"{where}: {arrow.stands_for} points elsewhere"
                compared += 1
            assert found["readings"] == anew.read, where
            assert found["says"], where
    assert compared > 60
