"""A reading's formula with its figures, worked out again from these figures as they are printed, comes to what is printed."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from contextlib import suppress

import pytest

from scenes import catalogue
from scenes.scene.scene import Reading, Scene
from tests import printed_sums

SETUPS = 40
# what is only compared: no sum of which the reading were the result
COMPARED = re.compile(
    "rated|made for|peak direct|at the beginning|as it counts|pole pairs? ×|set to|ω²|√3 at the same|the rest to or from|3 µ₀ D l N²"
)


def in_formula(reading: Reading) -> Iterator[printed_sums.Sum]:
    """The sums in its formula; where that ends without a result, the reading itself is the result."""
    yield from printed_sums.sums(reading.formula)
    own = re.split(r"[,;:] ", reading.formula)[0].split(" = ")[-1]
    own = re.sub(r"\b(?:[a-z]+ )+(?=[\d−])", "", own)  # "shaft 1.2 kW + heat 0.3 kW"
    if not COMPARED.search(reading.formula) and re.search(r"\d.*([×/√+(]| − )", own) and re.match(r"[-−]?\d", reading.value):
        yield printed_sums.of(own, f"{reading.value} {reading.unit}".strip())


def looked_at(scene: Scene) -> Iterator[Reading]:
    """The readings in some set-ups of it, and some time after."""
    dice = random.Random(3)
    for number in range(SETUPS):
        scene.set_all(scene.defaults | scene.random_setup(dice))
        for control in dice.sample(scene.controls, 2) if number % 3 == 0 else ():
            if control.kind == "number":
                with suppress(ValueError):  # a nameplate that contradicts itself
                    scene.set(
                        control.name, control.low + control.step * dice.randint(0, round((control.high - control.low) / control.step))
                    )
        scene.restart()
        for _ in range(number % 7):
            scene.step(0.07 / (scene.slowness if number % 2 else 1))
        yield from scene.readings()


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_what_is_printed_comes_out(name):
    found = [(reading, each) for reading in looked_at(catalogue.scene_class(name)()) for each in in_formula(reading)]
    assert len(found) >= SETUPS // 3 or name == "instruments", "nothing was tried"
    for reading, each in found:
        assert each.off <= printed_sums.HALF, (reading.symbol or reading.words, each)


def contradicts(reading: Reading) -> bool:
    """Whether its formula comes to a figure of the other sign than the reading itself."""
    if not re.match(r"[-−]?\d", reading.value):
        return False
    results = [each.printed.real for each in printed_sums.sums(reading.formula) if each.text.endswith(reading.unit)]
    return any(result * float(reading.value.replace("−", "-")) < 0 for result in results)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_what_is_printed_has_the_sign_of_the_reading_beside_it(name):
    for reading in looked_at(catalogue.scene_class(name)()):
        assert not contradicts(reading), reading


def test_a_sum_of_the_other_sign_is_seen():
    assert contradicts(Reading("F", "force", "−0.45", "mN", "F = B I l = 44.9 µT × 50.0 A × 0.200 m = 0.45 mN"))
    assert not contradicts(Reading("F", "force", "−0.45", "mN", "F = B I l = 44.9 µT × (−50.0 A) × 0.200 m = −0.45 mN"))


def test_a_sum_that_does_not_come_out_is_seen():
    assert printed_sums.of("0.254 T × 13 A × 0.046 m × sin 61°", "132.8 mN").off < 0.5
    for wrong in ("0.254 T × 13 A × 0.046 m × sin 61° = 133.0 mN", "F = 2 × 3.0 N = 6.2 N", "(3000 − 2966.0) r/min / 3000 r/min = 1.3 %"):
        (found,) = printed_sums.sums(wrong)
        assert found.off > 1
    with pytest.raises(ValueError, match="across"):
        list(printed_sums.sums("60 × 0.236 T across its path × 0.080 m × 0.5 m/s = 0.57 V"))
