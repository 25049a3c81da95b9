"""A coat back before and after a crop, for tests of the changes page."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.piece import Piece
from clothwright.workbook import Step, replay

CROP = {"edges": ("coat back.hem",), "length": "40 cm"}


def cropped() -> tuple[Piece, Piece]:
    """Return the coat back as bought, and cropped 40 cm below the neck point."""
    book = next(d for d in DEMOS if d.name == "coat-and-skirt").make()
    done = replay(replace(book, steps=(Step(change="crop", params=CROP),)))
    if done.told[0].error:
        raise ValueError(done.told[0].error)
    return book.bought.piece("coat back"), done.pattern.piece("coat back")
