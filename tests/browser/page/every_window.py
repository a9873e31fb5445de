"""A scene in every window: its letters, the layout of the page with and without a question, and whether all can use it."""

from __future__ import annotations

from scenes import catalogue
from tests.browser.accessibility import violations
from tests.browser.page.letters_seen import Moment, moments, wrong_in

# Two screens, a laptop's windows, a small projector's and a telephone's, each with what differs least from the one before; of those in
# which letters are looked at, whether in every view or in the one that the scene opens with, and over how many steps.
LAPTOP, PROJECTOR, TELEPHONE = (1366, 768), (1024, 768), (390, 844)
LETTERS = {(1080, 1920): (False, 2), (1920, 1080): (False, 2), LAPTOP: (True, 5), TELEPHONE: (True, 2)}
WITHOUT = ((1080, 1920), (1920, 1080), LAPTOP, (1280, 720), PROJECTOR, TELEPHONE)
WITH = (TELEPHONE, PROJECTOR)  # a question, which leaves another set-up behind
IN_A_ROW = {LAPTOP, (1280, 720)}  # the buttons; and the picture is large
FILLED_BY_THE_SCENE = ("#controls", "#readings", "#plot", "#chart", "#workings", ".view", "#question")
FULLEST = "starting"


def look_at(page, name: str) -> None:
    """Look at a scene, which is also run beside the page."""
    scene = catalogue.scene_class(name)()
    # the view that it opens with comes last: it is the one in which the page is looked at
    views = {view.name: moments(scene, view, max(steps for _, steps in LETTERS.values())) for view in scene.views[::-1]}
    page.set_up(name, {})
    wrong: list[str] = []
    for window in WITHOUT:
        _opened_in(page, window, name, views, wrong)
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


def _opened_in(page, window: tuple[int, int], name: str, views: dict[str, list[Moment]], wrong: list[str]) -> None:
    width, height = window
    page.tab.set_viewport_size({"width": width, "height": height})
    if window in LETTERS:
        every_view, steps = LETTERS[window]
        *_, first = views
        shown = views if every_view else {first: views[first]}
        wrong += [f"{width} x {height}, {each}" for each in wrong_in(page, shown, first, steps)]
    _fits(page, window, name)
    if window in IN_A_ROW:
        buttons = page.tab.locator("#bar button:visible").evaluate_all("all => all.map(one => one.getBoundingClientRect().top)")
        assert len(buttons) >= 6 and max(buttons) - min(buttons) < 2, (name, width)
        assert page.tab.locator(".view").bounding_box()["height"] > 0.47 * height, (name, width)
        assert page.letters_lie_on_the_picture(), (name, width)


def _fits(page, window: tuple[int, int], name: str) -> None:
    page.tab.set_viewport_size({"width": window[0], "height": window[1]})
    page.settle()
    wide = page.tab.evaluate("() => document.documentElement.scrollWidth")
    assert wide <= window[0], f"{name} is {wide} wide in {window[0]}"


def _for_everyone(page, name: str) -> None:
    """The whole page is looked at in the fullest scene; of the others what is theirs."""
    within = () if name == FULLEST else FILLED_BY_THE_SCENE
    assert violations(page.tab, within=within) == "", name
