"""The instructor's own pictures: known by what is in them, kept under safe names, and never read from elsewhere."""

from __future__ import annotations

import base64
import os

import pytest

from scenes.lesson import pictures
from scenes.lesson.lesson import LessonError, read
from scenes.lesson.pictures import LARGEST, LONGEST_SIDE, Picture, Pictures
from tests.scenes.lesson.images import jpeg, png


@pytest.mark.parametrize(
    ("body", "kind"), [(png(), "png"), (jpeg(), "jpeg"), (png(LONGEST_SIDE, 1), "png"), (jpeg(1, LONGEST_SIDE), "jpeg")]
)
def test_a_picture_is_known_by_what_is_in_it(body, kind):
    picture = Picture.of(body)
    assert picture.kind == kind and picture.served_as.endswith(f".{kind}") and len(picture.served_as) > 30
    head, _, data = picture.as_address().partition(",")
    assert head == f"data:image/{kind};base64" and base64.b64decode(data) == body


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (b"", "neither"),
        (b"<svg onload='alert(1)'/>", "neither"),
        (b"GIF89a" + png()[6:], "neither"),
        (png()[:20], "neither"),
        (png(0, 5), "neither"),
        (b"\xff\xd8\xff\xe0", "neither"),
        (b"\xff\xd8" + b"\xff\xfe\x00\x02" * 1000, "neither"),
        (b"\xff\xd8" + b"\xff\xfe\x00\x00" * 1000, "neither"),
        (b"\xff\xd8" + b"\xff" * 1000, "neither"),
        (png(LONGEST_SIDE + 1, 1), f"at most {LONGEST_SIDE} pixels a side, this one {LONGEST_SIDE + 1} x 1"),
        (jpeg(3, LONGEST_SIDE + 1), f"this one 3 x {LONGEST_SIDE + 1}"),
        (png() + b"\0" * LARGEST, "at most 5 MB, this one 5.0 MB"),
    ],
)
def test_what_is_no_picture_or_too_large_is_refused_in_a_sentence(body, said):
    with pytest.raises(ValueError, match=said) as wrong:
        Picture.of(body)
    assert str(wrong.value).endswith(".")


@pytest.mark.parametrize(
    ("called", "kept"),
    [
        ("Rotor.PNG", "Rotor.png"),
        ("../../etc/passwd", "passwd.png"),
        ("C:\\Users\\me\\my rotor (2).png", "my-rotor-2.png"),
        ("Läufer.jpg", "Laufer.png"),
        ("电机.png", "picture.png"),
        ("", "picture.png"),
        ("CON.png", "picture-CON.png"),
        (".hidden", "hidden.png"),
        ("x" * 300, "x" * 40 + ".png"),
        ('a\n"b"\x00', "a-b.png"),
    ],
)
def test_a_new_picture_is_kept_in_a_folder_beside_the_lesson_under_a_safe_name(tmp_path, called, kept):
    shelf = Pictures(tmp_path / "Motors 1.toml")
    name = shelf.put(png(), called)
    assert name == f"Motors-1-pictures/{kept}" and (tmp_path / name).read_bytes() == png()
    assert sorted(path.name for path in tmp_path.rglob("*")) == sorted([kept, "Motors-1-pictures"])
    assert shelf[name].body == png()


def test_another_picture_of_the_same_name_gets_another_and_the_same_one_does_not(tmp_path):
    shelf = Pictures(tmp_path / "m.toml")
    assert [shelf.put(body, "a.png") for body in (png(), png(5), png(), jpeg())] == [
        "m-pictures/a.png", "m-pictures/a-2.png", "m-pictures/a.png", "m-pictures/a.jpg",
    ]  # fmt: skip


def test_the_pictures_of_a_lesson_are_bounded_together(tmp_path, monkeypatch):
    monkeypatch.setattr(pictures, "TOGETHER", 2.5 * len(png()))
    shelf = Pictures(tmp_path / "m.toml")
    shelf.put(png(), "a")
    shelf.put(png(shade=3), "b")
    with pytest.raises(ValueError, match="MB together"):
        shelf.put(png(shade=4), "c")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("../secret.png", "beside the lesson"),
        ("/etc/passwd", "beside the lesson"),
        ("..", "beside the lesson"),
        ("a/../../secret.png", "beside the lesson"),
        ("a/b/c.png", "beside the lesson"),
        ("a\\\\b.png", "beside the lesson"),
        ("C:b.png", "beside the lesson"),
        ("none.png", "cannot be read: no such file"),
        ("pipe.png", "cannot be read: no such file"),
        ("out.png", "leads out of"),
        ("text.png", "neither"),
    ],
)
def test_a_picture_is_read_from_nowhere_else_and_what_is_wrong_is_told_with_its_line(tmp_path, name, said):
    (tmp_path / "secret.png").write_bytes(png())
    folder = tmp_path / "lessons"
    folder.mkdir()
    (folder / "out.png").symlink_to(tmp_path / "secret.png")
    (folder / "text.png").write_text("no picture")
    os.mkfifo(folder / "pipe.png")
    with pytest.raises(LessonError, match=said) as wrong:
        read(f'[[step]]\ntitle = "t"\npicture = "{name}"\n', "m.toml", Pictures(folder / "m.toml"))
    assert str(wrong.value).startswith("m.toml, line 3: ") and len(str(wrong.value).splitlines()) == 1


def test_a_picture_needs_a_file_to_be_beside():
    with pytest.raises(LessonError, match="line 3: a lesson has pictures only beside a file of its own"):
        read('[[step]]\ntitle = "t"\npicture = "a.png"\n', "the built-in lesson")
