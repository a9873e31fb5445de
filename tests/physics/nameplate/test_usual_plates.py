"""Every usual plate is met by a circuit, or why none can meet it is said; by the branches of the circuit worked out here."""

from __future__ import annotations

import math
import os
import re

import numpy as np
import pytest

from physics.induction import EquivalentCircuit
from physics.nameplate import Nameplate, NameplateFit, fit_circuit
from physics.shaft.loads import Conveyor, Friction, Shaft
from physics.starting.methods import DirectOnLine
from physics.starting.starts import start
from tests.physics.nameplate.plates import CATALOGUE, TYPICAL, USUAL_PLATES, correlated_plates, random_plates

PLATES = min(200, int(os.environ.get("THUMBWISE_STATES", "60")))


def solved(circuit: EquivalentCircuit, slip: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Stator current (complex) and air-gap torque by the branches, from the eleven numbers of the circuit alone: with leakage
    that saturates the length of the current is halved in until it is the one that the voltage drives."""
    running = circuit.rotor_resistance / slip + 1j * circuit.running_cage_reactance
    rotor = 1j * circuit.rotor_reactance + 1 / (1 / running + slip / circuit.starting_cage_resistance)
    gap = 1 / (1 / rotor + 1 / (1j * circuit.magnetising_reactance))
    constant, phase = circuit.stator_resistance + 1j * circuit.stator_reactance + gap, circuit.line_voltage / math.sqrt(3)
    low, high = np.zeros(slip.shape), phase / np.abs(constant)
    for _ in range(60):
        length = (low + high) / 2
        whole = constant + 1j * circuit.saturable_reactance / (1 + length / circuit.saturation_current)
        too_much = length * np.abs(whole) > phase
        low, high = np.where(too_much, low, length), np.where(too_much, length, high)
    current = phase / whole
    across = 3 * np.abs(current) ** 2 * gap.real
    return current, across * circuit.poles / (4 * math.pi * circuit.frequency)


def fitted(plate: tuple) -> NameplateFit:
    kilowatts, voltage, frequency, rpm, amperes, power_factor, *multiples = plate
    return fit_circuit(Nameplate(1000 * kilowatts, voltage, frequency, rpm / 60, amperes, power_factor, "delta", *multiples))


def allowed(plate: tuple) -> float:
    return 0.02 if plate[0] >= 15 else 0.08


def worst_miss(plate: tuple, fit: NameplateFit) -> float:
    """The largest miss of the six values, by the branches of the circuit alone (`solved`)."""
    kilowatts, _, frequency, rpm, amperes, power_factor, *multiples = plate
    slip, rated = 1 - rpm * fit.circuit.poles / 120 / frequency, 1000 * kilowatts * 60 / (2 * math.pi * rpm)
    current, torque = solved(fit.circuit, np.append(np.geomspace(1e-3, 1, 2001), slip))
    slips = np.append(np.geomspace(1e-3, 1, 2001), slip)
    shaft = (torque - fit.loss_torque * (1 - slips) / (1 - slip)) / rated
    got = abs(current[-1]), math.cos(np.angle(current[-1])), shaft[-1], abs(current[-2]), shaft[-2], shaft.max()
    return np.abs(np.array(got) / (amperes, power_factor, 1.0, multiples[0] * amperes, *multiples[1:]) - 1).max()


class TestUsualPlates:
    @pytest.mark.parametrize("plate", USUAL_PLATES, ids=lambda plate: f"{plate[0]:g} kW {plate[3]} r/min")
    def test_all_six_values_are_met(self, plate):
        """Within 2 % from 15 kW up and 8 % below; what the shaft gives is less by a loss in proportion to speed."""
        kilowatts, _, frequency, rpm, amperes, power_factor, *multiples = plate
        starting_current, starting_torque, breakdown = multiples
        fit = fitted(plate)
        synchronous = 60 * frequency / (fit.circuit.poles / 2)
        slips = np.append(np.geomspace(1e-3, 1, 6001), 1 - rpm / synchronous)
        current, torque = solved(fit.circuit, slips)
        shaft = torque - fit.loss_torque * (1 - slips) * synchronous / rpm
        rated = 1000 * kilowatts * 60 / (2 * math.pi * rpm)
        within = allowed(plate)
        assert abs(current[-1]) == pytest.approx(amperes, rel=within)
        assert math.cos(np.angle(current[-1])) == pytest.approx(power_factor, rel=within)
        assert shaft[-1] == pytest.approx(rated, rel=within)
        assert abs(current[-2]) == pytest.approx(starting_current * amperes, rel=within)
        assert shaft[-2] == pytest.approx(starting_torque * rated, rel=within)
        assert shaft.max() == pytest.approx(breakdown * rated, rel=within)
        # what is told is what is so
        np.testing.assert_allclose(fit.shaft_torque(slips), shaft, rtol=1e-9, atol=1e-6 * rated)
        assert fit.circuit.breakdown()[1] == pytest.approx(torque.max(), rel=1e-6)
        # six values settle one cage; what two have more is assumed, and so is the current at which leakage saturates
        assert len(fit.assumed) == (4 if fit.circuit.saturates else 3) and "times rated" not in fit.assumption
        assert (f"saturates to half at the rated current, {amperes:g} A" in fit.assumption) == fit.circuit.saturates
        assert fit.circuit.saturation_current in (math.inf, amperes) and fit.misses == ()
        assert fit.loss_torque >= 0 and 0 < fit.circuit.pull_out_slip() < 1

    def test_every_random_plate_with_the_usual_correlations_is_met(self):
        """2 % from 15 kW up, 8 % below, without exception."""
        missed = []
        for plate in correlated_plates(PLATES):
            fit = fitted(plate)
            worst = worst_miss(plate, fit)
            if worst > allowed(plate) or fit.misses:
                missed.append((plate, worst))
        assert not missed

    def test_of_values_paired_at_random_what_is_missed_no_motor_has_and_it_is_said(self):
        """Pairs without the correlations. A miss is told exactly where there is one, and only where the test's own rules of the
        trade say that no motor, or hardly any, has these figures together."""
        told = 0
        for plate in [(75, 400, 50, 1482, 131, 0.87, 5.4, 2.1, 3.1), *random_plates(PLATES)]:
            fit = fitted(plate)
            worst = worst_miss(plate, fit)
            assert bool(fit.misses) == (worst > allowed(plate)), plate
            assert ("do not go together" in fit.sentence) == bool(fit.misses), plate
            if fit.misses:
                told += 1
                kilowatts, voltage, frequency, rpm, amperes, power_factor, current, starting, breakdown = plate
                slip = 1 - rpm * fit.plate.poles / 120 / frequency
                # T_st / T = s (I_st / I)^2 of a rotor whose resistance does not rise; and of an ideal machine with reactance x
                # alone, 1 / x at standstill and 1 / (2 x) at breakdown, in VA (handbook); a tenth goes to resistance and idle current
                rated = 1000 * kilowatts / (1 - slip) / (math.sqrt(3) * voltage * amperes)
                assert starting < slip * current**2 or breakdown * rated > 0.9 * current / 2, plate
        assert told

    def test_the_figure_told_is_about_what_can_be_had(self):
        """With a little less than the limit told in place of the value on the plate it is met, with a little more it is not."""
        plate = (75, 400, 50, 1482, 131, 0.87, 5.4, 2.1, 3.1)
        most = float(re.search(r"of about ([\d.]+) times rated at most, not 3.1", fitted(plate).sentence)[1])
        assert fitted((*plate[:8], 0.96 * most)).misses == () and fitted((*plate[:8], 1.06 * most)).misses
        small = (0.75, 400, 50, 1425, 1.9, 0.74, 8.0, 2.2, 2.9)
        sentence = fitted(small).sentence
        least = float(re.search(r"at least about ([\d.]+) times the rated torque there, not 2.2", sentence)[1])
        assert "with a slip of 5.0% and 8 times the rated current" in sentence and least == pytest.approx(0.05 * 64)
        assert fitted((*small[:7], 1.05 * least, 1.3 * least)).misses == ()

    @pytest.mark.parametrize("plate", USUAL_PLATES[::3], ids=lambda plate: f"{plate[0]:g} kW")
    def test_without_catalogue_the_values_are_usual_ones(self, plate):
        kilowatts, voltage, frequency, rpm, amperes, power_factor, *_ = plate
        fit = fit_circuit(Nameplate(1000 * kilowatts, voltage, frequency, rpm / 60, amperes, power_factor))
        current, torque = solved(fit.circuit, np.array([1 - rpm / 60 / fit.plate.synchronous_speed, 1.0]))
        assert abs(current[0]) == pytest.approx(amperes, rel=0.002)
        assert 5 < abs(current[1]) / amperes < 8 and 2 < torque[1] / fit.plate.torque < 2.6
        assert "starting torque" in fit.assumption and "starting current" in fit.assumption and "breakdown torque" in fit.assumption

    def test_a_motor_of_much_starting_torque_does_not_stay_at_rest(self):
        """Twice the rated torque to break away, 2.4 times to start with."""
        fit = fit_circuit(Nameplate(**TYPICAL, **CATALOGUE))
        shaft = Shaft(0.05, Conveyor(0.2, Friction(fit.plate.torque, 2.0 * fit.plate.torque)), friction=fit.friction)
        assert start(fit.circuit, shaft, DirectOnLine()).outcome == "runs"
