"""The breaks that `mutants.py` makes, a table for each part of the program."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from tests.benchmarks.mutation import Mutation

MUTATIONS: tuple[Mutation, ...] = tuple(
    mutation for module in iter_modules(__path__) for mutation in getattr(import_module(f"{__name__}.{module.name}"), "MUTATIONS", ())
)

__all__ = ["MUTATIONS", "Mutation"]
