"""The lesson: the built-in one can be given as it stands, and what is wrong with another is told with its line."""

from __future__ import annotations

import json
import re
import resource
import signal
import sys

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.prediction import Prediction
from scenes.lesson.lesson import LONGEST_CAPTION, Lesson, LessonError, built_in, read
from scenes.lesson.lesson_bench import SPEAKERS_PAGE, LessonBench
from scenes.lesson.toml_lines import TomlLines
from tests import programs
from visual.host.server import Host
from visual.host.viewers import Viewer

HEAD = 'title = "t"\n\n[[step]]\nscene = "pushed-conductor"\n'
STEPS = read(built_in(), "").steps


@pytest.fixture
def bench():
    return LessonBench(Host(), read(built_in(), ""))


def test_the_built_in_lesson_covers_every_scene_in_order_in_40_to_60_steps():
    assert 40 <= len(STEPS) <= 72
    order = list(dict.fromkeys(step.scene for step in STEPS))
    assert order == list(catalogue.NAMES)
    for step in STEPS:
        assert 8 <= len(step.caption) <= 90 and step.notes
    assert sum(bool(step.question) for step in STEPS) >= 8


@pytest.mark.parametrize("number", range(1, len(STEPS) + 1))
def test_every_step_can_be_set_up_and_its_question_answered(number):
    step = STEPS[number - 1]
    scene = catalogue.scene_class(step.scene)()
    step.set_up(scene)
    if step.question:
        prediction = Prediction()
        step.put_question(prediction, scene)
        assert prediction.answer(prediction.question.answer) is True
    scene.step(0.03)
    assert scene.readings()


SECOND = HEAD + '\n[[step]]\n\nscene = "moved-conductor"\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "line 1: a lesson has from 1 to 999 steps, each beginning with [[step]]."),
        ('title = "t"\n[[step]\n', "line 2: "),
        (HEAD + "caption = no quotes\n", "line 5: this value cannot be read; put text in quotes."),
        (HEAD + 'caption = "not closed\nhold = true\n', "line 5: a quote must be closed on the line where it opens."),
        (HEAD + 'notes = """not closed\n\n\n', "line 5: "),
        (HEAD + "hold\n", "line 5: "),
        (HEAD + "hold = true\nhold = false\n", "line 6: cannot overwrite a value."),
        (HEAD + "notes = " + "[" * 5000 + "\n", "line 1: brackets are nested too deeply."),
        ('titel = "t"\n' + HEAD, "line 1: a lesson has no 'titel'; did you mean title?"),
        ('# mine\ncaption = "c"\n' + HEAD, "line 2: caption belongs to a step, below its [[step]]."),
        ("title = 5\n[[step]]\nscene = 'starting'\n", "line 1: title takes text in quotes, not 5."),
        ('title = "t"\n[step]\nscene = "starting"\n', "line 2: each step begins with [[step]], in double brackets."),
        (HEAD + 'captoin = "x"\n', "line 5: a step has no 'captoin'; did you mean caption?"),
        (
            HEAD + "qqqq = 1\n",
            "line 5: a step has no 'qqqq'; it has scene, settings, view, readings, caption, notes, minutes, question, vote, go_on, hold,",
        ),
        (HEAD + "caption = 3\n", "line 5: caption takes text in quotes, not 3."),
        (HEAD + f'caption = "{"x" * 121}"\n', f"line 5: a caption has at most {LONGEST_CAPTION} characters, this one 121."),
        (HEAD + 'hold = "yes"\n', "line 5: hold takes true or false, not 'yes'."),
        (HEAD + "settings = 8\n", "line 5: settings takes settings in braces, { name = value }, not 8."),
        (HEAD + "settings = { current = 99 }\n", "line 5: current takes a number from -20 to 20 A, not 99."),
        (HEAD + "settings = { curent = 9 }\n", "line 5: pushed-conductor has no setting 'curent'; did you mean current?"),
        (HEAD + "settings.tilt = 30\nsettings.field = 'left'\n", "line 6: field takes one of up, down, not 'left'."),
        (HEAD + "[step.settings]\ntilt = 30\n\nfield = 'left'\n", "line 8: field takes one of up, down, not 'left'."),
        (HEAD + 'view = "inside"\n', "line 5: pushed-conductor is seen from corner, front, side, not 'inside'."),
        (HEAD + 'readings = "F"\n', """line 5: readings takes names in brackets, ["F", "I"], not 'F'."""),
        (HEAD + "readings = []\n", 'line 5: readings takes from 1 to 5 names in brackets, ["F", "I"], not []'),
        (HEAD + "hold = true\nreadings = ['F', 3]\n", "line 6: readings takes from 1 to 5 names in brackets"),
        (HEAD + "readings = ['F', 'Fx']\n", "line 5: pushed-conductor has no reading 'Fx' in this step; did you mean F?"),
        (
            HEAD + "readings = [\n  'F',\n  'zz',\n]\n",
            "line 5: pushed-conductor has no reading 'zz' in this step; it has F, α, B, I, l, θ.",
        ),
        (HEAD + "question = 0\n", "line 5: A question's number is from 1 to 9999, not '0'."),
        (
            HEAD + "question = 'yes'\n",
            "line 5: question takes true, the number of a question, or your own, [step.question], not 'yes'.",
        ),
        (
            HEAD + "[step.question]\ntext = 't'\nchoices = ['a', 'b']\nright = 3\n",
            "line 8: right takes the number of the right choice, from 1 to 2, not 3.",
        ),
        (HEAD + "[step.question]\ntext = 't'\nchoises = ['a']\n", "line 7: choises is nothing that a question has; did you mean choices?"),
        (
            HEAD + "[step.question]\ntext = 't'\nchoices = ['a', 2]\nright = 1\n",
            "line 7: choices are texts of at most 120 characters, none empty.",
        ),
        (HEAD + "[step.question]\ntext = 't'\nchoices = [[1]]\nright = true\n", "line 8: right takes the number of the right choice"),
        (HEAD + "question = {}\n", "line 5: text of a question is needed, at most 300 characters."),
        (HEAD + "minutes = true\n", "line 5: minutes takes a number, not True."),
        (HEAD + "minutes = nan\n", "line 5: minutes takes a number from 0 to 600."),
        (HEAD + "title = 'T'\n", "line 5: title belongs to a page, which is a step without a scene."),
        (HEAD + "\n[[step]]\ntitle = 'T'\nview = 'side'\n", "line 8: view belongs to a step with a scene."),
        (HEAD + "\n[[step]]\ntext = 'T'\nquestion = 7\n", "line 8: a page has no set-up to ask about"),
        (HEAD + f"\n[[step]]\ntitle = '{'x' * 81}'\n", "line 7: a title has at most 80 characters, this one 81."),
        (HEAD + "question = 7\nsettings = { current = 1 }\n", "line 6: a numbered question brings its own settings, so the step"),
        ("title = 't'\n[[step]]\ncaption = 'c'\n", "line 2: a step needs a scene, or else a title, a text or a picture of its own."),
        (
            HEAD + "\n[[step]]\n\nscene = 'pushed-conducter'\n",
            "line 8: There is no scene 'pushed-conducter'; did you mean pushed-conductor?",
        ),
        (SECOND + "settings = { turns = 0 }\n", "line 9: turns takes a number from 1 to 200, not 0."),
        # what looks like a step within a text is none
        (HEAD + 'notes = """\n[[step]]\nhold = 1\n"""\nhold = 2\n', "line 9: hold takes true or false, not 2."),
        (SECOND.replace("\n", "\r\n") + "hold = 3\r\n", "line 9: hold takes true or false, not 3."),
    ],
)
def test_a_bad_lesson_is_told_with_file_and_line(text, said, tmp_path, capsys):
    with pytest.raises(LessonError) as wrong:
        read(text, "mine.toml")
    assert str(wrong.value).startswith("mine.toml, " + said), str(wrong.value)
    assert "\n" not in str(wrong.value) and str(wrong.value)[-1] in ".?"
    file = tmp_path / "mine.toml"
    file.write_bytes(text.encode())
    assert main(["lesson", str(file), "--notes"]) == 2
    assert capsys.readouterr().err.startswith(f"thumbwise: {file}, line ")


def test_where_keys_of_a_toml_text_stand():
    lines = TomlLines(
        "# first\n"
        'title = "a # b = c"\n'
        "[[step]] # one\n"
        "  notes = '''\n[[step]]\nscene = 1\n'''\n"
        "many = [\n  1, # ]\n  2,\n]\n"
        'settings = { "one" = 1, two = "}" }\n'
        "\n"
        "[[step]]\n"
        '"quoted key" = """ends in a quote"""""\n'
        "settings . current=5\n"
        "[step.more]\n"
        "deep = true\n"
    )
    for path, line in {
        ("title",): 2,
        ("step", 0): 3,
        ("step", 0, "notes"): 4,
        ("step", 0, "many"): 8,
        ("step", 0, "settings", "two"): 12,
        ("step", 1): 14,
        ("step", 1, "quoted key"): 15,
        ("step", 1, "settings"): 16,
        ("step", 1, "settings", "current"): 16,
        ("step", 1, "more"): 17,
        ("step", 1, "more", "deep"): 18,
        ("step", 1, "nothing"): 14,
        ("nothing",): 1,
    }.items():
        assert lines.of(*path) == line, path


def test_files_that_are_not_there_or_no_text_or_there_already(tmp_path, capsys):
    assert main(["lesson", str(tmp_path / "none.toml")]) == 2
    assert "cannot be read: No such file" in capsys.readouterr().err
    assert main(["lesson", str(tmp_path)]) == 2
    assert "cannot be read: " in capsys.readouterr().err
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe\x00")
    assert main(["lesson", str(tmp_path / "binary.toml")]) == 2
    assert "is not UTF-8 text" in capsys.readouterr().err
    mine = tmp_path / "mine.toml"
    assert main(["lesson", "--write", str(mine)]) == 0
    assert read(mine.read_text("utf-8"), "mine") == read(built_in(), "built in")
    mine.write_text("my own work")
    assert main(["lesson", "--write", str(mine)]) == 2
    assert "already exists" in capsys.readouterr().err and mine.read_text() == "my own work"
    assert main(["lesson", "--write", str(tmp_path / "no" / "folder.toml")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_a_full_disk_leaves_no_half_of_a_lesson(tmp_path, capsys):
    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))

    mine = tmp_path / "mine.toml"
    process = programs.run(
        [sys.executable, "-B", "-m", "scenes", "lesson", "--write", str(mine)], capture_output=True, text=True, preexec_fn=limit
    )
    assert process.returncode == 2 and process.stderr == f"thumbwise: {mine} cannot be written: file too large.\n"
    assert not mine.exists()


def test_a_file_as_windows_writes_it_is_read(tmp_path, capsys):
    mine = tmp_path / "mine.toml"
    mine.write_bytes(b"\xef\xbb\xbf" + (HEAD + 'caption = "Größe"\nnotes = "Say: so."\n').replace("\n", "\r\n").encode())
    assert main(["lesson", str(mine), "--notes"]) == 0
    assert "1. pushed-conductor: Größe\n   Say: so." in capsys.readouterr().out


def test_the_keys_walk_the_steps_and_the_address_holds_them(bench):
    assert bench.host.published["step"]["number"] == 1 and bench.host.published["address"] == "step=1"
    bench.receive({"do": "previous"})
    assert bench.host.published["step"]["number"] == 1
    for number, step in enumerate(STEPS, 1):
        told = {"number": number, "count": len(STEPS), "caption": step.caption, "title": bench.lesson.title, "page": None}
        assert bench.host.published["step"] == told and bench.host.published["address"] == f"step={number}"
        assert bench.scene.name == step.scene and bench.running is not step.hold
        assert bool(bench.prediction.waiting) == bool(step.question)
        assert step.question or bench.answers_shown is step.answers
        assert bench.scene.view == (step.view or bench.scene.views[0].name)
        if step.question in (False, True):
            wanted = {control.name: control.default for control in bench.scene.controls} | step.settings
            assert bench.scene.settings == {name: bench.scene.by_name[name].checked(value) for name, value in wanted.items()}
        if step.question:
            bench.receive({"do": "next"})
            assert bench.host.published["step"]["number"] == number, "the way on leads by the answer"
            assert bench.host.published["question"]["answer"] and bench.host.published["question"]["right"] is None
            assert bench.prediction.asked == 0
        bench.receive({"do": "next"})
    assert bench.host.published["step"]["number"] == len(STEPS)
    bench.receive({"do": "previous"})
    assert bench.host.published["step"]["number"] == len(STEPS) - 1


def test_a_page_that_is_opened_at_a_step_brings_it_back(bench):
    bench.receive({"do": "open", "address": "step=7"})
    assert bench.host.published["step"]["number"] == 7
    bench.receive({"do": "set", "name": "current", "value": -3})
    bench.receive({"do": "open", "address": "step=7", "run": bench.run_word})
    bench.receive({"do": "open", "address": "step=7", "run": None})
    assert bench.scene["current"] == -3, "a page that comes back does not set the step up anew"
    for nonsense in ("step=0", "step=999", "step=x", "step=%C2%B2", "step=" + "9" * 50):
        bench.receive({"do": "open", "address": nonsense})
        assert bench.host.published["step"]["number"] == 7
        assert "The lesson has steps from 1 to" in bench.host.published["notice"]["text"]
    bench.receive({"do": "open", "address": "scene=starting"})
    assert bench.scene.name == "starting"
    bench.receive({"do": "scene", "name": "turning-field"})
    assert STEPS[bench.place].scene == "turning-field" != STEPS[bench.place - 1].scene
    bench.receive({"do": "scene", "name": "nothing"})
    assert "There is no scene" in bench.host.published["notice"]["text"]


def question_step() -> int:
    return next(place for place, step in enumerate(STEPS) if step.question)


def told_to(bench, role, hears=None) -> dict:
    """Everything that a page of that role is told when it is opened now."""
    sent = []
    viewer = Viewer(sent.append, bench.host.heard_by(role), role, hears=hears)
    viewer.tell(bench.host.stream, bench.host.heard_by(role), bench.host.chart, {})
    return json.loads(sent[0])


def at_caption(bench, words: str) -> None:
    """Walk on to the step whose caption begins so, each step shown for a while."""
    for _ in range(200):
        if bench.lesson.steps[bench.place].caption.startswith(words):
            return
        bench.go_to(bench.place + 1)
    raise AssertionError(words)


def settled(bench, seconds: float) -> dict[str, float]:
    """What is read when the bench has run for `seconds` of its scene's own time."""
    for _ in range(round(seconds / 0.1)):
        bench.frame(0.1 * bench.scene.slowness)
    return {reading.symbol: reading.value for reading in bench.scene.readings()}


def number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-"))


def test_what_turns_goes_on_into_the_step_that_loads_it(bench):
    at_caption(bench, "Feed it from a battery")
    before = settled(bench, 6)
    assert bench.host.chart.points
    bench.walk(1)
    assert bench.lesson.steps[bench.place].caption.startswith("Load it: it slows")
    assert bench.host.chart.points, "the curve before is gone"
    after = settled(bench, 6)
    assert (
        0 < number(after["n"]) < number(before["n"])
        and number(after["E"]) < number(before["E"])
        and number(after["I"]) > number(before["I"])
    )
    bench.go_to(bench.place)  # as a page that is opened there has it: from rest
    assert number(settled(bench, 0)["n"]) == 0


def test_the_cage_never_catches_the_field_and_slips_more_when_it_is_loaded(bench):
    at_caption(bench, "Let it go")
    slips = []
    for _ in range(2):
        for _ in range(300):
            bench.scene.step(0.02)
        slips.append(1 - bench.scene.now.moment.rotor_speed / bench.scene.now.synchronous)
        bench.walk(1)
    assert 0.002 < slips[0] < 0.02 and slips[0] < slips[1] / 5 < 0.1


def test_the_conveyor_starts_direct_but_not_in_star(bench):
    at_caption(bench, "A loaded conveyor")
    scene = bench.scene
    assert scene.starts.at_once(scene.setup.case_by("direct")).start.starts
    assert not scene.starts.at_once(scene.setup.case).start.starts
    bench.receive({"do": "next"})  # the answer
    read = settled(bench, 2)
    assert number(read["n"]) == 0 and number(read["q"]) > 1
    assert max(x for x, _ in bench.scene.plot().lines[0].points) == 5


def test_only_the_speaker_is_told_the_notes_the_next_step_and_the_answer(bench):
    bench.go_to(question_step())
    step, following = STEPS[bench.place], STEPS[bench.place + 1]
    question = bench.prediction.question
    prompt = told_to(bench, "speaker", SPEAKERS_PAGE.hears)["prompt"]
    assert prompt["notes"] == step.notes and prompt["next"]["caption"] == following.caption
    assert prompt["answer"] == {"words": dict(question.choices)[question.answer], "reason": question.reason}
    for role in ("bench", "class", "visitor"):
        told = json.dumps(told_to(bench, role), ensure_ascii=False)
        assert "prompt" not in json.loads(told) and "clock" not in json.loads(told)
        assert question.reason not in told and following.caption not in told
        assert not any(line and line in told for line in step.notes.splitlines())
    assert "stream" not in told_to(bench, "speaker", SPEAKERS_PAGE.hears)


def test_the_answer_for_the_speaker_follows_the_set_up(bench):
    bench.show("pushed-conductor")
    bench.receive({"do": "ask", "present": True})
    first = bench.host.published_to["speaker"]["prompt"]["answer"]["words"]
    bench.receive({"do": "reverse", "what": "current"})
    assert {first, bench.host.published_to["speaker"]["prompt"]["answer"]["words"]} == {"to the left", "to the right"}
    bench.receive({"do": "enough"})
    assert bench.host.published_to["speaker"]["prompt"]["answer"] is None


def test_revealing_shows_the_answer_and_counts_nothing(bench):
    bench.receive({"do": "reveal"})
    assert "No question is waiting" in bench.host.published["notice"]["text"]
    bench.go_to(question_step())
    bench.receive({"do": "reveal"})
    shown = bench.host.published["question"]
    assert shown["answer"] and shown["reason"] and shown["right"] is None
    assert shown["score"] == {"right": 0, "asked": 0} and bench.running and bench.answers_shown
    bench.receive({"do": "ask", "seed": 3})
    bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
    assert bench.host.published["question"]["right"] is True


def test_the_clock_begins_with_the_first_picture_and_when_it_is_told_to():
    now = [100.0]
    bench = LessonBench(Host(), read(built_in(), ""), clock=lambda: now[0])

    def clock() -> dict:
        for _ in range(3):
            bench.frame(0.03)
        return bench.host.published_to["speaker"]["clock"]

    now[0] = 400.0  # nobody has opened the page yet
    assert clock() == {"lesson": 0, "step": 0, "lesson_planned": 0, "step_planned": 0}
    now[0] = 465.5
    bench.receive({"do": "next"})
    now[0] = 470.5
    assert clock() == {"lesson": 70, "step": 5, "lesson_planned": 0, "step_planned": 0}
    bench.receive({"do": "clock"})
    assert clock() == {"lesson": 0, "step": 0, "lesson_planned": 0, "step_planned": 0}


SPOKEN_OF = {  # in a caption, and how the readings call it: our own reading of the words
    r"\bforces?\b": "force",
    r"\bvoltage": "EMF|voltage",
    r"\btorque": "torque",
    r"\bslip\b": "slip",
    r"(?<!drive the )\bcurrents?\b": "current",
    r"\b(speed(?!\.)|slows|faster)\b": "speed",
    r"\bheat\b": "heat",
    r"\bfield\b": "field|direction|force|EMF|flux|speed of the rotor|laps",
}


@pytest.fixture(scope="module")
def walked():
    """One bench for all steps: to read the lesson anew for each takes long."""
    return LessonBench(Host(), Lesson("", STEPS))


@pytest.mark.parametrize("number", range(1, len(STEPS) + 1))
def test_a_step_has_in_sight_what_it_speaks_of(walked, number):
    walked.go_to(number - 1)
    readings, named = walked.host.published["readings"], STEPS[number - 1].readings
    in_sight = [reading for reading in readings if reading["first"]]
    assert in_sight == readings[: len(in_sight)], "one that is folded away stands before one that is not"
    assert 3 <= len(in_sight) <= 5 and len(readings) - len(in_sight) != 1
    assert named, "every step says which figures matter"
    said = [reading["symbol"] or reading["words"] for reading in in_sight]
    for place, name in enumerate(named):  # a subscript as plain letters, by our own table
        plain = said[place].translate(str.maketrans("ₛₗₘᵣₑₜₐₓ₁₂₊₋", "slmretax12+−"))
        assert plain == name or plain.startswith((f"{name},", f"{name}:")), (name, said)
    for word, called in SPOKEN_OF.items():
        if re.search(word, STEPS[number - 1].caption, re.IGNORECASE):
            assert any(re.search(called, reading["words"]) for reading in in_sight), (STEPS[number - 1].caption, word, said)


def test_a_scene_shown_beside_the_lesson_has_its_usual_readings_in_sight(walked):
    walked.go_to(20)
    walked.show("cage-rotor")
    walked.show_state()
    shown = walked.host.published["readings"]
    assert [reading["symbol"] for reading in shown if reading["first"]] == ["nₛ", "n", "s", "fᵣ"]
    assert [reading["symbol"] for reading in shown] == [reading.symbol for reading in walked.scene.readings()]
