"""The alternator: against worked examples of textbooks, and EMF by flux against EMF by motion."""

import numpy as np
import pytest
import scipy.integrate
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.synchronous.alternator import Alternator, RotorMagnet, emf_of_phase
from physics.windings import Winding

FULL_SPECTRUM = {1: 0.8, 3: 0.2, 5: -0.1, 7: 0.05, 11: 0.02, 13: -0.02}

thorough = settings(max_examples=50, deadline=None)


@st.composite
def alternators(draw):
    poles = 2 * draw(st.integers(1, 5))
    full_pitch = 3 * draw(st.integers(1, 4))
    pitch = draw(st.integers(max(1, full_pitch // 2), full_pitch))
    winding = Winding(full_pitch * poles, poles, turns=draw(st.integers(1, 20)), coil_pitch=pitch, layers=2)
    amplitudes = st.floats(-1, 1).filter(lambda density: abs(density) > 1e-3)
    spectrum = draw(st.dictionaries(st.sampled_from([1, 2, 3, 5, 7, 9, 11, 13]), amplitudes, min_size=1))
    magnet = RotorMagnet(poles, draw(st.floats(0.01, 0.5)), draw(st.floats(0.01, 0.5)), {1: 0.7} | spectrum)
    return Alternator(winding, magnet, draw(st.floats(0.01, 5)), draw(st.floats(0, 0.1)))


# Worked examples


def test_chapman_two_pole_generator():
    """Chapman, Electric Machinery Fundamentals, chapter on AC machinery fundamentals, example of a simple two-pole
    generator (memory, redone by arithmetic): peak flux density 0.2 T, 3600 r/min, bore 0.5 m in diameter, coils 0.3 m
    long with 15 turns, star: 169.7 V peak and 120 V r.m.s. a phase, 60 Hz."""
    machine = Alternator(Winding(6, 2, turns=15), RotorMagnet(2, 0.25, 0.3, {1: 0.2}))
    assert machine.frequency(60) == 60
    assert machine.magnet.pole_flux() == pytest.approx(0.03, rel=1e-12)
    np.testing.assert_allclose(machine.emf(60), 120, rtol=1e-3)
    np.testing.assert_allclose(machine.emfs(np.linspace(0, 2 * np.pi, 3601), 60).max(axis=0), 169.7, rtol=1e-3)


def test_fitzgerald_turbine_generator():
    """Fitzgerald, Kingsley, Umans, Electric Machinery, example of a two-pole turbine generator (memory, redone by
    arithmetic): 60 Hz, 18 series turns, winding factor 0.833, 0.821 T in a bore of 0.53 m radius and 3.8 m length:
    3.31 Wb and 13.2 kV r.m.s. a phase."""
    flux = RotorMagnet(2, 0.53, 3.8, {1: 0.821}).pole_flux()
    assert flux == pytest.approx(3.31, abs=0.005)
    assert emf_of_phase(60, 18, 0.833, flux) == pytest.approx(13.2e3, rel=5e-3)


def test_chapman_generator_on_a_load_of_unity_power_factor():
    """Chapman, chapter on synchronous generators (memory, redone by arithmetic): 480 V, 50 Hz, star, six poles,
    synchronous reactance 1.0 ohm, EMF 277 V a phase; at 60 A and unity power factor 270.4 V a phase, 468.4 V between
    lines; it turns at 1000 r/min."""
    winding = Winding(36, 6, turns=4)
    density = 277 / emf_of_phase(50, winding.series_turns, winding.winding_factor(), 2 * 0.2 * 0.3 / 3)
    machine = Alternator(winding, RotorMagnet(6, 0.2, 0.3, {1: density}), inductance=1 / (2 * np.pi * 50))
    running = machine.on_lamps(1000 / 60, 270.4 / 60)
    np.testing.assert_allclose(machine.emf(1000 / 60), 277, rtol=1e-12)
    np.testing.assert_allclose(running.current, 60, rtol=1e-3)
    np.testing.assert_allclose(np.sqrt(3) * running.lamp_voltage, 468.4, rtol=1e-3)
    # 3 x 270.4 V x 60 A at 104.72 rad/s
    assert running.mean_torque == pytest.approx(-3 * 270.4 * 60 / 104.72, rel=1e-3)


@thorough
@given(machine=alternators(), speed=st.floats(-100, 100))
def test_emf_is_4_44_f_n_k_phi(machine, speed):
    for harmonic in machine.magnet.spectrum:
        expected = 4.44 * harmonic * machine.frequency(speed) * machine.winding.series_turns
        expected *= abs(machine.winding.winding_factor(harmonic) * machine.magnet.pole_flux(harmonic))
        np.testing.assert_allclose(machine.emf(speed, harmonic), expected, rtol=1e-3, atol=1e-9)
    exact = emf_of_phase(
        machine.frequency(speed), machine.winding.series_turns, machine.winding.winding_factor(),
        machine.magnet.pole_flux(),
    )  # fmt: skip
    np.testing.assert_allclose(machine.emf(speed), abs(exact), rtol=1e-11, atol=1e-12)


def test_one_coil_of_a_two_pole_machine_reverses_twice_a_revolution():
    """A coil's EMF makes one full cycle a revolution; with four poles two of them (f = p n)."""
    angles = np.linspace(0, 2 * np.pi, 721)[:-1] + 1e-3
    for poles in (2, 4, 12):
        machine = Alternator(Winding(3 * poles, poles), RotorMagnet(poles, 0.1, 0.1, {1: 0.5, 3: 0.05}))
        one_coil = machine.coil_emfs(angles, 10)[:, 0]
        assert np.count_nonzero(np.diff(np.sign([*one_coil, one_coil[0]]))) == poles
        assert machine.frequency(50) == 25 * poles


# EMF by flux, by motion, and back


@thorough
@given(machine=alternators(), angle=st.floats(-10, 10), speed=st.floats(-100, 100))
def test_emf_by_flux_is_emf_by_motion(machine, angle, speed):
    """A conductor toward +z that the field passes counter-clockwise: e = B v l along +z, from (v x B) . l. In a coil,
    its turns' worth on the go side less that on the return side; in a phase, all its conductors with their sign."""
    magnet, winding = machine.magnet, machine.winding
    a_conductor = magnet.flux_density(winding.slot_angles, angle) * 2 * np.pi * speed * magnet.radius * magnet.length
    scale = 1e-11 * (1 + winding.turns * winding.slots * np.abs(a_conductor).max())
    np.testing.assert_allclose(machine.emfs(angle, speed), a_conductor @ winding.conductors, rtol=0, atol=max(scale, 1e-9))
    go, back = (np.array([getattr(coil, side) for coil in winding.coils]) for side in ("go", "back"))
    by_motion = winding.turns * (a_conductor[go] - a_conductor[back])
    np.testing.assert_allclose(machine.coil_emfs(angle, speed), by_motion, rtol=0, atol=max(scale, 1e-9))


@pytest.mark.parametrize("poles", [2, 6])
def test_flux_linkage_is_the_flux_through_the_coil(poles):
    """The integral of the flux density over the span of each coil, by scipy, times the turns."""
    machine = Alternator(Winding(6 * poles, poles, turns=7, coil_pitch=5, layers=2), RotorMagnet(poles, 0.1, 0.2, FULL_SPECTRUM))
    winding, magnet = machine.winding, machine.magnet
    pitch = 2 * np.pi / winding.slots
    linkages = machine.coil_flux_linkages(0.3)
    for number in (0, 1, 5, winding.slots - 1):
        top = winding.slot_angles[winding.coils[number].go]
        span, _ = scipy.integrate.quad(lambda at: magnet.flux_density(at, 0.3), top - 5 * pitch, top, epsabs=1e-12)
        assert linkages[number] == pytest.approx(7 * 0.1 * 0.2 * span, abs=1e-10)


@thorough
@given(machine=alternators(), angle=st.floats(-10, 10))
def test_emf_is_minus_the_rate_of_change_of_flux_linkage(machine, angle):
    """By differences of fourth order over a small step, and by summing the EMF up again over a turn."""
    speed, step = 7.0, 1e-3 / machine.magnet.orders.max()
    ahead = machine.flux_linkages(angle + step * np.array([-2, -1, 1, 2]))
    slope = (ahead[0] - 8 * ahead[1] + 8 * ahead[2] - ahead[3]) / (12 * step)
    size = np.abs(machine.emf_amplitudes).sum() * 2 * np.pi * speed
    np.testing.assert_allclose(machine.emfs(angle, speed), -slope * 2 * np.pi * speed, rtol=0, atol=1e-8 * size)

    time = np.linspace(0, 0.3 / speed, 4001)
    summed = scipy.integrate.simpson(machine.emfs(angle + 2 * np.pi * speed * time, speed), x=time, axis=0)
    change = machine.flux_linkages(angle + 2 * np.pi * 0.3) - machine.flux_linkages(angle)
    np.testing.assert_allclose(summed, -change, rtol=0, atol=1e-8 * size / speed)


@thorough
@given(machine=alternators(), angle=st.floats(-10, 10))
def test_the_coils_of_a_phase_add_up_to_the_phase(machine, angle):
    single = machine.coil_emfs(angle, 20)
    for number, phase in enumerate("UVW"):
        coils = zip(machine.winding.coils, single, strict=True)
        joined = sum(coil.sign * emf for coil, emf in coils if coil.phase == phase)
        assert machine.emfs(angle, 20)[number] == pytest.approx(joined, abs=1e-10 * (1 + np.abs(single).sum()))


# Three phases


@pytest.mark.parametrize("poles", [2, 4, 10])
def test_three_groups_are_120_electrical_degrees_apart(poles):
    machine = Alternator(Winding(6 * poles, poles), RotorMagnet(poles, 0.1, 0.1, {1: 0.5}))
    third = 2 * np.pi / 3 / (poles / 2)
    angles = np.linspace(0, 2 * np.pi, 50)
    u, v, w = machine.emfs(angles, 10).T
    # the axis of V lies clockwise of that of U: a magnet that turns clockwise comes to it a third of a period later
    np.testing.assert_allclose(machine.emfs(angles - third, 10)[:, 1], u, atol=1e-12)
    np.testing.assert_allclose(machine.emfs(angles + third, 10)[:, 2], u, atol=1e-12)
    np.testing.assert_allclose(u + v + w, 0, atol=1e-12)
    backward = machine.emfs(-2 * np.pi * 10 * np.linspace(0, 0.1 / (poles / 2), 3000), -10)
    peaks = np.argsort((backward.argmax(axis=0) - backward[:, 0].argmax()) % 3000)
    np.testing.assert_array_equal(peaks, [0, 1, 2])


def test_flux_linkage_is_greatest_with_the_pole_before_the_coil_and_the_emf_then_is_nothing():
    machine = Alternator(Winding(6, 2, turns=10), RotorMagnet(2, 0.1, 0.1, {1: 0.5}))
    assert machine.flux_linkages(0.0)[0] == pytest.approx(10 * machine.magnet.pole_flux(), rel=1e-12)
    assert machine.emfs(0.0, 5)[0] == pytest.approx(0, abs=1e-12)
    # once past, the flux falls, and the EMF tries to keep it up (Lenz)
    assert machine.emfs(0.1, 5)[0] > 0
    assert machine.emfs(-0.1, -5)[0] > 0


def test_third_harmonic_between_lines_is_nothing_and_short_pitch_takes_the_fifth():
    """Standard results: third harmonics cancel between lines; a pitch of 4/5 has no fifth."""
    machine = Alternator(Winding(30, 2, coil_pitch=12, layers=2), RotorMagnet(2, 0.1, 0.1, {1: 0.5, 3: 0.2, 5: 0.1}))
    assert machine.emf(10, 3).min() > 0.01
    np.testing.assert_allclose(machine.emf(10, 5), 0, atol=1e-13)
    assert np.all(machine.emf(10, 7) == 0)
    u, v, _ = machine.emfs(np.linspace(0, 2 * np.pi, 64, endpoint=False), 10).T
    between_lines = np.abs(np.fft.rfft(u - v))
    np.testing.assert_allclose(between_lines[2:], 0, atol=1e-12)


def test_spectrum_of_even_poles_is_the_rectangular_wave():
    """Fourier's series: 4/pi times the flux density in the fundamental, a third of that in the third; a face of 2/3 of
    the pole pitch has no third."""
    spectrum = RotorMagnet.with_even_poles(4, 0.1, 0.1, 0.5).spectrum
    assert spectrum[1] == pytest.approx(2 / np.pi)
    assert spectrum[3] == pytest.approx(-2 / np.pi / 3)
    assert RotorMagnet.with_even_poles(4, 0.1, 0.1, 0.5, pole_arc=2 / 3).spectrum[3] == pytest.approx(0, abs=1e-15)
    magnet = RotorMagnet.with_even_poles(4, 0.1, 0.1, 0.5, pole_arc=0.7, highest_harmonic=2001)
    half_face = 0.7 * np.pi / 4
    at = np.array([0, 0.9 * half_face, -0.9 * half_face, 1.1 * half_face, np.pi / 4, np.pi / 2, np.pi])
    np.testing.assert_allclose(magnet.flux_density(at, 0), [0.5, 0.5, 0.5, 0, 0, -0.5, 0.5], atol=5e-3)


# On lamps


@thorough
@given(machine=alternators(), speed=st.floats(0.5, 50), sense=st.sampled_from([-1, 1]), lamp=st.floats(0.5, 100))
def test_power_in_is_lamp_power_and_loss(machine, speed, sense, lamp):
    running = machine.on_lamps(sense * speed, lamp)
    delivered = running.lamp_power.sum() + running.winding_loss
    assert running.shaft_power == pytest.approx(delivered, rel=1e-9)
    assert running.mean_torque * 2 * np.pi * sense * speed == pytest.approx(-delivered, rel=1e-9)
    # the same from the waveforms over one turn
    angles = np.linspace(0, 2 * np.pi, 512, endpoint=False)
    currents, torque = running.currents(angles), running.torque(angles)
    np.testing.assert_allclose((lamp * currents**2).mean(axis=0), running.lamp_power, rtol=1e-9)
    assert torque.mean() == pytest.approx(running.mean_torque, rel=1e-9)
    power = np.sum(currents * machine.emfs(angles, sense * speed), axis=1)
    np.testing.assert_allclose(-torque * 2 * np.pi * sense * speed, power, atol=1e-9 * np.abs(power).max())
    np.testing.assert_allclose(currents.sum(axis=1), 0, atol=1e-9 * np.abs(currents).max())


@pytest.mark.parametrize("speed", [5.0, -8.0])
def test_currents_obey_the_circuit_in_time(speed):
    """Kirchhoff and Faraday in the time domain, settled, by scipy's solver at tight tolerance, all harmonics at once;
    the star points of winding and lamps are not joined."""
    machine = Alternator(Winding(24, 4, turns=10), RotorMagnet(4, 0.1, 0.1, FULL_SPECTRUM), 0.8, 4e-3)
    running = machine.on_lamps(speed, 3.0)

    def rate(time, currents):
        emfs = machine.emfs(2 * np.pi * speed * time, speed)
        return (emfs - emfs.mean() - 3.8 * currents) / 4e-3

    start = running.currents(0.0)
    end = 0.05
    solved = scipy.integrate.solve_ivp(rate, (0, end), start, rtol=1e-10, atol=1e-12, method="DOP853").y[:, -1]
    np.testing.assert_allclose(solved, running.currents(2 * np.pi * speed * end), atol=1e-8 * np.abs(start).max())


def test_torque_is_smooth_with_a_sinusoidal_field_and_harder_to_turn_the_brighter_the_lamps():
    machine = Alternator(Winding(12, 2, turns=20), RotorMagnet(2, 0.05, 0.1, {1: 0.4}), 0.5, 1e-3)
    torque = machine.on_lamps(20, 10).torque(np.linspace(0, 2 * np.pi, 100))
    np.testing.assert_allclose(torque, torque[0], rtol=1e-12)
    assert torque[0] < 0
    more_lamps = machine.on_lamps(20, 5)
    assert more_lamps.mean_torque < torque[0]
    assert machine.on_lamps(-20, 10).mean_torque == pytest.approx(-torque[0])
    standing = machine.on_lamps(0, 10)
    assert standing.mean_torque == 0
    np.testing.assert_array_equal(standing.lamp_power, 0)


def test_reactance_limits_the_current_at_high_speed():
    """EMF and reactance both rise with speed: the current tends to flux linkage over inductance (standard result)."""
    machine = Alternator(Winding(12, 2, turns=20), RotorMagnet(2, 0.05, 0.1, {1: 0.4}), 0.5, 5e-3)
    limit = np.abs(machine.flux_linkages(0.0)[0]) / 5e-3 / np.sqrt(2)
    np.testing.assert_allclose(machine.on_lamps(1e6, 1.0).current, limit, rtol=1e-6)


def test_a_coil_reversed_and_a_winding_for_other_poles():
    sound = Winding(12, 2, turns=20)
    magnet = RotorMagnet(2, 0.05, 0.1, {1: 0.4})
    reversed_coil = Alternator(sound.with_coil_reversed(0), magnet)
    ratio = reversed_coil.emf(10) / Alternator(sound, magnet).emf(10)
    np.testing.assert_allclose(ratio, [np.tan(np.pi / 12), 1, 1], rtol=1e-12)
    # a wave of four poles through full-pitch coils of two: nothing links them
    np.testing.assert_allclose(Alternator(sound, RotorMagnet(4, 0.05, 0.1, {1: 0.4})).emf(10), 0, atol=1e-13)


MAGNET = RotorMagnet(2, 0.1, 0.1, {1: 0.5})
MACHINE = Alternator(Winding(6, 2), MAGNET)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: RotorMagnet(3, 0.1, 0.1, {1: 0.5}), "poles must be an even whole number"),
        (lambda: RotorMagnet(2, 0, 0.1, {1: 0.5}), "radius must be greater than 0"),
        (lambda: RotorMagnet(2, 0.1, -1, {1: 0.5}), "length must be greater than 0"),
        (lambda: RotorMagnet(2, 0.1, 0.1, {}), "spectrum must give a flux density for each harmonic"),
        (lambda: RotorMagnet(2, 0.1, 0.1, 0.5), "spectrum must give"),
        (lambda: RotorMagnet(2, 0.1, 0.1, {1.5: 0.5}), "spectrum"),
        (lambda: RotorMagnet(2, 0.1, 0.1, {1: np.nan}), "spectrum must be finite"),
        (lambda: RotorMagnet.with_even_poles(2, 0.1, 0.1, 0.5, pole_arc=1.2), "pole_arc must be at most 1"),
        (lambda: RotorMagnet.with_even_poles(2, 0.1, 0.1, 0.5, pole_arc=0), "pole_arc must be greater than 0"),
        (lambda: MAGNET.flux_density(0, np.nan), "angle must be finite"),
        (lambda: MAGNET.pole_flux(0), "harmonic"),
        (lambda: Alternator(Winding(6, 2), MAGNET, resistance=-1), "resistance must be 0 or more"),
        (lambda: Alternator(Winding(6, 2), MAGNET, inductance=np.inf), "inductance"),
        (lambda: MACHINE.emfs(np.nan, 1), "angle"),
        (lambda: MACHINE.emfs(0, np.nan), "speed"),
        (lambda: MACHINE.emf(1, 0), "harmonic"),
        (lambda: MACHINE.on_lamps(1, 0), "resistance must be greater than 0"),
        (lambda: MACHINE.on_lamps(np.nan, 1), "speed"),
        (lambda: emf_of_phase(50, 10, "x", 1), "winding_factor"),
    ],
)
def test_bad_input_is_told_in_a_sentence(call, named):
    with pytest.raises(ValueError, match=named):
        call()
