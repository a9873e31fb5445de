"""The breaks that `mutants.py` makes, a table for each part of the program."""

from tests.benchmarks.mutations import alternator
from tests.benchmarks.mutations.mutation import Mutation

MUTATIONS: tuple[Mutation, ...] = (*alternator.MUTATIONS,)

__all__ = ["MUTATIONS", "Mutation"]
