"""A scene of each kind in a real browser, by what is seen: it moves, it stands still when it is held, and a reversal shows.

What the page draws is the same for every scene; what it is told differs, and the tests without a browser look at that."""

from __future__ import annotations

import time

import pytest

from scenes import catalogue

SMALL = {"width": 700, "height": 500}  # the triangles are filled here, which takes as long as there are pixels
OF_EACH_KIND = ("pushed-conductor", "coils-and-commutator", "starting")


@pytest.fixture(scope="module")
def pixels():
    return True


def becomes(page, other) -> bool:
    """Whether the picture soon is one of which that is true."""
    give_up = time.monotonic() + 10
    while not other(page.picture()):
        if time.monotonic() > give_up:
            return False
    return True


@pytest.mark.parametrize("name", OF_EACH_KIND)
def test_a_scene_opens_moves_and_follows_its_controls(page, name):
    page.tab.set_viewport_size(SMALL)
    page.send(do="scene", name=name)
    page.wait_for("name => window.bench.socket.told.scene.name === name", name)
    page.send(do="restart")
    page.send(do="run", on=True)
    page.wait_for("() => window.bench.socket.told.bench.running")
    first = page.picture()
    assert becomes(page, lambda picture: picture != first), "nothing moves"
    page.send(do="run", on=False)
    page.wait_for("() => !window.bench.socket.told.readings.some(reading => reading.value === '…')")  # all is worked out
    page.settle()
    page.wait_for(
        "() => { const one = document.querySelector('#picture canvas'); return one.width / one.clientWidth > 1.9 }"
    )  # drawn at rest
    page.settle()
    still = page.picture()
    page.settle()
    page.settle()
    assert page.picture() == still, "a held scene goes on"
    for role in {control.role for control in catalogue.scene_class(name).controls if control.role}:
        page.send(do="reverse", what=role)
        page.settle()
        assert page.picture() != still, f"reversing the {role} changes nothing in the picture"
        page.send(do="reverse", what=role)
        page.settle()
