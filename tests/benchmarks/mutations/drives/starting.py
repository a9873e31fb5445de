"""Breaks of the starting scene: wiring, contactors, figures and words."""

from tests.benchmarks.mutation import Mutation, noticed_by

ORACLE = ("tests/scenes/oracle/drives/test_starting.py",)
WAITING = ("tests/scenes/bench/test_while_a_question_waits.py::test_nothing_that_is_told_goes_with_one_answer_alone[starting]",)
TOURS = ("tests/scenes/exhibit/test_exhibit.py::test_the_caption_is_what_the_scene_works_out",)
SCENE = "scenes/drives/starting/"
CONTACTOR, PANEL = "visual/switchgear/contactor.py", "visual/switchgear/starter_panel.py"


def of_the_scene(test: str) -> tuple[str]:
    return (f"tests/scenes/drives/test_starting_scene.py::{test}",)


NEVER_BOTH = of_the_scene("test_star_and_delta_are_never_closed_together")
LATER = of_the_scene("test_curves_that_come_later_are_told_to_the_page")
IN_THE_END = of_the_scene("test_in_the_end_the_motor_gives_what_the_load_takes")
NO_NAMES = of_the_scene("test_before_the_answer_no_reading_is_named_by_the_result")
MEANWHILE = of_the_scene("test_nothing_waits_for_a_method_that_was_just_chosen_and_nothing_wrong_is_shown_meanwhile")

MUTATIONS = (
    *noticed_by(
        ORACLE,
        (CONTACTOR, 'LINKS = (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))', 'LINKS = (("U1", "V2"), ("V1", "W2"), ("W1", "U2"))'),
        (CONTACTOR, '"W2": (-1, 1), "U2": (0, 1)', '"U2": (-1, 1), "W2": (0, 1)'),
        (
            CONTACTOR,
            "self.made.visible, self.broken.visible = self.visible and closed",
            "self.broken.visible, self.made.visible = self.visible and closed",
        ),
        (CONTACTOR, "{'closed' if closed else 'open'}", "{'open' if closed else 'closed'}"),
        (PANEL, 'zip(("W2", "U2", "V2"), delta.bottom', 'zip(("U2", "V2", "W2"), delta.bottom'),
        (PANEL, 'zip(("U1", "V1", "W1"), bottom', 'zip(("V1", "U1", "W1"), bottom'),
        (PANEL, 'self.board.links.visible = method != "star-delta"', "self.board.links.visible = True"),
        ("visual/switchgear/rotor_resistors.py", 'f"step {self.steps - level} contactor"', 'f"step {level + 1} contactor"'),
        (SCENE + "starters.py", "3.0**0.5 if in_star else 1.0", "1.0 if in_star else 3.0**0.5"),
        (SCENE + "starters.py", "for number in range(1, stage + 1)", "for number in range(1, stage)"),
        (SCENE + "snapshot.py", "state.angle - 2 * math.pi * speed", "state.angle + 2 * math.pi * speed"),
        (SCENE + "shown_start.py", "rows[2] = 0.0 * rows[2]", "rows[2] = 1.0 * rows[2]"),
        (SCENE + "case.py", "self.shaft.torque(REST_SPEED)", "self.shaft.torque(SYNCHRONOUS)"),
        (
            SCENE + "motors.py",
            'return WOUND if method == "wound-rotor" else MOTOR',
            'return WOUND if method in ("wound-rotor", "direct") else MOTOR',
        ),
        (SCENE + "picture.py", "moment.line_current / RATED_CURRENT if look.reveals_answer", "moment.line_current / RATED_CURRENT if True"),
        (SCENE + "picture.py", "now.others[name] if look.reveals_answer else None", "now.others[name]"),
        (SCENE + "question.py", "case.shaft.torque(SYNCHRONOUS):.0f", "case.torque_to_move:.0f"),
        (SCENE + "question.py", "return self.starts.at_once(self.case).start.outcome", 'return "runs"'),
    ),
    Mutation(
        SCENE + "starters.py",
        '({"star contactor"}, set(), {"delta contactor"})',
        '({"star contactor"}, {"star contactor"}, {"delta contactor"})',
        NEVER_BOTH,
    ),
    *noticed_by(
        MEANWHILE,
        (SCENE + "starters.py", "    if stage is None:\n        return set()\n", "    if stage is None:\n        stage = 0\n"),
        (SCENE + "scene.py", "        if self.may_wait:\n", "        if True:\n"),
        (
            SCENE + "snapshot.py",
            "    if worked_out is None:\n        return state\n",
            "    if worked_out is None:\n        return Begun(state.time + seconds, state.angle)\n",
        ),
    ),
    *noticed_by(
        LATER,
        ("scenes/bench/run_loop.py", "self.reveals_answer\n        self._publish_plot()\n", "self.reveals_answer\n"),
    ),
    Mutation(SCENE + "shown_start.py", "np.exp(-later / constant)", "np.exp(later / constant)", IN_THE_END),
    *noticed_by(
        NO_NAMES,
        (SCENE + "readings.py", "if not start.starts and look.reveals_answer", "if not start.starts"),
        (SCENE + "readings.py", "if start is None or not look.reveals_answer", "if start is None"),
    ),
    Mutation(SCENE + "curves.py", "now.worked_out if look.reveals_answer else None", "now.worked_out", WAITING),
    Mutation("scenes/exhibit/tours.py", '{"drive": "conveyor", "load": 60}', '{"drive": "conveyor", "load": 20}', TOURS),
)
