"""A current makes a field: compasses round a wire running up through a table."""
