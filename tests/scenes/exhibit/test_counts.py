"""The file of counts: added to, shared, and set aside when it is damaged; nothing ends because of it."""

from __future__ import annotations

import json
import time
from datetime import date

import pytest

from scenes.exhibit.counts import Counts

MONDAY, TUESDAY = date(2026, 3, 9), date(2026, 3, 10)


@pytest.fixture
def file(tmp_path):
    return tmp_path / "folder" / "counts.json"


def held(file) -> dict:
    return json.loads(file.read_text("utf-8"))


def test_it_is_added_to_day_by_day_and_the_longest_stays(file):
    for longest in (20, 74, 31):
        counts = Counts(file)
        counts.add(MONDAY, touches=1, uses=1)
        counts.add(MONDAY, touches=2, languages={"de": 1})
        counts.add(MONDAY, longest=longest)
        counts.keep()
    counts.add(TUESDAY, answers=1, right=0)
    counts.close()
    assert held(file) == {
        "version": 1,
        "days": {
            "2026-03-09": {"touches": 9, "uses": 3, "languages": {"de": 3}, "longest": 74},
            "2026-03-10": {"answers": 1, "right": 0},
        },
    }
    assert counts.of(MONDAY) == {"touches": 9, "uses": 3, "languages": {"de": 3}, "longest": 74}
    assert counts.of(TUESDAY) == {"answers": 1, "right": 0} and not counts.trouble


def test_what_comes_after_it_was_kept_is_kept_soon_as_well(file):
    counts = Counts(file)
    for touches in (1, 2, 3):
        counts.add(MONDAY, touches=1)
        counts.keep_soon()
        end = time.monotonic() + 20
        while not (file.exists() and held(file)["days"].get("2026-03-09", {}).get("touches") == touches):
            assert time.monotonic() < end
            time.sleep(0.01)
    counts.close()


def test_two_programs_count_in_one_file(file):
    first, second = Counts(file), Counts(file)
    for counts, touches in ((first, 3), (second, 4), (first, 5)):
        counts.add(MONDAY, touches=touches)
        counts.keep()
    assert held(file)["days"]["2026-03-09"]["touches"] == 12 == first.of(MONDAY)["touches"]


def test_only_what_is_wanted_is_counted(file):
    counts = Counts(file, ("answers",))
    counts.add(MONDAY, touches=1, uses=1)
    counts.add(MONDAY, answers=1, right=1)
    counts.add(MONDAY, longest=5, languages={"en": 1})
    counts.keep()
    assert held(file)["days"] == {"2026-03-09": {"answers": 1, "right": 1}}
    assert counts.keep() is None and [path.name for path in file.parent.iterdir() if "lock" not in path.name] == ["counts.json"]


def test_fields_of_another_are_kept(file):
    file.parent.mkdir()
    file.write_text('{"version": 1, "place": "hall", "days": {"2026-03-09": {"touches": 1, "wheelchairs": 2}}}', "utf-8")
    counts = Counts(file)
    counts.add(MONDAY, touches=1)
    counts.keep()
    assert held(file) == {"version": 1, "place": "hall", "days": {"2026-03-09": {"touches": 2, "wheelchairs": 2}}}


@pytest.mark.parametrize(
    "damaged",
    [
        b"",
        b"{",
        b"\x00\xff\xfe",
        b"[]",
        b"null",
        b'{"days": {}}',
        b'{"version": 0, "days": {}}',
        b'{"version": 1}',
        b'{"version": 1, "days": {"monday": {}}}',
        b'{"version": 1, "days": {"2026-03-09": 4}}',
        b'{"version": 1, "days": {"2026-03-09": {"touches": "4"}}}',
        b'{"version": 1, "days": {"2026-03-09": {"touches": -4}}}',
        b'{"version": 1, "days": {"2026-03-09": {"languages": 4}}}',
        b"[" * 100_000,
    ],
)
def test_a_damaged_file_is_set_aside_whole(file, damaged):
    file.parent.mkdir()
    file.write_bytes(damaged)
    for number in (1, 2):
        counts = Counts(file)
        counts.add(MONDAY, touches=1)
        counts.keep()
        assert held(file)["days"] == {"2026-03-09": {"touches": 1}} and not counts.trouble
        assert (file.parent / f"counts.damaged-{number}.json").read_bytes() == damaged
        file.write_bytes(damaged)


def test_the_file_of_a_later_version_is_left_alone(file):
    file.parent.mkdir()
    file.write_text('{"version": 2, "weeks": []}', "utf-8")
    counts = Counts(file)
    counts.add(MONDAY, touches=1)
    counts.keep()
    assert held(file) == {"version": 2, "weeks": []}
    assert counts.trouble == f"Counts cannot be kept in {file}: a later version of Thumbwise wrote it."


def test_what_cannot_be_written_is_told_and_tried_again(file):
    file.mkdir(parents=True)
    counts = Counts(file)
    counts.add(MONDAY, touches=1, longest=9)
    counts.keep()
    assert counts.trouble.startswith(f"Counts cannot be kept in {file}: ") and counts.of(MONDAY) == {"touches": 1, "longest": 9}
    file.rmdir()
    counts.add(MONDAY, touches=1, longest=7)
    counts.keep_soon()
    counts.close()
    assert held(file)["days"] == {"2026-03-09": {"touches": 2, "longest": 9}} and not counts.trouble
