"""Planted faults: each code of each check is raised by its own fault, and by nothing else."""
