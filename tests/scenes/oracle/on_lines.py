"""A motor on three lines: what its leads must be, and which way the lines as joined turn its field."""

from __future__ import annotations

from tests.oracle import in_a_loop, loose_ends


def turns_with(lines: str) -> int:
    """+1 counter-clockwise seen from the drive end, -1 clockwise: U-V-W on L1-L2-L3 turns clockwise (IEC 60034-8)."""
    return -1 if lines.split("-") in (["L1", "L2", "L3"], ["L2", "L3", "L1"], ["L3", "L1", "L2"]) else 1


def check_leads(leads, lines: str, inverter: bool = False) -> None:
    """Each line on its terminal, the protective conductor on its own, no end loose, windings and mains in a loop; where there is an
    inverter, its outputs U, V, W in place of the lines, and these on its inputs in their order."""
    drawn = {lead["to"]: lead["from"] for lead in leads if not lead["through"]}
    outputs = {"L1": "U", "L2": "V", "L3": "W"}
    of = {line: f"inverter {output}" if inverter else f"supply {line}" for line, output in outputs.items()}
    wanted = {f"motor {end}": of[line] for end, line in zip("UVW", lines.split("-"), strict=True)}
    wanted["motor PE"] = "inverter PE" if inverter else "supply PE"
    if inverter:
        wanted |= {f"inverter {line}": f"supply {line}" for line in ("L1", "L2", "L3", "PE")}
    assert drawn == wanted
    assert in_a_loop(leads, "windings") and in_a_loop(leads, "mains") and not loose_ends(leads)
    assert not inverter or all(in_a_loop(leads, f"inverter {line}-{output}") for line, output in outputs.items())
