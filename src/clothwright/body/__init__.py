"""The wearer: her measurements, a size chart, the size they suggest, and slips of the tape."""
