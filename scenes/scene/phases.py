"""The colours of the three phases by region; letters always stand beside them."""

from __future__ import annotations

from dataclasses import dataclass

from scenes.scene.controls import Choice
from visual import palette

LINES = ("L1", "L2", "L3")
TERMINALS = ("U", "V", "W")  # IEC 60034-8


@dataclass(frozen=True)
class Region:
    """How one region marks L1, L2, L3: the names of the colours, and shades that are easy to tell apart on screen."""

    words: str
    names: tuple[str, str, str]
    hexes: tuple[str, str, str]

    @property
    def colours(self) -> tuple[tuple[float, float, float], ...]:
        """Of L1, L2, L3, red-green-blue 0..1."""
        return tuple(palette.rgb(colour) for colour in self.hexes)

    @property
    def inks(self) -> tuple[tuple[float, float, float], ...]:
        """A readable letter colour for each phase colour."""
        return tuple(palette.readable(palette.INK, colour) for colour in self.colours)


REGIONS = {
    "iec": Region("IEC 60445, BS 7671", ("brown", "black", "grey"), ("#8a4b1f", "#1d1d1d", "#9a9fa3")),
    "old-british": Region("British before 2006", ("red", "yellow", "blue"), ("#c4271b", "#f0c419", "#1f55b5")),
    # common practice on 120/208 V, no source: the code there leaves the colours of live conductors open
    "north-american": Region("North American", ("black", "red", "blue"), ("#1d1d1d", "#c4271b", "#1f55b5")),
}


def colours() -> Choice:
    """The control `colours`: the region whose phase colours are used. The same in every scene."""
    return Choice(
        "colours",
        "Phase colours",
        "iec",
        tuple((name, f"{region.words}: {', '.join(region.names)}") for name, region in REGIONS.items()),
    )
