"""The figures of the motor, each with its formula and this instant's numbers."""

from __future__ import annotations

from scenes.drives.changing_speed.motors import FREQUENCY, RATED_TORQUE, TOOTH_SHARE
from scenes.drives.changing_speed.snapshot import INVERTER, Setup, Snapshot
from scenes.scene.common_readings import synchronous_speed
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look
from scenes.workings.inputs import of_circuit, of_running


def readings(now: Snapshot, look: Look) -> list[Reading]:
    setup, view = now.setup, look.view
    field, rotor = 60 * now.synchronous_speed, 60 * setup.sense * now.speed
    rotation = view.turning(now.speed)
    return [
        synchronous_speed(field, setup.frequency, setup.poles, tells=True),
        Reading(
            "n",
            "speed of the rotor, positive with the field",
            minus(rotor, 0),
            "r/min",
            f"n = nₛ (1 − s) = {field:.0f} r/min × (1 − {minus(now.slip, 5)}) = {minus(rotor, 0)} r/min",
            tells=True,
        ),
        Reading("", f"rotation of the rotor, looking at {view.end}", "at standstill" if rotation == "none" else rotation, "", tells=True),
        *(_of_the_inverter(now) if setup.method == INVERTER else _of_the_winding(setup)),
        Reading(
            "B",
            "flux density in the air gap, peak",
            f"{now.field:.2f}",
            "T",
            f"in the teeth, {TOOTH_SHARE:.1f} of the pitch: {now.field:.4f} T / {TOOTH_SHARE:.1f} = {now.field / TOOTH_SHARE:.2f} T",
            tells=True,
        ),
        Reading(
            "T", "torque of the motor, positive with the field", minus(now.torque, 2), "N m", f"the load asks for {setup.load:.2f} N m"
        ),
        Reading(
            "Tₘ",
            "breakdown torque at present supply",
            f"{now.breakdown:.1f}",
            "N m",
            f"{now.breakdown / RATED_TORQUE:.1f} × the rated {RATED_TORQUE:.1f} N m of the motor with the ordinary winding",
            tells=True,
        ),
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    motor = now.setup.circuit
    calculations = of_running(motor.frequency, motor.poles, 60 * (1 - now.slip) * motor.synchronous_speed)
    return calculations | {"equivalent-circuit": of_circuit(motor) | {"slip": 100 * now.slip}}


def _of_the_inverter(now: Snapshot) -> list[Reading]:
    setup = now.setup
    weak = setup.frequency > FREQUENCY
    why = (
        "above 50 Hz the voltage stays constant and the field weakens"
        if weak
        else "held constant, with a little boost for the winding's resistance drop"
    )
    return [
        Reading(
            "U / f",
            "volts per hertz",
            f"{setup.volts / setup.frequency:.2f}",
            "V/Hz",
            f"{setup.volts:.2f} V / {setup.frequency:g} Hz; {why}",
            tells=weak,
        ),
        Reading("", "terminals supplied", " ".join(sorted(setup.supplied)), "", f"the inverter's {supply_words(setup)}"),
    ]


def _of_the_winding(setup: Setup) -> list[Reading]:
    assert setup.connection is not None  # only a pole-changing winding has this reading
    joined, open_ends = setup.connection.joined, setup.connection.left_open
    series = "each phase's halves in series, one star point; " if open_ends else "each phase's halves in parallel, two star points; "
    return [
        Reading(
            "",
            "terminals supplied",
            " ".join(sorted(setup.supplied)),
            "",
            f"{supply_words(setup)}; {', '.join(joined or open_ends)} {'joined' if joined else 'open'}",
        ),
        Reading(
            "",
            "poles, counted in the computed field",
            str(setup.poles),
            "",
            series + "by IEC 60034-8 the letters in order on L1, L2, L3 turn clockwise looking at the drive end, at each speed",
            tells=True,
        ),
        Reading(
            "",
            "number of synchronous speeds",
            str(len(setup.speeds)),
            "",
            f"{', '.join(str(speed) for speed in setup.speeds)} r/min, nothing in between",
        ),
    ]


def supply_words(setup: Setup) -> str:
    """Which line feeds which terminal, such as "L1 to 1U, L2 to 1V, L3 to 1W"."""
    sources = ["UVW"[int(line[1]) - 1] for line in setup.lines] if setup.method == INVERTER else setup.lines
    return ", ".join(f"{source} to {terminal}" for source, terminal in zip(sources, setup.supplied, strict=True))
