"""A bench of its own for each test module, and a real browser to look at it."""

from __future__ import annotations

import asyncio
import re
from concurrent.futures import ThreadPoolExecutor
from functools import partial

import pytest

from scenes import catalogue
from tests import flags
from tests.browser.browsers import PATIENCE, Browser, launch, without_its_windows
from tests.browser.ready import Ready

USUAL, TELEPHONE = {"width": 1100, "height": 700}, {"width": 390, "height": 844}
LOOKS_EVERY = 20  # ms
BLANK = "about:blank"  # where a tab is whose bench ends
# Asked once, the bench may still have to do what was asked before; a picture later it has, and has said so. A line that is lost on a
# busy machine takes the question along, which is therefore put again after a while.
SETTLED = """async () => {
    const { showLate } = await import('./page/common/dom.js')
    const frame = () => new Promise(requestAnimationFrame), pause = () => new Promise(done => setTimeout(done, 35))
    window.lively?.()
    if (!window.hears) {
        window.hears = true
        window.bench.socket.on('alive', () => window.answered && window.answered())
    }
    for (const after of [pause, frame]) {
        const ask = () => window.bench.socket.send({do: 'alive'}), again = setInterval(ask, 3000)
        await new Promise(done => { window.answered = done; ask() })
        clearInterval(again)
        await after()
    }
    showLate()
    await frame()
}"""
# The page has been told its scene; what it draws is there for the tests to read.
THERE = """() => {
    if (window.bench?.socket.told.scene && !window.stream) import('./page/picture/stream.js').then(it => { window.stream = it })
    return window.stream !== undefined
}"""
FRESH = """() => {
    const root = document.documentElement
    return location.pathname === '/' && !document.querySelector('dialog[open]') && (root.dataset.text || '1') === '1'
        && !root.className && !document.body.className && localStorage.length === 0 && window.stream !== undefined
        && window.bench.socket.told.scene !== undefined
}"""
AS_AT_FIRST = """async first => {
    const scene = first ? [{do: 'scene', name: first}] : []
    for (const message of [{do: 'enough'}, ...scene, {do: 'answers', shown: true}, {do: 'run', on: true}]) window.bench.socket.send(message)
    document.activeElement.blur();
    (await import('./page/picture/picture.js')).resetView()
}"""


def pytest_collection_modifyitems(items):
    for item in items:
        if "browser" in str(item.fspath):
            item.add_marker(pytest.mark.browser)


def run_beside_playwright(conversation):
    """What comes of a conversation. Playwright keeps a loop running in this thread; the sockets get a thread with a loop of their own."""
    with ThreadPoolExecutor(1) as other:
        return other.submit(asyncio.run, conversation).result()


class RunningBench:
    """The program as a user starts it, on a free port."""

    def __init__(self, ready: Ready, *arguments: str):
        options = next((place for place, word in enumerate(arguments) if word.startswith("-")), len(arguments))
        self.process = ready.start([*arguments[:options], "--no-browser", "--port", "0", *arguments[options:]])
        said = ""
        while not (found := re.search(r"http://localhost:(\d+)/", said)):
            line = self.process.stdout.readline()
            said += line
            if not line:
                self.process.kill()
                raise RuntimeError(f"the bench did not start: {said!r} {self.process.stderr.read()}")
        self.port = int(found[1])
        self.address = found[0]

    def stop(self) -> str:
        """End it, and return what it said on stderr."""
        self.process.terminate()
        return self.process.communicate(timeout=PATIENCE)[1]


@pytest.fixture(scope="session")
def ready():
    divides = Ready()
    yield divides
    divides.stop()


@pytest.fixture(scope="session")
def start_bench(ready):
    """Start a bench, or the command that the arguments name: `start_bench("--set", ...)`."""
    return partial(RunningBench, ready)


@pytest.fixture(scope="session")
def run_command(ready):
    """Run a command that ends by itself, and return what it said: `run_command("takehome", ...)`."""

    def run(*arguments: str) -> str:
        said, wrong = ready.start([*arguments]).communicate(timeout=2 * PATIENCE)
        assert said and "Traceback" not in wrong, wrong
        return said

    return run


@pytest.fixture(scope="module")
def bench(start_bench):
    running = start_bench()
    yield running
    said = running.stop()
    assert "Traceback" not in said, said


@pytest.fixture(scope="session")
def playwright():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def shared_browser(playwright):
    started = launch(playwright, without_its_windows())
    yield started
    started.close()


@pytest.fixture(scope="module")
def pixels():
    """How many pixels of the screen there are to each of the page's; 0: none is filled, for the tests of a file do not look at the
    picture itself. A file of which they do has a fixture of this name that says so."""
    return 0


@pytest.fixture(scope="module")
def window():
    """How large the window of a file's kept page is to begin with: where the picture is filled, it takes as long as there are pixels."""
    return USUAL


@pytest.fixture
def browser(shared_browser, pixels):
    own = Browser(shared_browser, pixels)
    yield own
    own.close_what_was_opened()


class Page:
    """A page of the bench with the words a test needs."""

    def __init__(self, tab, address: str, window: dict = USUAL):
        self.tab, self.window = tab, window
        self.errors: list[str] = []
        tab.on("pageerror", lambda error: self.errors.append(str(error)))
        tab.on("console", lambda said: self.errors.append(said.text) if said.type == "error" else None)
        self.open(address)

    def open(self, address: str) -> None:
        self.tab.goto(address)
        self._is_there()

    def reload(self) -> None:
        self.tab.reload()
        self._is_there()

    def _is_there(self) -> None:
        self.wait_for("() => window.bench.socket.told.names")

    def begin_again(self, address: str, first: str | None) -> None:
        """As a page just opened, showing `first`, or for None any scene; it is opened anew only where a test has left it otherwise."""
        self.errors.clear()
        self.tab.set_viewport_size(self.window)
        self.tab.emulate_media(color_scheme="light")
        if self.tab.evaluate(FRESH):
            self.tab.evaluate(AS_AT_FIRST, first)
            if first:
                self.wait_for("first => window.bench.socket.told.scene.name === first && window.bench.socket.told.bench.running", first)
                self.settle()
        else:
            self.tab.evaluate("() => localStorage.clear()")
            self.open(address)

    def wait_for(self, condition: str, argument=None) -> None:
        """Also while the page is being loaded: it loads itself anew where the bench has forgotten it, as after a line that was lost on a
        busy machine. Looked at by the clock: at each frame, the page would draw one for every look."""
        there = f"it => ({THERE})() && ({condition})(it)"
        self.tab.wait_for_function(there, arg=argument, timeout=PATIENCE * 1000, polling=LOOKS_EVERY)

    def told(self, key: str):
        """The newest value the bench has said under that key."""
        return self.tab.evaluate("key => window.bench.socket.told[key]", key)

    def send(self, **message) -> None:
        self.tab.evaluate("message => window.bench.socket.send(message)", message)

    def send_all(self, messages: list[dict]) -> None:
        self.tab.evaluate("messages => messages.forEach(message => window.bench.socket.send(message))", messages)

    def drawn(self, name: str) -> dict:
        """What the page's own objects say of a thing: place, axis, up, size, visible."""
        return self.tab.evaluate("name => window.stream.drawn(name)", name)

    def drawn_all(self) -> dict:
        """Every named thing that is seen, as drawn."""
        return self.tab.evaluate(
            "() => Object.fromEntries(window.stream.drawnNames().map(n => [n, window.stream.drawn(n)]).filter(([_, d]) => d.visible))"
        )

    def settle(self) -> None:
        """Wait until what was asked for has come back, has been drawn, and the texts that change now and then have changed."""
        self.tab.evaluate(SETTLED)

    def set_up(self, name: str, settings: dict) -> None:
        """Show a scene with these settings, held at its start."""
        messages: list[dict] = [{"do": "scene", "name": name}, {"do": "run", "on": False}]
        messages += [{"do": "set", "name": control, "value": value} for control, value in settings.items()]
        self.send_all([*messages, {"do": "restart"}])
        self.wait_for(
            "([name, asked]) => { const { scene, settings, bench } = window.bench.socket.told;"
            " return scene.name === name && !bench.running && Object.entries(asked).every(([one, value]) => settings[one] === value) }",
            [name, settings],
        )
        self.settle()

    def stepped(self, scene, settings: dict, steps: int) -> dict:
        """Everything drawn after so many steps with these settings; `scene` goes along in this process."""
        scene.set_all(settings)
        scene.restart()
        self.set_up(scene.name, settings)
        self.send_all([{"do": "step"}] * steps)
        for _ in range(steps):
            scene.one_step()
        self.settle()
        return self.drawn_all()

    def wait_until_it_moves(self, name: str) -> None:
        """Wait until a thing is drawn elsewhere, or otherwise turned, than it is now."""
        look = "JSON.stringify([window.stream.drawn(name).pos, window.stream.drawn(name).axis])"
        self.wait_for(f"([name, before]) => {look} !== before", [name, self.tab.evaluate(f"name => {look}", name)])

    def letters_lie_on_the_picture(self) -> bool:
        """Whether the sheet of letters and VPython's picture have the same place on the page."""
        return self.tab.evaluate("""() => {
            const [letters, canvas] = ["#picture .letters", "#picture canvas"]
              .map(one => document.querySelector(one).getBoundingClientRect())
            return ["left", "top", "width", "height"].every(side => Math.abs(letters[side] - canvas[side]) < 1)
        }""")

    def picture(self) -> bytes:
        """What is in the picture, without its rounded edge, which the browser does not draw alike each time."""
        box, edge = self.tab.locator("#picture").bounding_box(), 8
        inside = {"x": box["x"] + edge, "y": box["y"] + edge, "width": box["width"] - 2 * edge, "height": box["height"] - 2 * edge}
        return self.tab.screenshot(clip=inside)


class Kept(dict):
    """Tabs by name that one test after the other shows its bench in, if nobody looks at the picture: a new one takes as long as a page."""

    def __init__(self, browser: Browser):
        self.browser = browser

    def __missing__(self, name: str):
        self[name] = self.browser.new_page(viewport=USUAL, **({"has_touch": True, "is_mobile": True} if name == "telephone" else {}))
        return self[name]


@pytest.fixture(scope="session")
def kept(shared_browser):
    own = Browser(shared_browser, 0)
    yield Kept(own)
    own.close_what_was_opened()


@pytest.fixture(scope="module")
def kept_page(request, shared_browser, pixels, window, bench):
    """One page for all tests of a file: loading it anew takes longer than most of them."""
    if not pixels:
        tab = request.getfixturevalue("kept")["usual"]
        tab.set_viewport_size(window)
        yield Page(tab, bench.address, window)
        tab.goto(BLANK)
        return
    own = Browser(shared_browser, pixels)
    yield Page(own.new_page(viewport=window), bench.address, window)
    own.close_what_was_opened()


def opened_in(tab, window: dict):
    """A way to open a page in a kept tab, `media` as `emulate_media` has it; in the end it is left blank."""

    def open_there(address: str, **media: str) -> Page:
        tab.set_viewport_size(window)
        tab.emulate_media(**{"color_scheme": "light", "reduced_motion": "no-preference", "forced_colors": "none"} | media)
        return Page(tab, address, window)

    yield open_there
    tab.goto(BLANK)


@pytest.fixture
def beside(kept):
    """Open a page beside the file's own, or of another bench: `beside(address, reduced_motion="reduce")`."""
    yield from opened_in(kept["beside"], USUAL)


@pytest.fixture
def telephone(kept):
    """Open a page on a telephone, small and worked by touch: `telephone(address)`."""
    yield from opened_in(kept["telephone"], TELEPHONE)


@pytest.fixture(scope="module")
def begins_with():
    """The scene that the kept page shows when a test begins; None where each test sets up one, for to change it takes half a second."""
    return catalogue.NAMES[0]


@pytest.fixture
def page(kept_page, bench, begins_with):
    kept_page.begin_again(bench.address, begins_with)
    yield kept_page
    assert kept_page.errors == []


@pytest.fixture(scope="session")
def open_page():
    """Open the bench in a browser's tab: `open_page(tab, address)`."""
    return Page


@pytest.fixture(scope="session")
def settle():
    """Wait until what a tab has asked of its bench so far has been done and is drawn: `settle(tab)`."""
    return lambda tab: tab.evaluate(SETTLED)


@pytest.fixture
def launch_browser(playwright, pixels):
    """Start another browser, the whole of it, for tests that end one or want it otherwise: `launch_browser("--some-flag")`."""
    return lambda *more_flags: Browser(launch(playwright, flags.chromium(), *more_flags), pixels)
