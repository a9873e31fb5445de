"""What is seen after a caption came up."""

from __future__ import annotations

import re

from scenes.scene.state import NoPage, as_data

INSTANTS = (0.0, 1.0, 3.0, 8.0)  # s of the page after the caption came up
FRAME = 0.1  # s, the longest from picture to picture


class Shown:
    """What is read and drawn at the instants after a step or stop came up, `scene` being set up for it and moved on here."""

    def __init__(self, scene, held=False):
        self.data = []
        scene.ensure_built(NoPage())
        self.page, self.peaks = 0.0, {}  # the most that was read of each symbol, in the unit without a prefix
        for instant in INSTANTS[:1] if held else INSTANTS:
            while self.page < instant - 1e-9:
                scene.step(FRAME / scene.slowness)
                self.page += FRAME
                self.note(scene)
            scene.draw()
            self.note(scene)
            self.data.append(as_data(scene, instant))

    def note(self, scene):
        for reading in scene.readings():
            figure = re.sub(r"[^\d.eE+-]", "", reading.value.replace("\N{MINUS SIGN}", "-"))
            try:
                prefix = re.match(r"[mkµ](?=[A-Za-zΩ])", reading.unit)  # none in m and m/s, which begin with the metre
                unit = {"m": 1e-3, "k": 1e3, "µ": 1e-6}[prefix[0]] if prefix else 1.0
                self.peaks[reading.symbol] = max(self.peaks.get(reading.symbol, 0.0), abs(float(figure)) * unit)
            except ValueError:
                continue

    def of(self, symbol, instant=-1):
        """A reading by its symbol, without subscripts for currents of two kinds."""
        return next(r["value"] for r in self.data[instant]["readings"] if r["symbol"] == symbol)

    def vector(self, letter, instant=-1):
        return next(a["vector"] for a in self.data[instant]["arrows"] if a["letter"] == letter)

    def compasses(self, instant=-1):
        return [(n["at"], n["vector"]) for n in self.data[instant]["needles"] if "compass" in n["words"]]


# what the captions claim
