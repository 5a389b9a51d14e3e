"""From forecasts to a checked plan: the problem, the search, the checker, the reasons."""
