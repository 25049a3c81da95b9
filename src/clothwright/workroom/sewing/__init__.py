"""The guide and the order of work."""
