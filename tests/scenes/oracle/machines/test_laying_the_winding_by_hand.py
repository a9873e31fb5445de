"""A winding laid by hand, coil by coil: what may be pressed, what the address keeps, and what the rotating field's bench takes over.

Slots count clockwise looking at the drive end (the scene says so); U-V-W then turns clockwise there (IEC 60034-8).
"""

from __future__ import annotations

import contextlib
import math
import re
from urllib.parse import parse_qs

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene.state import NoPage, as_data, reached
from tests.scenes.oracle.machines.winder import coils_of, first_slot_angle, in_whole_degrees, planned, slot_turns, stator, waves

NAME = "laying-the-winding"


def built():
    scene = catalogue.scene_class(NAME)()
    scene.ensure_built(NoPage())
    return scene


@pytest.mark.parametrize("stator_of", ["12-2", "24-4", "18-6"])
def test_laying_the_next_coil_right_each_time_ends_with_the_winders_table(stator_of):
    scene = built()
    scene.set_all({"stator": stator_of, "laid": "none", "winding": "one-layer"})
    for _ in planned(scene.settings):
        assert scene.press("next") is None
        coil = scene.setup.winding.coils[-1]
        assert (coil.phase, coil.go, coil.back) in [each[:3] for each in planned(scene.settings)]
    assert scene["laid"] == "all" and scene.now.wrong == ()
    with pytest.raises(ValueError, match="All .* coils are laid"):
        scene.press("next")
    scene.press("last")
    assert len(scene.setup.winding.coils) == len(planned(scene.settings)) - 1 and scene["hand"] == "W"


@pytest.mark.parametrize("kind", ["one-layer", "two-layers", "short"])
@pytest.mark.parametrize("stator_of", ["12-2", "24-4"])
@pytest.mark.parametrize("mistake", ["none", "reversed", "ends", "early", "exchanged", "U2-8"])
def test_who_presses_what_is_said_puts_every_mistake_right(stator_of, kind, mistake):
    """Each sentence is carried out word for word; what comes out was wrong, what goes in is right, and it ends with the plan."""
    scene = built()
    with contextlib.suppress(ValueError):
        scene.set_all({"stator": stator_of, "winding": kind, "joined": "series", "hand": "U", "laid": mistake})
    right = {phase: slot_turns(scene.settings | {"laid": "all"}, phase) for phase in "UVW"}
    for _ in range(200):
        said, before = scene.to_press(reveals_answer=True), coils_of(scene.settings)
        if not said:
            break
        again = re.match(r"To take a wrong coil out, press its two slots again: (slot \d+), then (slot \d+)\.", said)
        following = re.search(r"Press (slot \d+), then (slot \d+); or Lay next coil\.$", said)
        if again:
            scene.join(*again.groups())
        elif "Take last out" in said:
            scene.press("last")
        else:
            scene.join(*following.groups())
        after = coils_of(scene.settings)
        assert len(after) == len(before) + (1 if not again and following and "Take last out" not in said else -1)
    assert not scene.to_press(reveals_answer=True)
    for phase in "UVW":
        assert slot_turns(scene.settings, phase) == pytest.approx(right[phase])


def test_coils_by_hand_are_kept_in_the_address_and_what_does_not_fit_is_said_and_changes_nothing():
    scene = built()
    scene.set("laid", "none")
    scene.join("slot 1", "slot 7")
    scene.join("slot 8", "slot 2")
    assert scene["laid"] == "U1-7.U8-2" and scene["hand"] == "V" and scene.now.wrong == ("U",)
    before = dict(scene.settings)
    for first, second, said in (
        ("slot 3", "slot 8", "A coil spans 6 slots here: from slot 3 it goes to slot 9, not to slot 8."),
        ("slot 1", "slot 1", "A coil spans 6 slots here: from slot 1 it goes to slot 7, not to slot 1."),
        ("slot 1", "stud", "A coil goes from one of the slots 1 to 12 to another."),
        ("bench", "", "Lay all coils first: a winding that is not finished stays here."),
    ):
        with pytest.raises(ValueError, match=re.escape(said)):
            scene.join(first, second) if second else scene.press(first)
        assert scene.settings == before
    with pytest.raises(ValueError, match="from slot 1 it goes to slot 7, not to slot 5"):
        scene.set("laid", "U1-5")
    with pytest.raises(ValueError, match="This stator has slots 1 to 12"):
        scene.set_all({"laid": "U13-7"})
    assert scene.settings == before
    scene.set("hand", "U")
    scene.set("stator", "24-4")
    assert scene["laid"] == "U1-7.U8-2", "the pitch is six slots there too"
    scene.set("stator", "18-2")
    assert scene["laid"] == "none", "the coils of the other stator do not fit"
    scene.set_all({"stator": "12-2", "laid": "U1-7.U8-2"})
    scene.join("slot 8", "slot 2")
    assert scene["laid"] == "U1-7", "pressed again, a coil comes out"
    scene.set_all({"stator": "24-4", "laid": "U1-7"})
    with pytest.raises(ValueError, match="Slot 7 is full: a coil needs two free places."):
        scene.join("slot 7", "slot 13")


def check_flow(settings, data, start, slots, angle):
    """Each flow mark in a slot points toward the drive end where its coil's current does: a positive one in the slot of its start."""
    current = {phase: math.cos(angle - 2 * math.pi * k / 3) for k, phase in enumerate("UVW")}
    sides = {}
    for phase, first, second in coils_of(settings):
        across = (second - first) % slots - slots // 2
        for go in [first] * (across <= 0) + [second] * (across >= 0):  # of a coil right across the bore either may be its first side
            sides[go] = phase, {first: 1, second: -1}
    told = set()
    for mark in (each for each in data["needles"] if each["words"].startswith("flow mark")):
        (x, y, z), (along_x, along_y, along) = mark["at"], mark["vector"]
        go = int(mark["words"].split()[-1]) - 1
        phase, signs = sides[go]
        up = np.sign(current[phase]) * signs[go]  # in its first side toward the drive end
        if abs(z) < 0.028:
            slot = round((start - math.degrees(math.atan2(y, x))) / (360 / slots)) % slots
            assert along * up * (1 if slot == go else -1) > 0.9
        elif math.hypot(x, y) > 0.0895 and abs(along) < 0.5:  # past the drive end it goes on clockwise to the second side
            assert (x * along_y - y * along_x) * up * math.copysign(1.0, z) < 0
        told.add(phase)
    assert told == set("UVW"), "some in every phase"


def test_a_finished_winding_goes_on_the_bench_of_the_rotating_field_with_its_mistake():
    """V's ends swapped: the field there goes the other way too; and a right one of 24 slots turns at half the speed."""
    scene, field = built(), catalogue.scene_class("turning-field")()
    field.ensure_built(NoPage())
    for settings, rotation in (({"laid": "ends"}, 1.0), ({"laid": "all", "stator": "24-4", "winding": "short"}, -1.0)):
        scene.set_all({"stator": "12-2", "winding": "one-layer"} | settings)
        address = parse_qs(scene.press("bench"))
        assert address["scene"] == ["turning-field"]
        field.set_all({"wound": address["wound"][0]})
        assert field.now.rotation == rotation and field["poles"] == scene["stator"].split("-")[1]
        clockwise, other = waves(scene.settings | {"current": field["current"]})
        assert field.now.waves == pytest.approx((clockwise, other), rel=1e-6, abs=1e-6)
        data = as_data(reached(field, 0.002), 0.002)
        start, slots = first_slot_angle(scene.settings | {"laid": "all"}), stator(scene.settings)[0]
        wanted = in_whole_degrees([(p, *[(start - 360 * each / slots) % 360 for each in (a, b)]) for p, a, b in coils_of(scene.settings)])
        marks = [re.fullmatch(r"end winding of (\w) from ([\d.]+)° to ([\d.]+)°", each["words"]) for each in data["marks"]]
        assert in_whole_degrees([(found[1], float(found[2]), float(found[3])) for found in marks if found]) == wanted
        check_flow(scene.settings, data, start, slots, 2 * math.pi * field["frequency"] * 0.002)
        question = field.question()
        assert question.answer == ("counter-clockwise" if rotation > 0 else "clockwise")
        faulty = settings["laid"] == "ends"
        lies = "V laid the wrong way round" if faulty else "laid right"
        assert data["says"].startswith(
            f"Your winding of {slots} slots, {lies}: looking at the drive end, the field rotates {question.answer}"
        )
        assert (", unevenly;" in data["says"]) == faulty and f"Your winding of {slots} slots is on the bench, {lies}." in question.text
        told_of = {each["words"].split(",")[0]: (each["value"], each["formula"]) for each in data["readings"]}
        assert told_of["winding on the bench"] == (f"yours of {slots} slots", lies)
        turns, how = told_of["rotation of the field"]
        assert turns == question.answer and how.startswith("unevenly") == faulty
        # the usual winding's coil that may be connected backwards is no part of this one
        field.set("reversed", "U")
        assert field.now.waves == pytest.approx((clockwise, other), rel=1e-6, abs=1e-6)
        field.set("reversed", "none")
        # and back: the same winding lies there again
        (back,) = field.picks_now(reveals_answer=True)
        before = dict(scene.settings)
        scene.set_all({"stator": "36-4", "laid": "none"})
        address = {name: value for name, (value,) in parse_qs(field.press(back.name)).items()}
        assert address.pop("scene") == NAME
        scene.set_all(address)
        assert scene.settings == before
    field.set("poles", "6")
    assert not field.picks_now(reveals_answer=True)
    with pytest.raises(ValueError, match="nothing to press"):
        field.press("back")
    assert field["wound"] == "usual"
    with pytest.raises(ValueError, match="wound takes usual, or a winding as it comes from laying-the-winding"):
        field.set("wound", "12-2 nonsense")
    with pytest.raises(ValueError, match="wound takes a winding of which all coils are laid"):
        field.set("wound", "12-2 one-layer series U1-7")
