"""Breaks of what pages are told and let do: numbers no browser reads, doors, votes, a student's answers."""

from tests.benchmarks.mutation import Mutation

HOST, WIRE = ("tests/visual/host/test_host.py",), ("tests/visual/host/test_abuse_on_the_wire.py",)
TURNED_AWAY = ("tests/visual/host/test_turned_away.py",)
SHARE, PRACTICE = ("tests/scenes/bench/test_share.py",), ("tests/scenes/practice/test_practice_bench.py",)
WORD = ("tests/scenes/bench/test_secret_word.py",)
BOTH_SIDES, PAGE = ("tests/visual/host/test_messages.py",), "visual/page/common/messages.js"
ENCODING, DOORS, TALLY = "visual/host/encoding.py", "visual/host/access/doors.py", "scenes/bench/tally.py"

MUTATIONS = tuple(
    Mutation(*each)
    for each in (
        (ENCODING, "default=_plain, allow_nan=False)", "default=_plain, allow_nan=True)", HOST),
        (ENCODING, "return value if math.isfinite(value) else None", "return value if math.isfinite(value) else 0.0", HOST),
        (ENCODING, "parse_constant=_refused", "parse_constant=float", WIRE),
        (ENCODING, "isinstance(value, dict | list) for", "isinstance(value, dict) for", WIRE),
        (ENCODING, "if type(value) not in allowed and", "if False and", BOTH_SIDES),
        (PAGE, 'send({ do: "set", name, value })', 'send({ do: "set", value })', BOTH_SIDES),
        (
            PAGE,
            "{{ round: number, choice: string|null, refused: string }} Vote",
            "{{ round: number, choice: string|null }} Vote",
            BOTH_SIDES,
        ),
        ("visual/page/panels/bar.js", "socket.request.restart()", "socket.request.anew()", BOTH_SIDES),
        ("scenes/scene/described.py", '"up": view.up,\n        "subject"', '"upward": view.up,\n        "subject"', BOTH_SIDES),
        (DOORS, "return None if names_this_machine(", "return None if True or names_this_machine(", TURNED_AWAY),
        (DOORS, "if not seated and self._guesses_too_often(address):", "if self._guesses_too_often(address):", WORD),
        (DOORS, "if len(guess) == LETTERS and not seated and", "if len(guess) > LETTERS and not seated and", WORD),
        (DOORS, "and all(guess != word for _, _, word in self._wrong)", "", WIRE),
        (
            DOORS,
            "return visitor if hmac.compare_digest(signed.encode(), self._signed(visitor).encode()) else None",
            "return visitor or None",
            WORD,
        ),
        (DOORS, "self._wrong[0][0] <= self._clock() - MINUTE", "self._wrong[0][0] <= self._clock()", WORD),
        (TALLY, "if visitor not in self._answers:", "if True:", SHARE),
        (TALLY, "self._answers[visitor] = choice, address", "self._answers[visitor, len(self._answers)] = choice, address", SHARE),
        (TALLY, "(self.opened or not prediction.waiting)", "True", SHARE),
        (TALLY, ">= OF_ONE_ADDRESS:", "> OF_ONE_ADDRESS:", SHARE),
        (TALLY, "if prediction.question is not self._question:", "if self._question is None:", SHARE),
        ("scenes/kept/writer.py", "self._thread.shutdown()\n        self.lines.keep()", "self._thread.shutdown()", PRACTICE),
        ("scenes/kept/writer.py", "self._next = self._thread.submit(self._keep)", "self._keep()", PRACTICE),
    )
)
