"""Data in, checked plan out: the rooms of the house; see DEVELOPERS.md for the map."""
