"""Kinds of question that scenes share: which way, back from the result, a figure, a comparison, why."""
