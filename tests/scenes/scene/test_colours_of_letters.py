"""The patch a letter stands on: north poles red, south poles blue, phases in the colours of the region that was chosen."""

from __future__ import annotations

import re

import pytest

from tests.oracle import hue
from tests.scenes.oracle.states import states

# The windings' own scenes, each with how their letters name a phase: a side of a coil, and where it is painted a terminal.
OF_PHASES = {"alternator": r"[+−]?([UVW])1?", "turning-field": r"[+−]([UVW])( !)?"}
# L1, L2, L3: IEC 60445 and BS 7671 brown, black, grey; BS 7671 before 2006 red, yellow, blue (memory); black, red, blue is
# common practice on 120/208 V, no source
OF_REGIONS = {"iec": ("brown", "black", "grey"), "old-british": ("red", "yellow", "blue"), "north-american": ("black", "red", "blue")}
SCENES = ("pushed-conductor", "moved-conductor", "coils-and-commutator", "alternator", "turning-field", "cage-rotor", "changing-speed")


def name_of(colour: str) -> str:
    """What a person calls it; for the colours of conductors alone."""
    parts = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    high, low = max(parts), min(parts)
    if high < 0x40:
        return "black"
    if high - low < 0x18:
        return "grey"
    turn = hue(colour)
    if turn < 35 or turn > 340:
        return "brown" if high < 0xA0 and turn > 15 else "red"
    return "yellow" if turn < 65 else "blue" if 190 < turn < 250 else "?"


@pytest.mark.parametrize("name", SCENES)
def test_poles_are_lettered_on_their_own_colour(name):
    found = {"N": 0, "S": 0}
    for _, data in states(name, 0.2, count=12):
        for letter in data["letters"]:
            if letter["text"] in found:
                found[letter["text"]] += 1
                turn = hue(letter["colour"])
                assert (turn < 20 or turn > 340) if letter["text"] == "N" else 180 < turn < 250, letter
            if letter["text"] in ("+", "−"):
                assert letter["colour"] == "#ffffff", "a terminal's sign in no pole's colour"
    assert found["N"] and found["S"]


@pytest.mark.parametrize("name", OF_PHASES)
def test_phases_are_lettered_on_the_colours_of_the_region(name):
    met = set()
    for _, data in states(name, 0.02, count=24):
        settings = data["settings"]
        lines = settings.get("lines", "L1-L2-L3").split("-")  # what feeds U, V and W
        for letter in data["letters"]:
            phase = re.fullmatch(OF_PHASES[name], letter["text"])
            if phase and letter["colour"] != "#ffffff":
                line = lines["UVW".index(phase[1])]
                assert name_of(letter["colour"]) == OF_REGIONS[settings["colours"]][int(line[1]) - 1], letter
                met.add((settings["colours"], phase[1]))
    assert len(met) == 9
