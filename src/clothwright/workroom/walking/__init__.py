"""The walk of every seam."""
