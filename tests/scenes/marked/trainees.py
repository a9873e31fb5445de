"""Plain clients that sit a marked test as a page does: they come again with their cookie, and send again what was not confirmed."""

from __future__ import annotations

import asyncio
import contextlib
import json
import random
import time

import tornado.httpclient
import tornado.iostream
import tornado.websocket

from scenes.scene.typed import UNITS

GONE = (OSError, tornado.httpclient.HTTPError, tornado.iostream.StreamClosedError, tornado.websocket.WebSocketClosedError)


class Trainee:
    """One client. `sent`: what was answered, by the question's place; `heard`: all that it was told, as text."""

    def __init__(self, address: str, name: str, pause: float = 0.0):
        self.address, self.name, self.pause = address, name, pause
        self.dice = random.Random(name)
        self.sent: dict[int, str] = {}
        self.asked: dict[int, str] = {}
        self.choices: dict[int, list[tuple[str, str]]] = {}
        self.heard: list[str] = []
        self.told: dict = {}
        self.comings = 0
        self.waits: list[float] = []  # s from an answer to the next question
        self._answered_at: float | None = None
        self.cookie = ""

    async def sit(self) -> None:
        """Sit the test to its end, however often the program goes away."""
        while not self.told.get("sitting", {}).get("ended"):
            with contextlib.suppress(*GONE):
                await self._sit_on()
            await asyncio.sleep(0.1)

    async def _sit_on(self) -> None:
        if not self.cookie:
            page = await tornado.httpclient.AsyncHTTPClient().fetch(f"{self.address}/")
            self.cookie = page.headers["Set-Cookie"].split(";")[0]
        request = tornado.httpclient.HTTPRequest(f"{self.address}/socket".replace("http", "ws", 1), headers={"Cookie": self.cookie})
        line = await tornado.websocket.websocket_connect(request)
        self.comings += 1
        try:
            while (text := await line.read_message()) is not None:
                self.heard.append(text if isinstance(text, str) else text.decode())
                self.told |= json.loads(text)
                await self._react(line)
                if self.told["sitting"]["ended"]:
                    return
                await line.write_message('{"do": "ready"}')
        finally:
            line.close()

    async def _react(self, line) -> None:
        sitting = self.told["sitting"]
        if sitting["ended"]:
            return
        if sitting["name"] is None:
            await line.write_message(json.dumps({"do": "begin", "name": self.name}))
            return
        place = sitting["place"]
        if self._answered_at is not None and place not in self.sent:
            self.waits.append(time.perf_counter() - self._answered_at)
        await asyncio.sleep(self.pause * self.dice.random())
        self.asked[place] = self.told["question"]["text"]
        choices = [(choice["value"], choice["words"]) for choice in self.told["question"]["choices"]]
        if place not in self.sent:
            self.sent[place] = self.dice.choice(choices)[0] if choices else "12"
            self.choices[place] = choices
        elif not choices and "unit" in sitting["refused"]:  # a figure is not taken without its unit, nor with another
            tried = self.sent[place].partition(" ")[2]
            self.sent[place] = f"12 {[*UNITS][[*UNITS].index(tried) + 1 if tried else 0]}"
        self._answered_at = time.perf_counter()
        await line.write_message(json.dumps({"do": "answer", "choice": self.sent[place], "place": place}))
