"""Sewing: the order of work and what it needs."""
