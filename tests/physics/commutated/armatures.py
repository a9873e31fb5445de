"""The armatures and random machines of the tests."""

from dataclasses import replace

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st

from physics.commutated.armature import Armature
from physics.commutated.commutator import Commutator, SlipRings
from physics.commutated.network import LoadResistor, OpenCircuit, Source
from physics.fields.pole_field import PoleField

quick = settings(max_examples=50, deadline=None)
angles = st.floats(-10.0, 10.0)
speeds = st.floats(-400.0, 400.0)
circuits = st.one_of(
    st.builds(Source, st.floats(-24.0, 24.0), st.floats(0.0, 5.0)),
    st.builds(LoadResistor, st.floats(0.0, 50.0)),
    st.just(OpenCircuit()),
)
collectors = st.one_of(
    st.builds(
        Commutator,
        brush_width=st.floats(0.05, 2.0),
        insulation=st.floats(0.0, 0.2),
        contact_resistance=st.floats(0.01, 1.0),
        lead=st.floats(-2.0, 2.0),
        brush_shift=st.floats(-0.5, 0.5),
    ),
    st.builds(SlipRings, contact_resistance=st.floats(0.01, 1.0)),
)
armatures = st.builds(
    Armature,
    field=st.builds(PoleField, st.floats(-1.0, 1.0), st.floats(0.0, 3.0), st.floats(-4.0, 4.0)),
    turns=st.integers(1, 50),
    length=st.floats(0.02, 0.2),
    radius=st.floats(0.01, 0.1),
    coil_resistance=st.floats(0.05, 10.0),
    coils=st.integers(1, 9),
    collector=collectors,
)


# three coils in an even field, brushes so narrow that only at six places of a revolution two segments are bridged
NARROW = Commutator(brush_width=0.002, insulation=0.001, contact_resistance=1e-3)
THREE_COILS = Armature(PoleField(0.3), turns=20, length=0.05, radius=0.03, coil_resistance=1.5)
AROUND = 2 * np.pi * (np.arange(3600) + 0.5) / 3600


def narrow(coils, **changes):
    return replace(THREE_COILS, coils=coils, collector=NARROW, **changes)
