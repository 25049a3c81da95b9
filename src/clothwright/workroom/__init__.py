"""The use cases both doors call: open, add, change, walk, lay, compare, print, guide."""
