"""Breaks in the lesson that is made on the page."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

ROOM = tuple(
    f"tests/scenes/lesson/test_{name}.py" for name in ("document", "draft", "pictures", "prepare_bench", "prepare_file", "own_pages")
)
KINDS = ("tests/scenes/lesson/test_kinds_in_a_lesson.py",)
CLOCK = ("tests/scenes/lesson/test_lesson.py",)
WIRE = ("tests/visual/host/test_upload.py",)
FILE, DRAFT, DOCUMENT, BENCH = (f"scenes/lesson/{name}.py" for name in ("lesson_file", "draft", "document", "prepare_bench"))
PICTURES, PAGES = "scenes/lesson/pictures.py", "visual/host/pages.py"

MUTATIONS = (
    Mutation(FILE, "            if self._differs():\n", "            if False:\n", ROOM),
    Mutation(FILE, "        if number < self._newest:\n            return\n", "", ROOM),
    Mutation(FILE, 'text.replace("\\n", "\\r\\n").encode() if', "text.encode() if", ROOM),
    Mutation(DRAFT, "        self._after.clear()\n", "", ROOM),
    Mutation(DRAFT, "            self._take(Edition(document, lesson))", "            self._now = Edition(document, lesson)", ROOM),
    Mutation(DOCUMENT, "lead=self.lead + _comments_within(self.body), ", "", ROOM),
    Mutation(DOCUMENT, "replace(part, number=numbers[part.body].pop(0)) if numbers.get(part.body) else part", "part", ROOM),
    Mutation(BENCH, "        if self.unsound:\n", "        if False:\n", ROOM),
    Mutation(BENCH, 'return "" if self.opened else super().address', "return super().address", ROOM),
    Mutation(BENCH, "        if not self.opened:\n            raise", "        if False:\n            raise", ROOM),
    Mutation(BENCH, "        if not self.opened:\n            super()._is_given()", "        super()._is_given()", ROOM),
    Mutation("scenes/lesson/lesson_bench.py", "        if self._began is None:\n", "        if True:\n", CLOCK),
    Mutation(BENCH, "            self.page = self.step\n", "            pass\n", ROOM),
    Mutation(PICTURES, "        if max(size) > LONGEST_SIDE:\n", "        if False:\n", ROOM),
    Mutation(PICTURES, "            if not file.resolve().is_relative_to(self._beside.resolve()):\n", "            if False:\n", ROOM),
    Mutation("scenes/lesson/toml_text.py", ".replace('\"\"\"', '\"\"\\\\\"')", "", ROOM),
    Mutation("scenes/bench/prediction.py", "        self.own = own\n", "", ROOM),
    Mutation("scenes/bench/prediction.py", "number, kept or {})", "number)", KINDS),
    Mutation(DRAFT, '({} if votes else {"vote": None})', "{}", KINDS),
    Mutation(PAGES, "        if name not in self.bench.pictures:\n", "        if False:\n", WIRE),
)  # fmt: skip
