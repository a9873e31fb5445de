"""A tour from a file: what it says is shown, and what is wrong in it is told with its line."""

from __future__ import annotations

import base64
import re
from datetime import datetime, time
from types import SimpleNamespace

import pytest

from scenes.__main__ import main
from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.stop_reader import LONGEST_CAPTION, OF_A_STOP, OF_A_TRY, WAYS
from scenes.exhibit.tour import ATTRACT, COUNTED, QUIET, USUAL_WORDS, said
from scenes.exhibit.tour_file import TourError, built_in, read
from visual.host.server import Host

SMALL = '[attract]\nscene = "alternator"\n\n[[stop]]\nscene = "pushed-conductor"\ncaption = "It is pushed."\n'
HEAD = f"version = 1\n{SMALL}"  # the stop begins on line 5, its caption is on line 7
TWO = '[languages]\nen = "English"\nde = "Deutsch"\n'
A_TRY = '[[stop.try]]\nbutton = "Press"\n'
PNG = base64.b64decode("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==")
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="8" height="8"><circle cx="4" cy="4" r="3"/></svg>'


def test_a_small_tour_is_enough():
    tour = read(HEAD, "small")
    assert tour.attract.scene == "alternator" and [stop.scene for stop in tour.stops] == ["pushed-conductor"]
    assert tour.stops[0].caption == {"en": "It is pushed."} and tour.quiet == QUIET and tour.counted == COUNTED
    assert tour.languages == {"en": "English"} and tour.words["next"] == "Next" and not tour.sleeps_at(time(3))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "line 1: a tour says version = 1 at its head."),
        ("version = 2\n" + SMALL, "line 1: this tour is of version 2; this Thumbwise reads version 1."),
        ('version = "1"\n', "line 1: version takes a whole number, not '1'."),
        ("version = 1\n", "line 1: a tour needs [attract], the machine that turns while nobody is there."),
        ("version = 1\nvresion = 1\n", "line 2: a tour has no 'vresion'; did you mean version?"),
        ('version = 1\nscene = "starting"\n', "line 2: scene belongs to a stop, below its [[stop]]."),
        ("version = 1\nquiet = 3\n" + SMALL, "line 2: quiet takes a number from 10 to 600, not 3."),
        ("version = 1\nname = x\n", "line 2: this value cannot be read; put text in quotes."),
        ('version = 1\n[attract]\nscene = "alternator"\n', "line 1: a tour has from 1 to 99 stops, each beginning with [[stop]]."),
        ('version = 1\n[attract]\nscene = "dynamo"\n[[stop]]\n', "line 3: There is no scene 'dynamo'; there are field-round-a-wire"),
        ("version = 1\n[attract]\ngo_on = true\n[[stop]]\n", "line 3: [attract] has no 'go_on'; it has scene, settings"),
        (HEAD.replace('caption = "It is pushed."', ""), "line 5: a stop needs a caption."),
        (HEAD.replace("It is pushed.", "x" * 111), f"line 7: caption has at most {LONGEST_CAPTION} characters, this one 111."),
        (HEAD + "settings = { curent = 3 }\n", "line 8: pushed-conductor has no setting 'curent'; did you mean current?"),
        (HEAD + "settings = { current = 300 }\n", "line 8: current takes a number from -20 to 20 A, not 300."),
        (HEAD + 'view = "moon"\n', "line 8: pushed-conductor is seen from corner, front, side, not 'moon'."),
        (HEAD + "seconds = 1\n", "line 8: seconds takes a number from 5 to 600, not 1."),
        (HEAD + 'letters = ["N", "S", "B", "F"]\n', "line 8: letters takes at most 3 letters in brackets"),
        (HEAD + "go_on = true\n", "line 8: go_on goes on in the scene of the stop before."),
        (HEAD + A_TRY, "line 8: something to try needs do."),
        (HEAD + A_TRY + 'do = "dance"\n', "line 10: there is nothing to do called 'dance'; did you mean change?"),
        (HEAD + A_TRY + 'do = "reverse"\n', "line 8: what is reversed is current or field, not ''."),
        (HEAD + A_TRY + 'do = "change"\nwhat = "filed"\n', "line 11: pushed-conductor has no number 'filed'; it has current, tilt."),
        (HEAD + A_TRY + 'do = "change"\nwhat = "current"\n', "line 8: change needs by, the number by which it goes up or down."),
        (HEAD + A_TRY + 'do = "turn"\nwhat = "current"\n', "line 11: what a visitor turns is a speed in r/min, and current is none."),
        (HEAD + A_TRY + 'do = "ask"\n', "line 8: ask needs a question, and answers with words for two of the scene's choices or more."),
        (
            HEAD + A_TRY + 'do = "ask"\nquestion = "Where to?"\nanswers = { up = "Up", down = "Down" }\n',
            "line 12: the right answer here is to the left, which answers lacks.",
        ),
        (
            HEAD + A_TRY + 'do = "ask"\nquestion = "Where to?"\nanswers = { up = "Up", aside = "Aside" }\n',
            "line 12: the scene's question has no choice 'aside'; it has to the left",
        ),
        (HEAD + 'drives = "fna"\n', "line 8: nothing called 'fna' can be drawn on a shaft; did you mean fan?"),
        (HEAD + 'drives = "fan"\n', "line 8: pushed-conductor has no shaft in its picture on which something could be drawn."),
        (HEAD + "gear = 5\n", "line 8: gear is that of what the shaft drives, which drives names."),
        (
            HEAD.replace("pushed-conductor", "alternator") + 'drives = "fan"\nwheel = 0\n',
            "line 9: wheel takes a number from 0.02 to 20, not 0.",
        ),
        (HEAD + "[stop.parts]\nrod = 'A rod.'\n", "line 9: There is nothing to press in this scene."),
        (
            HEAD.replace("pushed-conductor", "inside-a-motor") + "[stop.parts]\nfna = 'A fan.'\n",
            "line 9: The cage motor has the parts shaft, key,",
        ),
        ('version = 1\n[languages]\nEnglish = "en"\n' + SMALL, "line 3: a language's code is as en or de or pt-BR, not 'English'."),
        ("version = 1\n[words]\nprevious = 'Back'\n" + SMALL, "line 3: words has no 'previous'; it has touch, next"),
        ('version = 1\ncount = ["faces"]\n' + SMALL, "line 2: there is nothing to count called 'faces'; did you mean touches?"),
        ('version = 1\nsleep = { from = "18:00" }\n' + SMALL, "line 2: sleep takes hours in braces"),
        ('version = 1\nsleep = { from = "18:00", to = "9" }\n' + SMALL, "line 2: an hour is as \"18:00\", not '9'."),
        ('version = 1\nsleep = { from = "09:00", to = "09:00" }\n' + SMALL, "line 2: the hours of sleep begin and end at the same time."),
        ('version = 1\nlogo = "none.png"\n' + SMALL, "line 2: The logo none.png cannot be read: no such file or directory."),
    ],
)
def test_a_bad_tour_is_told_with_file_and_line(text, said, tmp_path, capsys):
    with pytest.raises(TourError) as wrong:
        read(text, "tour.toml")
    assert str(wrong.value).startswith(f"tour.toml, {said}")
    file = tmp_path / "tour.toml"
    file.write_text(text, "utf-8")
    assert main(["exhibit", str(file)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_all_that_a_language_lacks_is_told_in_one_go(tmp_path, capsys):
    """Each with its own line, found here by looking for it in the text."""
    whole = built_in("open_day")
    gone = [', de = "Weiter"', ', de = "Weicheres Holz"', ', de = "Nach links"', ', de = "Hier kommt das Kabel herein."']
    names = ["next", "button", "to the left", "terminal-box"]
    lines = [whole[: whole.index(each)].count("\n") + 1 for each in gone]
    text = whole
    for each in gone:
        text = text.replace(each, "")
    text = text.replace('slow = { en = "Slow motion", de = "Zeitlupe" }', "#").replace(
        'wait = { en = "One moment", de = "Einen Augenblick" }', "#"
    )
    (tmp_path / "tour.toml").write_text(text, "utf-8")
    assert main(["exhibit", str(tmp_path / "tour.toml")]) == 2
    told = capsys.readouterr().err.splitlines()
    words = next(number for number, line in enumerate(text.splitlines(), 1) if line == "[words]")
    expected = [(line, f"{name} lacks its text in Deutsch (de).") for line, name in zip(lines, names, strict=True)]
    expected.append((words, "words lacks slow ('Slow motion'), wait ('One moment'), which each language needs."))
    assert sorted(line.split("tour.toml, ")[1] for line in told) == sorted(f"line {line}: {what}" for line, what in expected)
    numbers = [int(line.split("tour.toml, line ")[1].split(":")[0]) for line in told]
    assert numbers == sorted(numbers), "in the order of the file"
    read(whole, "x")


def test_where_no_words_are_given_the_line_is_that_of_the_languages():
    with pytest.raises(
        TourError, match=r"x, line 2: words lacks touch \('Touch'\), next \('Next'\), slow .*\nx, line 10: caption needs a text"
    ):
        read(f"version = 1\n{TWO}{SMALL}", "x")


def test_a_tour_made_before_there_was_a_way_back_opens_still():
    text = re.sub(r"(?m)^back = .*\n", "", built_in("open_day"))
    assert text != built_in("open_day") and said(read(text, "x").words["back"], "de") == "\N{LEFTWARDS ARROW}"
    assert said(read(built_in(), "x").words["back"], "en") == "Back"


def test_in_french_no_line_ends_before_a_colon_or_question_mark():
    text = f"version = 1\n{TWO}{SMALL}".replace("de", "fr").replace("Deutsch", "Français")
    text = text.replace('caption = "It is pushed."', 'caption = { en = "Which way ?", fr = "Par où : « là » ? Là !" }')
    words = "".join(f"{key} = {{ en = '{key}', fr = '{key} !' }}\n" for key in USUAL_WORDS)
    tour = read(text.replace("[attract]", f"[words]\n{words}[attract]"), "x")
    assert said(tour.stops[0].caption, "fr") == "Par où\xa0: «\xa0là\xa0»\xa0? Là\xa0!"
    assert said(tour.stops[0].caption, "en") == "Which way ?"
    assert said(tour.words["touch"], "fr") == "touch\xa0!"


def test_a_text_that_one_language_lacks_is_told():
    text = built_in("open_day")
    gone = text.replace(', de = "Härteres Holz"', "")
    line = text[: text.index("Härteres Holz")].count("\n") + 1
    with pytest.raises(TourError, match=rf"x, line {line}: button lacks its text in Deutsch \(de\)\."):
        read(gone, "x")
    with pytest.raises(TourError, match=r"there is no language 'fr' here"):
        read(text.replace('de = "Härteres', 'fr = "Härteres'), "x")
    with pytest.raises(TourError, match=r'caption needs a text in each language: \{ en = "\.\.\.", de = "\.\.\." \}'):
        read(
            text.replace("[[stop]]", '[[stop]]\ncaption = "English alone"', 1).replace("caption.en", "#", 1).replace("caption.de", "#", 1),
            "x",
        )


@pytest.mark.parametrize("cut", range(0, 3000, 97))
def test_a_damaged_file_is_told_or_still_a_tour(cut):
    """Cut off anywhere, or with a piece torn out: one sentence with a line, or a tour."""
    text = built_in("open_day")
    for damaged in (text[:cut], text[:cut] + text[cut + 150 :], text[:cut] + "\x00\ufffd" + text[cut:]):
        try:
            assert read(damaged, "x").stops
        except TourError as wrong:
            assert str(wrong).startswith("x, line ") and "\n" not in str(wrong)


def test_the_built_in_tour_is_written_once_and_opens(tmp_path, capsys):
    file = tmp_path / "mine.toml"
    assert main(["exhibit", "--write", str(file)]) == 0
    assert "thumbwise exhibit" in capsys.readouterr().out and file.read_text("utf-8") == built_in()
    assert main(["exhibit", "--write", str(file)]) == 2 and "already exists" in capsys.readouterr().err
    explained = built_in().split("version = 1\n")[0]
    for key in (*tour_file.OF_THE_TOUR, *OF_A_STOP, *OF_A_TRY, *WAYS):
        assert key in explained, f"{key} is not explained"


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--full", "tour.toml"], "Give a tour, or --full for all scenes, not both."),
        (["--minutes-per-scene", "2"], "Argument --minutes-per-scene: goes with --full; in a tour each stop says its seconds."),
        (["nowhere.toml"], "nowhere.toml cannot be read: No such file or directory."),
    ],
)
def test_options_that_cannot_be_are_told(options, said, capsys):
    assert main(["exhibit", *options]) == 2
    assert capsys.readouterr().err == f"thumbwise: {said}\n"


@pytest.mark.parametrize(("name", "content", "kind"), [("a.png", PNG, "png"), ("a.svg", SVG, "svg+xml")])
def test_a_logo_is_sent_to_the_page_as_it_is(tmp_path, name, content, kind):
    (tmp_path / name).write_bytes(content)
    tour = read(f'version = 1\nlogo = "{name}"\n{SMALL}', "x", tmp_path)
    bench = ExhibitBench(Host(), tour)
    begins = f"data:image/{kind};base64,"
    assert bench.host.published["logo"].startswith(begins)
    assert base64.b64decode(bench.host.published["logo"].removeprefix(begins)) == content


@pytest.mark.parametrize(
    "content", [b"", b"GIF89a", PNG[:40], b"<html></html>", b"<svg>", b'<!DOCTYPE a [<!ENTITY b "c">]>' + SVG, SVG + b" " * 500_000]
)
def test_what_is_no_logo_is_told(tmp_path, content):
    (tmp_path / "logo").write_bytes(content)
    with pytest.raises(TourError, match=r"^x, line 2: A logo "):
        read(f'version = 1\nlogo = "logo"\n{SMALL}', "x", tmp_path)


@pytest.mark.parametrize(
    ("hours", "asleep", "awake"),
    [
        ('{ from = "18:00", to = "09:00" }', [(18, 0), (23, 59), (0, 0), (8, 59)], [(9, 0), (12, 0), (17, 59)]),
        ("{ from = 12:00:00, to = 13:30:00 }", [(12, 0), (13, 29)], [(11, 59), (13, 30), (0, 0)]),
    ],
)
def test_it_sleeps_in_its_hours_and_a_touch_wakes_it(hours, asleep, awake):
    tour = read(f"version = 1\nsleep = {hours}\n{SMALL}", "x")
    clock = SimpleNamespace(now=datetime(2026, 3, 9))
    bench = ExhibitBench(Host(), tour, now=lambda: clock.now)
    for moments, sleeps in ((asleep, True), (awake, False)):
        for hour, minute in moments:
            clock.now = datetime(2026, 3, 9, hour, minute)
            bench.frame(0.1)
            bench.read_out()
            assert bench.host.published["exhibit"]["asleep"] is sleeps, (hour, minute)
    clock.now = datetime(2026, 3, 9, *asleep[0])
    bench.frame(0.1)
    drawn = bench.serial
    for _ in range(30 * 10):
        bench.frame(0.1)
    assert bench.serial == drawn, "it does not go through its stops in its sleep"
    bench.receive({"do": "touch"})
    bench.frame(0.1)
    assert bench.here == 0 and not bench.asleep, "nor while somebody is there"
    for _ in range(int(QUIET) + 1):
        bench.frame(1.0)
    assert bench.here == ATTRACT and bench.asleep
