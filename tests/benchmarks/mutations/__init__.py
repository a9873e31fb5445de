"""The breaks that `mutants.py` makes, a table for each part of the program."""

from __future__ import annotations

from importlib import import_module
from pkgutil import walk_packages

from tests.benchmarks.mutation import Mutation

MUTATIONS: tuple[Mutation, ...] = tuple(
    mutation for module in walk_packages(__path__, f"{__name__}.") for mutation in getattr(import_module(module.name), "MUTATIONS", ())
)

__all__ = ["MUTATIONS", "Mutation"]
