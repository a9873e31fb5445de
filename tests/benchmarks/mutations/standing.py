"""Breaks in the one mesh of what stands still."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

STANDING, MESH = "visual/page/drawing/standing.js", "visual/page/drawing/seen-mesh.js"
TESTS = ("tests/browser/page/test_standing.py",)

MUTATIONS = (
    Mutation(STANDING, "spoilt ||= thing.still === 0;", "", TESTS),
    Mutation(STANDING, "if (spoilt || met < count) {", "if (spoilt) {", TESTS),
    Mutation(STANDING, "using = count > 0 && same(eye, meshEye);", "using = count > 0;", TESTS),
    Mutation(STANDING, "if (using) return;", "", TESTS),
    Mutation(STANDING, "if (!here || !one.inMesh)", "if (!one.inMesh)", TESTS),
    Mutation(MESH, "gl_VertexID / 3 + 1", "gl_VertexID / 3", TESTS),
    Mutation(MESH, "normal[from] / a,", "-normal[from] / a,", TESTS),
    Mutation(MESH, "color[from + k] * data[16 + k]", "color[from + k]", TESTS),
    Mutation(MESH, "points[target + k] += data[k];", "", TESTS),
)
