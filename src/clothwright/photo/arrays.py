"""Rows and pictures of numbers, as the rooms of the photos hand them to each other."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Mask = NDArray[np.bool_]
"""Which of some numbers, points or pixels are meant."""
