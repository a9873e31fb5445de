"""Breaks of the commutator machine: physics, drawing, wiring and words."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation, noticed_by

ORACLE = ("tests/scenes/oracle/machines/test_coils_and_commutator.py",)
POLES = ("tests/physics/commutated/test_block_poles.py",)
ROOM = "scenes/machines/commutator"
CONNECTIONS = "visual/machines/commutator/connections.py"
MACHINE = "visual/machines/commutator/machine.py"

MUTATIONS = (
    *noticed_by(
        POLES,
        ("physics/commutated/block_poles.py", "y * np.cos(angles) - x * np.sin(angles)", "x * np.sin(angles) - y * np.cos(angles)"),
        ("physics/commutated/block_poles.py", "(self._shape[0] / HARMONICS)", "self._shape[0]"),
    ),
    Mutation(
        "physics/commutated/filament.py",
        "(temperature**4 - ROOM**4) / (self",
        "(temperature**3 - ROOM**3) / (self",
        ("tests/physics/commutated/test_filament.py",),
    ),
    *noticed_by(
        ORACLE,
        (
            f"{ROOM}/snapshot.py",
            "cross(machine.side_currents[..., np.newaxis] * AXIS, fields)",
            "cross(fields, machine.side_currents[..., np.newaxis] * AXIS)",
        ),
        (f"{ROOM}/snapshot.py", "outward[SIDES[each]] @ setup.north", "-outward[SIDES[each]] @ setup.north"),
        (f"{ROOM}/snapshot.py", "-machine.terminal_current if setup.by_hand", "machine.terminal_current if setup.by_hand"),
        (f"{ROOM}/picture.py", "machine.sign(now.volts if", "machine.sign(-now.volts if"),
        (f"{ROOM}/picture.py", "(shown * now.forces)", "now.forces"),
        (
            f"{ROOM}/picture.py",
            "look.held(now.shown.hand if now.shown.live",
            "Look(look.view, True).held(now.shown.hand if now.shown.live",
        ),
        (
            f"{ROOM}/picture.py",
            "drawn.hold_out(hand_of(now, look), now.places[pointed.at])",
            "drawn.hold_out(hand_of(now, look), -now.places[pointed.at])",
        ),
        (f"{ROOM}/readings.py", "minus(-now.torque * 1000, 0)", "minus(now.torque * 1000, 0)"),
        ("scenes/scene/views.py", "{direction}, looking at {self.end}", "{direction}, looking at the drive end"),
        (f"{ROOM}/question.py", '("clockwise", view.turning(-1.0))', '("clockwise", "clockwise")'),
        (f"{ROOM}/question.py", "'A1' if setup.battery > 0 else 'A2'}\" if setup", "'A2' if setup.battery > 0 else 'A1'}\" if setup"),
        (f"{ROOM}/question.py", "field goes {words(-setup.north)}", "field goes {words(setup.north)}"),
        (f"{ROOM}/question.py", "OpenCircuit(), 72).terminal_voltage > 0", "OpenCircuit(), 72).terminal_voltage < 0"),
        (f"{ROOM}/scene.py", "'below' if now.volts < 0 else 'above'", "'below' if now.volts > 0 else 'above'"),
        (f"{ROOM}/machine.py", "brush_shift=np.pi)", "brush_shift=0.0)"),
        (CONNECTIONS, "Lead(self.fed, second, plus,", "Lead(self.fed, second, minus,"),
        (CONNECTIONS, "Lead(self.across, minus, second,", "Lead(self.across, minus, first,"),
        (CONNECTIONS, "self.battery.connect(battery)", "self.battery.connect(-battery)"),
        (CONNECTIONS, "meter.show(value / full)", "meter.show(-value / full)"),
        (MACHINE, "self.poles[0].put((-sense *", "self.poles[0].put((sense *"),
        (MACHINE, "LOW + share * (HIGH - LOW))", "HIGH + share * (LOW - HIGH))"),
        (
            MACHINE,
            "for letters, name, own in zip(self.signs, self.names, (sense, -sense), strict=True)",
            "for letters, name, own in zip(self.signs, self.names, (-sense, sense), strict=True)",
        ),
    ),
)
