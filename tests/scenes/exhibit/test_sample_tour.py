"""The sample in two languages: what it claims is so, and nothing is said but what the file says in the visitor's language."""

from __future__ import annotations

import tomllib

import pytest

from scenes.exhibit import tour_file
from scenes.exhibit.tour import USUAL_WORDS, said
from scenes.machines.inside_a_motor.parts import PARTS
from tests.oracle import hue
from tests.scenes.exhibit.awake import OPEN_DAY, SHORT
from visual.solid.told import told


def test_the_rod_of_the_open_day_goes_the_other_way_and_the_words_are_in_both_languages(visit):
    rod = visit(OPEN_DAY, "pushed aside")
    assert rod.scene.question().answer == "to the left" and rod.scene.now.force[0] < 0
    rod.bench.receive({"do": "speak", "language": "de"})
    rod.press("Plus und Minus tauschen")
    assert rod.screen["caption"] == "Der Strom fließt jetzt andersherum. Wohin geht der Stab?"
    rod.bench.receive({"do": "answer", "choice": "to the left"})
    assert rod.screen["caption"].startswith("Nicht ganz. Schau: Nach rechts. Dreht man den Strom um") and rod.scene.now.force[0] > 0


def in_the_file(language: str) -> set[str]:
    """Every text that the open day's file has in that language, and what it says of an answer."""

    def found(value, key=""):
        if isinstance(value, dict):
            return [text for name, each in value.items() for text in found(each, name)]
        if isinstance(value, list):
            return [text for each in value for text in found(each)]
        return [value] if key == language else []

    data = tomllib.loads(tour_file.built_in("open_day"))
    asked = [each for stop in data["stop"] for each in stop.get("try", []) if "answers" in each]
    verdicts = [
        f"{data['words'][name][language]} {answer}. {each['why'][language]}"
        for name in ("right", "wrong")
        for each in asked
        for answer in found(each["answers"])
    ]
    return {*found(data), *verdicts}


@pytest.mark.parametrize("tour", [SHORT, OPEN_DAY], ids=lambda tour: tour.name)
def test_the_room_kept_at_a_stop_is_that_of_the_longest_text_there_an_answer_included(visit, tour):
    for stop in tour.stops:
        at = visit(tour, said(stop.caption, "en"))
        kept, said_there = at.screen["longest"], [at.screen["caption"]]
        for number, tried in enumerate(stop.tries):
            for choice in tried.answers or [""]:
                at.bench.receive({"do": "try", "number": number})
                said_there.append(at.screen["caption"])
                at.bench.receive({"do": "answer", "choice": choice})
                said_there.append(at.screen["caption"])
        assert at.screen["longest"] == kept and len(kept) >= max(map(len, said_there)), (kept, said_there)


def test_nothing_is_said_that_the_file_does_not_say_in_that_language(visit):
    """Whatever is tried, at each stop: caption, buttons, answers, signs and parts, and no letters but those of the file."""
    language, texts = "de", in_the_file("de")
    captions = set()
    for stop in OPEN_DAY.stops:
        at = visit(OPEN_DAY, stop.caption["en"])
        at.bench.receive({"do": "speak", "language": language})
        picks = [pick["name"] for pick in at.bench.host.published["picks"]]
        messages = [{"do": "press", "name": name} for name in picks]
        for number, tried in enumerate(stop.tries):
            messages += [{"do": "try", "number": number}, *({"do": "answer", "choice": value} for value in tried.answers)] * 2
        for message in ({"do": "touch"}, *messages):
            at.bench.receive(message)
            at.watch(0.05)
            shown, public = at.screen, at.bench.host.published
            said_there = [shown["caption"], *(each["words"] for each in [*shown["tries"], *shown["answers"], *public["picks"]])]
            assert set(said_there) | set(shown["words"].values()) <= texts and public["view"]["letters"] == stop.letters
            captions.add(shown["caption"])
    assert len(captions) > 15


TWO_TRIES = """
version = 1
languages = { de = "Deutsch", en-GB = "English" }
[words]
WORDS
[attract]
scene = "alternator"
[[stop]]
scene = "pushed-conductor"
caption = { de = "Ein Stab.", en-GB = "A rod." }
[[stop.try]]
do = "reverse"
what = "current"
button = { de = "Umkehren", en-GB = "Reverse" }
[[stop.try]]
do = "ask"
what = "current"
button = { de = "Frage", en-GB = "Question" }
question = { de = "Wohin?", en-GB = "Where to?" }
answers."to the right" = { de = "Rechts", en-GB = "Right" }
answers.up = { de = "Hinauf", en-GB = "Up" }
[[stop]]
scene = "inside-a-motor"
caption = { de = "Ein Motor.", en-GB = "A motor." }
""".replace("WORDS", "\n".join(f'{name} = {{ de = "{name}", en-GB = "{name}" }}' for name in USUAL_WORDS))


def test_what_the_file_does_not_say_is_said_by_the_scene_in_english_and_not_at_all_in_another_language(visit):
    rod = visit(tour_file.read(TWO_TRIES, "x"), "A rod.", "en-GB")
    rod.bench.receive({"do": "try", "number": 0})
    assert rod.screen["language"] == "de" and rod.screen["caption"] == "Ein Stab."
    assert rod.bench.host.published["view"]["letters"] == ()
    rod.bench.frame(0.1)
    assert len(told(rod.scene.drawn).hands) == 1, "where the tour does not say which letters are shown there is the hand of the rule"
    rod.bench.receive({"do": "speak", "language": "en-GB"})
    assert rod.screen["caption"] == rod.scene.says() and rod.bench.host.published["view"]["letters"] == rod.scene.letters
    motor = visit(tour_file.read(TWO_TRIES, "x"), "A motor.", "en-GB")
    assert motor.bench.host.published["picks"] == []
    motor.bench.receive({"do": "speak", "language": "en-GB"})
    motor.bench.receive({"do": "press", "name": motor.bench.host.published["picks"][0]["name"]})
    assert motor.screen["caption"] == motor.scene.says() != "A motor."


def test_where_the_right_answer_has_no_words_the_stop_begins_again_before_it_asks(visit):
    rod = visit(tour_file.read(TWO_TRIES, "x"), "A rod.", "en-GB")
    begun = rod.scene["current"]
    for number, current in ((1, -begun), (0, begun), (1, -begun), (0, begun), (0, -begun), (1, -begun)):
        rod.bench.receive({"do": "try", "number": number})
        assert rod.scene["current"] == current
        if number == 1:
            assert [each["words"] for each in rod.screen["answers"]] == ["Rechts", "Hinauf"]
            rod.bench.receive({"do": "answer", "choice": "to the right"})
            assert rod.screen["caption"] == "right Rechts."


def test_a_part_is_named_when_it_is_touched_and_let_be_when_it_is_touched_again(visit):
    motor = visit(OPEN_DAY, "workshop drill")
    motor.bench.receive({"do": "press", "name": "fan"})
    assert "blows air" in motor.screen["caption"] and motor.scene.now.part.key == "fan"
    motor.bench.receive({"do": "press", "name": "fan"})
    assert motor.screen["caption"] == motor.bench.stop.caption["en"] and motor.scene.now.part is None


def test_every_part_that_can_be_seen_has_something_said_of_it(visit):
    motor = visit(OPEN_DAY, "workshop drill")
    assert set(motor.bench.stop.parts) == {part.key for part in PARTS["cage"]}
    for name in motor.bench.stop.parts:
        motor.bench.receive({"do": "press", "name": name})
        assert motor.screen["caption"] == said(motor.bench.stop.parts[name], "en"), name


def test_the_saw_falls_behind_and_stands_in_wood_that_is_too_hard(visit):
    saw = visit(OPEN_DAY, "saw")
    saw.watch(10)
    slips = [saw.figure("s")]
    for _ in range(3):
        saw.press("Harder wood")
        saw.watch(30)
        slips.append(saw.figure("s"))
    assert slips == sorted(slips) and slips[-1] == 100 and saw.screen["caption"] == "Too hard! The saw has stopped."
    saw.press("Harder wood")
    assert not saw.screen["tries"][1]["more"] and saw.scene["load"] == 300
    freed = []
    while saw.scene["load"] > 60:
        saw.press("Softer wood")
        saw.watch(30)
        freed.append(saw.figure("s"))
        stuck = freed[-1] == 100
        assert saw.screen["caption"].startswith("It is still stuck." if stuck else "Less work: the motor falls back more slowly.")
    assert freed == sorted(freed, reverse=True) and freed[-1] == pytest.approx(slips[0], rel=0.05)


def test_the_saw_is_told_by_the_colours_that_are_drawn(visit):
    """Pink, blue and orange, by where they stand on the colour circle."""
    saw = visit(OPEN_DAY, "saw")
    saw.bench.frame(0.1)
    saw.watch(6)
    saw.bench.frame(0.1)
    hues = {text: hue(colour) for text, _, colour in told(saw.scene.drawn).letters}
    laps = next(turn for text, turn in hues.items() if "lap" in text)
    assert 300 < hues["rotor"] < 345 and 190 < hues["B"] < 230 and 10 < laps < 40, hues
