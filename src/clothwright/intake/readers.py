"""Every kind of file that pieces are read from; a command that reads none loads none."""

from __future__ import annotations

from clothwright.intake import dxf, svg
from clothwright.intake.drawing import Reader
from clothwright.intake.pdf import reader as pdf
from clothwright.intake.typed import file as typed_file

READERS: tuple[Reader, ...] = (svg.READER, pdf.READER, dxf.READER, typed_file.READER)
"""Every kind of file that can be read."""
