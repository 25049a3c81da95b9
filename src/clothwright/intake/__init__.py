"""From the outside to draft pieces: bytes -> lines in mm -> proposals and questions."""

from clothwright.intake import svg
from clothwright.intake.drawing import Reader

READERS: tuple[Reader, ...] = (svg.READER,)
"""Every kind of file that can be read."""
