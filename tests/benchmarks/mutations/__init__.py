"""The breaks that `mutants.py` makes, a table for each part of the program."""

from tests.benchmarks.mutations import alternator, rods
from tests.benchmarks.mutations.mutation import Mutation

MUTATIONS: tuple[Mutation, ...] = (*alternator.MUTATIONS, *rods.MUTATIONS)

__all__ = ["MUTATIONS", "Mutation"]
