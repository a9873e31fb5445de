import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from physics.induction import EquivalentCircuit, OperatingPoint

FIFTY = settings(max_examples=50, deadline=None)

# S. J. Chapman, Electric Machinery Fundamentals, the wound-rotor example (memory; arithmetic redone below)
CHAPMAN = EquivalentCircuit(
    stator_resistance=0.641,
    stator_reactance=1.106,
    rotor_resistance=0.332,
    rotor_reactance=0.464,
    magnetising_reactance=26.3,
    line_voltage=460,
    frequency=60,
    poles=4,
)
# A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, examples 6.2 and 6.3 (memory; redone below)
UMANS = EquivalentCircuit(
    stator_resistance=0.294,
    stator_reactance=0.503,
    rotor_resistance=0.144,
    rotor_reactance=0.209,
    magnetising_reactance=13.25,
    line_voltage=220,
    frequency=60,
    poles=6,
)

circuits = st.builds(
    EquivalentCircuit,
    stator_resistance=st.floats(0, 5),
    stator_reactance=st.floats(0.05, 5),
    rotor_resistance=st.floats(0.01, 5),
    rotor_reactance=st.floats(0, 5),
    magnetising_reactance=st.floats(5, 200),
    line_voltage=st.floats(10, 10000),
    frequency=st.floats(5, 400),
    poles=st.sampled_from([2, 4, 6, 12]),
)
slips = st.floats(-2, 2).filter(lambda slip: slip == 0 or abs(slip) > 1e-6)


def by_meshes(circuit, slip):
    """Stator and rotor current by solving the two meshes of the circuit, written down afresh with R2 / slip."""
    stator = complex(circuit.stator_resistance, circuit.stator_reactance)
    rotor = complex(circuit.rotor_resistance / slip, circuit.rotor_reactance)
    magnetising = 1j * circuit.magnetising_reactance
    meshes = np.array([[stator + magnetising, -magnetising], [-magnetising, rotor + magnetising]])
    return np.linalg.solve(meshes, [circuit.line_voltage / math.sqrt(3), 0])


class TestBooks:
    def test_chapman_at_rated_slip(self):
        point = CHAPMAN.at(0.022)
        assert point.speed * 60 == pytest.approx(1760, abs=0.5)
        assert abs(point.stator_current) == pytest.approx(18.9, abs=0.05)
        assert point.power_factor == pytest.approx(0.833, abs=0.001)
        assert point.torque == pytest.approx(62.8, abs=0.05)

    def test_chapman_pull_out_exactly(self):
        slip, torque = CHAPMAN.breakdown()
        assert slip == pytest.approx(0.201, abs=0.0005)
        assert torque == pytest.approx(231, abs=0.5)
        assert CHAPMAN.at(1).torque == pytest.approx(106, abs=0.6)

    def test_chapman_pull_out_as_the_book_rounds(self):
        """The book (memory) takes R_th = R_1 (X_M / (X_1 + X_M))^2 and X_th = X_1, and 266 V for the phase voltage; so
        its 0.198, 229 and 104 N m arise, and so little do they differ from the exact ones."""
        share = 26.3 / (1.106 + 26.3)
        resistance, reactance, voltage = 0.641 * share**2, 1.106 + 0.464, 266 * 26.3 / math.hypot(0.641, 1.106 + 26.3)
        root = math.hypot(resistance, reactance)
        synchronous = 2 * math.pi * 30
        book_slip, book_torque = 0.332 / root, 3 * voltage**2 / (2 * synchronous * (resistance + root))
        assert book_slip == pytest.approx(0.198, abs=0.0005)
        assert book_torque == pytest.approx(229, abs=0.5)
        book_start = 3 * voltage**2 * 0.332 / (synchronous * ((resistance + 0.332) ** 2 + reactance**2))
        assert book_start == pytest.approx(104, abs=0.5)
        slip, torque = CHAPMAN.breakdown()
        assert slip == pytest.approx(book_slip, rel=0.02) and torque == pytest.approx(book_torque, rel=0.02)

    def test_chapman_twice_the_rotor_resistance(self):
        slip, torque = CHAPMAN.breakdown()
        twice_slip, same_torque = replace(CHAPMAN, rotor_resistance=0.664).breakdown()
        assert twice_slip == pytest.approx(2 * slip, rel=1e-12)
        assert same_torque == pytest.approx(torque, rel=1e-12)

    def test_umans_at_two_percent(self):
        point = UMANS.at(0.02)
        assert point.speed * 60 == pytest.approx(1176, abs=0.5)
        assert abs(point.stator_current) == pytest.approx(18.8, abs=0.05)
        assert point.power_factor == pytest.approx(0.844, abs=0.002)
        shaft_power = point.converted_power - 403  # friction, windage and iron, W
        assert shaft_power == pytest.approx(5230, abs=25)
        assert shaft_power / (2 * math.pi * point.speed) == pytest.approx(42.5, abs=0.2)

    def test_umans_at_three_percent_breakdown_and_start(self):
        point = UMANS.at(0.03)
        assert abs(point.rotor_current) == pytest.approx(23.9, abs=0.1)
        assert point.torque == pytest.approx(65.5, abs=0.5)
        slip, torque = UMANS.breakdown()
        assert slip == pytest.approx(0.192, abs=0.001)
        assert torque == pytest.approx(175, abs=1)
        start = UMANS.at(1)
        assert abs(start.rotor_current) == pytest.approx(150, abs=1)
        assert start.torque == pytest.approx(78, abs=0.5)


class TestCircuit:
    @FIFTY
    @given(circuit=circuits, slip=slips.filter(bool))
    def test_against_the_meshes(self, circuit, slip):
        point = circuit.at(slip)
        stator_current, rotor_current = by_meshes(circuit, slip)
        assert point.stator_current == pytest.approx(stator_current, rel=1e-9)
        assert point.rotor_current == pytest.approx(rotor_current, rel=1e-9)
        airgap_power = 3 * abs(rotor_current) ** 2 * circuit.rotor_resistance / slip
        assert point.airgap_power == pytest.approx(airgap_power, rel=1e-9)
        assert point.torque == pytest.approx(airgap_power * circuit.poles / (4 * math.pi * circuit.frequency), rel=1e-9)
        assert point.gap_voltage == pytest.approx(1j * circuit.magnetising_reactance * (stator_current - rotor_current), rel=1e-9)

    @FIFTY
    @given(circuit=circuits, slip=slips)
    def test_power_adds_up(self, circuit, slip):
        point = circuit.at(slip)
        apparent = math.sqrt(3) * circuit.line_voltage * abs(point.stator_current)
        tolerance = dict(rel=1e-9, abs=1e-9 * apparent)
        assert point.input_power == pytest.approx(point.stator_loss + point.airgap_power, **tolerance)
        assert point.airgap_power == pytest.approx(point.rotor_loss + point.converted_power, **tolerance)
        assert point.rotor_loss == pytest.approx(slip * point.airgap_power, **tolerance)
        assert point.converted_power == pytest.approx(2 * math.pi * point.speed * point.torque, **tolerance)
        assert point.input_power == pytest.approx(point.power_factor * apparent, **tolerance)

    @FIFTY
    @given(circuit=circuits)
    def test_synchronous_speed(self, circuit):
        """Nothing in the rotor; the stator draws what magnetises it through its own impedance."""
        point = circuit.at(0)
        assert point.torque == 0 and point.rotor_current == 0 and point.rotor_loss == 0 and point.airgap_power == 0
        assert point.speed == circuit.frequency * 2 / circuit.poles
        unloaded = complex(circuit.stator_resistance, circuit.stator_reactance + circuit.magnetising_reactance)
        assert point.stator_current == pytest.approx(circuit.line_voltage / math.sqrt(3) / unloaded, rel=1e-12)

    @FIFTY
    @given(circuit=circuits, slip=st.floats(1e-6, 2))
    def test_torque_changes_sign_across_synchronous_speed(self, circuit, slip):
        assert circuit.at(slip).torque > 0 > circuit.at(-slip).torque

    def test_drives_generates_brakes(self):
        driving, generating, braking = CHAPMAN.at(0.03), CHAPMAN.at(-0.03), CHAPMAN.at(1.5)
        assert driving.input_power > driving.converted_power > 0
        assert generating.converted_power < generating.input_power < 0 and generating.speed > 30
        assert generating.power_factor < 0
        assert braking.input_power > 0 > braking.converted_power and braking.speed < 0
        for point in (driving, generating, braking):
            assert point.stator_current.imag < 0  # it takes its magnetising current from the line, always

    def test_many_slips_at_once_are_the_same_as_one_by_one(self):
        slips = np.array([[-0.5, 0.0, 0.02], [0.2, 1.0, 1.9]])
        points = CHAPMAN.at(slips)
        for name in OperatingPoint.__dataclass_fields__:
            values = getattr(points, name)
            assert values.shape == slips.shape
            one_by_one = [[getattr(CHAPMAN.at(slip), name) for slip in row] for row in slips]
            np.testing.assert_allclose(values, one_by_one, rtol=1e-11)

    @FIFTY
    @given(circuit=circuits)
    def test_breakdown_is_where_a_search_finds_it(self, circuit):
        slip, torque = circuit.breakdown()
        assert circuit.at(slip).torque == pytest.approx(torque, rel=1e-9)
        found = minimize_scalar(lambda x: -circuit.at(x).torque, bounds=(slip / 10, slip * 10), method="bounded")
        assert -found.fun <= torque * (1 + 1e-9)
        nearby = circuit.at(slip * np.array([0.99, 1.01])).torque
        assert np.all(nearby < torque)
        generating_slip, least = circuit.generator_breakdown()
        assert circuit.at(generating_slip).torque == pytest.approx(least, rel=1e-9)
        assert np.all(circuit.at(generating_slip * np.array([0.99, 1.01])).torque > least)

    @FIFTY
    @given(circuit=circuits, share=st.floats(-0.999, 0.999))
    def test_slip_at_torque_is_the_way_back(self, circuit, share):
        limit = circuit.breakdown() if share > 0 else circuit.generator_breakdown()
        torque = abs(share) * limit[1]
        slip = circuit.slip_at_torque(torque)
        assert abs(slip) <= abs(limit[0]) * (1 + 1e-9)
        assert circuit.at(slip).torque == pytest.approx(torque, rel=1e-9, abs=1e-12)

    @FIFTY
    @given(circuit=circuits, ratio=st.floats(0.1, 10))
    def test_rotor_resistance_only_stretches_the_curve_over_slip(self, circuit, ratio):
        """What depends on R2 / s alone is the same at `ratio` times the slip with `ratio` times the resistance."""
        stretched = replace(circuit, rotor_resistance=ratio * circuit.rotor_resistance)
        slips = np.array([-0.3, 0.01, 0.1, 0.5])
        np.testing.assert_allclose(stretched.at(ratio * slips).torque, circuit.at(slips).torque, rtol=1e-9)


class TestBadInput:
    @pytest.mark.parametrize(
        "name, value",
        [
            ("stator_resistance", -0.1),
            ("stator_reactance", -0.1),
            ("rotor_resistance", 0),
            ("rotor_resistance", -1),
            ("rotor_reactance", math.nan),
            ("magnetising_reactance", 0),
            ("line_voltage", 0),
            ("frequency", -50),
            ("poles", 3),
            ("poles", 0),
            ("poles", 4.5),
        ],
    )
    def test_circuit(self, name, value):
        with pytest.raises(ValueError, match=f"^{name} must "):
            replace(CHAPMAN, **{name: value})

    def test_no_leakage_at_all(self):
        with pytest.raises(ValueError, match="^stator_reactance and rotor_reactance must not both be 0"):
            replace(CHAPMAN, stator_reactance=0, rotor_reactance=0)

    @pytest.mark.parametrize("slip", [math.nan, math.inf, [0.1, math.nan], "fast"])
    def test_slip(self, slip):
        with pytest.raises(ValueError, match="^slip must be "):
            CHAPMAN.at(slip)

    @pytest.mark.parametrize("torque", [231, -489, math.nan])
    def test_torque_that_it_has_not(self, torque):
        with pytest.raises(ValueError, match="^torque must be "):
            CHAPMAN.slip_at_torque(torque)
