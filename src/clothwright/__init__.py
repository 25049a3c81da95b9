"""Clothwright: from bought pattern pieces to cut cloth."""

__version__ = "0.1.0"
