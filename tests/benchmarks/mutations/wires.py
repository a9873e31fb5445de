"""Breaks of the field round a wire and of the two wires: physics, drawing, circuits and words."""

from tests.benchmarks.mutation import Mutation, noticed_by

ROUND, TWO = ("tests/scenes/oracle/conductors/test_field_round_a_wire.py",), ("tests/scenes/oracle/conductors/test_two_wires.py",)
PAIR, ENDS = ("tests/physics/conductors/test_hung_pair.py",), ("tests/visual/apparatus/test_which_end_points.py",)
ONE_WIRE, TWO_WIRES = "scenes/conductors/field_round_a_wire/", "scenes/conductors/two_wires/"
HUNG, NEEDLE, FLUX = "physics/conductors/hung_pair.py", "physics/fields/compass.py", "visual/apparatus/flux.py"

MUTATIONS = (
    *noticed_by(
        ROUND,
        (ONE_WIRE + "picture.py", "drawn.battery.connect(setup.set_current)", "drawn.battery.connect(-setup.set_current)"),
        (
            ONE_WIRE + "picture.py",
            "FLUX_BETWEEN_RINGS) if shown else np.empty(0), 0.0035, setup.current)",
            "FLUX_BETWEEN_RINGS) if shown else np.empty(0), 0.0035, -setup.current)",
        ),
        (
            ONE_WIRE + "picture.py",
            "look.gripped(grip(now.setup.current * UP))",
            "look.gripped(grip(-now.setup.current * UP))",
        ),
        (ONE_WIRE + "picture.py", "now.field if shown else np.zeros(3))", "now.field)"),
        (ONE_WIRE + "picture.py", "(now.needles if shown else now.before)", "now.needles"),
        (ONE_WIRE + "picture.py", "Lead(self, self.switch.jaw, lower, snapshot", "Lead(self, self.switch.jaw, upper, snapshot"),
        (ONE_WIRE + "question.py", "return turning_sense(setup.current * UP, UP)", "return turning_sense(setup.current * UP, -UP)"),
        (ONE_WIRE + "question.py", "they point {say(field)}", "they point {say(-field)}"),
        (
            ONE_WIRE + "question.py",
            "field = field_direction(setup.current * UP, PLACES[setup.place])",
            "field = field_direction(PLACES[setup.place], setup.current * UP)",
        ),
        (ONE_WIRE + "readings.py", "look.view.directions.words(now.field) if", "look.view.directions.words(-now.field) if"),
        (ONE_WIRE + "readings.py", "minus(setup.current, 1)", "minus(current, 1)"),
        (ONE_WIRE + "readings.py", "minus(needle, 0)", "minus(-needle, 0)"),
        (ONE_WIRE + "snapshot.py", '"right": "east of", "front": "south of"', '"right": "east of", "front": "north of"'),
        (ONE_WIRE + "snapshot.py", "return self.set_current if self.closed else 0.0", "return self.set_current"),
        (
            ONE_WIRE + "snapshot.py",
            "field = outside(radius, current, earth)\n    spots",
            "field = outside(radius, -current, earth)\n    spots",
        ),
        (NEEDLE, "np.cross(normal, first)", "np.cross(first, normal)"),
        (NEEDLE, "3 * between * (along", "-3 * between * (along"),
        ("physics/fields/currents.py", "(northward - np.tan(dip) * vertical)", "(-northward - np.tan(dip) * vertical)"),
    ),
    *noticed_by(
        TWO,
        (TWO_WIRES + "picture.py", "1.0 if setup.set_currents[k] < 0 else -1.0", "-1.0 if setup.set_currents[k] < 0 else 1.0"),
        (TWO_WIRES + "picture.py", "hung.switch.close(bool(current))", "hung.switch.close(setup.closed)"),
        (TWO_WIRES + "picture.py", "now.pushes[k] if shown", "-now.pushes[k] if shown"),
        (TWO_WIRES + "picture.py", "now.fields[k] if shown", "now.fields[1 - k] if shown"),
        (TWO_WIRES + "picture.py", "current * ALONG)", "-current * ALONG)"),
        (TWO_WIRES + "readings.py", "(now.of_earth[now.looked_at][0],", "(-now.of_earth[now.looked_at][0],"),
        (TWO_WIRES + "picture.py", "[0, -0.012, length / 2 + 0.004]", "[0, -0.012, -length / 2 - 0.004]"),
        (TWO_WIRES + "snapshot.py", "currents) + EARTH,", "currents) - EARTH,"),
        (TWO_WIRES + "snapshot.py", "fixed=fixed, outside=EARTH)", "fixed=fixed, outside=-EARTH)"),
        (TWO_WIRES + "snapshot.py", "return -SIDES[self.setup.wire] *", "return SIDES[self.setup.wire] *"),
        (
            TWO_WIRES + "snapshot.py",
            "hand=left_hand(fields[looked_at], currents[looked_at] * ALONG)",
            "hand=left_hand(fields[looked_at], currents[1 - looked_at] * ALONG)",
        ),
        (TWO_WIRES + "question.py", '"attract each other" if product > 0', '"attract each other" if product < 0'),
        (TWO_WIRES + "question.py", "its field points {say(field)}", "its field points {say(-field)}"),
        (TWO_WIRES + "question.py", "field_direction(makes_it, [SIDES[wire], 0, 0])", "field_direction(makes_it, [SIDES[other], 0, 0])"),
        (TWO_WIRES + "readings.py", 'minus(currents["left"], 1)', 'minus(currents["right"], 1)'),
    ),
    *noticed_by(
        PAIR,
        (HUNG, "return self._push(spacing, *currents) * away / spacing", "return -self._push(spacing, *currents) * away / spacing"),
        (HUNG, "- weight * sin(a) - self.damping * a_rate", "- 2 * weight * sin(a) - self.damping * a_rate"),
        (HUNG, "+ leads[0] - weight", "- leads[0] - weight"),
        (HUNG, "arms[:, 0] @ forces[:, 1] - arms[:, 1] @ forces[:, 0]", "arms[:, 1] @ forces[:, 0] - arms[:, 0] @ forces[:, 1]"),
        (
            HUNG,
            "np.cross([0.0, 0.0, self.length], np.asarray(self.outside, float))",
            "np.cross(np.asarray(self.outside, float), [0.0, 0.0, self.length])",
        ),
        (HUNG, "self.fixed * [-1, 1, 1]", "self.fixed * [1, 1, 1]"),
    ),
    *noticed_by(
        ENDS,
        (FLUX, "point(-np.cross(x_axis, y_axis))", "point(np.cross(x_axis, y_axis))"),
        (FLUX, "np.eye(3) if sense > 0 else", "np.eye(3) if sense < 0 else"),
        (FLUX, "along = np.array([-np.sin(angle), 0, -np.cos(angle)])", "along = np.array([np.sin(angle), 0, np.cos(angle)])"),
    ),
    Mutation(
        "physics/conductors/parallel_wires.py",
        "np.sqrt(length**2 + 4 * spacing**2)",
        "np.sqrt(length**2 + spacing**2)",
        ("tests/physics/conductors/test_parallel_wires.py",),
    ),
)
