"""Breaks of a marked test, of votes, and of codes to scan."""

from tests.benchmarks.mutation import Mutation

RECORD_TEST, REPORT_TEST = ((f"tests/scenes/marked/test_{name}.py",) for name in ("record", "report"))
ROOM_TEST = ("tests/scenes/marked/test_room.py", "tests/scenes/marked/test_time_and_instructor.py")
VOTES_TEST, CODE_TEST, SECRET = (
    ("tests/scenes/bench/test_votes.py",),
    ("tests/visual/paper/test_qr_code.py",),
    "visual/host/access/doors.py",
)
QUESTIONS = "scenes/marked/questions.py"
ROOM, PAPERS, SITTINGS = "scenes/marked/room.py", "scenes/marked/papers.py", "scenes/marked/sittings.py"
RECORD, LINES, TALLY, CODE = "scenes/marked/record.py", "scenes/kept/lines.py", "scenes/bench/tally.py", "visual/paper/qr_code.py"

MUTATIONS = tuple(
    Mutation(*each)
    for each in (
        ("scenes/commands/outputs/test.py", "terms.drawn not in (None, version_of(terms))", "False", RECORD_TEST),
        (QUESTIONS, "return Asked(*mine, seed), said", 'return Asked(*mine, seed), ("", "")', RECORD_TEST),
        (ROOM, "if place in mine.answers:\n            return", "if False:\n            return", ROOM_TEST),
        (
            ROOM,
            "mine, now = self._of(viewer, self._saved()), self._clock()",
            "mine, now = self._of(viewer, self._all()), self._clock()",
            ROOM_TEST,
        ),
        (ROOM, "if sitting.visitor == viewer.visitor]", "if sitting.visitor]", ROOM_TEST),
        (ROOM, "if name in (None, sitting.name) and not", "if name in (None, sitting.name) or not", ROOM_TEST),
        (PAPERS, "scene.draw(answered, mistake)", "scene.draw(True, mistake)", ROOM_TEST),
        (PAPERS, "else ObjectStream.in_sight(built.commands)", "else set(built.commands)", ROOM_TEST),
        (PAPERS, "if first in self.shapes:", "if True:", ROOM_TEST),
        (PAPERS, "[*away, *paper.places]", "[*paper.places]", ROOM_TEST),
        (PAPERS, 'question | {"seed": None}', "question", ROOM_TEST),
        (PAPERS, "prediction.readings(scene, answered, told_alone=False)", "scene.readings(True)", ROOM_TEST),
        (SITTINGS, "answers.setdefault(line.place, line)", "answers[line.place] = line", RECORD_TEST),
        (SITTINGS, "sitting.ends += max(0.0, when - before)", "pass", RECORD_TEST),
        (SITTINGS, "sitting.ends + GRACE > before", "True", RECORD_TEST),
        (QUESTIONS, "(trainee - 1) * every.count(mine)", "0", RECORD_TEST),
        (QUESTIONS, "+ every[: place - 1].count(mine)", "", RECORD_TEST),
        (QUESTIONS, "key=lambda one: self._last.get(one, -1)", "key=lambda one: -self._last.get(one, -1)", RECORD_TEST),
        (RECORD, "mode=PRIVATE", "mode=None", RECORD_TEST),
        (RECORD, "return self.terms is not None", "return True", RECORD_TEST),
        (LINES, "os.chmod(aside, path.stat().st_mode & 0o777)", "os.chmod(aside, 0o644)", RECORD_TEST),
        (SECRET, "self._key = key or new_key()", "self._key = new_key()", ("tests/scenes/bench/test_secret_word.py",)),
        ("scenes/marked/marks.py", "key=lambda each: (-each[1], each[0])", "key=lambda each: (each[1], each[0])", REPORT_TEST),
        ("scenes/marked/report.py", "escape(unparted(cell))", "cell", REPORT_TEST),
        ("scenes/marked/report.py", "answer.given, answer.answer, _sign", "answer.answer, answer.given, _sign", REPORT_TEST),
        ("scenes/marked/report.py", 'answer.given, answer.answer, "right"', 'answer.answer, answer.given, "right"', REPORT_TEST),
        ("scenes/marked/report.py", "if len(question.texts) > 1 else ''", "if question.texts else ''", REPORT_TEST),
        (LINES, 'unicodedata.normalize("NFKC", text).lstrip()[:1]', "text[:1]", ("tests/scenes/bench/test_abuse_by_file.py",)),
        (TALLY, '"before": self._before if seen else None', '"before": self._before', VOTES_TEST),
        (TALLY, "and not self._kept and self._about", "and self._about", VOTES_TEST),
        ("scenes/lesson/lesson_bench.py", "if self.tally.answered or", "if True or", VOTES_TEST),
        (TALLY, "SHOW if not self.opened else", "SHOW if False else", VOTES_TEST),
        (CODE, "FORMAT, FORMAT_MASK = 0x537, 0x5412", "FORMAT, FORMAT_MASK = 0x537, 0x5413", CODE_TEST),
        (CODE, "4: (2, 32, 18)", "4: (2, 32, 17)", CODE_TEST),
        (CODE, "lambda i, j: (i // 2 + j // 3) % 2 == 0", "lambda i, j: (i // 3 + j // 2) % 2 == 0", CODE_TEST),
    )
)
