"""The search: pricing, bound, integer program, child processes, endings."""
