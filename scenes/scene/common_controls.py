"""Controls that several scenes share: one name, the same words, one range."""

from __future__ import annotations

from scenes.scene.controls import Choice, Number

POLES = (2, 4, 6, 8)


def frequency(default: float = 50.0, only_with=None) -> Number:
    """The control `frequency`: of the supply, hertz."""
    return Number("frequency", "Frequency of the supply", default, "Hz", 5.0, 100.0, 1.0, only_with=only_with)


def poles(default: int = 2, only_with=None) -> Choice:
    """The control `poles`; `int(scene["poles"])` is their number."""
    return Choice("poles", "Poles", str(default), tuple((str(n), str(n)) for n in POLES), only_with=only_with)


def load(default: float = 0.0, only_with=None) -> Number:
    """The control `load`: load torque, in percent of the motor's rated torque."""
    return Number("load", "Load on the shaft", default, "% of rated torque", 0.0, 300.0, 5.0, only_with=only_with)


def lamp() -> Choice:
    """The control `lamp`: the light in which a machine is seen."""
    return Choice("lamp", "Light", "steady", (("steady", "steady"), ("flashing", "a lamp that flashes with the field")))


class LineOrder(Choice):
    """Which lines are connected to U, V, W. Reversing swaps L1 and L2, or swaps them back."""

    def reversed(self, value: str) -> str:
        as_marked, swapped = self.choices[0][0], self.choices[1][0]
        return swapped if value == as_marked else as_marked


def line_order() -> LineOrder:
    """The control `lines`; `scene["lines"].split("-")` names the lines at the terminals U, V, W."""
    return LineOrder(
        "lines",
        "Lines on U, V, W",
        "L1-L2-L3",
        (
            ("L1-L2-L3", "L1, L2, L3: as marked"),
            ("L2-L1-L3", "L1 and L2 swapped"),
            ("L1-L3-L2", "L2 and L3 swapped"),
            ("L3-L2-L1", "L1 and L3 swapped"),
        ),
        role="field",
    )
