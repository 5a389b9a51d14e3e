"""The invented museum of flight: a seeded generator and the collection folder it writes."""
