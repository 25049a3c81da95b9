"""The use cases both doors call: open, add, alter, check, lay, compare, print, guide."""
