"""The tours that come with the program, without their hours of sleep: tests are run at night too."""

from __future__ import annotations

from dataclasses import replace

from scenes.exhibit import tour_file

AWAKE = {name: replace(tour_file.read(tour_file.built_in(name), name), asleep=None) for name in ("short_tour", "open_day")}
SHORT, OPEN_DAY = AWAKE.values()
