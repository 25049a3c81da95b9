"""From the outside to draft pieces: bytes -> lines in mm -> proposals and questions."""

from clothwright.intake import dxf, svg
from clothwright.intake.answers import Answers, Question
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText, Reader
from clothwright.intake.in_sizes import Sized, of_size, propose_sized, size_question
from clothwright.intake.outlines import Found, outlines
from clothwright.intake.pdf import reader as pdf
from clothwright.intake.recognise import Draft, propose, questions
from clothwright.intake.svg import is_annotated, read_svg
from clothwright.intake.typed import file as typed_file

READERS: tuple[Reader, ...] = (svg.READER, pdf.READER, dxf.READER, typed_file.READER)
"""Every kind of file that can be read."""

__all__ = [
    "READERS",
    "Answers",
    "Draft",
    "Drawing",
    "DrawnLine",
    "DrawnText",
    "Found",
    "Question",
    "Reader",
    "Sized",
    "is_annotated",
    "of_size",
    "outlines",
    "propose",
    "propose_sized",
    "questions",
    "read_svg",
    "size_question",
]
