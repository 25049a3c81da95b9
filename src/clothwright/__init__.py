"""Clothwright: from bought pattern pieces to cut cloth."""

import os

__version__ = "0.1.0"

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
"""Our matrices are small: threads of the library that numpy and scipy count with would only wait
for each other, and take the cores from searches and pages. Read when numpy is first loaded."""
