"""When a machine that a visitor loads has come to a stop."""

from __future__ import annotations

from types import SimpleNamespace

from scenes.exhibit.attempts import Attempts


def test_only_what_stands_for_half_a_second_has_stopped():
    """One that is sent the other way passes through standstill."""
    speed = SimpleNamespace(symbol="n", value="0.2")
    attempts = Attempts(SimpleNamespace(settings={}, readings=lambda: [speed]))
    attempts.last = SimpleNamespace(does="change")
    attempts.pass_time(0.4)
    assert not attempts.stands
    speed.value = "\N{MINUS SIGN}3"
    attempts.pass_time(0.1)
    speed.value = "0.0"
    attempts.pass_time(0.3)
    assert not attempts.stands, "it has turned meanwhile"
    attempts.pass_time(0.3)
    assert attempts.stands
