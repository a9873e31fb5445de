"""The page does not draw the inside of a thing: so every triangle must face the way its normals point, and none be mirrored."""

from __future__ import annotations

import json
from base64 import b64decode

import numpy as np
import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from visual.host.server import Host


@pytest.fixture(scope="module")
def shown():
    """What pages are sent when every scene was shown once, and of that the commands by which each was made."""
    bench, made = Bench(Host()), {}
    for name in catalogue.NAMES:
        before = len(bench.host.stream.commands)
        bench.receive({"do": "scene", "name": name})
        bench.frame(1 / 30)
        bench.host.flush()
        made[name] = bench.host.stream.commands[before:]
    return bench.host.stream, made


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_every_triangle_faces_outwards(shown, name):
    commands = [json.loads(command) for command in shown[1][name]]
    meshes = [command["mesh"] for command in commands if "mesh" in command]
    assert meshes
    for arrays in meshes:
        kinds = {"pos": "<i2", "normal": "i1", "index": "<u2"}
        points, normals, corners = (np.frombuffer(b64decode(arrays[key]), kind).reshape(-1, 3).astype(int) for key, kind in kinds.items())
        a, b, c = (points[corners[:, k]] for k in range(3))
        across = np.cross(b - a, c - a)
        area = np.linalg.norm(across, axis=1)
        real = area > 1e-4 * area.max()  # the rounding of the points decides of slivers
        facing = np.sum(across * normals[corners].sum(axis=1), axis=1)
        inwards, outwards = np.count_nonzero(facing[real] < 0), np.count_nonzero(facing[real] > 0)
        # a tube bent tighter than its own radius folds on the inner side of the bend: hidden, and few
        assert inwards <= 0.05 * outwards, f"{inwards} of {real.sum()} triangles face inwards"


def test_nothing_is_mirrored(shown):
    stretches = [
        [float(part) for part in said.split("g", 1)[1].split(",")]
        for (_, attribute), said in shown[0].attributes.items()
        if attribute == "size"
    ]
    assert len(stretches) > 100 and np.min(stretches) >= 0
