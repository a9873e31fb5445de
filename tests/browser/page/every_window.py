"""A scene in every window: its letters, the layout of the page with and without a question, and whether all can use it."""

from __future__ import annotations

from scenes import catalogue
from scenes.scene.state import reached
from tests.browser.accessibility import violations
from tests.browser.page.letters_seen import wrong_in

# Two screens, a laptop's windows, a small projector's and a telephone's, each with what differs least from the one before; of those in
# which letters are looked at, whether in every view or in the one that the scene opens with, and over how many steps.
LAPTOP, PROJECTOR, TELEPHONE = (1366, 768), (1024, 768), (390, 844)
LETTERS = {(1080, 1920): (False, 2), (1920, 1080): (False, 2), LAPTOP: (True, 5), TELEPHONE: (True, 2)}
WITHOUT = ((1080, 1920), (1920, 1080), LAPTOP, (1280, 720), PROJECTOR, TELEPHONE)
WITH = (TELEPHONE, PROJECTOR)  # a question, which leaves another set-up behind
IN_A_ROW = {LAPTOP, (1280, 720)}  # the buttons; and the picture is large
FILLED_BY_THE_SCENE = ("#controls", "#readings", "#plot", "#chart", "#workings", ".view", "#question")
FULLEST = "starting"


def look_at(page, name: str, scenes: dict) -> None:
    """Look at a scene; `scenes`: those that are run beside the page."""
    if name not in scenes:
        scenes[name] = catalogue.scene_class(name)()
        reached(scenes[name], 0.0)
    page.set_up(name, {})
    wrong: list[str] = []
    for window in WITHOUT:
        _opened_in(page, window, scenes[name], wrong)
        if window == PROJECTOR:
            _for_everyone(page, name)
    page.send(do="ask", seed=3)
    page.wait_for("() => window.bench.socket.told.question !== null")
    for window in WITH:
        _fits(page, window, name)
    if name == FULLEST:
        _for_everyone(page, name)
    page.send(do="enough")
    assert not wrong, "\n".join(wrong)


def _opened_in(page, window: tuple[int, int], scene, wrong: list[str]) -> None:
    width, height = window
    page.tab.set_viewport_size({"width": width, "height": height})
    if window in LETTERS:
        every_view, steps = LETTERS[window]
        # the first comes last: it is the one in which the page is looked at
        views = scene.views[::-1] if every_view else scene.views[:1]
        wrong += [f"{width} x {height}, {each}" for each in wrong_in(page, scene, views, steps)]
    _fits(page, window, scene.name)
    if window in IN_A_ROW:
        buttons = page.tab.locator("#bar button:visible").evaluate_all("all => all.map(one => one.getBoundingClientRect().top)")
        assert len(buttons) >= 6 and max(buttons) - min(buttons) < 2, (scene.name, width)
        assert page.tab.locator(".view").bounding_box()["height"] > 0.47 * height, (scene.name, width)
        assert page.letters_lie_on_the_picture(), (scene.name, width)


def _fits(page, window: tuple[int, int], name: str) -> None:
    page.tab.set_viewport_size({"width": window[0], "height": window[1]})
    page.settle()
    wide = page.tab.evaluate("() => document.documentElement.scrollWidth")
    assert wide <= window[0], f"{name} is {wide} wide in {window[0]}"


def _for_everyone(page, name: str) -> None:
    """The whole page is looked at in the fullest scene; of the others what is theirs."""
    within = () if name == FULLEST else FILLED_BY_THE_SCENE
    assert violations(page.tab, within=within) == "", name
