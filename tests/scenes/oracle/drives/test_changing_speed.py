"""Changing speed as it is shown and said: wiring followed from the supply's posts to the studs, coils laid by the tests' own
rule, field by Faraday's law, circuit solved anew."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from scenes.drives.changing_speed.motors import SHAPE
from scenes.scene.phases import REGIONS
from tests.oracle import in_a_loop, loose_ends, turning
from tests.scenes.oracle.states import reading, states, view_of
from visual.machines.stator import slotted_iron
from visual.solid.told import told

SLOTS, BORE, LENGTH, SLOT_MIDDLE, YOKE = 36, 0.060, 0.060, 0.0715, 0.102 - 0.083
MINUS = "\N{MINUS SIGN}"
MOST = 1.8  # T, that teeth and yoke of electrical sheet carry (common practice)


class Laid:
    """The coils of the winding in use. Clockwise seen from the drive end, in the order of the slots; angle of slot 0 so that
    the axis of the phase U (of the first winding's tap 2U) is at 0.

    Ordinary: 36 slots, 4 poles, two layers, full pitch, belts +U -W +V -U +W -V. Tapped (Dahlander): belts of 60 degrees of the
    lower number of poles, coils half a pole of it wide; every second belt is the half of a phase between end and tap, which
    current from the tap runs through backwards, with half the current. End 1V belongs to tap 2W and the other way round.
    """

    def __init__(self, settings):
        method = settings["method"]
        if method == "inverter":
            self.poles, self.turns, self.paths, pitch = 4, 40, 1, 9
            belts = [("U", 1), ("W", -1), ("V", 1), ("U", -1), ("W", 1), ("V", -1)]
            go = [belts[slot // 3 % 6] for slot in range(SLOTS)]
            first, self.figure, self.ends = 5.5, "", ()
        else:
            self.poles = int(settings["tapped" if method == "one-tapped-winding" else "joined"])
            few = 2 if self.poles in (2, 4) else 6
            self.low = self.poles != few
            self.turns, self.paths = {2: 66, 6: 140}[few], 1 if self.low else 2
            width, pitch = SLOTS // (3 * few), SLOTS // (2 * few)
            taps = [("UWV"[slot // width % 3], slot // width % 2 == 0) for slot in range(SLOTS)]
            if self.low:
                go = [({"U": "U", "V": "W", "W": "V"}[tap], 1) for tap, _ in taps]
            else:
                go = [(tap, 1 if second_half else -1) for tap, second_half in taps]
            first = 7.0
            slow_figure = 1 if method == "one-tapped-winding" or few == 6 else 3
            self.figure = str(slow_figure if self.low else slow_figure + 1)
            self.ends = tuple(f"{slow_figure}{letter}" for letter in "UVW"), tuple(f"{slow_figure + 1}{letter}" for letter in "UVW")
        self.pairs = self.poles // 2
        self.sides = []  # angle, layer (1 at the bore), terminal's letter, sign of its current toward the drive end
        for slot, (letter, sign) in enumerate(go):
            for number, layer, way in ((slot, 1, sign), (slot + pitch, 2, -sign)):
                self.sides.append((2 * math.pi * (first - number) / SLOTS, layer, letter, way))

    def per_ampere(self, letter: str, pairs: int | None = None) -> complex:
        """A of the MMF wave |A| cos(p theta - arg A), outward, for 1 A into the terminal of that letter."""
        p = pairs or self.pairs
        total = sum(way * cmath.exp(1j * p * angle) for angle, _, each, way in self.sides if each == letter)
        return total * self.turns / self.paths / (1j * math.pi * p)

    @property
    def effective_turns(self) -> float:
        """N k_w of a phase, from the wave 2 N k_w / (pi p) of one ampere."""
        return abs(self.per_ampere("U")) * math.pi * self.pairs / 2


def feeds(data) -> dict[str, str]:
    """The letter of the motor's terminal that each line reaches through leads, fuses, inverter and switch."""
    outside = [lead for lead in data["leads"] if not lead["through"].startswith(("winding", "supply"))]
    found = {}
    for line in ("L1", "L2", "L3"):
        reached, waiting = set(), [f"supply {line}"]
        while waiting:
            here = waiting.pop()
            reached.add(here)
            for lead in outside:
                for a, b in ((lead["from"], lead["to"]), (lead["to"], lead["from"])):
                    if a == here and b not in reached:
                        waiting.append(b)
        studs = [each.split()[1] for each in reached if each.startswith("motor")]
        assert len(studs) == 1
        found[line] = studs[0]
    return found


def letter_in(stud: str) -> str:
    return next(letter for letter in stud if letter in "UVW")


def check_wiring(settings, data, laid):
    leads, by_line = data["leads"], feeds(data)
    order = settings["lines"].split("-")
    if settings["method"] == "inverter":
        assert sorted(by_line.values()) == ["U1", "V1", "W1"]
        assert [by_line[line] for line in order] == ["U1", "V1", "W1"]
        # on the inverter's supply side nothing is swapped
        assert all({"from": f"supply {line}", "to": f"inverter {line}", "through": ""} in leads for line in ("L1", "L2", "L3"))
        assert not loose_ends(leads) and in_a_loop(leads, "winding V1-V2")
        assert all(in_a_loop(leads, f"inverter {a}-{b}") for a, b in zip(("L1", "L2", "L3"), "UVW", strict=True))
        return by_line
    swapped = settings["method"] == "one-tapped-winding" and settings["leads"] == "exchanged" and laid.low
    expected = [laid.figure + letter for letter in ("UWV" if swapped else "UVW")]
    assert [by_line[line] for line in order] == expected
    assert in_a_loop(leads, "supply")
    ends, taps = laid.ends
    if laid.low:  # the taps open
        assert loose_ends(leads) == {f"switch {tap}" for tap in taps}
    else:  # the ends joined in the switch
        inside = {(lead["from"], lead["to"]) for lead in leads if lead["through"].startswith("switch")}
        assert {(f"switch {a}", f"switch {b}") for a, b in zip(ends, ends[1:], strict=False)} <= inside and not loose_ends(leads)
    for tap, end in zip(taps, (ends[0], ends[2], ends[1]), strict=True):
        assert in_a_loop(leads, f"winding {end}-{tap}") and in_a_loop(leads, f"winding {tap}-star point")
    studs = {each["text"] for each in data["letters"] if len(each["text"]) == 2 and each["text"][0] in "1234"}
    assert studs == {*ends, *taps}
    return by_line


def check_sides(scene, settings, data, laid, by_line):
    """Signs on the coil sides, and letters and colours outside."""
    drawn = {}
    for mark in data["marks"]:
        if mark["words"].startswith("coil side"):
            x, y, _ = mark["at"]
            drawn[round(math.degrees(math.atan2(y, x))) % 360, 1 if math.hypot(x, y) < SLOT_MIDDLE else 2] = mark
    assert len(drawn) == 2 * SLOTS
    bottoms = {}
    for angle, layer, letter, way in laid.sides:
        place = round(math.degrees(angle)) % 360
        mark = drawn[place, layer]
        assert mark["sign"] == way and mark["words"] == f"coil side {'+' if way > 0 else MINUS}{laid.figure}{letter}"
        if layer == 2:
            bottoms[place] = f"{'+' if way > 0 else MINUS}{laid.figure}{letter}"
    region = REGIONS[settings["colours"]]
    line_of = {letter_in(stud): line for line, stud in by_line.items()}
    name = "inverter" if settings["method"] == "inverter" else str(laid.poles)
    letters = [letters for _, _, letters, _ in scene.drawn.machine.stators[name].groups]
    assert len(letters) >= 6
    for each in letters:
        place = math.degrees(math.atan2(each.drawn.pos.y, each.drawn.pos.x))
        near = min(bottoms, key=lambda slot: abs((slot - place + 180) % 360 - 180))
        assert each.text == bottoms[near]
        ground = each.drawn.background
        assert (ground.x, ground.y, ground.z) == pytest.approx(region.colours[int(line_of[letter_in(each.text)][1]) - 1])


def solved(scene, slip: float):
    """Gap voltage (complex, of a phase, that of L1's voltage at angle 0), torque in N m and synchronous speed in rad/s, from the
    resistances and reactances of the circuit."""
    c = scene.setup.circuit
    rotor = c.rotor_resistance / slip + 1j * c.rotor_reactance if slip else 1e12
    branch = 1 / (1 / rotor + 1 / (1j * c.magnetising_reactance))
    volts = c.line_voltage / math.sqrt(3)
    gap = volts * branch / (branch + c.stator_resistance + 1j * c.stator_reactance)
    speed = 2 * math.pi * c.frequency / (c.poles / 2)
    return gap, 3 * abs(gap / rotor) ** 2 * c.rotor_resistance / slip / speed if slip else 0.0, speed


def field_now(scene, settings, data, laid, by_line, slip):
    """T and angle of the gap's wave: each phase links N k_w times its flux, whose rate is the gap voltage; so the currents that
    would make it, a third of a cycle apart, are known in their phase, and its size from E = 4.44 f N k_w 2 B r l / p."""
    gap, *_ = solved(scene, slip)
    f = scene.setup.circuit.frequency
    size = math.sqrt(2) * abs(gap) * laid.pairs / (2 * math.pi * f * laid.effective_turns * 2 * BORE * LENGTH)
    linked = cmath.phase(gap / 1j)
    angle = 2 * math.pi * f * data["time"]
    wave = sum(
        laid.per_ampere(letter_in(stud)) * math.cos(angle + linked - 2 * math.pi * (int(line[1]) - 1) / 3) for line, stud in by_line.items()
    )
    return size, cmath.phase(wave)


def rotation_of(laid, by_line) -> float:
    def wave(angle):
        return sum(
            laid.per_ampere(letter_in(stud)) * math.cos(angle - 2 * math.pi * (int(line[1]) - 1) / 3) for line, stud in by_line.items()
        )

    return math.copysign(1.0, (wave(0.0).conjugate() * wave(0.3)).imag)


def check_field(data, laid, side, size, phase):
    def outward(where):
        return math.cos(laid.pairs * where - phase)

    poles = [letter for letter in data["letters"] if letter["text"] in ("N", "S")]
    assert len(poles) == laid.poles
    for letter in poles:  # an S where flux enters the stator, an N where it leaves it
        assert outward(math.atan2(letter["at"][1], letter["at"][0])) * (1 if letter["text"] == "S" else -1) > 0.995
        assert letter["at"][2] * side > 0
    faces = [mark for mark in data["marks"] if "pole face" in mark["words"]]
    assert len(faces) == laid.poles
    for face in faces:
        assert outward(math.atan2(face["at"][1], face["at"][0])) * (1 if face["words"].endswith("S") else -1) > 0.995
    arrows = [arrow for arrow in data["arrows"] if arrow["letter"] == "B"]
    assert len(arrows) == laid.pairs and len(data["arrows"]) == laid.pairs
    for arrow in arrows:
        assert arrow["unit"] == "T" and math.hypot(*arrow["vector"]) == pytest.approx(size, rel=5e-3)
        assert outward(math.atan2(arrow["vector"][1], arrow["vector"][0])) > 0.995
    assert reading(data, "B") == pytest.approx(size, abs=0.008)
    assert reading(data, "B") / tooth_share() <= MOST and reading(data, "B") * BORE / laid.pairs / YOKE <= MOST


def tooth_share() -> float:
    """Of the slot pitch that is tooth at the bore, measured on the iron that is drawn."""
    pitch = 2 * math.pi / SLOTS
    points = slotted_iron(SHAPE, [0.0], pitch).points
    at_bore = [math.atan2(y, x) for x, y, _ in points if abs(math.hypot(x, y) - BORE) < 1e-6]
    return (max(at_bore) - min(at_bore)) / pitch


def test_the_teeth_that_are_drawn_are_as_wide_as_is_said():
    assert tooth_share() == pytest.approx(0.4)


def check_words(scene, settings, data, laid, by_line, side):
    end = "the drive end" if side > 0 else "the non-drive end"
    rotation = rotation_of(laid, by_line)
    seen = turning(rotation, side)
    synchronous = 60 * scene.setup.circuit.frequency / laid.pairs
    assert reading(data, "nₛ") == pytest.approx(synchronous, abs=0.51)
    speed = reading(data, "n")
    words = {each["words"]: each["value"] for each in data["readings"]}
    rotor = turning(rotation * (speed if abs(speed) > 0.5 else 0), side)
    assert words[f"rotation of the rotor, looking at {end}"] == ("at standstill" if rotor == "none" else rotor)
    assert (
        data["says"].startswith(f"Looking at {end}, with {laid.poles} poles ")
        and f"the field rotates {seen} at {synchronous:.0f} r/min" in data["says"]
    )
    assert (f"the rotor turns {rotor} at" in data["says"]) if rotor != "none" else ("the rotor is at standstill" in data["says"])
    question = data["question"]
    assert question["answer"] in [choice["value"] for choice in question["choices"]]
    if settings["method"] == "one-tapped-winding":
        assert question["answer"] == f"{synchronous:.0f}-{seen}" and f"Looking at {end}, how" in question["text"]
        assert f"so {seen}, at {synchronous:.0f} r/min" in question["reason"]
        assert ("the same order" in question["reason"]) == (rotation < 0) and ("swapped" in question["reason"]) == (rotation > 0)
        assert f"U-V-W on L1-L2-L3 turns {turning(-1, side)} looking at {end}" in question["reason"]
        for line, stud in by_line.items():
            assert f"{line} to {stud}" in question["text"]
        joined = "1U, 1V, 1W joined" in question["text"]
        assert joined == (not laid.low)
    elif settings["method"] == "two-windings" or scene.setup.circuit.frequency < 60:
        assert question["answer"] == f"{synchronous:.0f}"
    # the order of the letters is the marking's business: at each speed alphabetical order turns clockwise
    order = "".join(letter_in(by_line[line]) for line in ("L1", "L2", "L3"))
    assert (rotation < 0) == (order in "UVWUV")
    mark = next(each for each in data["needles"] if each["words"] == "mark on the rotor")
    angle = math.pi / 2 + 2 * math.pi * rotation * speed / 60 * data["time"]
    assert np.dot(mark["vector"][:2], (math.cos(angle), math.sin(angle))) > 0.995


def test_what_is_drawn_and_said_of_changing_speed_is_true():
    rotated, curved = set(), 0
    for scene, data in states("changing-speed", 0.02):
        settings = data["settings"]
        forward, _ = view_of(scene)
        side = -1 if forward[2] > 0 else 1
        laid = Laid(settings)
        by_line = check_wiring(settings, data, laid)
        check_sides(scene, settings, data, laid, by_line)
        synchronous = 60 * scene.setup.circuit.frequency / laid.pairs
        slip = 1 - reading(data, "n") / synchronous
        slip_now = 1 - abs(scene.state.moment.speed) * 60 / synchronous
        assert slip == pytest.approx(slip_now, abs=0.51 / synchronous)
        size, phase = field_now(scene, settings, data, laid, by_line, slip_now)
        check_field(data, laid, side, size, phase)
        for arrow in [needle for needle in data["needles"] if needle["words"] == "curved arrow: rotation of the field"]:
            (x, y, _), (along_x, along_y, _) = arrow["at"], arrow["vector"]
            assert (x * along_y - y * along_x) * rotation_of(laid, by_line) > 0
            curved += 1
        assert reading(data, "T") == pytest.approx(solved(scene, slip_now)[1], abs=0.006)
        check_words(scene, settings, data, laid, by_line, side)
        rotated.add((rotation_of(laid, by_line), settings["method"], laid.poles))
    assert len(rotated) >= 10 and curved > len(rotated)


def test_while_a_question_waits_nothing_gives_it_away():
    for scene, _ in states("changing-speed", 0.02, count=24):
        scene.draw(reveals_answer=False)
        seen = told(scene.drawn)
        assert not [words for words, *_ in seen.needles if "rotation" in words]
        assert not seen.arrows and scene.plot(reveals_answer=False) is None and not scene.marks(reveals_answer=False)
        assert not [text for text, *_ in seen.letters if text in ("N", "S", "B")]
        assert not [words for words, _, _ in seen.marks if "pole" in words]
        hidden = scene.question()
        answer = dict(hidden.choices)[hidden.answer]
        shown = " ".join(f"{each.words} {each.value} {each.formula}" for each in scene.readings(reveals_answer=False) if not each.tells)
        assert "clockwise" not in shown and "series" not in shown and "weakens" not in shown
        if scene["method"] == "one-tapped-winding":  # nor the control by which it is set
            control = scene.by_name["tapped"]
            said = " ".join([control.words, dict(control.choices)[scene["tapped"]]])
            assert "pole" not in said and "slow" not in said and "fast" not in said
        elif scene["method"] == "inverter":
            assert answer not in shown
