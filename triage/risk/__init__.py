"""How likely, how soon, how bad."""
