"""From the outside to draft pieces: bytes -> lines in mm -> proposals and questions."""

from clothwright.intake import svg
from clothwright.intake.answers import Answers, Question
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText, Reader
from clothwright.intake.outlines import Found, outlines
from clothwright.intake.recognise import Draft, propose, questions
from clothwright.intake.svg import is_annotated, read_svg

READERS: tuple[Reader, ...] = (svg.READER,)
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
    "is_annotated",
    "outlines",
    "propose",
    "questions",
    "read_svg",
]
