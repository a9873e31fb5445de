"""The rotating field as it is shown and said, against the tests' own winding, own law of Ampere and own two instants."""

from __future__ import annotations

import cmath
import math

import pytest

from scenes.scene.phases import REGIONS
from scenes.scene.state import as_data, reached
from tests.oracle import in_a_loop, loose_ends, turning
from tests.scenes.oracle.states import reading, states, view_of
from visual.solid.told import told

BORE, SLOT_MIDDLE, MU0 = 0.060, 0.0715, 4e-7 * math.pi
SLOTS, TURNS_OF_A_POLE, FULL = {2: 12, 4: 12, 6: 18, 8: 24}, 40, 20.0
BELTS = (("U", 1), ("W", -1), ("V", 1), ("U", -1), ("W", 1), ("V", -1))  # of a pole pair, clockwise seen from the drive end
MINUS = "\N{MINUS SIGN}"


def phase_currents(settings, angle: float) -> dict[str, float]:
    """Of U, V, W: the lines a third of a cycle apart; with one lost, half the voltage between the others drives both."""
    waves = {line: settings["current"] * math.cos(angle - 2 * math.pi * n / 3) for n, line in enumerate(("L1", "L2", "L3"))}
    if settings["lost"] != "none":
        a, b = (line for line in waves if line != settings["lost"])
        half = (waves[a] - waves[b]) / 2
        waves = {settings["lost"]: 0.0, a: half, b: -half}
    return {phase: waves[line] for phase, line in zip("UVW", settings["lines"].split("-"), strict=True)}


def slots_of(settings) -> list[tuple[float, str, int, bool]]:
    """Of every slot its angle, its phase, the sign of that phase's current toward the drive end as connected, and whether it
    belongs to the coil that is connected backwards."""
    poles = int(settings["poles"])
    count = SLOTS[poles]
    width, pitch = count // (3 * poles), count // poles
    first = next((k for k in range(count) if BELTS[k // width % 6] == (settings["reversed"], 1)), None)
    wrong = () if first is None else (first, (first + pitch) % count)
    found = []
    for k in range(count):
        phase, sign = BELTS[k // width % 6]
        angle = math.pi / poles + (width - 1) * math.pi / count - 2 * math.pi * k / count  # the axis of U at 0
        found.append((angle, phase, -sign if k in wrong else sign, k in wrong))
    return found


def turns_of(settings) -> int:
    poles = int(settings["poles"])
    return TURNS_OF_A_POLE // (SLOTS[poles] // (3 * poles))


def ampere_turns(settings, angle: float) -> list[tuple[float, float]]:
    """Angle of every slot and the ampere conductors toward the drive end in it."""
    now, turns = phase_currents(settings, angle), turns_of(settings)
    return [(place, turns * sign * now[phase]) for place, phase, sign, _ in slots_of(settings)]


def wave(settings, angle: float) -> complex:
    """A of the MMF's wave |A| cos(p theta - arg A), outward positive: of a curve that falls past each slot, counter-clockwise, by
    the current there."""
    pairs = int(settings["poles"]) // 2
    return sum(current * cmath.exp(1j * pairs * place) for place, current in ampere_turns(settings, angle)) / (1j * math.pi * pairs)


def mmf_at(settings, angle: float, where: float) -> float:
    """Of the stepped curve, zero mean."""
    total = 0.0
    for place, current in ampere_turns(settings, angle):
        total += current * (((where - place) % (2 * math.pi)) / (2 * math.pi) - 0.5)  # a step down, and evenly up again
    return total


def rotation_of(settings) -> float:
    """Area that the tip of the wave goes round in a cycle: counter-clockwise positive; 0 where it goes to and fro."""
    tips = [wave(settings, 2 * math.pi * k / 24) for k in range(25)]
    area = sum((a.conjugate() * b).imag for a, b in zip(tips, tips[1:], strict=False))
    return 0.0 if abs(area) < 1e-6 * max(abs(tip) for tip in tips) ** 2 else math.copysign(1.0, area)


def at_angle(place) -> float:
    return math.atan2(place[1], place[0])


def same(a: float, b: float, near: float = 0.01) -> bool:
    return abs(math.remainder(a - b, 2 * math.pi)) < near


def coils_of(settings) -> list[tuple[str, int, int, int]]:
    """Phase, go slot, return slot a full pitch further, and +1 or -1 as it is connected, of every coil in the order of its slots."""
    poles = int(settings["poles"])
    count = SLOTS[poles]
    width, pitch = count // (3 * poles), count // poles
    plus = [(BELTS[k // width % 6][0], k) for k in range(count) if BELTS[k // width % 6][1] > 0]
    first = next((k for phase, k in plus if phase == settings["reversed"]), None)
    return [(phase, k, (k + pitch) % count, -1 if k == first else 1) for phase, k in plus]


def shown_coils(settings) -> list[tuple[str, int, int, int]]:
    coils = coils_of(settings)
    if settings["coils"] == "all":
        return coils
    own = [coil for coil in coils if coil[0] == settings["coils"][-1]]
    return own[:1] if settings["coils"].startswith("first") else own


def check_slots(settings, angle, data):
    """Dots, crosses and the letters of the phase groups, of the coils that are shown."""
    now = phase_currents(settings, angle)
    drawn = {round(math.degrees(at_angle(mark["at"])), 1): mark for mark in data["marks"] if mark["words"].endswith("toward the drive end")}
    shown = {slot for _, go, back, _ in shown_coils(settings) for slot in (go, back)}
    runs: list[tuple[str, list[float]]] = []
    slots = slots_of(settings)
    for k, (place, phase, sign, wrong) in enumerate(slots):
        current = sign * now[phase] if k in shown else 0.0
        marks = [mark for degrees, mark in drawn.items() if same(math.radians(degrees), place)]
        if abs(current) > 0.021 * FULL:
            assert [mark["sign"] for mark in marks] == [1 if current > 0 else -1]
            assert marks[0]["words"].startswith("dot" if current > 0 else "cross")
        elif abs(current) < 0.019 * FULL:
            assert not marks
        text = ("+" if sign > 0 else MINUS) + phase + (" !" if wrong else "")
        if k in shown and k < 2 * len(slots) // int(settings["poles"]):  # a tag for each run of like sides, at one pole pair
            if k - 1 in shown and runs and runs[-1][0] == text:
                runs[-1][1].append(place)
            else:
                runs.append((text, [place]))
    letters = [(each["text"], at_angle(each["at"])) for each in data["letters"] if each["text"][0] in f"+{MINUS}"]
    assert len(letters) == len(runs)
    for text, places in runs:
        assert [own for own, where in letters if same(where, sum(places) / len(places))] == [text]


def check_coils(settings, data):
    """The end windings join the slots that the winding pairs, at both ends; the leads go to the coil sides they belong to."""
    where = [place for place, *_ in slots_of(settings)]

    def degrees(slot):
        return f"{math.degrees(where[slot]) % 360:.1f}°".replace("360.0", "0.0")

    expected = sorted(
        (f"end winding of {phase} from {degrees(go)} to {degrees(back)}", end)
        for phase, go, back, _ in shown_coils(settings)
        for end in (1, -1)
    )
    told = [
        (mark["words"].replace("360.0", "0.0"), mark["sign"], mark["at"])
        for mark in data["marks"]
        if mark["words"].startswith("end winding")
    ]
    assert sorted((words, end) for words, end, _ in told) == expected
    assert all(place[2] * end > 0.03 for _, end, place in told)
    leads = {mark["words"].replace("360.0", "0.0") for mark in data["marks"] if mark["words"].startswith("lead ")}
    wanted = set()
    for phase in "UVW" if settings["coils"] == "all" else settings["coils"] if settings["coils"] in "UVW" else "":
        ends = [(go, back) if way > 0 else (back, go) for each, go, back, way in coils_of(settings) if each == phase]
        wanted |= {
            f"lead from {phase}1 to the coil side at {degrees(ends[0][0])}",
            f"lead from {phase}2 to the coil side at {degrees(ends[-1][1])}",
            *(
                f"lead of {phase} from the coil side at {degrees(a[1])} to that at {degrees(b[0])}"
                for a, b in zip(ends, ends[1:], strict=False)
            ),
        }
    assert leads == wanted


def check_flow(settings, angle, data):
    """Each flow mark points along its coil the way the phase's current flows there: up the go side with a current into U1."""
    now, coils = phase_currents(settings, angle), coils_of(settings)
    where = [place for place, *_ in slots_of(settings)]
    marks = [needle for needle in data["needles"] if needle["words"].startswith("flow mark")]
    carrying = {k for k, (phase, *_, way) in enumerate(coils) if abs(now[phase]) > 0.021 * FULL and coils[k] in shown_coils(settings)}
    weak = {k for k, (phase, *_) in enumerate(coils) if abs(now[phase]) < 0.019 * FULL}
    seen = {int(mark["words"].split()[-1]) - 1 for mark in marks}
    assert carrying <= seen and not seen & weak and seen <= {k for k in range(len(coils)) if coils[k] in shown_coils(settings)}
    for mark in marks:
        phase, go, back, way = coils[int(mark["words"].split()[-1]) - 1]
        sense = math.copysign(1.0, way * now[phase])
        (x, y, z), (along_x, along_y, along_z) = mark["at"], mark["vector"]
        if abs(z) < 0.028:  # in a slot
            at_go = same(at_angle(mark["at"]), where[go], 0.05)
            assert at_go or same(at_angle(mark["at"]), where[back], 0.05)
            assert along_z * sense * (1 if at_go else -1) > 0.9
        elif math.hypot(x, y) > 0.0895 and abs(along_z) < 0.5:  # on the end winding: clockwise from go to return in front
            turning_way = x * along_y - y * along_x
            assert turning_way * sense * math.copysign(1.0, z) < 0


def check_turning_arrow(settings, angle, data):
    """A curved arrow, ahead of a peak of the field, that points the way the peaks go; none where they only grow and fade."""
    arrows = [needle for needle in data["needles"] if needle["words"].startswith("curved arrow")]
    strongest = abs(wave(settings | {"current": FULL, "lost": "none", "reversed": "none"}, 0.0))
    share, way = abs(wave(settings, angle)) / strongest, rotation_of(settings)
    if 0.019 < share < 0.021:
        return
    assert len(arrows) == (1 if way and share > 0.02 else 0)
    for arrow in arrows:
        (x, y, _), (along_x, along_y, _) = arrow["at"], arrow["vector"]
        assert (x * along_y - y * along_x) * way > 0.8 * math.hypot(x, y)


def check_field(settings, angle, data, side):
    """Poles, arrows, flux lines and MMF."""
    pairs, tip = int(settings["poles"]) // 2, wave(settings, angle)

    def outward(where):
        return abs(tip) * math.cos(pairs * where - cmath.phase(tip))

    strongest = abs(wave(settings | {"current": FULL, "lost": "none", "reversed": "none"}, 0.0))
    share = abs(tip) / strongest
    poles = [letter for letter in data["letters"] if letter["text"] in ("N", "S")]
    if share > 0.021:
        assert len(poles) == 2 * pairs
    elif share < 0.019:
        assert not poles and not [arrow for arrow in data["arrows"] if arrow["letter"] == "B"]
    for letter in poles:  # an S where flux enters the stator, an N where it leaves it
        assert outward(at_angle(letter["at"])) * (1 if letter["text"] == "S" else -1) > 0.99 * abs(tip)
        assert letter["at"][2] * side > 0
    faces = [mark for mark in data["marks"] if "pole face" in mark["words"]]
    assert len(faces) == len(poles)
    for face in faces:
        assert outward(at_angle(face["at"])) * (1 if face["words"].endswith("S") else -1) > 0.99 * abs(tip)
    flux = 1000 * MU0 * pairs * abs(tip) / BORE  # mT at the wall
    arrows = [arrow for arrow in data["arrows"] if arrow["letter"] == "B"]
    assert len(arrows) == (pairs if settings["picture"] == "lines" and poles else 0)
    for arrow in arrows:
        assert arrow["unit"] == "mT" and math.hypot(*arrow["vector"]) == pytest.approx(flux, rel=1e-3)
        assert outward(at_angle(arrow["vector"])) > 0.999 * abs(tip)
    assert reading(data, "B") == pytest.approx(flux, abs=0.06) and reading(data, "Θ") == pytest.approx(abs(tip), abs=0.51)
    for line in [each for each in data["needles"] if each["words"] == "flux line"]:
        assert settings["picture"] == "lines"
        assert outward(at_angle(line["at"])) > 0  # where it ends flux enters the stator
        assert line["at"][0] * line["vector"][0] + line["at"][1] * line["vector"][1] > 0
    steps = [arrow for arrow in data["arrows"] if arrow["letter"] == "Θ"]
    if settings["picture"] == "mmf":
        for place, *_ in slots_of(settings):
            tooth = place - math.pi / SLOTS[2 * pairs]
            expected = mmf_at(settings, angle, tooth)
            radial = [
                step["vector"][0] * math.cos(tooth) + step["vector"][1] * math.sin(tooth)
                for step in steps
                if same(at_angle(step["at"]), tooth)
            ]
            assert sum(radial) == pytest.approx(expected, abs=0.015 * 1700)
            if abs(expected) > 60:
                assert len(radial) == 1 and radial[0] * expected > 0
    else:
        assert not steps


def check_figures(settings, angle, data, end, seen):
    pairs, tip, now = int(settings["poles"]) // 2, wave(settings, angle), phase_currents(settings, angle)
    words = {each["words"]: each["value"] for each in data["readings"]}
    assert words[f"rotation of the field, looking at {end}"] == ("it does not rotate" if seen == "none" else seen)
    assert reading(data, "nₛ") == pytest.approx(60 * settings["frequency"] / pairs, abs=0.51)
    for phase, current in now.items():
        assert reading(data, f"i {phase}") == pytest.approx(current, abs=0.051)
    if abs(tip) > 1:
        from_u = math.degrees(-cmath.phase(tip) / pairs) % (360 / pairs)
        off = (reading(data, "θ") - from_u + 180 / pairs) % (360 / pairs) - 180 / pairs
        assert abs(off) < 0.6
    # half the sum and half the difference of the longest and the shortest that the wave becomes, at the right side
    sizes = [abs(wave(settings, math.pi * k / 360)) for k in range(360)]
    long, short = max(sizes), min(sizes)
    clockwise, other = reading(data, "Θ₊"), reading(data, "Θ₋")
    assert max(clockwise, other) == pytest.approx((long + short) / 2, abs=1) and min(clockwise, other) == pytest.approx(
        (long - short) / 2, abs=1
    )
    if rotation_of(settings):
        assert (other > clockwise) == (rotation_of(settings) > 0)
    group = words["phase group with the largest current toward the drive end"]
    largest = max(sign * now[phase] for phase in "UVW" for sign in (1, -1))
    if largest > 1e-6:
        assert (1 if group[0] == "+" else -1) * now[group[1]] == pytest.approx(largest)
    else:
        assert group == "none"


def check_words(settings, data, end, seen):
    even = settings["reversed"] == "none"
    if seen == "none":
        assert "does not rotate" in data["says"] and "clockwise" not in data["says"]
    else:
        assert data["says"].startswith(
            f"Looking at {end}, the field rotates {seen}{'' if even else ', unevenly'}; it has {settings['poles']} poles"
        )
    question = data["question"]
    assert question["answer"] == seen and f"Looking at {end}, which way" in question["text"]
    for phase, line in zip("UVW", settings["lines"].split("-"), strict=True):
        assert f"{line} feeds {phase}" in question["text"]
    if seen != "none":
        assert (
            f"looking at {end} the axes of U, V and W follow each other {turning(-1, 1 if end == 'the drive end' else -1)}"
            in question["reason"]
        )
        assert f"the field rotates {seen}" in question["reason"]
        order = [phase for _, phase in sorted(zip(settings["lines"].split("-"), "UVW", strict=True))]
        order = order[order.index("U") :] + order[: order.index("U")]
        assert f"in the order {'-'.join(order)}," in question["reason"]


def check_wiring(settings, data):
    leads = data["leads"]
    lost = None if settings["lost"] == "none" else settings["lost"]
    for phase, line in zip("UVW", settings["lines"].split("-"), strict=True):
        assert [lead["to"] for lead in leads if lead["from"] == f"fuse of {line}, above" and not lead["through"]] == [f"motor {phase}1"]
        assert in_a_loop(leads, f"fuse of {line}") == (line != lost)
        assert in_a_loop(leads, f"winding {phase}1-{phase}2") == (line != lost)
        assert {"from": f"supply {line}", "to": f"fuse of {line}, below", "through": ""} in leads
    assert loose_ends(leads) == (set() if lost is None else {f"fuse of {lost}, below", f"fuse of {lost}, above"})
    studs = [each["text"] for each in data["letters"] if len(each["text"]) == 2 and each["text"][0] in "UVW"]
    assert sorted(studs) == ["U1", "U2", "V1", "V2", "W1", "W2"]


def check_colours(scene, settings):
    """The letters of a phase group stand on the colour of the line that feeds it."""
    region, lines = REGIONS[settings["colours"]], settings["lines"].split("-")
    for letters in scene.drawn.machines[int(settings["poles"])].stator.letters:
        if not letters.visible:
            continue
        ground = letters.drawn.background
        assert (ground.x, ground.y, ground.z) == pytest.approx(region.colours[int(lines["UVW".index(letters.text[1])][1]) - 1])


def test_what_is_drawn_and_said_of_the_rotating_field_is_true():
    rotated = set()
    for scene, data in states("turning-field", 0.03):
        settings = data["settings"]
        angle = 2 * math.pi * settings["frequency"] * data["time"]
        forward, _ = view_of(scene)
        side = -1 if forward[2] > 0 else 1
        end = "the drive end" if side > 0 else "the non-drive end"
        seen = turning(rotation_of(settings), side)
        rotated.add((seen, side))
        check_slots(settings, angle, data)
        check_coils(settings, data)
        check_flow(settings, angle, data)
        check_turning_arrow(settings, angle, data)
        check_field(settings, angle, data, side)
        check_figures(settings, angle, data, end, seen)
        check_words(settings, data, end, seen)
        check_wiring(settings, data)
        check_colours(scene, settings)
    assert len(rotated) >= 5


def test_while_a_question_waits_nothing_gives_it_away():
    for scene, _ in states("turning-field", 0.03, count=12):
        scene.draw(reveals_answer=False)
        seen = told(scene.drawn)
        assert not seen.arrows and not [words for words, *_ in seen.needles if not words.startswith("flow mark")]
        assert not [text for text, *_ in seen.letters if text in ("N", "S", "B", "Θ")]
        assert not [words for words, _, _ in seen.marks if "pole" in words or "dot" in words or "cross" in words]
        shown = [f"{each.value} {each.formula}" for each in scene.readings(reveals_answer=False) if not each.tells]
        assert not [text for text in shown if "clockwise" in text or "rotate" in text]
        assert "clockwise" not in scene.principle and "back" not in scene.principle


def test_flow_marks_move_with_the_charge_that_passes():
    """Between two instants a mark goes as far along its coil as current times time: as the area under the phase's current."""
    settings = {
        "lines": "L1-L2-L3",
        "lost": "none",
        "reversed": "none",
        "poles": "2",
        "current": FULL,
        "frequency": 50.0,
        "coils": "first U",
    }
    scene, _ = next(iter(states("turning-field", 0.0, count=1)))
    scene.set_all(settings)
    moved = []
    for start, end in ((5, 45), (30, 80), (100, 150), (195, 240)):  # degrees, within which the current of U keeps its sign
        places = []
        for degrees in (start, end):
            data = as_data(reached(scene, degrees / 360 / 50, "drive-end"), degrees / 360 / 50)
            needles = [needle for needle in data["needles"] if needle["words"] == "flow mark on coil 1" and needle["at"][2] > 0.03]
            places.append(max(needles, key=lambda needle: needle["at"][0] + needle["at"][1]))
        step = [b - a for a, b in zip(places[0]["at"], places[1]["at"], strict=True)]
        way = sum(a * b for a, b in zip(step, places[0]["vector"], strict=True))
        area = abs(math.sin(math.radians(end)) - math.sin(math.radians(start)))
        assert way > 0, "it goes the way it points"
        moved.append(math.hypot(*step) / area)
    assert max(moved) / min(moved) < 1.15
