"""The class follows along: the door with its secret word, what a follower may do, the tally. No browser."""

from __future__ import annotations

import asyncio
import json
import logging
import re
import socket as sockets
from types import SimpleNamespace

import pytest
import tornado.httpclient
import tornado.websocket

from scenes.bench import sharing
from scenes.bench.bench import Bench
from scenes.bench.tally import MOST, OF_ONE_ADDRESS
from tests.serving import served
from visual.host import server
from visual.host import sockets as page_sockets
from visual.host.access.doors import LETTERS, SIGNS, SecretWord
from visual.host.endpoints import MOST_OF_ONE
from visual.host.server import Endpoint, Host
from visual.host.viewers import Viewer


@pytest.fixture
def bench():
    return Bench(Host(), "pushed-conductor")


def page_of_the_class(bench, visitor: str = "ada", address: str = "192.0.2.7") -> Viewer:
    """One as the host knows it, with what it was `told` last."""
    viewer = Viewer(lambda text: viewer.told.update(json.loads(text)), bench.host.published, "class", lambda: None, None, visitor, address)
    viewer.told = {}
    bench.host.viewers.add(viewer)
    return viewer


def votes(bench, page: Viewer, choice) -> dict:
    """What the page is told of its answer."""
    bench.receive({"do": "answer", "choice": choice}, page)
    page.ready = True
    page.tell(bench.host.stream, bench.host.heard_by("class"), bench.host.chart, {})
    return page.told["vote"]


@pytest.fixture
def follower(bench):
    return page_of_the_class(bench)


# what goes over the network


def shared(host: Host, conversation, crowd: int = 40, of_one_address: int | None = None):
    """Serve `host` to a class while `conversation(port)` runs; what that gives."""

    endpoint = Endpoint({"": "follow.html"}, "class", SecretWord("k7m3qd"), crowd, of_one_address)
    return served(host, conversation, endpoint=endpoint)


async def status(port: int, path: str) -> int:
    client = tornado.httpclient.AsyncHTTPClient()
    return (await client.fetch(f"http://127.0.0.1:{port}{path}", raise_error=False, follow_redirects=False)).code


async def joined(port: int, **headers):
    request = tornado.httpclient.HTTPRequest(f"ws://127.0.0.1:{port}/k7m3qd/socket", headers=headers)
    return await tornado.websocket.websocket_connect(request)


def test_nothing_is_served_but_the_followers_page_and_its_files(bench):
    async def conversation(port):
        assert await status(port, "/k7m3qd") in (301, 302)
        for path in ("/k7m3qd/", "/k7m3qd/page/shell/follow.js", "/k7m3qd/page/styles/style.css", "/k7m3qd/vpython/glow.min.js"):
            assert await status(port, path) == 200, path
        for path in ("/", "/page/shell/main.js", "/vpython/glow.min.js", "/socket", "/k7m3qd/index.html", "/k7m3qd/page/nothing.js"):
            assert await status(port, path) == 404, path

    shared(bench.host, conversation)


def test_a_socket_from_another_sites_page_is_refused(bench):
    async def conversation(port):
        with pytest.raises(tornado.httpclient.HTTPClientError):
            await joined(port, Origin="http://evil.example")
        assert await (await joined(port, Origin=f"http://127.0.0.1:{port}")).read_message()

    shared(bench.host, conversation)


def test_followers_are_bounded(bench):
    async def conversation(port):
        lines = [await joined(port) for _ in range(3)]
        with pytest.raises(tornado.httpclient.HTTPClientError) as full:
            await joined(port)
        assert full.value.code == 503
        lines[0].close()
        while bench.host.count("class") == 3:
            await asyncio.sleep(0.02)
        assert await (await joined(port)).read_message()

    shared(bench.host, conversation, crowd=3)


def test_a_silent_page_and_a_hasty_one_are_let_go_and_the_others_stay(bench, monkeypatch):
    monkeypatch.setattr(server, "SILENCE", 0.5)

    async def conversation(port):
        good, silent, hasty = await joined(port), await joined(port), await joined(port)
        first = await good.read_message()
        assert json.loads(first)["scene"]["name"] == "pushed-conductor"
        assert await silent.read_message() == first == await hasty.read_message()
        for _ in range(page_sockets.MESSAGES_IN_CALM + 1):
            await hasty.write_message('{"do": "ready"}')
        serial = 0
        while bench.host.count("class") > 1:
            serial += 1
            bench.host.publish(says=f"{serial}")
            await good.write_message('{"do": "ready"}')
            await asyncio.sleep(0.05)
        await good.write_message('{"do": "alive"}')
        while not json.loads(await good.read_message()).get("alive"):
            pass

    shared(bench.host, conversation)


def test_who_never_reads_holds_no_more_than_a_few_messages(bench):
    sent = []
    handler = SimpleNamespace(
        endpoint=Endpoint(crowd=9),
        unsent=0,
        write_message=lambda text: sent.append(asyncio.Future()) or sent[-1],
        _sent=None,
        _disconnect=lambda: sent.append("let go"),
    )

    async def conversation():
        while "let go" not in sent:
            page_sockets.Socket._send(handler, "x")

    asyncio.run(conversation())
    assert len(sent) == page_sockets.UNSENT + 2


def test_those_who_stand_at_the_same_place_are_told_what_was_written_once(bench):
    told = [[] for _ in range(30)]
    for messages in told:
        bench.host.viewers.add(Viewer(messages.append, bench.host.published, "class", lambda: None))
    bench.host.flush()
    for viewer in bench.host.viewers:
        viewer.ready = True
    bench.reverse("current")
    bench.show_state()
    bench.host.flush()
    for messages in told:
        assert len(messages) == 2
        assert all(mine is first for mine, first in zip(messages, told[0], strict=False))


# what a follower may do


REFUSED = [
    {"do": "set", "name": "current", "value": 1},
    {"do": "scene", "name": "starting"},
    {"do": "next"},
    {"do": "previous"},
    {"do": "reverse", "what": "current"},
    {"do": "run", "on": False},
    {"do": "step"},
    {"do": "restart"},
    {"do": "ask"},
    {"do": "ask", "seed": 4},
    {"do": "answers", "shown": False},
    {"do": "enough"},
    {"do": "view", "name": "across"},
    {"do": "tally"},
    {"do": "open", "address": "scene=starting"},
    {"do": "no such thing"},
    {"do": ""},
    {"do": "answer", "choice": "nonsense", "voter": "0" * 16},
    {"do": "answer"},
    {"do": "answer", "choice": None},
]


@pytest.mark.parametrize("asked", [False, True])
@pytest.mark.parametrize("message", REFUSED)
def test_everything_else_is_refused_and_logged_once(bench, follower, message, asked, caplog):
    if asked:
        bench.ask(7)
    before = (bench.scene.name, dict(bench.scene.settings), bench.running, bench.answers_shown, bench.prediction.shown())
    with caplog.at_level(logging.WARNING, "thumbwise"):
        for _ in range(5):
            bench.receive(message, follower)
    assert (bench.scene.name, dict(bench.scene.settings), bench.running, bench.answers_shown, bench.prediction.shown()) == before
    assert len(caplog.messages) == (message["do"] != "open")
    assert not bench.host.published.get("notice", {}).get("text"), "the one who shows is not bothered"
    assert bench.host.published["tally"]["answered"] == 0


def test_the_tally_counts_each_page_once_and_hides_the_counts_until_the_answer(bench):
    bench.ask(7)
    choices = [value for value, _ in bench.prediction.question.choices]
    pages = [page_of_the_class(bench, f"visitor {number}") for number in range(12)]
    for number, page in enumerate(pages):
        told = votes(bench, page, choices[number % 3])
        assert told == {"round": bench.host.published["tally"]["round"], "choice": choices[number % 3], "refused": ""}
    follower = pages[0]
    for number in range(300):  # a page that wants to be many
        bench.receive({"do": "answer", "choice": choices[0], "voter": f"{number:016x}"}, follower)
    assert votes(bench, page_of_the_class(bench, "visitor 0"), choices[1])["choice"] == choices[1]  # on another page of his
    assert votes(bench, follower, choices[1])["choice"] == choices[1]  # has changed his mind
    bench.host.viewers.discard(next(page for page in bench.host.viewers if page not in pages))
    bench.read_out()
    tally = bench.host.published["tally"]
    assert tally["answered"] == 12 and tally["counts"] is None and tally["following"] == 12
    assert bench.prediction.waiting, "the class does not answer for the one who shows"
    bench.receive({"do": "tally"})
    assert bench.host.published["tally"]["counts"] == {value: {0: 3, 1: 5, 2: 4}.get(place, 0) for place, value in enumerate(choices)}
    bench.receive({"do": "answer", "choice": choices[0]})
    assert sum(bench.host.published["tally"]["counts"].values()) == 12
    late = votes(bench, follower, choices[2])
    assert late["choice"] == choices[1] and late["refused"] == "No question is waiting for an answer."
    assert bench.host.published["tally"]["counts"][choices[1]] == 5
    bench.receive({"do": "ask", "seed": 8})
    assert bench.host.published["tally"]["answered"] == 0 and bench.host.published["tally"]["counts"] is None
    assert bench.host.published["tally"]["round"] > tally["round"]


def test_the_tally_names_nobody(bench):
    bench.ask(7)
    choice = bench.prediction.question.choices[0][0]
    votes(bench, page_of_the_class(bench, "ada", "192.0.2.77"), choice)
    bench.receive({"do": "answer", "choice": choice})
    said = json.dumps(bench.host.published)
    assert "ada" not in said and "192.0.2.77" not in said


def test_a_class_behind_one_address_is_counted_and_who_wants_to_be_more_is_told_that_he_is_not(bench):
    bench.ask(7)
    first, second = [value for value, _ in bench.prediction.question.choices][:2]
    of_the_class = [page_of_the_class(bench, f"visitor {number}") for number in range(60)]
    assert all(votes(bench, page, first)["choice"] == first for page in of_the_class)
    greedy = [votes(bench, page_of_the_class(bench, f"more {number}"), second) for number in range(40)]
    counted = sum(told["choice"] == second for told in greedy)
    assert 60 + counted == OF_ONE_ADDRESS < 70
    for told in greedy[counted:]:
        assert told["choice"] is None and "Not counted" in told["refused"] and "network address" in told["refused"]
    assert votes(bench, of_the_class[0], second)["choice"] == second, "who was counted may change his mind"
    elsewhere = votes(bench, page_of_the_class(bench, "elsewhere", "198.51.100.4"), second)
    assert elsewhere["choice"] == second and elsewhere["refused"] == "", "others are counted all the same"
    assert bench.host.published["tally"]["answered"] == OF_ONE_ADDRESS + 1
    for number in range(MOST):
        last = votes(bench, page_of_the_class(bench, f"many {number}", f"203.0.113.{number}"), first)
    assert bench.host.published["tally"]["answered"] == MOST and last["choice"] is None and "Not counted" in last["refused"]
    bench.receive({"do": "ask", "seed": 8})
    assert votes(bench, of_the_class[5], bench.prediction.question.choices[0][0])["refused"] == ""


def test_a_page_that_comes_back_is_told_what_its_visitor_answered(bench):
    bench.receive({"do": "ask", "seed": 7})
    choice = bench.prediction.question.choices[1][0]
    votes(bench, page_of_the_class(bench, "ada"), choice)
    for visitor, known in (("ada", choice), ("eve", None)):
        page = page_of_the_class(bench, visitor)
        bench.receive({"do": "open", "address": "", "run": None}, page)
        page.tell(bench.host.stream, bench.host.heard_by("class"), bench.host.chart, {})
        assert page.told["vote"]["choice"] == known and page.told["question"]["text"] == bench.prediction.question.text


def test_a_visitor_is_known_by_a_cookie_that_no_page_can_read_and_fills_no_more_than_his_places(bench):
    async def conversation(port):
        client = tornado.httpclient.AsyncHTTPClient()
        told = (await client.fetch(f"http://127.0.0.1:{port}/k7m3qd/")).headers["Set-Cookie"]
        assert "HttpOnly" in told and "SameSite" in told and "Path=/k7m3qd" in told
        seat = told.split(";")[0]
        again = await client.fetch(f"http://127.0.0.1:{port}/k7m3qd/", headers={"Cookie": seat})
        assert "Set-Cookie" not in again.headers, "he is the same when he comes again"
        for _ in range(MOST_OF_ONE):
            await joined(port, Cookie=seat)
        assert len({viewer.visitor for viewer in bench.host.viewers}) == 1
        with pytest.raises(tornado.httpclient.HTTPClientError) as full:
            await joined(port, Cookie=seat)
        assert full.value.code == 503
        for _ in range(4 - 1):
            await joined(port)
        assert len({viewer.visitor for viewer in bench.host.viewers}) == 4, "without the cookie each is somebody else"
        told = await client.fetch(f"http://127.0.0.1:{port}/k7m3qd/", raise_error=False, headers={"Cookie": seat})
        assert told.code == 503 and b"too many times" in told.body

    shared(bench.host, conversation)


def test_one_address_does_not_fill_every_place_and_is_told_so(bench):
    async def conversation(port):
        for _ in range(3):
            await joined(port)
        with pytest.raises(tornado.httpclient.HTTPClientError) as full:
            await joined(port)
        assert full.value.code == 503
        client = tornado.httpclient.AsyncHTTPClient()
        told = await client.fetch(f"http://127.0.0.1:{port}/k7m3qd/", raise_error=False)
        assert told.code == 503 and b"your network address" in told.body
        for viewer in bench.host.viewers:
            viewer.address = "192.0.2.7"
        assert await (await joined(port)).read_message(), "who comes from elsewhere finds a place"

    shared(bench.host, conversation, of_one_address=3)
    assert 60 <= OF_ONE_ADDRESS < sharing.FOLLOWERS


# from the command


def test_the_sentence_says_what_is_opened_and_where(bench):
    async def conversation():
        return sharing.share(bench.host)

    addresses = asyncio.run(conversation())
    sentence = sharing.what_it_opens(addresses)
    assert "change nothing" in sentence
    for address, own in zip(addresses, sharing.network_addresses(), strict=True):
        assert re.fullmatch(rf"http://{re.escape(own)}:\d+/[{SIGNS}]{{{LETTERS}}}", address)
        assert address in sentence
    assert "nobody can follow" in sharing.what_it_opens([])


def test_without_being_told_to_nothing_is_shared(bench):
    assert "share" not in bench.host.published

    async def conversation():
        port = bench.host.listen(0)
        for own in sharing.network_addresses():
            with pytest.raises(OSError):
                sockets.create_connection((own, port), 1)

    asyncio.run(conversation())
