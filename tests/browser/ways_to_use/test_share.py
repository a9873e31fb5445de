"""Thirty follow one bench over the network's own address: two browsers, the rest plain sockets. None can change it."""

from __future__ import annotations

import asyncio
import io
import json
import re
import threading
from concurrent.futures import ThreadPoolExecutor

import PIL.Image
import pytest
import tornado.httpclient
import tornado.websocket
import zxingcpp

from scenes.bench.sharing import network_addresses
from scenes.bench.tally import OF_ONE_ADDRESS
from tests.browser.accessibility import violations
from tests.browser.browsers import Browser
from tests.browser.conftest import run_beside_playwright

PLAIN = 28
FORBIDDEN = [
    {"do": "set", "name": "current", "value": 1},
    {"do": "scene", "name": "starting"},
    {"do": "next"},
    {"do": "run", "on": False},
    {"do": "reverse", "what": "current"},
    {"do": "ask"},
    {"do": "enough"},
    {"do": "answers", "shown": False},
    {"do": "tally"},
    {"do": "open", "address": "scene=starting&current=1"},
    {"do": "view", "name": "front"},
    {"do": "restart"},
    {"do": "step"},
]


@pytest.fixture(scope="module")
def shared(start_bench):
    running = start_bench("pushed-conductor", "--set", "current=5", "--share")
    said = running.process.stdout.readline()
    running.follow = re.search(r"http://\S+:\d+/\w+", said)[0]
    yield running
    assert "Traceback" not in running.stop()


@pytest.fixture(scope="module")
def bench(shared):
    """The page that is kept for all tests is the instructor's."""
    return shared


@pytest.fixture
def main(page):
    """That page: a rod is pushed, and nothing was asked."""
    page.set_up("pushed-conductor", {"current": 5.0})
    page.send(do="run", on=True)
    page.wait_for("() => window.bench.socket.told.bench.running")
    return page


@pytest.fixture(scope="module")
def kept_follower(shared_browser, pixels, shared, open_page):
    """A follower's page for all tests: to open one takes longer than most of them."""
    own = Browser(shared_browser, pixels)
    yield followed(own, open_page, shared.follow)
    own.close_what_was_opened()


@pytest.fixture
def follower(main, kept_follower):
    """That page, on a telephone, as nothing was asked and nobody has turned the picture."""
    kept_follower.errors.clear()
    kept_follower.tab.set_viewport_size({"width": 390, "height": 844})
    kept_follower.wait_for("() => window.bench.socket.told.question === null")
    kept_follower.settle()
    assert kept_follower.tab.locator("#as-shown").is_hidden()
    yield kept_follower
    assert kept_follower.errors == []


def followed(browser, open_page, address: str, size=(390, 844)):
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=True)
    return open_page(context.new_page(), address)


def in_step(page, other) -> None:
    """Both show the same: settings, what is read, and every thing at the same place."""
    for key in ("scene", "settings", "question", "says"):
        assert page.told(key) == other.told(key), key
    assert page.drawn_all() == other.drawn_all()


class Follower:
    """A plain socket client that follows as a page does, and keeps what it was told."""

    def __init__(self, address: str):
        self.address = address.replace("http", "ws") + "/socket"
        self.told: dict = {}

    async def follow(self, until: asyncio.Event, place: int, say: list[dict]) -> None:
        line = await tornado.websocket.websocket_connect(self.address)
        for message in say:
            await line.write_message(json.dumps(message))
        while not until.is_set():
            text = await line.read_message()
            if text is None:
                break
            message = json.loads(text)
            self.told |= message
            question = message.get("question")
            if question and question["given"] is None:
                await line.write_message(json.dumps({"do": "answer", "choice": question["choices"][place]["value"]}))
            await line.write_message('{"do": "ready"}')
        line.close()


def test_thirty_follow_and_none_can_change_it(browser, open_page, main, follower, shared):
    first = follower
    before = main.told("settings"), main.told("address")
    for message in FORBIDDEN:
        first.send(**message)

    async def class_of_sockets():
        followers = [Follower(shared.follow) for _ in range(PLAIN)]
        over = asyncio.Event()
        following = [asyncio.create_task(follower.follow(over, number % 2, FORBIDDEN)) for number, follower in enumerate(followers)]
        instructor = await tornado.websocket.websocket_connect(shared.address.replace("http", "ws") + "socket")
        told: dict = {}

        async def hear(condition):
            while not condition(told):
                told.update(json.loads(await instructor.read_message()))
                await instructor.write_message('{"do": "ready"}')

        await asyncio.wait_for(hear(lambda told: told.get("tally", {}).get("following") == PLAIN + 1), 60)
        assert (told["settings"], told["address"]) == before and told["bench"]["running"] and told["question"] is None
        await instructor.write_message('{"do": "ask", "seed": 7}')
        await asyncio.wait_for(hear(lambda told: told["tally"]["answered"] == PLAIN), 60)
        assert told["tally"]["counts"] is None and told["question"]["given"] is None
        await instructor.write_message(json.dumps({"do": "answer", "choice": told["question"]["choices"][0]["value"]}))
        await asyncio.wait_for(hear(lambda told: told["tally"]["counts"] is not None), 60)
        assert sorted(told["tally"]["counts"].values())[-2:] == [PLAIN // 2, PLAIN // 2]
        while not all((follower.told.get("question") or {}).get("answer") for follower in followers):
            await asyncio.sleep(0.05)
        over.set()
        await asyncio.wait_for(asyncio.gather(*following), 60)
        for follower in followers:
            assert follower.told["scene"]["name"] == "pushed-conductor" and follower.told["settings"] == told["settings"]
            assert follower.told["question"]["answer"] == told["question"]["answer"]
        instructor.close()

    run_beside_playwright(class_of_sockets())
    # one that comes late sees the same
    main.send(do="enough")
    main.set_up("pushed-conductor", {"current": -7.0, "field": "down", "tilt": 20.0})
    late = followed(browser, open_page, shared.follow, (1024, 768))
    for page in (main, first, late):
        page.settle()
    in_step(main, late)
    in_step(main, first)
    assert main.told("tally")["following"] == 2
    assert late.errors == []
    late.tab.context.close()


def test_a_follower_turns_his_own_view_and_answers(main, follower):
    page = follower
    assert page.tab.locator("input, select, #bar, #controls").count() == 0
    page.tab.mouse.move(200, 300)
    page.tab.mouse.down()
    page.tab.mouse.move(280, 320, steps=4)
    page.tab.mouse.up()
    own = page.tab.evaluate("() => String(window.stream.canvas().forward)")
    assert own != main.tab.evaluate("() => String(window.stream.canvas().forward)")
    main.send(do="view", name="front")
    page.wait_for("() => window.bench.socket.told.view.name === 'front'")
    page.settle()
    assert page.tab.evaluate("() => String(window.stream.canvas().forward)") == own, "his view stays his"
    page.tab.get_by_role("button", name="Back to the instructor's view").click()
    page.settle()
    assert page.tab.evaluate("() => String(window.stream.canvas().forward)") == main.tab.evaluate(
        "() => String(window.stream.canvas().forward)"
    )

    main.send(do="ask", seed=5)
    page.tab.locator("#question button").first.click()
    main.tab.get_by_text("The class: 1 of 1 answered").wait_for(state="visible")
    words = [choice["words"] for choice in page.told("question")["choices"]]
    page.tab.get_by_text(f"Your answer: {words[0]}.").wait_for(state="visible")
    page.reload()
    page.tab.get_by_text(f"Your answer: {words[0]}.").wait_for(state="visible")  # it is known again
    assert "voter" not in page.tab.evaluate("() => document.cookie + JSON.stringify(sessionStorage)")
    assert page.tab.evaluate("() => document.cookie") == "", "no script of a page reads who it is"
    page.tab.locator("#question button").nth(1).click()  # the same page, which has changed its mind
    page.tab.get_by_text(f"Your answer: {words[1]}.").wait_for(state="visible")
    assert page.tab.locator("#question [aria-pressed=true]").all_text_contents() == [f"2 {words[1]}"]
    assert "\u2713" not in page.tab.locator("#question").inner_text(), "nobody knows yet whether it is right"
    page.settle()
    assert main.told("tally")["answered"] == 1
    main.tab.get_by_role("button", name="Show answers so far").click()
    main.wait_for("() => window.bench.socket.told.tally.counts")
    assert list(main.told("tally")["counts"].values())[:2] == [0, 1]
    main.tab.keyboard.press("1")
    page.tab.locator("#question .reason").wait_for(state="visible")
    ticked = [line for line in page.tab.locator("#question li").all_text_contents() if "\u2713" in line]
    right = page.told("question")["answer"]
    assert len(ticked) == 1 and right in ticked[0], "the tick stands by the right answer, whatever was chosen"
    assert ("\u2713" in page.tab.locator("#question .verdict").inner_text()) is (right == words[1])
    main.send(do="ask", seed=6)
    page.wait_for("() => window.bench.socket.told.question.seed === 6")
    page.settle()
    assert page.tab.locator("#question [aria-pressed=true]").count() == 0, "a new question finds nothing chosen"


def test_an_answer_that_does_not_count_is_told_where_it_was_given(main, follower, shared):
    page = follower
    main.send(do="ask", seed=5)
    page.tab.locator("#question button").first.wait_for(state="visible")

    async def many_from_this_address():
        for _ in range(OF_ONE_ADDRESS):
            line = await tornado.websocket.websocket_connect(shared.follow.replace("http", "ws") + "/socket")
            question, vote = None, None
            while not (vote and vote["choice"]):
                told = json.loads(await line.read_message())
                question, vote = told.get("question", question), told.get("vote", vote)
                await line.write_message(json.dumps({"do": "answer", "choice": question["choices"][1]["value"]}))
                await line.write_message('{"do": "ready"}')
            line.close()

    run_beside_playwright(many_from_this_address())
    page.tab.locator("#question button").first.click()
    page.tab.get_by_text("Not counted").wait_for(state="visible")
    assert "Taken" not in page.tab.locator("#question").inner_text()
    assert page.tab.locator("#question [aria-pressed=true]").count() == 0
    main.settle()
    assert main.told("tally")["answered"] == OF_ONE_ADDRESS


# the line is dropped and every attempt to connect fails, until `letIn`
KEPT_OUT = """() => {
  const real = window.WebSocket
  window.WebSocket = function (address) { return new real(String(address) + "-of-nobody") }
  window.WebSocket.OPEN = real.OPEN
  window.WebSocket.CLOSING = real.CLOSING
  window.WebSocket.CLOSED = real.CLOSED
  window.letIn = () => { window.WebSocket = real }
  window.bench.socket.drop()
}"""


def test_a_page_whose_place_is_taken_says_so_and_comes_in_again_when_there_is_one(browser, main, follower, shared):
    main.send(do="run", on=False)
    page = follower
    taken, leave = threading.Event(), threading.Event()

    async def fill():
        lines = []
        while len(lines) < OF_ONE_ADDRESS:
            try:
                line = await tornado.websocket.websocket_connect(shared.follow.replace("http", "ws") + "/socket")
                await line.read_message()
                await line.write_message('{"do": "ready"}')  # one that falls silent is disconnected
                lines.append(line)
            except tornado.httpclient.HTTPClientError:
                await asyncio.sleep(0.1)  # the page's own place is free in a moment
        taken.set()
        while not leave.is_set():
            await asyncio.sleep(0.05)
        for line in lines:
            line.close()

    page.tab.evaluate(KEPT_OUT)
    with ThreadPoolExecutor(1) as other:
        filling = other.submit(asyncio.run, fill())
        try:
            assert taken.wait(60)
            page.tab.evaluate("() => window.letIn()")
            page.tab.get_by_text("The limit for your network address is reached").wait_for(state="visible")
            late = browser.new_page()
            late.goto(shared.follow)
            assert "the limit for your network address is reached" in late.content()
        finally:
            leave.set()
        filling.result()
    page.wait_for("() => document.querySelector('#waiting').hidden")
    late.wait_for_function("() => window.bench?.socket.told.scene")  # nobody has touched it
    late.context.close()
    page.errors.clear()  # the browser itself tells of each attempt to connect


def test_the_followers_page_fits_and_can_be_used_by_all(main, follower):
    """On a telephone, a tablet and a projector; axe looks at what is different: a narrow page and a wide one, and the question on both."""
    page = follower
    for seed, looked_at in ((None, (390,)), (4, (390, 1920))):
        if seed:
            main.send(do="ask", seed=seed)
            page.tab.locator("#question").wait_for(state="visible")
        for width, height in ((390, 844), (1024, 768), (1920, 1080)):
            page.tab.set_viewport_size({"width": width, "height": height})
            page.settle()
            assert page.tab.evaluate("() => document.documentElement.scrollWidth") <= width and page.letters_lie_on_the_picture()
            if width in looked_at:
                assert violations(page.tab) == "", (width, seed)


def test_the_bench_itself_is_not_on_the_network(shared):
    import socket

    for own in network_addresses():
        with pytest.raises(OSError):
            socket.create_connection((own, shared.port), 1)
    assert shared.follow.split("/")[2].split(":")[0] in network_addresses()


CAME = "() => { window.came = []; window.bench.socket.on('stream', () => window.came.push(performance.now())) }"
PAUSES = "window.came.slice(1).map((later, place) => later - window.came[place])"


def test_who_asked_for_less_motion_follows_in_few_pictures(browser, open_page, main, follower, shared):
    """By the pauses between pictures: how many come depends on the machine. Who has not asked for it sees two close together."""
    main.send(do="scene", name="turning-field")
    context = browser.new_context(every_picture=True, viewport={"width": 400, "height": 300}, reduced_motion="reduce")
    sparing = open_page(context.new_page(), shared.follow)
    for page in (follower, sparing):
        page.wait_for("() => window.bench.socket.told.scene.name === 'turning-field'")
        page.tab.evaluate(CAME)
    sparing.wait_for("() => window.came.length > 2")
    assert min(sparing.tab.evaluate(f"() => {PAUSES}")) > 900
    follower.wait_for(f"() => {PAUSES}.some((pause) => pause < 500)")
    context.close()


def test_a_class_votes_twice_large_over_the_picture_and_scans_the_address(main, follower, shared):
    page = follower
    main.send(do="ask", seed=5)
    page.tab.locator("#question button").first.click()
    main.tab.get_by_text("The class: 1 of 1 answered").wait_for(state="visible")
    main.tab.get_by_role("button", name="Large over the picture").click()
    large = main.tab.locator("#tally-large")
    large.wait_for(state="visible")
    box, picture = large.bounding_box(), main.tab.locator("#picture").bounding_box()
    assert box["width"] >= picture["width"] and box["height"] >= picture["height"]
    assert large.locator("li b").first.inner_text() == "1"
    main.tab.get_by_role("button", name="Ask again").click()
    large.wait_for(state="hidden")
    page.tab.get_by_text("The class votes again: choose once more.").wait_for(state="visible")
    page.tab.locator("#question button").nth(1).click()
    main.tab.get_by_text("The class, second vote: 1 of 1 answered").wait_for(state="visible")
    main.tab.get_by_role("button", name="Large over the picture").click()
    large.wait_for(state="visible")
    assert large.locator("li b").all_inner_texts()[:2] == ["1 → 0", "0 → 1"]
    main.tab.get_by_role("button", name="Show the answer").click()
    page.tab.locator("#question .correct, #question .verdict.right").first.wait_for(state="visible")
    assert main.tab.get_by_text("of 1 right").count() == 0, "nobody has asked for a count"

    assert main.tab.locator("#scan path").get_attribute("d") == main.tab.locator("#way-in path").get_attribute("d") != ""
    main.tab.locator("#scan").click()
    code = main.tab.locator("#way-in .code")
    assert code.bounding_box()["width"] > 350 and shared.follow.split(":")[-1] in main.tab.locator("#way-in").inner_text()
    found = zxingcpp.read_barcodes(PIL.Image.open(io.BytesIO(code.screenshot())))
    assert [each.text for each in found] == [shared.follow]
