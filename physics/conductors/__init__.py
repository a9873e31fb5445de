"""Forces on conductors and the EMFs in them."""
