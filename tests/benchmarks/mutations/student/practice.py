"""Hands as mistakes hold them, the workings of what was missed, mock tests, and practice over the shared address."""

from tests.benchmarks.mutation import Mutation

HANDS = ("tests/scenes/questions/test_mistaken_hands.py",)
WORKS = ("tests/scenes/questions/test_works.py",)
BENCH = ("tests/scenes/practice/test_practice_bench.py",)
ROOM = ("tests/scenes/practice/test_room.py",)
MISTAKEN, PRACTICE = "scenes/questions/mistaken_hands.py", "scenes/practice/"

MUTATIONS = (
    Mutation(MISTAKEN, '* (1.0 if side == "right" else -1.0)', '* (1.0 if side == "left" else -1.0)', HANDS),
    Mutation(MISTAKEN, "along[SECOND], against = -along[SECOND], SECOND", "against = SECOND", HANDS),
    Mutation(MISTAKEN, "along[FIRST], along[given] = along[given], along[FIRST]", "pass", HANDS),
    Mutation(MISTAKEN, "MistakenGrip(mistake, OTHER[right.side], right.thumb", "MistakenGrip(mistake, right.side, right.thumb", HANDS),
    Mutation("visual/hand/rule_hand.py", "said[hand.gives] = crossed_out(said[hand.gives])", "pass", HANDS),
    Mutation("scenes/scene/story.py", "right if self.reveals_answer else held_by(self.mistake, right)", "right", HANDS),
    Mutation("scenes/bench/prediction.py", "if scene and not hides else {}", "if scene else {}", HANDS),
    Mutation("scenes/bench/prediction.py", 'next(filter(hands.get, hands), "")', '""', HANDS),
    Mutation("scenes/conductors/pushed_conductor/kinds.py", '"angle": _angle(now),', '"angle": now.degrees,', WORKS),
    Mutation("scenes/bench/prediction.py", "if self.drawn and self.drawn.kind.works and self.posed.figure:", "if False:", WORKS),
    Mutation("scenes/bench/workings.py", "works.inputs if works and answer else offered", "works.inputs if False else offered", WORKS),
    Mutation("scenes/workings/board_lines.py", "Quantity(size, answer.unit)", "result", WORKS),
    Mutation("scenes/conductors/pushed_conductor/kinds.py", 'works="conductor-force"', 'works="wire-field"', WORKS),
    Mutation(PRACTICE + "practice.py", "prediction.right, prediction.asked = score", "pass", BENCH),
    Mutation(PRACTICE + "mock.py", '"right": self.right if self.over else None', '"right": self.right', BENCH + ROOM),
    Mutation(PRACTICE + "mock.py", "return not self.over and self.left == 0", "return False", BENCH + ROOM),
    Mutation(PRACTICE + "student.py", "if self.sits and self.prediction.waiting:", "if False:", BENCH + ROOM),
    Mutation(PRACTICE + "room.py", "Results(None), self._scenes", "self._seats[THIS_MACHINE].practice.results, self._scenes", ROOM),
    Mutation(PRACTICE + "room.py", "self._papers.paper(seat.asked, prediction.mistake,", 'self._papers.paper(seat.asked, "",', ROOM),
)
