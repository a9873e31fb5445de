"""Pictures out: saved from the page, and by the command with a browser that it finds; the letters are in them."""

from __future__ import annotations

import base64
import os
import signal
import struct
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest

from tests import programs


@pytest.fixture(scope="module")
def pixels():
    return 1


# Of a PNG: for every letter on the page how much of its patch has the patch's colour in the picture, and how much its ink;
# how many colours there are in all, and the size.
COMPARED = """async data => {
  const image = new Image();
  image.src = "data:image/png;base64," + data;
  await image.decode();
  const sheet = document.createElement("canvas");
  [sheet.width, sheet.height] = [image.naturalWidth, image.naturalHeight];
  const pen = sheet.getContext("2d");
  pen.drawImage(image, 0, 0);
  const finer = sheet.width / document.getElementById("picture").clientWidth;
  const share = (box, colour) => {
    const wanted = colour.match(/[0-9.]+/g).map(Number);
    const { data } = pen.getImageData(...[box.x, box.y, box.width, box.height].map((part) => Math.round(part * finer)));
    let same = 0;
    for (let i = 0; i < data.length; i += 4) same += [0, 1, 2].every((k) => Math.abs(data[i + k] - wanted[k]) < 12);
    return 4 * same / data.length;
  };
  const letters = (await import("./page/picture/letters.js")).shown().filter(({ looks, box }) => looks.backgroundColor.startsWith("rgb(")
    && box.x > 0 && box.y > 0 && (box.x + box.width) * finer < sheet.width && (box.y + box.height) * finer < sheet.height)
    .map(({ text, box, looks }) => ({ text, patch: share(box, looks.backgroundColor), ink: share(box, looks.color) }));
  const all = pen.getImageData(0, 0, sheet.width, sheet.height).data, colours = new Set();
  for (let i = 0; i < all.length; i += 4) colours.add((all[i] << 16) + (all[i + 1] << 8) + all[i + 2]);
  return { letters, colours: colours.size, size: [sheet.width, sheet.height] };
}"""


def least(found) -> float:
    """The least share of a letter's patch that has the patch's colour, where its ink is there too."""
    return min(letter["patch"] * (letter["ink"] > 0.01) for letter in found["letters"])


def test_the_page_saves_what_it_shows_with_its_letters(page, tmp_path):
    page.set_up("pushed-conductor", {"current": 6.0})
    with page.tab.expect_download() as download:
        page.tab.get_by_role("button", name="Save the picture").click()
    assert download.value.suggested_filename == "thumbwise-pushed-conductor.png"
    download.value.save_as(tmp_path / "saved.png")
    found = page.tab.evaluate(COMPARED, base64.b64encode((tmp_path / "saved.png").read_bytes()).decode())
    shown = page.tab.evaluate("() => [document.getElementById('picture').clientWidth, document.getElementById('picture').clientHeight]")
    assert found["size"] == shown
    assert {"B", "F", "I"} <= {letter["text"] for letter in found["letters"]}
    assert least(found) > 0.4
    assert found["colours"] > 100, "the things themselves are there"


def test_two_presses_of_save_give_the_picture_to_both_and_leave_the_drawing_as_fine_as_it_was(page):
    page.set_up("pushed-conductor", {"current": 6.0})
    before, after, sizes = page.tab.evaluate("""async () => {
        const { taken, turn } = await import("./page/picture/picture.js")
        turn(0, 0) // it may have come to rest, and be drawn finer until it is moved
        const moved = setInterval(() => turn(0, 0), 100) // nor may it come to rest meanwhile
        window.picture.quality.scale = 0.6
        const pictures = await Promise.all([taken(), taken()])
        clearInterval(moved)
        return [0.6, window.picture.quality.scale, pictures.map(one => one.size)]
    }""")
    assert after == before and len(sizes) == 2 and min(sizes) > 10_000


STEPS = 13  # of a 25th of a second
SMALL = {"width": 700, "height": 500}


def by_command(out, *arguments: str) -> bytes:
    command = [sys.executable, "-m", "scenes", "picture", "pushed-conductor", "--view", "front", "--size", "640x480", "--out", str(out)]
    done = programs.run([*command, *arguments], capture_output=True, text=True, timeout=120)
    assert (done.returncode, done.stderr) == (0, ""), done.stderr
    assert str(out) in done.stdout
    return out.read_bytes()


def children_of(pid: int) -> set[int]:
    """Every program that comes from that one, those in sessions of their own too (Linux)."""
    found = {int(each) for task in Path(f"/proc/{pid}/task").glob("*/children") for each in task.read_text().split()}
    return found.union(*map(children_of, found)) if found else found


def wait_until(condition) -> None:
    give_up = time.monotonic() + 60
    while not condition():
        assert time.monotonic() < give_up
        time.sleep(0.05)


@pytest.mark.parametrize("by", [signal.SIGTERM, signal.SIGINT])
def test_a_picture_that_is_told_to_end_leaves_no_browser_behind(by):
    folder = Path(tempfile.mkdtemp(prefix="p"))  # a browser's sockets want a short path
    drawing = programs.start(
        [sys.executable, "-m", "scenes", "picture", "pushed-conductor", "--size", "4000x4000", "--out", str(folder / "out.png")],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env=os.environ | {"TMPDIR": str(folder)},
    )  # fmt: skip
    wait_until(lambda: len(children_of(drawing.pid)) > 3)  # the browser, and helpers of its own
    helpers = children_of(drawing.pid)
    drawing.send_signal(by)
    assert drawing.communicate(timeout=60)[1] == b""
    assert drawing.returncode == (-by if by == signal.SIGTERM else 130)
    wait_until(lambda: not any(map(programs.lives, helpers)))
    folder.rmdir()  # neither a profile nor half a picture is in it


def test_the_command_draws_the_set_up_asked_for_so_long_after_its_start(tmp_path, page):
    page.send(do="run", on=False)  # or else the page goes on drawing
    drawn = by_command(tmp_path / "moved.png", "--set", "current=-6", "--seconds", str(STEPS / 25))
    assert struct.unpack(">II", drawn[16:24]) == (640, 480)
    # the same on a page of that size has its letters at the same places; before the rod has moved, and with the force the other way, not
    page.tab.set_viewport_size(SMALL)
    page.set_up("pushed-conductor", {"current": -6.0})
    page.send_all([{"do": "view", "name": "front"}, *[{"do": "step"}] * STEPS])
    page.tab.evaluate("""() => {
        const picture = document.getElementById("picture")
        for (const one of picture.parentElement.children) if (one !== picture) one.style.display = "none" // nothing lies over it
        Object.assign(picture.style, { position: "fixed", inset: "auto", top: 0, left: 0, width: "640px", height: "480px" })
    }""")
    page.settle()
    page.settle()
    image = base64.b64encode(drawn).decode()
    found = page.tab.evaluate(COMPARED, image)
    assert least(found) > 0.4
    assert found["colours"] > 100
    for others in ([{"do": "restart"}], [{"do": "set", "name": "current", "value": 6}, *[{"do": "step"}] * STEPS]):
        page.send_all(others)
        page.settle()
        assert least(page.tab.evaluate(COMPARED, image)) < 0.4, others


def test_a_new_size_never_shows_an_empty_picture(page):
    page.tab.set_viewport_size(SMALL)
    page.set_up("pushed-conductor", {"current": 6.0})
    looked, empty = page.tab.evaluate("""() => new Promise((done) => {
      const place = document.getElementById("picture"), drawn = window.stream.canvas().__canvas_element;
      const pen = Object.assign(document.createElement("canvas"), { width: 8, height: 8 }).getContext("2d", { willReadFrequently: true });
      let looked = 0, empty = 0, sizes = 0;
      const seen = () => { // right before the page paints
        pen.clearRect(0, 0, 8, 8);
        pen.drawImage(drawn, 0, 0, 8, 8);
        looked += 1;
        empty += pen.getImageData(0, 0, 8, 8).data.every((part, i) => part === 0 || i % 4 === 3);
      };
      new ResizeObserver(() => queueMicrotask(seen)).observe(place);
      const next = () => {
        place.style.width = `${300 + 20 * (sizes % 5)}px`;
        if ((sizes += 1) > 20) done([looked, empty]); else requestAnimationFrame(next);
      };
      next();
    })""")
    page.tab.evaluate("() => document.getElementById('picture').style.width = ''")
    assert looked > 10 and empty == 0
