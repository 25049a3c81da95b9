"""The cloth and its print."""
