"""Pure functions from report rows to components and figures."""
