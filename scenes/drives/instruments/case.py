"""The board with its fault, and what each instrument shows on it: worked out once for each place where it is laid."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from physics.measuring import Board, Live, settled
from physics.measuring.limits import phase_order
from physics.terminals import LINES
from scenes.drives.instruments.faults import LINKS, LOAD, OVERLOAD, Fault
from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.board import STRAIGHT
from scenes.drives.terminal_box.case import BEARINGS
from scenes.drives.terminal_box.motors import FREQUENCY, PLATES, Plate, motor_of

VOLTS = 400.0  # V between lines of the supply
KNOWN = ("K1", "K2")  # sockets of the proving unit
KNOWN_VOLTS = 230.0
FITTING = {"star": PLATES["230/400"], "delta": PLATES["400/690"]}  # the plates that this supply fits
PAIRS_TO_PROVE = (("U1", "V1"), ("V1", "W1"), ("W1", "U1"), ("U1", "PE"), ("V1", "PE"), ("W1", "PE"))


@dataclass(frozen=True)
class Condition:
    """How the board is when it is measured: switched on or not, links and leads on it or off."""

    on: bool
    links: bool = True
    leads: bool = True


@dataclass(frozen=True)
class Case:
    """A motor joined in star or delta with a fault; sticks: whether one pole of the isolator does not open."""

    joined: str
    fault: Fault
    sticks: bool = False

    @property
    def plate(self) -> Plate:
        return FITTING[self.joined]

    @property
    def winding_ohm(self) -> float:
        return motor_of(self.plate).circuit.stator_resistance

    def board(self, condition: Condition) -> Board:
        links = LINKS[self.joined] if condition.links else ()
        closed = (condition.on or self.sticks, condition.on, condition.on)
        return Board(links, STRAIGHT if condition.leads else (), closed, VOLTS, self.fault.defects(self.joined))

    def live(self, condition: Condition) -> Live:
        """The motor on its supply, once it has settled."""
        return _live(self, condition)

    def volts(self, condition: Condition, first: str, second: str) -> float:
        if first in KNOWN or second in KNOWN:
            return KNOWN_VOLTS if {first, second} == set(KNOWN) else 0.0  # the proving unit is joined to nothing else
        if condition.on:
            return self.live(condition).voltage(first, second)
        return self.board(condition).dead_voltage(first, second)

    def amperes(self, condition: Condition, line: str) -> float:
        return float(abs(self.live(condition).line_currents[LINES.index(line)])) if condition.on and condition.leads else 0.0

    def order(self, condition: Condition, clips: tuple[str, ...]) -> str:
        """What a phase-rotation indicator shows on three points."""
        if condition.on:
            return phase_order(self.live(condition).phasors(clips))
        return phase_order(self.board(condition).dead_phasors(clips))

    def ohms(self, condition: Condition, first: str, second: str) -> float:
        return self.board(condition).resistance(first, second, self.winding_ohm)


@lru_cache(maxsize=256)
def _live(case: Case, condition: Condition) -> Live:
    load = OVERLOAD if case.fault.kind == "overload" else LOAD
    running = case.fault.kind == "lost-running"
    return settled(case.board(condition), motor_of(case.plate), FREQUENCY, (load + BEARINGS) * RATED_TORQUE, running)


@lru_cache(maxsize=256)
def case_of(joined: str, fault: Fault, sticks: bool = False) -> Case:
    """The case, kept: it is worked out part by part as it is asked for."""
    return Case(joined, fault, sticks)
