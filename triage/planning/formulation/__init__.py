"""The integer program in PuLP, split by textbook name."""
