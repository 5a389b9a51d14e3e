"""What was seen, by whom, and whether the file that says so can be used."""
