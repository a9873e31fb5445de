"""The host without a browser: what a page is told, and when. Plain socket clients on loopback."""

from __future__ import annotations

import asyncio
import json
import math

import numpy as np
import pytest

from tests.serving import connected, fetched, served
from visual.host import bridge
from visual.host.access.doors import ThisMachine
from visual.host.server import FRAME, UNSEEN, Endpoint, Host
from visual.host.viewers import Chart, Viewer
from visual.solid.mesh import block
from visual.solid.solids import Arrow, Solid


@pytest.fixture
def host():
    return Host()


def test_a_page_is_told_everything_and_then_only_what_is_new(host):
    host.publish(scene={"name": "x"})
    solid = Solid(block([0, 0, 0], [1, 1, 1], (1, 1, 1)))

    async def conversation(port):
        line = await connected(port)
        first = json.loads(await line.read_message())
        assert first["scene"] == {"name": "x"}
        assert first["stream"]["fresh"] and any(command["idx"] == solid.drawn.idx for command in first["stream"]["cmds"])
        solid.put((1, 2, 3))
        host.publish(says="moved")
        await line.write_message('{"do": "ready"}')
        second = json.loads(await line.read_message())
        while "says" not in second:
            await line.write_message('{"do": "ready"}')
            second = json.loads(await line.read_message())
        assert "scene" not in second and second["says"] == "moved"
        assert f"a{solid.drawn.idx}a1,2,3" in second["stream"]["attrs"]
        assert "cmds" not in second["stream"]

    served(host, conversation)


def test_a_slow_page_gets_the_newest_in_one_message(host):
    sent = []
    viewer = Viewer(sent.append, host.published)
    host.viewers.add(viewer)
    solid = Solid(block([0, 0, 0], [1, 1, 1], (1, 1, 1)))
    host.flush()
    for step in range(50):
        solid.put((step, 0, 0))
        host.publish(says=f"step {step}")
        host.flush()
    assert len(sent) == 1, "told again before it said that it is ready"
    viewer.ready = True
    host.flush()
    message = json.loads(sent[1])
    assert message["says"] == "step 49"
    assert message["stream"]["attrs"].count(f"a{solid.drawn.idx}a49,0,0") == 1
    assert len([code for code in message["stream"]["attrs"] if code.startswith(f"a{solid.drawn.idx}a")]) == 1


def test_a_late_page_is_brought_to_the_same_state(host):
    early, late = [], []
    first = Viewer(early.append, host.published)
    host.viewers.add(first)
    arrow = Arrow("F", (0.1, 0.2, 0.3), 0.01)
    for step in range(1, 6):
        arrow.put((0, 0, 0), (0, step, 0))
        first.ready = True
        host.flush()
    host.viewers.add(Viewer(late.append, host.published))
    host.flush()

    def newest(messages):
        seen = {}
        for message in messages:
            for code in json.loads(message).get("stream", {}).get("attrs", []):
                seen[code[: 1 + len(str(arrow.shaft.drawn.idx)) + 1]] = code
        return {key: code for key, code in seen.items() if key[1:-1] == str(arrow.shaft.drawn.idx)}

    assert newest(late) == newest(early) != {}


def test_an_attribute_that_comes_back_to_what_it_was_is_not_sent(host):
    solid = Solid(block([0, 0, 0], [1, 1, 1], (1, 1, 1)))
    solid.put((1, 1, 1))
    host.flush()
    solid.put((2, 2, 2))
    solid.put((1, 1, 1))
    assert host.stream.drain()[1] == []


def strictly(text: str | bytes):
    """JSON as a browser reads it: RFC 8259 has neither NaN nor Infinity."""

    def refuse(word):
        raise AssertionError(f"{word} is no JSON")

    return json.loads(text, parse_constant=refuse)


FOREIGN = [
    (math.nan, None), (-math.inf, None), ([1.0, (math.inf, "x")], [1.0, [None, "x"]]), ({"a": {"b": math.nan}}, {"a": {"b": None}}),
    (np.float32(0.5), 0.5), (np.float32("nan"), None), (np.float64("inf"), None), (np.int64(7), 7), (np.bool_(True), True),
    (np.array([[1.0, math.nan], [2.0, 3.0]]), [[1.0, None], [2.0, 3.0]]),
]  # fmt: skip


@pytest.mark.parametrize(("value", "read"), FOREIGN, ids=[repr(value) for value, _ in FOREIGN])
def test_whatever_number_is_told_a_page_can_read_it_and_the_loop_goes_on(host, value, read):
    solid = Solid(block([0, 0, 0], [1, 1, 1], (1, 1, 1)))
    solid.put((1, 2, 3))

    def frame(seconds):
        if host.frames == 3:
            host.publish(figure=value)
            host.publish_to("bench", own=value)
            host.chart.add([np.float32(0.25), value if isinstance(value, float) else 1.0, np.float32(2.0), -math.inf])
            solid.put((math.nan, 2, 3))
        elif host.frames > 5:
            host.publish(says="it goes on")

    async def conversation(port):
        line, told = await connected(port), {}
        while told.get("says") != "it goes on":
            told |= strictly(await line.read_message())
            await line.write_message('{"do": "ready"}')
        assert told["figure"] == told["own"] == read
        (point,) = told["chart"]["points"]
        assert point[0] == 0.25 and point[2] == 2.0 and point[3] is None

    served(host, conversation, frame)
    assert host.stream.attributes[solid.drawn.idx, "pos"] == f"a{solid.drawn.idx}a1,2,3", "it stays where it was"


def test_who_says_what_is_no_data_hears_of_it_and_the_pages_do_not(host):
    host.publish(figure=1)
    for value in (object(), {1, 2}, 1j, [b"x"]):
        with pytest.raises(TypeError):
            host.publish(figure=value)
    assert host.published["figure"] == 1 and host.heard_by("bench")["figure"] == "1"


def test_the_chart_sends_each_point_once_and_stays_bounded():
    chart = Chart()
    for second in range(5000):
        chart.add([second, 0.0])
    assert len(chart.points) < 2000
    assert chart.since(chart.count - 2) == [[4998, 0], [4999, 0]]
    assert chart.since(chart.count) == []
    chart.clear()
    assert chart.since(0) == []


def test_a_page_that_has_had_every_point_is_told_that_the_chart_begins_anew(host):
    sent = []
    viewer = Viewer(lambda text: sent.append(json.loads(text)), host.published)
    host.viewers.add(viewer)

    def told() -> dict | None:
        host.publish(says=f"{len(sent)} messages so far")
        host.flush()
        viewer.ready = True
        return sent[-1].get("chart")

    host.chart.add([0.1, 1.0])
    assert told()["points"] == [[0.1, 1.0]]
    host.chart.clear()
    assert told() == {"clear": True, "points": []}
    host.chart.add([0.0, 2.0])
    assert told() == {"clear": False, "points": [[0.0, 2.0]]}
    assert told() is None


def test_without_a_page_the_scene_waits_and_everything_can_still_be_built(host):
    frames = []

    async def conversation(port):
        await asyncio.sleep(0.2)
        assert frames == []
        Solid(block([0, 0, 0], [1, 1, 1], (1, 1, 1))).put((1, 0, 0))
        line = await connected(port)
        await line.read_message()
        async with asyncio.timeout(20):
            while len(frames) < 3:
                await asyncio.sleep(0.02)
        assert max(frames) <= 0.1
        line.close()
        await asyncio.sleep(0.2)
        count = len(frames)
        await asyncio.sleep(0.2)
        assert len(frames) <= count + 1

    served(host, conversation, frames.append)


def test_vpythons_page_is_cut_at_its_line():
    handlers = bridge.page_scripts()["handlers.js"].decode()
    assert "function handle_cmds" in handlers and "WebSocket" not in handlers
    for page in ("", "THE REST OF THIS FILE twice THE REST OF THIS FILE </script>", "no such line </script>"):
        with pytest.raises(bridge.WrongVPython, match="7.6.5"):
            bridge.message_handlers(page)


BESIDE = Endpoint({"": "follow.html"}, "prompter", ThisMachine("/prompter"), hears=frozenset({"scene", "secret"}))


def test_a_way_in_beside_another_is_told_what_it_hears_and_what_is_for_it_alone(host):
    Solid(block([0, 0, 0], [1, 1, 1], (1, 1, 1)))
    host.publish(scene={"name": "x"})
    host.publish(says="for all")
    host.publish_to("prompter", secret="for one")
    host.chart.add([0.0, 1.0])

    async def conversation(port):
        plain, beside = await connected(port), await connected(port, "/prompter")
        first = json.loads(await plain.read_message())
        assert {"scene", "says", "stream", "chart"} <= set(first) and "secret" not in first
        assert json.loads(await beside.read_message()) == {"scene": {"name": "x"}, "secret": "for one"}
        for line in (plain, beside):
            await line.write_message('{"do": "ready"}')
        host.chart.add([1.0, 1.0])
        host.publish(says="again for all")
        host.publish_to("prompter", secret="again for one")
        host.flush()
        assert json.loads(await beside.read_message()) == {"secret": "again for one"}
        second = json.loads(await plain.read_message())
        assert second["says"] == "again for all" and "secret" not in second
        assert b"302 Found" in await fetched(port, "GET /prompter HTTP/1.1\nHost: localhost\nConnection: close\n\n")
        answer = await fetched(port, "GET /prompter/ HTTP/1.1\nHost: localhost\nConnection: close\n\n")
        assert b"200 OK" in answer and b"page/shell/follow.js" in answer
        for strange in ("/prompter/", "/prompter/socket"):
            request = f"GET {strange} HTTP/1.1\nHost: elsewhere.example\nConnection: close\n\n"
            assert b"403 Forbidden" in await fetched(port, request)
        assert b"404 Not Found" in await fetched(port, "GET /prompterx HTTP/1.1\nHost: localhost\nConnection: close\n\n")

    served(host, conversation, endpoint=Endpoint(beside=(BESIDE,)))


@pytest.mark.parametrize("between", range(4))
def test_it_ends_at_once_when_told_so_just_as_a_page_has_spoken(host, between):
    """Between a page's message and the picture it brings there are a few turns of the loop; in none may the order to end be lost."""

    async def conversation():
        running = asyncio.create_task(host.run(lambda seconds: None))
        await asyncio.sleep(0.05)
        host.come(Viewer(lambda text: None, set()))
        for _ in range(between):
            await asyncio.sleep(0)
        running.cancel()
        done, _ = await asyncio.wait({running}, timeout=1)
        return running in done and running.cancelled()

    assert asyncio.run(conversation())


def test_no_picture_is_computed_for_a_page_that_still_draws_the_last(host):
    computed = [0]

    def frame(seconds):
        computed[0] += 1
        host.publish(says=f"picture {computed[0]}")

    async def conversation(port):
        line = await connected(port)
        while "says" not in json.loads(await line.read_message()):
            pass
        before = computed[0]
        await asyncio.sleep(10 * UNSEEN)  # the page says nothing: its frames would have come every FRAME
        meanwhile = computed[0] - before
        await line.write_message('{"do": "ready"}')
        told = json.loads(await line.read_message())["says"]
        return meanwhile, told, computed[0]

    meanwhile, told, newest = served(host, conversation, frame)
    assert 1 <= meanwhile <= 11 < 10 * UNSEEN / FRAME
    assert int(told.split()[1]) >= newest - 1  # what it is told then is the newest
