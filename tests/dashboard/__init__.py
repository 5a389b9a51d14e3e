"""The dashboard without a browser."""
