"""Which edges are sewn together: pairs proposed from lengths, notches and names."""
