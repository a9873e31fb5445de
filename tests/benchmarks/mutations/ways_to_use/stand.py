"""Breaks of the exhibit: what a tour says, what stays set, what is counted, and what systemd is told."""

from tests.benchmarks.mutation import Mutation

LOOP, CLAIMS = ("tests/scenes/exhibit/test_exhibit.py",), ("tests/scenes/exhibit/test_short_tour.py",)
VISITORS, COUNTS = ("tests/scenes/exhibit/test_visitors.py",), ("tests/scenes/exhibit/test_counts.py",)
SOAK = ("tests/browser/ways_to_use/test_stand_soak.py",)
SUBJECTS, FILLED = ("tests/scenes/exhibit/test_subjects.py",), "scenes/exhibit/subjects.py"
FILE, TOLD = ("tests/scenes/exhibit/test_tour_file.py",), ("tests/scenes/test_service_manager.py",)
LANGUAGE, DRIVEN = ("tests/scenes/exhibit/test_language.py",), ("tests/scenes/exhibit/test_driven.py",)
DRAWN = "visual/apparatus/driven.py"
BENCH, ATTEMPTS, SCREEN = "scenes/exhibit/exhibit.py", "scenes/exhibit/attempts.py", "scenes/exhibit/screen.py"
READER, TOUR, STOPS = "scenes/exhibit/tour_file.py", "scenes/exhibit/short_tour.toml", "scenes/exhibit/stop_reader.py"

MUTATIONS = tuple(
    Mutation(*each)
    for each in (
        (BENCH, "            self.language = self.tour.first_language\n", "            pass\n", VISITORS),
        (BENCH, "if self.here == ATTRACT and not self.use.on:", "if self.here == ATTRACT:", LANGUAGE),
        (BENCH, "self.held = self.use.on and self.language", "self.held = False and self.language", LANGUAGE),
        (BENCH, "messages.Next | messages.Previous)", "messages.Next | messages.Previous | messages.Speak)", LANGUAGE),
        (BENCH, "        while place > 0 and self.tour", "        while False and self.tour", LANGUAGE),
        (DRAWN, "self.put(self.ratio * self.angle)", "self.put(-self.ratio * self.angle)", DRIVEN),
        (DRAWN, "math.remainder(self.RADIUS * turned", "math.remainder(-self.RADIUS * turned", DRIVEN),
        (DRAWN, "self.FRONT), -1 / gear)", "self.FRONT), 1 / gear)", DRIVEN),
        ("visual/apparatus/lift.py", "down = -self.RADIUS", "down = self.RADIUS", DRIVEN),
        ("visual/apparatus/lift.py", "+ 2 * down % self.PASSES", "+ down % self.PASSES", DRIVEN),
        ("scenes/exhibit/driven.py", "/ 60 / stop.gear", "/ 60", DRIVEN),
        ("scenes/exhibit/driven.py", "            self.seen.visible = False\n", "            pass\n", DRIVEN),
        ("scenes/drives/braking/scene.py", "lambda now: now.rotor_angle", "lambda now: -now.rotor_angle", DRIVEN),
        (FILLED, "KINDS[stop.drives].boxes if stop.drives else ()", "()", DRIVEN),
        (SCREEN, "        self.on_the_shaft.follow(self.scene)\n", "", DRIVEN),
        (SCREEN, "said(own.why, self.language) if own else", "'' if own else", CLAIMS),
        (SCREEN, "or self.attempts.goes_on(wanted)", "or True", CLAIMS),
        (STOPS, 'if language.split("-")[0] != "fr"', "if True", FILE),
        (STOPS, "sorted(self.lacking, key=lambda each: each[0])]", "self.lacking[:1]]", FILE),
        (BENCH, "            scene.set_all(scene.defaults)\n", "            pass\n", VISITORS),
        (BENCH, "return not isinstance(wanted, messages.Turn | messages.Press) and not", "return not", VISITORS),
        (BENCH, "if self.prediction.posed.answer not in wanted.answers:", "if False:", CLAIMS),
        (BENCH, "                    self.counts.keep_soon()", "                    pass", SOAK),
        (BENCH, "right=int(self.prediction.posed.is_right(choice))", "right=1", VISITORS),
        (BENCH, "longest=round(self.use.lasted)", "longest=round(self.use.quiet)", VISITORS),
        (BENCH, "and not self.use.on\n        if asleep", "\n        if asleep", FILE),
        (BENCH, "if not self.held and self.stayed", "if self.stayed", LOOP),
        (BENCH, "        self.broken = False\n        self.failed = True", "        self.failed = True", LOOP),
        ("scenes/exhibit/use.py", "        self.lasted = self._since\n", "", VISITORS),
        ("scenes/exhibit/use.py", "return self.untouched < self.quiet", "return self.untouched <= self.quiet", LOOP),
        ("scenes/exhibit/tour.py", "begins <= moment < ends if begins < ends", "begins <= moment < ends if True", FILE),
        (ATTEMPTS, "self.scene.slowness * self.scene.eye.side", "self.scene.eye.side", CLAIMS),
        (ATTEMPTS, "STANDS, FOR = 0.5, 0.5", "STANDS, FOR = 0.5, 0.0", ("tests/scenes/exhibit/test_attempts.py",)),
        (ATTEMPTS, "speed = 60 * self.turning", "speed = -60 * self.turning", CLAIMS),
        (ATTEMPTS, "bool(wanted.again) and (self.stands or", "bool(wanted.again) and (", CLAIMS),
        (SCREEN, "wanted.again if wanted.again and self.attempts.begins_again(wanted) else", "", CLAIMS),
        (SCREEN, "stop, self.holds_a_hand)", "stop, True)", SUBJECTS),
        (SCREEN, "self.stop.hand or (self", "(self", SUBJECTS),
        (SCREEN, " and not (tried and tried.answers))", ")", SUBJECTS),
        (FILLED, "forward=(0.56, -0.62, -0.55)", "forward=(0.42, -0.62, -0.66)", SUBJECTS),
        (FILLED, ", forward=(0.17, -0.7, -0.72)", "", SUBJECTS),
        (FILLED, "(-0.18, -0.09, -0.135), (-0.12, -0.03, -0.1)", "(0, 0, 0), (0, 0, 0)", SUBJECTS),
        (FILLED, "if box[1][0] > wanted.left", "", SUBJECTS),
        ("scenes/scene/story.py", "right is None or not self.hands", "right is None", SUBJECTS),
        (ATTEMPTS, "self.turning *= math.exp(-seconds / RUNS_DOWN)", "pass", CLAIMS),
        (SCREEN, "tried.stopped if tried.stopped and self.attempts.stands else", "tried.stopped if tried.stopped else", CLAIMS),
        (SCREEN, '"right" if given == posed.answer else "wrong"', '"right"', CLAIMS),
        (SCREEN, "said(own[value], self.language) if own else words", "words", CLAIMS),
        (SCREEN, 'or ("" if speaks_english(self.language) else words)', "", CLAIMS),
        (SCREEN, "return picks if speaks_english(self.language) else []", "return picks", CLAIMS),
        (SCREEN, "elif not speaks_english(self.language):", "elif False:", CLAIMS),
        ("scenes/exhibit/tour.py", 'language.split("-")[0] == ENGLISH', "language == ENGLISH", CLAIMS),
        (ATTEMPTS, 'self.part = "" if part == self.part else part', "self.part = part", CLAIMS),
        (ATTEMPTS, 'if self.stands and wanted.does != "change" and', "if False and", CLAIMS),
        (BENCH, "leave_out_stamps(self.scene.drawn, stop.letters is not None)", "pass", CLAIMS),
        ("visual/terminal_box/markings.py", "        self.leave_out(self.left_out)\n", "", ("tests/visual/terminal_box/test_markings.py",)),
        (STOPS, "            scene.set_all(begun)  # what", "            pass  # what", CLAIMS),
        (STOPS, "if question.answer not in answers:", "if False:", FILE),
        ("scenes/exhibit/counts.py", "self._new, {}, False", "self._new, {}, self._due", COUNTS),
        ("scenes/exhibit/tours.py", "role, after=after, plain", "role, plain", LOOP),
        (READER, "        if version > VERSION:", "        if False:", FILE),
        (STOPS, "            if code not in given:", "            if False:", FILE),
        (TOUR, 'speed = 3000, slow = "200"', 'speed = 2900, slow = "200"', CLAIMS),
        (TOUR, 'method = "load", weight = 120', 'method = "plug", weight = 120', CLAIMS),
        ("scenes/exhibit/logo.py", 'if b"<!ENTITY" in content:', "if False:", FILE),
        ("scenes/exhibit/counts.py", "fields[what] = max(fields.get(what, 0), value)", "fields[what] = value", COUNTS),
        ("scenes/exhibit/counts.py", '            _add_days(held["days"], new)\n', '            held["days"].update(new)\n', COUNTS),
        ("scenes/exhibit/counts.py", "        _set_aside(path)\n", "", COUNTS),
        ("scenes/exhibit/counts.py", 'held["version"] > VERSION:', 'held["version"] > 9:', COUNTS),
        ("scenes/service_manager.py", "if not host.viewers or host.frames > before:", "if True:", TOLD),
        ("scenes/service_manager.py", "or meant != str(os.getpid())", "", TOLD),
    )
)
