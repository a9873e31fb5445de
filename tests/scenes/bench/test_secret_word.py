"""The secret word in the shared address: who is let in, and who guesses in vain."""

from __future__ import annotations

import logging
from types import SimpleNamespace

import pytest

from visual.host.access.doors import LETTERS, MINUTE, SIGNS, WRONG_OF_ALL, WRONG_OF_ONE, SecretWord


class Clock:
    def __init__(self):
        self.now = 1000.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def door(clock):
    return SecretWord("k7m3qd", clock)


def asks(path: str, address: str = "192.0.2.7"):
    return SimpleNamespace(path=path, remote_ip=address)


# the word and the door


def test_a_word_is_short_unlike_the_last_and_of_signs_that_are_not_mistaken():
    words = {SecretWord().word for _ in range(200)}
    assert len(words) == 200
    assert all(len(word) == LETTERS and set(word) <= set(SIGNS) for word in words)
    assert not set("aeiou01lv") & set(SIGNS)


def test_guessing_it_takes_longer_than_any_lesson():
    minutes = len(SIGNS) ** LETTERS / 2 / (WRONG_OF_ALL + 254)  # from every address of a network of the usual size at once
    assert minutes / 60 / 24 > 300


def test_the_word_opens_and_all_else_does_not(door):
    assert door.refusal(asks("/k7m3qd/")) is None
    assert door.refusal(asks("/K7M3QD/page/shell/follow.js")) is None, "a telephone begins with a capital"
    for path in ("/", "/k7m3q/", "/k7m3qdd/", "/x7m3qd/", "/page/shell/follow.js", "/socket", "/%6b7m3qd/", "//k7m3qd/", "/ü/"):
        assert door.refusal(asks(path)) == 404, path


def test_who_guesses_too_often_waits_out_the_minute_even_with_the_right_word(door, clock, caplog):
    with caplog.at_level(logging.WARNING, "thumbwise"):
        for number in range(WRONG_OF_ONE):
            assert door.refusal(asks(f"/xxx{number:03d}/")) == 404
        for _ in range(50):
            assert door.refusal(asks("/k7m3qd/")) == 429
    assert len(caplog.messages) == 1 and "guess" in caplog.messages[0]
    assert door.refusal(asks("/k7m3qd/", "192.0.2.8")) is None, "the others come in meanwhile"
    clock.now += MINUTE
    assert door.refusal(asks("/k7m3qd/")) is None


def test_many_that_guess_together_are_slowed_together_and_the_class_stays(door, clock):
    assert door.refusal(asks("/k7m3qd/", "192.0.2.7")) is None
    for number in range(WRONG_OF_ALL):
        assert door.refusal(asks(f"/xxx{number:03d}/", f"198.51.100.{number}")) == 404
    for number in range(WRONG_OF_ALL):
        assert door.refusal(asks("/k7m3qd/", f"198.51.100.{number}")) == 429
    assert door.refusal(asks("/k7m3qd/", "192.0.2.7")) is None
    assert door.refusal(asks("/k7m3qd/", "198.51.100.200")) is None, "who comes new and has it right is not kept out"
    assert door.refusal(asks("/xxxxxx/", "198.51.100.200")) == 404
    assert door.refusal(asks("/k7m3qd/", "198.51.100.200")) == 429, "but has one try"
    clock.now += MINUTE
    assert door.refusal(asks("/k7m3qd/", "198.51.100.200")) is None


def test_pages_left_open_since_another_lesson_keep_nobody_out(door, clock):
    for _ in range(20):
        for number in range(WRONG_OF_ALL + 1):
            assert door.refusal(asks("/m2n3p4/socket", f"192.0.2.{number}")) == 404
        clock.now += 1
    assert door.refusal(asks("/k7m3qd/")) is None


def test_who_came_in_keeps_his_seat_whatever_others_guess_from_behind_the_same_address(door):
    for number in range(WRONG_OF_ONE):
        door.refusal(asks(f"/xxx{number:03d}/"))
    assert door.refusal(asks("/k7m3qd/")) == 429
    seat = door.new_seat()
    assert door.refusal(asks("/k7m3qd/"), seat) is None
    assert door.refusal(asks("/xxxxxx/"), seat) == 404, "the seat is no word"
    for nonsense in ("", "x", "-", "ü", seat[:-1], seat.upper(), seat.partition("-")[0], SecretWord().new_seat()):
        assert door.visitor(nonsense) is None
        assert door.refusal(asks("/k7m3qd/"), nonsense) == 429


def test_every_seat_is_another_visitors_and_says_nothing_but_which(door):
    seats = [door.new_seat() for _ in range(200)]
    assert len({door.visitor(seat) for seat in seats}) == 200 and None not in map(door.visitor, seats)
    first, second = (seat.partition("-") for seat in seats[:2])
    assert door.visitor(f"{first[0]}-{second[2]}") is None, "nobody makes one for himself out of others"


@pytest.mark.parametrize("path", ["*", "", "x", "k7m3qx", "http://elsewhere.example/", "http:", "//", "/\x00/", "/\xff\xff/"])
def test_what_is_no_path_is_no_word(door, path):
    assert door.refusal(asks(path)) == 404


def test_a_browser_that_asks_for_its_icon_makes_no_wrong_guess(door):
    for _ in range(WRONG_OF_ONE + 5):
        door.refusal(asks("/favicon.ico"))
    assert door.refusal(asks("/k7m3qd/")) is None


def test_a_seat_holds_over_a_restart_only_with_the_same_key():
    key = bytes(range(32))
    seat = SecretWord("k7m3qd", key=key).new_seat()
    assert SecretWord("k7m3qd", key=key).visitor(seat) == seat.partition("-")[0]
    assert SecretWord("k7m3qd").visitor(seat) is None and SecretWord("k7m3qd", key=bytes(32)).visitor(seat) is None
