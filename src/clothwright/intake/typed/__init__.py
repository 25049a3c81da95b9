"""Pieces typed in from measurements: plain notes, line by line, for tissue that no camera sees."""
