"""A motor by its nameplate, entered figure by figure: the controls for it, and what a scene that has them does with them."""

from __future__ import annotations

from physics.nameplate import Nameplate
from scenes.scene.common_controls import POLES
from scenes.scene.controls import Choice, Number, Switch
from scenes.scene.story import Story
from scenes.workings.nameplate import read_plate

NOT_KNOWN = 0.0  # of what stands in the catalogue only
_PLATE = ("plate", True)
SWITCH = Switch("plate", "Motor by its nameplate", False)
FIGURES = (
    Number("plate-power", "Power at the shaft", 4.0, "kW", 0.1, 500.0, 0.1, only_with=_PLATE),
    Number("plate-voltage", "Voltage between lines", 400.0, "V", 100.0, 1000.0, 5.0, only_with=_PLATE),
    Choice("plate-frequency", "Rated frequency", "50", (("50", "50 Hz"), ("60", "60 Hz")), only_with=_PLATE),
    Number("plate-speed", "Rated speed", 1440.0, "r/min", 300.0, 3590.0, 5.0, only_with=_PLATE),
    Number("plate-current", "Rated current", 8.2, "A", 0.2, 1000.0, 0.1, only_with=_PLATE),
    Number("plate-power-factor", "Power factor", 0.83, "", 0.3, 0.99, 0.01, only_with=_PLATE),
    Number("plate-starting-current", "Starting current (0: not known)", NOT_KNOWN, "times rated", 0.0, 12.0, 0.1, only_with=_PLATE),
    Number("plate-starting-torque", "Starting torque (0: not known)", NOT_KNOWN, "times rated", 0.0, 6.0, 0.1, only_with=_PLATE),
    Number("plate-breakdown-torque", "Breakdown torque (0: not known)", 2.6, "times rated", 0.0, 6.0, 0.1, only_with=_PLATE),
)


class WithPlate(Story):
    """A scene whose controls hold `SWITCH` and `FIGURES`. A plate that contradicts itself is told; what was entered
    stands, and `plate` stays the last one that can be, so that a plate can be entered figure by figure."""

    def __init__(self, may_wait: bool = True):
        self.refused = ""  # what is wrong with the plate as entered
        self.plate: Nameplate | None = None
        super().__init__(may_wait)
        self.plate = self._written_plate()

    def set(self, name: str, value) -> None:
        """Set one control, and judge the plate if it is in use and this is one of its figures."""
        super().set(name, value)
        if not self.sets_several and name.startswith("plate"):
            self._refuse()

    def set_all(self, values: dict) -> None:
        """Set several controls, and only then judge the plate."""
        super().set_all(values)
        if any(name.startswith("plate") for name in values):
            self._refuse()

    def _refuse(self) -> None:
        if self.refused and self["plate"]:
            raise ValueError(self.refused)

    def _written_plate(self) -> Nameplate:
        """The plate as it is entered; `ValueError` where it contradicts itself, or is of a motor that is not drawn."""
        catalogue = {
            "starting_current": self["plate-starting-current"],
            "starting_torque": self["plate-starting-torque"],
            "breakdown_torque": self["plate-breakdown-torque"],
        }
        given = {name: times for name, times in catalogue.items() if times != NOT_KNOWN}
        plate = read_plate(
            self["plate-power"],
            self["plate-voltage"],
            float(self["plate-frequency"]),
            self["plate-speed"],
            self["plate-current"],
            self["plate-power-factor"],
            **given,
        )
        if plate.poles not in POLES:
            raise ValueError(
                f"rated speed {self['plate-speed']:g} r/min is that of a motor of {plate.poles} poles, and "
                f"{POLES[-1]} are the most that "
                "are shown"
            )
        return plate

    def changed(self, name: str) -> None:
        if name.startswith("plate-"):
            try:
                self.plate, self.refused = self._written_plate(), ""
            except ValueError as wrong:
                text = str(wrong).replace("_", " ")  # physics names its arguments
                self.refused = f"{text[0].upper()}{text[1:]}."
        super().changed(name)
