"""The screens, served to this machine only."""
