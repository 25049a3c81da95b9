"""From the outside to draft pieces: bytes -> lines in mm -> proposals and questions."""
