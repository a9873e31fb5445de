"""A lesson's file: what is wrong with it is told with its line, and a good one is read."""

from __future__ import annotations

import resource
import signal
import sys

import pytest

from scenes.__main__ import main
from scenes.lesson.lesson import LONGEST_CAPTION, LessonError, built_in, read
from scenes.lesson.toml_lines import TomlLines
from tests import programs

HEAD = 'title = "t"\n\n[[step]]\nscene = "pushed-conductor"\n'
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
            "line 5: question takes true, the number of a question, { kind = NAME, number = N }, or your own, [step.question], not 'yes'.",
        ),
        (
            HEAD + "hold = true\nquestion = { kind = 'figures' }\n",
            "line 6: pushed-conductor has no kind of question 'figures'; it has forward, current, poles, figure, compare, why.",
        ),
        (HEAD + "[step.question]\nkind = 'zzz'\n", "line 5: pushed-conductor has no kind of question 'zzz'; it has forward, current,"),
        (HEAD + "question = { kind = 3 }\n", "line 5: kind takes text in quotes, not 3."),
        (HEAD + "question = { kind = 'why', numbr = 3 }\n", "line 5: a question of a kind has no 'numbr'; did you mean number?"),
        (HEAD + "question = { kind = 'why', number = 0 }\n", "line 5: A question's number is from 1 to 9999, not '0'."),
        (
            HEAD + "question = { kind = 'figure' }\nvote = true\n",
            "line 6: vote needs a question with choices, and this one takes a figure.",
        ),
        (
            HEAD.replace("pushed-conductor", "one-phase") + "question = { kind = 'forward' }\nsettings = { asked = 'trips' }\n",
            "line 5: The question \u201cwhether it runs, and which way\u201d needs Question about: ",
        ),
        (HEAD + "\n[[step]]\ntext = 'T'\nquestion = { kind = 'why' }\n", "line 8: a page has no set-up to ask about"),
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
    assert "1. pushed-conductor: Größe\n   Notes:\n   Say: so." in capsys.readouterr().out
