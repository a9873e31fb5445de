"""The messages between page and program: both sides have the same names and fields, what is sent keeps to them, and a wrong one
is answered in a sentence. The page's file is read as text, by this file's own rules."""

from __future__ import annotations

import dataclasses
import re
import types
import typing
from collections.abc import Sequence
from pathlib import Path

import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from scenes.lesson.draft import Draft
from scenes.lesson.lesson_bench import LessonBench
from scenes.lesson.lesson_file import LessonFile
from scenes.lesson.prepare_bench import PrepareBench
from tests.scenes.conftest import made_once  # noqa: F401  # a fixture
from tests.scenes.lesson.built_in_lesson import built_in_lesson
from visual.host import messages
from visual.host.encoding import request
from visual.host.server import Host

PAGE = Path(__file__).parents[3] / "visual" / "page"
MESSAGES_JS = (PAGE / "common" / "messages.js").read_text("utf-8")
SCRIPTS = {file: file.read_text("utf-8") for file in PAGE.rglob("*.js") if file.name != "messages.js"}
PUBLISHED = typing.get_type_hints(messages.Published)
DATA = {name: kind for name, kind in vars(messages).items() if typing.is_typeddict(kind)}
IN_JS = {str: "string", float: "number", int: "number", bool: "boolean", type(None): "null", typing.Any: "any"}


def in_js(hint: object) -> str:
    """A Python type as JSDoc writes it."""
    if hint == messages.Scalar:
        return "Scalar"
    if typing.is_typeddict(hint):
        return hint.__name__
    of = [in_js(part) for part in typing.get_args(hint)]
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        return "|".join(of)
    if typing.get_origin(hint) in (list, Sequence):
        return f"({of[0]})[]" if "|" in of[0] else f"{of[0]}[]"
    if typing.get_origin(hint) is dict:
        return f"Object<{', '.join(of)}>"
    if typing.get_origin(hint) is tuple:
        return f"[{', '.join(of)}]"
    return IN_JS[hint]


def fields_of(kind: type) -> dict[str, tuple[object, bool]]:
    """The fields of a message from the bench, each with its type, and whether it must be there."""
    found = {}
    for name, hint in typing.get_type_hints(kind, include_extras=True).items():
        free = typing.get_origin(hint) is typing.NotRequired
        found[name] = (typing.get_args(hint)[0] if free else hint, not free and kind.__total__)
    return found


def typedef_of_data(kind: type) -> str:
    fields = [f"{name}{'' if needed else '?'}: {in_js(hint)}" for name, (hint, needed) in fields_of(kind).items()]
    return f"{{{{ {', '.join(fields)} }}}} {kind.__name__}"


def typedef_of_request(kind: type[messages.Request]) -> str:
    hints = typing.get_type_hints(kind)
    fields = [f'do: "{kind.do}"']
    for field in dataclasses.fields(kind):
        free = "" if field.default is dataclasses.MISSING else "?"
        fields.append(f"{field.name}{free}: {in_js(hints[field.name])}")
    return f"{{{{ {', '.join(fields)} }}}} {kind.__name__}"


def typedefs() -> list[str]:
    found = re.findall(r"@typedef (.*?) \*/", MESSAGES_JS, re.DOTALL)
    return [re.sub(r"\s+", " ", re.sub(r"\n \*", " ", text)).strip() for text in found]


def test_both_sides_have_the_same_messages_with_the_same_fields():
    wanted = ["{string|number|boolean|null} Scalar"]
    wanted += [typedef_of_request(kind) for kind in messages.REQUESTS.values()]
    wanted += [typedef_of_data(kind) for kind in DATA.values()]
    assert sorted(typedefs()) == sorted(wanted)


def test_the_page_sends_every_request_but_what_is_a_visitors_alone_with_its_fields():
    sent = dict(re.findall(r"^    (\w+): .*send\({ do: \"(?:\w+)\"(.*?) }\)", MESSAGES_JS, re.MULTILINE))
    named = dict(re.findall(r"^    (\w+): .*send\({ do: \"(\w+)\"", MESSAGES_JS, re.MULTILINE))
    assert set(named) == set(messages.REQUESTS) and all(name == do for name, do in named.items())
    for name, fields in sent.items():
        known = {field.name for field in dataclasses.fields(messages.REQUESTS[name])}
        assert "...fields" in fields or set(re.findall(r"\w+", fields)) == known, name


def test_no_script_sends_or_hears_anything_else():
    heard, asked = set(), set()
    for file, text in SCRIPTS.items():
        assert not re.search(r"\bdo: \"", text), f"{file.name} writes a message itself"
        heard |= set(re.findall(r"(?:socket|line)\.on\(\"(\w+)\"", text)) | set(re.findall(r"\btold\.(\w+)", text))
        asked |= set(re.findall(r"\brequest\.(\w+)\(", text))
    assert heard <= set(PUBLISHED) and len(heard) > 15
    assert asked <= set(messages.REQUESTS) and len(asked) > 15


def fits(value: object, hint: object) -> bool:
    """Whether a value is of its type, all through."""
    origin, of = typing.get_origin(hint), typing.get_args(hint)
    if origin in (types.UnionType, typing.Union):
        return any(fits(value, one) for one in of)
    if typing.is_typeddict(hint):
        fields = fields_of(hint)
        needed = {name for name, (_, must) in fields.items() if must}
        whole = isinstance(value, dict) and needed <= set(value) <= set(fields)
        return whole and all(fits(part, fields[name][0]) for name, part in value.items())
    if origin is tuple:
        return isinstance(value, tuple) and len(value) == len(of) and all(map(fits, value, of))
    if origin in (list, Sequence):
        return isinstance(value, list if origin is list else (list, tuple)) and all(fits(part, of[0]) for part in value)
    if origin is dict:
        return isinstance(value, dict) and all(fits(name, of[0]) and fits(part, of[1]) for name, part in value.items())
    return (
        hint is typing.Any or isinstance(value, (int, float) if hint is float else hint) and (hint is bool or not isinstance(value, bool))
    )


def assert_fits(host: Host) -> None:
    told = host.published | {key: value for values in host.published_to.values() for key, value in values.items()}
    assert set(told) <= set(PUBLISHED)
    assert {key: value for key, value in told.items() if not fits(value, PUBLISHED[key])} == {}


def test_what_every_scene_publishes_is_as_the_types_say():
    bench = Bench(Host())
    for name in catalogue.NAMES:
        bench.receive({"do": "scene", "name": name})
        for message in (
            {"do": "ask", "seed": 4},
            {"do": "tally"},
            {"do": "reveal"},
            {"do": "enough"},
            {"do": "set", "name": "x", "value": 1},
        ):
            bench.receive(message)
            for _ in range(3):
                bench.frame(0.03)
            assert_fits(bench.host)
    assert bench.host.published["notice"]["text"]


def test_what_a_lesson_and_an_exhibit_publish_is_as_the_types_say(tmp_path):
    taught = LessonBench(Host(), built_in_lesson())
    for _ in range(4):
        taught.receive({"do": "next"})
        assert_fits(taught.host)
    assert {"step", "prompt", "clock"} <= set(taught.host.published) | set(taught.host.published_to["speaker"])
    mine = tmp_path / "mine.toml"
    mine.write_text('[[step]]\nscene = "pushed-conductor"\n\n[[step]]\ntitle = "A page"\n')
    with LessonFile(mine) as file:
        made = PrepareBench(Host(), Draft(file.read(), "mine.toml", file.pictures), file, opened=True)
        asked = {"number": made.draft.document.parts[0].number, "text": "t", "choices": "a\nb", "right": 1, "reason": ""}
        for message in ({"do": "own"} | asked, {"do": "next"}, {"do": "next"}):
            made.receive(message)
            assert_fits(made.host)
    assert made.host.published["step"]["page"] and made.host.published_to["bench"]["preparing"]["here"]["page"]
    stand = ExhibitBench(Host(), tour_file.read(tour_file.built_in(), ""))
    stand.frame(0.1)
    assert_fits(stand.host)
    assert "exhibit" in stand.host.published and "status" in stand.host.published_to["status"]


@pytest.mark.parametrize(
    ("message", "meant"),
    [
        ({"do": "next"}, messages.Next()),
        ({"do": "set", "name": "current", "value": 3}, messages.SetControl("current", 3)),
        ({"do": "set", "name": "switch", "value": True}, messages.SetControl("switch", True)),
        ({"do": "ask"}, messages.Ask(None, False)),
        ({"do": "ask", "seed": 7, "unheard of": 1}, messages.Ask(7, False)),
        ({"do": "open", "address": "scene=starting", "run": None}, messages.Open("scene=starting", None)),
    ],
)
def test_a_request_is_understood_as_it_was_sent(message, meant):
    assert request(message) == meant


@pytest.mark.parametrize(
    ("message", "sentence"),
    [
        ({"do": "run", "on": 1}, "The request run takes true or false as its on, not 1."),
        ({"do": "run"}, "The request run takes true or false as its on, not null."),
        ({"do": "view", "name": 5.5}, "The request view takes text as its name, not 5.5."),
        ({"do": "open", "address": "", "run": 3}, "The request open takes text or nothing as its run, not 3."),
        ({"do": "answer", "choice": "x\n" * 999}, None),
        ({"do": "set", "name": True, "value": 1}, "The request set takes text as its name, not true."),
        ({"do": "dance"}, f'There is no request "dance"; a page may send {", ".join(messages.REQUESTS)}.'),
    ],
)
def test_a_wrong_request_is_answered_with_what_is_allowed(message, sentence):
    if sentence is None:
        request(message)
        return
    with pytest.raises(ValueError) as wrong:
        request(message)
    assert str(wrong.value) == sentence
