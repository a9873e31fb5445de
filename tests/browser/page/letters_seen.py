"""What stands where in the picture, in every view of a scene and over time: its letters, and how large the subject is.

The places of fingertips, arrows and the things drawn are projected here, from the scene run beside the page, not by the page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scenes.scene.state import reached
from tests.oracle import cross
from visual.hand.hand_on_bench import FlemingHand, GripHand
from visual.solid.solids import Arrow, Solid
from visual.solid.told import told

MOST = 8
FILLED = 0.6  # of the picture's height or width
FAR = 7.0  # heights of a letter, from its own place
TIP = 2.0  # page's pixels round a tip that no letter may cover

# In each of these views so many steps of the bench, one after the other; for each every letter's text and box, the boxes of what lies over
# the picture, and the camera. The pixels themselves do not count here, so they are few. Without views: as it is.
LOOK = """async ([views, steps]) => {
    const { socket } = window.bench, { quality } = window.picture
    if (quality.scale !== 0.1) Object.defineProperty(quality, 'scale', {get: () => 0.1, set: () => {}})
    if (!window.looks) {
        window.looks = true
        socket.on('alive', () => window.answered && window.answered())
    }
    const picture = document.querySelector('#picture'), canvas = window.stream.canvas(), plain = v => [v.x, v.y, v.z]
    const answer = () => new Promise(done => { window.answered = done; socket.send({do: 'alive'}) })
    const frame = () => new Promise(requestAnimationFrame)
    const pause = () => new Promise(done => setTimeout(done, 25)) // a picture is made 36 times a second
    const settled = async () => { // another view or size takes more than one picture to settle
        await answer()
        await answer()
        await pause()
        for (let k = 0; k < 3; k++) {
            window.picture.redraw()
            window.picture.drawNow()
            await frame()
        }
    }
    // Drawn at once, it is sent when the page has shown the picture before and said so, and is shown in the next frame. On a busy machine
    // that takes its time, so it is asked for, not waited for.
    const oneStep = async () => {
        socket.send({do: 'step'})
        for (const next of [answer, frame, answer, answer, frame]) await next()
        window.picture.redraw()
        window.picture.drawNow()
    }
    const seen = () => {
        const corner = picture.getBoundingClientRect()
        const box = one => { const {left, top, right, bottom} = one.getBoundingClientRect()
            return [left - corner.left, top - corner.top, right - corner.left, bottom - corner.top] }
        const over = ['#views', '#held', '#image', '#pace'].map(s => document.querySelector(s)).filter(one => one && one.offsetWidth)
        return {
            letters: [...document.querySelectorAll('#picture .letters span:not([hidden])')].map(one => [one.textContent, box(one)]),
            over: over.map(box), size: [picture.clientWidth, picture.clientHeight],
            camera: {centre: plain(canvas.center), forward: plain(canvas.forward), range: canvas.range, fov: canvas.fov},
        }
    }
    const looks = []
    for (const view of views.length ? views : [null]) {
        if (view !== null) {
            for (const message of [{do: 'view', name: view}, {do: 'restart'}]) socket.send(message)
            for (let k = 0; k < 1000 && socket.told.view.name !== view; k++) {
                await answer()
                await pause()
            }
        }
        await settled()
        const found = [seen()]
        for (let step = 0; step < steps; step++) {
            await oneStep()
            found.push(seen())
        }
        looks.push(found)
    }
    return looks
}"""


class Projection:
    """From the bench to the page's pixels, as a pinhole camera does it: y upward, its angle from bottom to top, the range
    half of what is seen across the shorter side at the centre."""

    def __init__(self, camera: dict, size):
        self.size = np.array(size, float)
        ahead = np.array(camera["forward"]) / np.linalg.norm(camera["forward"])
        right = np.cross(ahead, [0, 1, 0])
        right /= np.linalg.norm(right)
        self.axes = np.array([right, np.cross(right, ahead), ahead])
        distance = camera["range"] * size[1] / min(size) / np.tan(camera["fov"] / 2)
        self.eye = np.array(camera["centre"]) - distance * ahead
        self.scale = size[1] / 2 / np.tan(camera["fov"] / 2)

    def __call__(self, points) -> np.ndarray:
        x, y, depth = self.axes @ (np.atleast_2d(points) - self.eye).T
        return self.size / 2 + self.scale * np.column_stack([x, -y]) / depth[:, None]


def keep_corners(patch) -> None:
    """Keep the triangles' corners of all that is drawn from now on, until `patch` ends."""
    shapes: dict[int, np.ndarray] = {}
    made = Solid.__init__

    def keep(self, shape, like=None):
        made(self, shape, like)
        shapes[id(self)] = shapes[id(like)] if shape is None else shape.points
        self.corners = shapes[id(self)]

    patch.setattr(Solid, "__init__", keep)


def seen_parts(part):
    """Every part in sight, down to the solids."""
    if not getattr(part, "visible", True):
        return
    yield part
    if isinstance(part, Arrow):
        yield from (part.shaft, part.head)
    for each in getattr(part, "parts", ()):
        yield from seen_parts(each)


def corners_of(solid: Solid) -> np.ndarray:
    at, x, y, stretch = (np.array(each) for each in solid.place)
    return (solid.corners * stretch) @ np.array([x, y, cross(x, y)]) + at


def fingertips(scene) -> list[np.ndarray]:
    tips = []
    for part in seen_parts(scene.drawn):
        if isinstance(part, FlemingHand) and part._held is not None:
            tips += [
                part._held[0] + part.size * (part._turn @ tip) for tip in (part.hand.thumb_tip, part.hand.first_tip, part.hand.second_tip)
            ]
        elif isinstance(part, GripHand):
            tips += [part._pos + part.size * (part._turn @ tip) for tip in (part.hand.thumb_tip, part.hand.first_tip)]
    return tips


def arrow_tips(scene) -> list[tuple[str, np.ndarray]]:
    arrows = [part for part in seen_parts(scene.drawn) if isinstance(part, Arrow) and part._drawable and part.letters]
    return [(arrow.stands_for, np.array(arrow.start) + arrow.metres_per_unit * arrow.vector) for arrow in arrows]


def meet(a, b, apart=0.0) -> bool:
    return a[0] < b[2] + apart and b[0] < a[2] + apart and a[1] < b[3] + apart and b[1] < a[3] + apart


@dataclass(frozen=True)
class Moment:
    """What is drawn at an instant in a view, as far as letters and framing go; places in metres on the bench."""

    letters: list[tuple[str, np.ndarray]]
    fingertips: list[np.ndarray]
    arrow_tips: list[tuple[str, np.ndarray]]
    subject: np.ndarray  # corners of what is drawn within the subject's boxes

    @classmethod
    def of(cls, scene) -> Moment:
        boxes = [np.array(box) for box in scene.eye.subject or scene.subject]
        solids = [part for part in seen_parts(scene.drawn) if isinstance(part, Solid) and part._place is not None]
        points = np.vstack([corners_of(solid) for solid in solids])
        within = np.any([np.all((points >= low - 1e-9) & (points <= high), axis=1) for low, high in boxes], axis=0)
        letters = [(text, np.array(at)) for text, at, _ in told(scene.drawn).letters]
        return cls(letters, fingertips(scene), arrow_tips(scene), points[within])


def moments(scene, view, steps: int) -> list[Moment]:
    """A scene in a view at its start and after each of so many steps."""
    reached(scene, 0.0, view.name)
    found = [Moment.of(scene)]
    for _ in range(steps):
        scene.one_step()
        scene.draw()
        found.append(Moment.of(scene))
    return found


def wrong_with(look: dict, now: Moment, least: int) -> list[str]:
    """What is wrong with the letters of one picture, each in a few words; `least`: how many there must be."""
    letters, (width, height) = look["letters"], look["size"]
    project = Projection(look["camera"], look["size"])
    own_places = [(text, project(at)[0]) for text, at in now.letters]
    found = [] if least <= len(letters) <= MOST else [f"{len(letters)} letters"]
    tips = [("a fingertip", None, project(tip)[0]) for tip in now.fingertips]
    tips += [("its own arrow", name, project(tip)[0]) for name, tip in now.arrow_tips]
    for place, (text, box) in enumerate(letters):
        middle, high = np.array([box[0] + box[2], box[1] + box[3]]) / 2, box[3] - box[1]
        if min((np.linalg.norm(middle - at) for each, at in own_places if each == text), default=np.inf) > FAR * high:
            found.append(f"{text} stands far from what it names")
        found += [f"{text} covers {other}" for other, its in letters[place + 1 :] if meet(box, its)]
        if box[0] < 0 or box[1] < 0 or box[2] > width or box[3] > height:
            found.append(f"{text} leaves the picture")
        found += [f"{text} lies under a button" for over in look["over"] if meet(box, over)]
        for what, name, (x, y) in tips:
            if name in (None, text) and meet(box, (x - TIP, y - TIP, x + TIP, y + TIP), -1):
                found.append(f"{text} covers {what}")
    return found


def filled(look: dict, now: Moment) -> tuple[float, list[str]]:
    """How much of the picture's width or height, whichever is more, is filled by the subject, and what of it is cut."""
    project = Projection(look["camera"], look["size"])
    places = project(now.subject)
    low, high = places.min(axis=0), places.max(axis=0)
    cut = [] if np.all(low >= -1) and np.all(high <= np.array(look["size"]) + 1) else ["part of the subject"]
    named = [("a fingertip", tip) for tip in now.fingertips] + now.arrow_tips
    cut += [name for name, tip in named if not np.all((project(tip)[0] > 0) & (project(tip)[0] < look["size"]))]
    return float(((high - low) / look["size"]).max()), cut


def wrong_in(page, views: dict[str, list[Moment]], first: str, steps: int) -> Iterator[str]:
    """What is wrong with letters and subject in each of these views, at its start and so many steps on, as the page is. In the `first`
    there are letters; from near there may be none left to name."""
    for (view, all_moments), looks in zip(views.items(), page.tab.evaluate(LOOK, [list(views), steps]), strict=True):
        for step, (look, now) in enumerate(zip(looks, all_moments[: steps + 1], strict=True)):
            found = wrong_with(look, now, least=int(view == first))
            share, cut = filled(look, now)
            found += [f"the subject fills {share:.2f}"] * (share < FILLED) + [f"{each} is cut" for each in cut]
            yield from (f"{view}, step {step}: {each}" for each in found)
