"""Changing the pieces."""
