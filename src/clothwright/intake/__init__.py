"""From the outside to us: drawings read into pictures and draft pieces."""
