"""The motor behind the board, wound for 230/400 V or for 400/690 V, its plates, and what protects it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from physics.induction.joined_windings import JoinedMotor
from physics.protection import GATES, Fuse, OverloadRelay, copper_constant
from scenes.drives.starting.motors import MOTOR, RATED_CURRENT

RATED_SLIP = 35 / 1500
POWER, FREQUENCY, POLES, RATED_SPEED = 11.0, 50.0, 4, 1465  # kW, Hz, r/min
CURRENT_DENSITY = 6.0  # A/mm2 of the winding at the rated current: common practice, no source
COLD, LIMIT = 40.0, 155.0  # degrees C: ambient, and thermal class F (IEC 60085, IEC 60034-1, memory)
FIT = 0.1  # by which a winding's voltage may be off its plate and still be right: usual tolerance of supplies, common practice
FUSE_FOR = 2.3  # times the rated current, or the next larger fuse: common practice, no source


@dataclass(frozen=True)
class Plate:
    """A plate with two voltages: delta on the lower and star on the higher one. Voltages V, currents A in a line."""

    name: str
    delta_voltage: float
    star_voltage: float
    delta_current: float
    star_current: float

    @property
    def words(self) -> str:
        return f"{self.delta_voltage:.0f}/{self.star_voltage:.0f} V"

    @property
    def winding_current(self) -> float:
        """A in a winding at rated load, in star and in delta."""
        return self.star_current

    def fits(self, supply: float) -> str:
        """How it is to be joined on that supply, V between lines: "star", "delta" or "neither"."""
        for joined, rated in (("star", self.star_voltage), ("delta", self.delta_voltage)):
            if abs(supply / rated - 1) <= FIT:
                return joined
        return "neither"

    def line_current(self, supply: float) -> float:
        """Rated current in a line on that supply; in star if it fits neither."""
        return self.delta_current if self.fits(supply) == "delta" else self.star_current

    def relay(self, supply: float) -> OverloadRelay:
        """The overload relay, set to the rated current."""
        return OverloadRelay(self.line_current(supply))

    def fuse(self, supply: float) -> Fuse:
        return Fuse(next(rating for rating in GATES if rating >= FUSE_FOR * self.line_current(supply)))


PLATES = {
    "230/400": Plate("230/400", 230.0, 400.0, RATED_CURRENT * math.sqrt(3), RATED_CURRENT),
    "400/690": Plate("400/690", 400.0, 690.0, RATED_CURRENT, RATED_CURRENT * 400 / 690),
}


@lru_cache(maxsize=4)
def motor_of(plate: Plate) -> JoinedMotor:
    """The motor, its windings with as many turns as the plate's voltage asks for: all ohms with their square."""
    times = (plate.star_voltage / MOTOR.line_voltage) ** 2
    names = (
        "stator_resistance", "stator_reactance", "rotor_resistance", "rotor_reactance", "magnetising_reactance",
        "starting_cage_resistance", "running_cage_reactance",
    )  # fmt: skip
    return JoinedMotor(
        replace(MOTOR, line_voltage=plate.star_voltage, **{name: times * getattr(MOTOR, name) for name in names}), RATED_SLIP
    )


def copper_bears(plate: Plate) -> float:
    """A2 s in one winding from cold to the limit, no heat flowing off."""
    area = plate.winding_current / CURRENT_DENSITY * 1e-6
    return (copper_constant(COLD, LIMIT) * area) ** 2
