"""A bench of its own for each test module, and a real browser to look at it."""

from __future__ import annotations

import asyncio
import re
import shutil
from concurrent.futures import ThreadPoolExecutor
from functools import partial

import pytest

from scenes import catalogue
from tests.browser.ready import Ready

FLAGS = [  # the page is composited in software and only the canvas drawn by the software renderer, as without a graphics card
    "--no-sandbox",
    "--enable-unsafe-swiftshader",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--host-resolver-rules=MAP *.example 127.0.0.1",  # names that are not this machine's (RFC 2606), for tests of who is let in
]
USUAL = {"width": 1100, "height": 700}
TELEPHONE = {"width": 390, "height": 844}
KEPT: dict[str, dict] = {"usual": {}, "beside": {}, "telephone": {"has_touch": True, "is_mobile": True}}
BLANK = "about:blank"  # where a tab is whose bench ends
# Without a graphics card nearly all of a browser's time goes into filling triangles, and few tests look at them: in the others
# the page draws as ever, but what it draws with does nothing, and is that of a canvas beside the page's, so that none has to be shown.
# Where the page looks whether it sees something (no-picture.js) it does.
UNFILLED = """
    const pen = WebGL2RenderingContext.prototype, sheets = new WeakMap(), contextOf = HTMLCanvasElement.prototype.getContext
    const idle = /^(draw|clear|uniform|buffer(Sub)?Data|(vertex|enableVertex|disableVertex)Attrib)/
    for (const [name, { value }] of Object.entries(Object.getOwnPropertyDescriptors(pen)))
        if (idle.test(name) && value?.call) pen[name] = () => {}
    pen.readPixels = (x, y, width, height, format, type, pixels) => { pixels[0] = x }
    HTMLCanvasElement.prototype.getContext = function (kind, options) {
        if (kind !== "webgl2") return contextOf.call(this, kind, options)
        if (!sheets.has(this)) sheets.set(this, Object.assign(document.createElement("canvas"), { width: 1, height: 1 }))
        return contextOf.call(sheets.get(this), kind, { ...options, antialias: false })
    }
    Object.defineProperty(window, "standing", { get: () => ({ over: () => null }), set: () => {} }) // nothing to be drawn once for all
"""
COARSE = 0.3  # pixels of the screen for each of the page's, where nobody looks at them
# A page of which nobody asks anything shows a running scene in few pictures: those between take most of a test's time, and nobody
# looks at them. The page tells the bench later that it is ready for the next, as one on a slow machine does; but the pictures that
# follow what it has asked for, or settle(), come at once.
FEW_PICTURES = """
    const send = WebSocket.prototype.send, EVERY = 250, AT_ONCE = 4
    let soon = AT_ONCE, shown = 0, waiting = []
    const ready = () => {
        const lines = waiting
        waiting = []
        shown = performance.now()
        for (const line of lines) if (line.readyState === WebSocket.OPEN) send.call(line, '{"do":"ready"}')
    }
    window.lively = () => {
        soon = AT_ONCE
        ready()
    }
    WebSocket.prototype.send = function (text) {
        if (text !== '{"do":"ready"}') {
            send.call(this, text)
            if (text !== '{"do":"alive"}') window.lively()
            return
        }
        const pause = shown + EVERY - performance.now(), first = waiting.push(this) === 1
        if (--soon >= 0 || pause <= 0) ready()
        else if (first) setTimeout(ready, pause)
    }
"""
PATIENCE = 60  # s: what a slow machine may take
# Asked once, the bench may still have to do what was asked before; a picture later it has, and has said so.
SETTLED = """async () => {
    const { showLate } = await import('./page/common/dom.js')
    const frame = () => new Promise(requestAnimationFrame), pause = () => new Promise(done => setTimeout(done, 35))
    window.lively?.()
    if (!window.hears) {
        window.hears = true
        window.bench.socket.on('alive', () => window.answered && window.answered())
    }
    for (const after of [pause, frame]) {
        await new Promise(done => { window.answered = done; window.bench.socket.send({do: 'alive'}) })
        await after()
    }
    showLate()
    await frame()
}"""
FRESH = """() => {
    const root = document.documentElement
    return location.pathname === '/' && !document.querySelector('dialog[open]') && (root.dataset.text || '1') === '1'
        && !root.className && !document.body.className && localStorage.length === 0 && window.stream !== undefined
        && window.bench.socket.told.scene !== undefined
}"""
AS_AT_FIRST = """first => {
    for (const message of [{do: 'enough'}, {do: 'scene', name: first}, {do: 'answers', shown: true}, {do: 'run', on: true}])
        window.bench.socket.send(message)
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


def launch(playwright, *more_flags: str):
    path = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert path, "a browser is needed: install Chromium (Debian: apt-get install chromium)"
    return playwright.chromium.launch(executable_path=path, args=[*FLAGS, *more_flags])


@pytest.fixture(scope="session")
def shared_browser(playwright):
    started = launch(playwright)
    yield started
    started.close()


class Browser:
    """A browser as Playwright has it, but for what its pages draw, and how often, where `pixels` says that nobody looks at it."""

    def __init__(self, started, pixels: float):
        self.started, self.pixels = started, pixels
        self.opened: list = []

    def __getattr__(self, name):
        return getattr(self.started, name)

    def new_context(self, every_picture: bool = False, **options):
        """`every_picture`: pages show as many as they can, for tests that count them."""
        made = self.started.new_context(**{"device_scale_factor": float(self.pixels or COARSE)} | options)
        made.set_default_timeout(PATIENCE * 1000)
        if not self.pixels:
            made.add_init_script(f"{{{UNFILLED}}}")
            if not every_picture:
                made.add_init_script(f"{{{FEW_PICTURES}}}")
        self.opened.append(made)
        return made

    def new_page(self, **options):
        return self.new_context(**options).new_page()

    def close_what_was_opened(self) -> None:
        """Or else it goes on drawing."""
        for context in self.opened:
            context.close()


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
        self.wait_for("() => window.bench && window.bench.socket.told.scene && window.bench.socket.told.names")
        self.tab.evaluate("async () => { window.stream = await import('./page/picture/stream.js') }")

    def begin_again(self, address: str) -> None:
        """As a page just opened; it is opened anew only where a test has left it otherwise."""
        self.errors.clear()
        self.tab.set_viewport_size(self.window)
        self.tab.emulate_media(color_scheme="light")
        if self.tab.evaluate(FRESH):
            self.tab.evaluate(AS_AT_FIRST, catalogue.NAMES[0])
            self.wait_for(
                "first => window.bench.socket.told.scene.name === first && window.bench.socket.told.bench.running", catalogue.NAMES[0]
            )
            self.settle()
        else:
            self.tab.evaluate("() => localStorage.clear()")
            self.open(address)

    def wait_for(self, condition: str, argument=None) -> None:
        """Also while the page is being loaded: it loads itself anew where the bench has forgotten it, as after a line that was lost on a
        busy machine."""
        there = f"it => Boolean(window.bench?.socket.told.scene) && ({condition})(it)"
        self.tab.wait_for_function(there, arg=argument, timeout=PATIENCE * 1000)

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
    """Tabs by name, opened when they are first asked for, that one test after the other shows its bench in, where nobody looks at the
    picture: a new one takes as long as a page."""

    def __init__(self, browser: Browser):
        self.browser = browser

    def __missing__(self, name: str):
        self[name] = self.browser.new_context(viewport=USUAL, **KEPT[name]).new_page()
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
    yield Page(own.new_context(viewport=window).new_page(), bench.address, window)
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


@pytest.fixture
def page(kept_page, bench):
    kept_page.begin_again(bench.address)
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
    """Start another browser, for tests that end one or want it otherwise: `launch_browser("--some-flag")`."""
    return lambda *more_flags: Browser(launch(playwright, *more_flags), pixels)
