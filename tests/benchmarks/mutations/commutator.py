"""Breaks of the commutator machine: physics, drawing, wiring and words."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

ORACLE = ("tests/scenes/oracle/machines/test_coils_and_commutator.py",)
POLES = ("tests/physics/commutated/test_block_poles.py",)
ROOM = "scenes/machines/commutator"
CONNECTIONS = "visual/machines/commutator/connections.py"
MACHINE = "visual/machines/commutator/machine.py"

MUTATIONS = (
    Mutation(
        "physics/commutated/block_poles.py", "y * np.cos(angles) - x * np.sin(angles)", "x * np.sin(angles) - y * np.cos(angles)", POLES
    ),
    Mutation("physics/commutated/block_poles.py", "(self._shape[0] / HARMONICS)", "self._shape[0]", POLES),
    Mutation(
        "physics/commutated/filament.py",
        "(temperature**4 - ROOM**4) / (self",
        "(temperature**3 - ROOM**3) / (self",
        ("tests/physics/commutated/test_filament.py",),
    ),
    Mutation(
        f"{ROOM}/snapshot.py",
        "np.cross(machine.side_currents[..., np.newaxis] * AXIS, fields)",
        "np.cross(fields, machine.side_currents[..., np.newaxis] * AXIS)",
        ORACLE,
    ),
    Mutation(f"{ROOM}/snapshot.py", "outward[SIDES[each]] @ setup.north", "-outward[SIDES[each]] @ setup.north", ORACLE),
    Mutation(f"{ROOM}/snapshot.py", "-machine.terminal_current if setup.by_hand", "machine.terminal_current if setup.by_hand", ORACLE),
    Mutation(f"{ROOM}/picture.py", "machine.sign(now.volts if", "machine.sign(-now.volts if", ORACLE),
    Mutation(f"{ROOM}/picture.py", "(shown * now.forces)", "now.forces", ORACLE),
    Mutation(
        f"{ROOM}/picture.py",
        "look.view.readable(pointed.hand) if shown and pointed.live",
        "look.view.readable(pointed.hand) if pointed.live",
        ORACLE,
    ),
    Mutation(
        f"{ROOM}/picture.py",
        "if shown and pointed.live else None, now.places[pointed.at])",
        "if shown and pointed.live else None, -now.places[pointed.at])",
        ORACLE,
    ),
    Mutation(f"{ROOM}/readings.py", "minus(-now.torque * 1000, 0)", "minus(now.torque * 1000, 0)", ORACLE),
    Mutation(f"{ROOM}/readings.py", "looking at {look.view.end}", "looking at the drive end", ORACLE),
    Mutation(f"{ROOM}/question.py", '("clockwise", view.turning(-1.0))', '("clockwise", "clockwise")', ORACLE),
    Mutation(
        f"{ROOM}/question.py", "'A1' if setup.battery > 0 else 'A2'}\" if setup", "'A2' if setup.battery > 0 else 'A1'}\" if setup", ORACLE
    ),
    Mutation(f"{ROOM}/question.py", "field goes {words(-setup.north)}", "field goes {words(setup.north)}", ORACLE),
    Mutation(f"{ROOM}/question.py", "OpenCircuit(), 72).terminal_voltage > 0", "OpenCircuit(), 72).terminal_voltage < 0", ORACLE),
    Mutation(f"{ROOM}/scene.py", "'below' if now.volts < 0 else 'above'", "'below' if now.volts > 0 else 'above'", ORACLE),
    Mutation(f"{ROOM}/machine.py", "brush_shift=np.pi)", "brush_shift=0.0)", ORACLE),
    Mutation(CONNECTIONS, "Lead(self.fed, second, plus,", "Lead(self.fed, second, minus,", ORACLE),
    Mutation(CONNECTIONS, "Lead(self.across, minus, second,", "Lead(self.across, minus, first,", ORACLE),
    Mutation(CONNECTIONS, "self.battery.connect(battery)", "self.battery.connect(-battery)", ORACLE),
    Mutation(CONNECTIONS, "meter.show(value / full)", "meter.show(-value / full)", ORACLE),
    Mutation(MACHINE, "self.poles[0].put((-sense *", "self.poles[0].put((sense *", ORACLE),
    Mutation(MACHINE, "LOW + share * (HIGH - LOW))", "HIGH + share * (LOW - HIGH))", ORACLE),
    Mutation(
        MACHINE,
        "for letters, name, own in zip(self.signs, self.names, (sense, -sense), strict=True)",
        "for letters, name, own in zip(self.signs, self.names, (-sense, sense), strict=True)",
        ORACLE,
    ),
)
