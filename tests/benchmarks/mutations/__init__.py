"""The breaks that `mutants.py` makes, a table for each part of the program."""

from tests.benchmarks.mutations import alternator, cage, slip
from tests.benchmarks.mutations.mutation import Mutation

MUTATIONS: tuple[Mutation, ...] = (*alternator.MUTATIONS, *cage.MUTATIONS, *slip.MUTATIONS)

__all__ = ["MUTATIONS", "Mutation"]
