"""Plates of motors for the tests: of known circuits, as catalogues have them, and drawn at random by the rules of the trade."""

from __future__ import annotations

import math
from random import Random

import numpy as np
from hypothesis import strategies as st

from physics.induction import EquivalentCircuit
from physics.nameplate import Nameplate

# A four-pole cage motor of 7.5 kW as catalogues have it (typical magnitudes, memory)
TYPICAL = dict(
    power=7500.0,
    line_voltage=400.0,
    frequency=50.0,
    speed=1465 / 60,
    current=14.1,
    power_factor=0.85,
    connection="delta",
)
CATALOGUE = dict(starting_current=7.5, starting_torque=2.4, breakdown_torque=3.0)

# S. J. Chapman, Electric Machinery Fundamentals (memory); P. C. Krause, Analysis of Electric Machinery, 500 and 2250 hp
# (memory); A. E. Fitzgerald and others, Electric Machinery (memory): circuit, rated slip
KNOWN = {
    "Chapman": (EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460, 60, 4), 0.022),
    "Krause 500 hp": (EquivalentCircuit(0.262, 1.206, 0.187, 1.206, 54.02, 2300, 60, 4), 0.015),
    "Krause 2250 hp": (EquivalentCircuit(0.029, 0.226, 0.022, 0.226, 13.04, 2300, 60, 4), 0.0078),
    "Fitzgerald": (EquivalentCircuit(0.294, 0.503, 0.144, 0.209, 13.25, 220, 60, 6), 0.02),
}


def plate_of(circuit: EquivalentCircuit, slip: float, lost: float = 0.0) -> Nameplate:
    """The plate and catalogue that a motor with this circuit would bear, losing the fraction `lost` of its torque, in
    proportion to speed, to what the circuit does not have."""
    point = circuit.at(np.array([slip, 1.0]))
    current, speed = np.abs(point.stator_current), float(point.speed[0])
    loss_torque = lost * float(point.torque[0])
    torque = float(point.torque[0]) - loss_torque
    breakdown_slip, breakdown = circuit.breakdown()
    return Nameplate(
        power=2 * math.pi * speed * torque,
        line_voltage=circuit.line_voltage,
        frequency=circuit.frequency,
        speed=speed,
        current=float(current[0]),
        power_factor=float(point.power_factor[0]),
        starting_current=float(current[1] / current[0]),
        starting_torque=float(point.torque[1]) / torque,
        breakdown_torque=(breakdown - loss_torque * (1 - breakdown_slip) / (1 - slip)) / torque,
    )


@st.composite
def motors(draw):
    """(circuit, rated slip, torque lost) as cage motors have them: per unit of the rated impedance."""
    impedance = draw(st.floats(0.2, 60.0))
    rotor = draw(st.floats(0.015, 0.05))
    circuit = EquivalentCircuit(
        stator_resistance=impedance * rotor * draw(st.floats(0.5, 2.0)),
        stator_reactance=impedance * draw(st.floats(0.05, 0.12)),
        rotor_resistance=impedance * rotor,
        rotor_reactance=impedance * draw(st.floats(0.05, 0.12)),
        magnetising_reactance=impedance * draw(st.floats(1.5, 4.0)),
        line_voltage=draw(st.sampled_from([230.0, 400.0, 690.0])),
        frequency=draw(st.sampled_from([50.0, 60.0])),
        poles=draw(st.sampled_from([2, 4, 6, 8])),
    )
    return circuit, rotor * draw(st.floats(0.8, 1.1)), draw(st.floats(0.0, 0.03))


# Invented, yet with the values that catalogues usually have for premium-efficiency cage motors (common practice, no source):
# kW, V, Hz, r/min, A, power factor; starting current, starting torque, breakdown torque over rated
USUAL_PLATES = [
    (0.75, 400, 50, 1435, 1.77, 0.75, 5.6, 2.5, 2.9),
    (1.5, 400, 50, 2890, 3.1, 0.84, 6.8, 2.6, 3.0),
    (2.2, 400, 50, 950, 5.0, 0.73, 5.2, 2.2, 2.6),
    (4.0, 400, 50, 1455, 7.9, 0.825, 6.8, 2.5, 3.0),
    (5.5, 460, 60, 1755, 9.0, 0.83, 7.2, 2.4, 3.0),
    (5.5, 400, 50, 965, 12.0, 0.78, 7.0, 2.0, 2.6),
    (7.5, 400, 50, 1465, 14.1, 0.85, 7.5, 2.4, 3.0),
    (7.5, 230, 60, 1755, 24.5, 0.85, 7.8, 2.3, 2.5),
    (11, 400, 50, 2945, 19.8, 0.88, 7.4, 2.4, 3.1),
    (15, 400, 50, 1470, 28.0, 0.84, 7.3, 2.5, 2.9),
    (18.5, 400, 50, 975, 36.0, 0.81, 6.6, 2.3, 2.6),
    (18.5, 400, 60, 3528, 35.7, 0.84, 8.0, 2.4, 2.5),
    (22, 400, 50, 1472, 40.5, 0.85, 7.2, 2.5, 2.8),
    (30, 460, 60, 3555, 44.5, 0.88, 7.3, 2.3, 3.0),
    (37, 690, 60, 1180, 42.0, 0.82, 7.8, 2.6, 2.7),
    (37, 400, 50, 1480, 66.0, 0.86, 7.0, 2.5, 2.8),
    (55, 400, 50, 1482, 98.0, 0.86, 7.2, 2.4, 2.7),
    (75, 400, 50, 985, 138, 0.83, 6.8, 2.3, 2.5),
    (90, 400, 50, 2978, 152, 0.89, 7.5, 2.2, 2.9),
    (90, 230, 60, 1186, 295, 0.82, 7.9, 2.1, 2.5),
    (110, 690, 50, 1487, 112, 0.86, 7.2, 2.4, 2.7),
    (132, 460, 60, 1788, 198, 0.87, 7.4, 2.4, 2.8),
    (160, 400, 50, 990, 284, 0.85, 6.9, 2.2, 2.6),
    (200, 400, 50, 1488, 344, 0.87, 7.3, 2.4, 2.8),
]


def random_plates(count: int) -> list[tuple]:
    """Usual catalogue values paired at random, by size where they go by size (common practice, no source)."""
    random = Random(2024)
    found = []
    while len(found) < count:
        kilowatts = random.choice([0.75, 1.1, 1.5, 2.2, 3, 4, 5.5, 7.5, 11, 15, 18.5, 22, 30, 37, 45, 55, 75, 90, 110, 132, 160, 200])
        poles, frequency, voltage = random.choice([2, 4, 6]), random.choice([50, 60]), random.choice([230, 400, 400, 690])
        size = math.log(kilowatts / 0.75) / math.log(200 / 0.75)
        efficiency = 0.80 + 0.15 * size + random.uniform(-0.012, 0.006)
        power_factor = round(0.80 + 0.07 * size + random.uniform(-0.025, 0.025) + {2: 0.02, 4: 0.0, 6: -0.02}[poles], 2)
        slip = 0.05 * 0.2**size * random.uniform(0.85, 1.15)
        rpm = round(120 * frequency / poles * (1 - slip))
        amperes = float(f"{1000 * kilowatts / (math.sqrt(3) * voltage * efficiency * power_factor):.3g}")
        multiples = [round(random.uniform(*ends), 1) for ends in ((5, 8), (2, 2.6), (2.5, 3.1))]
        # no more torque at standstill than the most there is; enough loss beside that of the rotor; power by the rounded figures
        left = 1000 * kilowatts / (math.sqrt(3) * voltage * amperes * power_factor) + slip
        if multiples[1] < multiples[2] and left < 0.99:
            found.append((kilowatts, voltage, frequency, rpm, amperes, power_factor, *multiples))
    return found


# IEC 60034-30-1, IE3 at 50 Hz, per cent: A lg^3 P + B lg^2 P + C lg P + D for 2, 4 and 6 poles, its table for 8 (memory)
IE3 = {
    2: (0.3569, -3.3076, 11.6108, 82.2503),
    4: (0.0773, -1.8951, 9.2984, 83.7025),
    6: (0.1252, -2.6130, 11.9963, 80.4769),
}
OUTPUTS = (0.75, 1.1, 1.5, 2.2, 3, 4, 5.5, 7.5, 11, 15, 18.5, 22, 30, 37, 45, 55, 75, 90, 110, 132, 160, 200)
EIGHT_POLES = (
    75.0, 77.7, 79.7, 81.9, 83.5, 84.8, 86.2, 87.3, 88.6, 89.6, 90.1,
    90.6, 91.3, 91.8, 92.2, 92.5, 93.1, 93.4, 93.7, 94.0, 94.3, 94.6,
)  # fmt: skip
# IEC 60034-12, design N (memory): up to kW, least starting torque and least breakdown torque for 2, 4, 6, 8 poles, times rated
LEAST_TORQUES = (
    (1.0, (1.8, 1.9, 1.7, 1.5), (2.0, 2.0, 1.8, 1.7)),
    (1.6, (1.8, 1.9, 1.6, 1.4), (2.0, 2.0, 1.9, 1.8)),
    (2.5, (1.7, 1.8, 1.6, 1.4), (2.0, 2.0, 1.9, 1.8)),
    (4.0, (1.6, 1.7, 1.5, 1.3), (2.0, 2.0, 1.9, 1.8)),
    (6.3, (1.5, 1.6, 1.5, 1.3), (2.0, 2.0, 1.9, 1.8)),
    (10, (1.5, 1.6, 1.5, 1.3), (2.0, 2.0, 1.8, 1.7)),
    (16, (1.4, 1.5, 1.4, 1.2), (2.0, 2.0, 1.8, 1.7)),
    (25, (1.3, 1.4, 1.4, 1.2), (1.9, 1.9, 1.8, 1.7)),
    (40, (1.2, 1.3, 1.3, 1.2), (1.9, 1.9, 1.8, 1.7)),
    (63, (1.1, 1.2, 1.2, 1.1), (1.8, 1.8, 1.7, 1.7)),
    (100, (1.0, 1.1, 1.1, 1.0), (1.8, 1.8, 1.7, 1.6)),
    (160, (0.9, 1.0, 1.0, 0.9), (1.7, 1.7, 1.7, 1.6)),
    (250, (0.8, 0.9, 0.9, 0.9), (1.7, 1.7, 1.6, 1.6)),
)
MOST_APPARENT_POWER = ((6.3, 13), (25, 12), (63, 11), (630, 10))  # the same: up to kW, kVA at standstill per rated kW


def correlated_plates(count: int) -> list[tuple]:
    """Plates of cage motors of design N and about class IE3, drawn at random.

    Efficiency: the losses of IE3, 15 % more or less. Power factor: by poles and size. Slip: 16 to 27 % of the losses are the
    rotor's. Starting current: 4.5 (0.75 kW) to 5.5 (200 kW) times rated at least, or 55 % of the apparent power that design N
    allows, and not above that. Breakdown torque: in air-gap power 58 to 80 % of half the apparent power at standstill, which is
    what a motor with no resistance had. Starting torque: from 0.2 above the least of design N to 1.5 above it; the rotor's
    resistance at standstill by it is 0.85 to 5.5 times that in running, as of plain and of deep bars. What is not of the two
    standards is common practice, no source.
    """
    random, found = Random(7), []
    while len(found) < count:
        kilowatts, poles = random.choice(OUTPUTS), random.choice((2, 4, 6, 8))
        frequency, voltage = random.choice(((50, 400), (50, 690), (60, 460), (60, 230)))
        size = math.log(kilowatts / 0.75) / math.log(200 / 0.75)
        percent = EIGHT_POLES[OUTPUTS.index(kilowatts)] if poles == 8 else np.polyval(IE3[poles], math.log10(kilowatts))
        efficiency = 1 - (1 - percent / 100) * random.uniform(0.85, 1.15)
        smallest, more = {2: (0.82, 0.08), 4: (0.76, 0.11), 6: (0.70, 0.15), 8: (0.64, 0.18)}[poles]
        power_factor = round(smallest + more * size + random.uniform(-0.03, 0.03), 2)
        rotor_loss = random.uniform(0.16, 0.27) * (1 / efficiency - 1)
        rpm = round(120 * frequency / poles / (1 + rotor_loss))
        amperes = float(f"{1000 * kilowatts / (math.sqrt(3) * voltage * efficiency * power_factor):.3g}")
        least_starting, least_breakdown = next(row[1:] for row in LEAST_TORQUES if kilowatts <= row[0])
        most = next(kva for top, kva in MOST_APPARENT_POWER if kilowatts <= top) * efficiency * power_factor
        current = random.uniform(max(4.5 + size, 0.55 * most), min(8.2, most))
        breakdown = current / (2 * efficiency * power_factor) * random.uniform(0.58, 0.80)
        least = least_starting[poles // 2 - 1]
        starting = random.uniform(least + 0.2, min(least + 1.5, 0.95 * breakdown, 3.5))
        multiples = tuple(round(value, 1) for value in (current, starting, breakdown))
        slip = 1 - rpm * poles / 120 / frequency
        resistance = multiples[1] * power_factor**2 / (slip * multiples[0] ** 2)
        in_range = least_breakdown[poles // 2 - 1] <= multiples[2] <= 4.2 and multiples[1] < multiples[2]
        if in_range and 0.85 < resistance < 5.5:
            found.append((kilowatts, voltage, frequency, rpm, amperes, power_factor, *multiples))
    return found
