"""What a single field may hold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

Scalar: TypeAlias = str | float | bool | None
Vector: TypeAlias = Sequence[float]
