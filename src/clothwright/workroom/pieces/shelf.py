"""The workbooks on the shelf, each with what is in it; demos and empty ones to begin with."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from clothwright.demo.workbooks import DEMOS, Demo
from clothwright.drawing.row import row_picture
from clothwright.errors import ClothwrightError, named
from clothwright.picture.picture import Picture
from clothwright.store import create, holds_workbook
from clothwright.store.book.file import was_workbook
from clothwright.store.noticed import Notice
from clothwright.units import parse_unit
from clothwright.words import counted
from clothwright.workroom.editing.opened import OpenBook, Shelf, empty_book

MOST_SHOWN = 9
"""Pieces in a miniature."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelved:
    """A workbook on the shelf. problem: why it cannot be opened, "" when it can.

    picture: its first pieces in a row, mm, empty without pieces. pieces: how many there are.
    notices: what is to be told about its folder. lost: it cannot be opened, and there are copies of
    earlier states.
    """

    name: str
    title: str
    words: str = ""
    problem: str = ""
    picture: Picture = Picture()  # noqa: RUF009
    pieces: int = 0
    notices: tuple[Notice, ...] = ()
    lost: bool = False


def shelved(book: OpenBook) -> Shelved:
    """Return what the shelf shows of a workbook; one that cannot be read says why."""
    try:
        at = book.read()
    except ClothwrightError as error:
        return Shelved(
            name=book.name,
            title=book.folder.name,
            problem=str(error),
            notices=book.notices(),
            lost=was_workbook(book.folder),
        )
    it = at.book
    counts = (
        (len(it.bought.pieces), "piece"),
        (len(it.steps), "change"),
        (len(it.cloths), "cloth"),
        (len(it.plans), "plan"),
    )
    picture = book.once(
        "miniature", at.revision, lambda: row_picture(it.bought.pieces[:MOST_SHOWN])
    )
    return Shelved(
        name=book.name,
        title=it.title,
        words=", ".join(counted(n, what) for n, what in counts if n) or "still empty",
        picture=picture,
        pieces=len(it.bought.pieces),
        notices=book.notices(),
    )


def demos() -> tuple[Demo, ...]:
    """Return every demo workbook there is, in the order they are offered."""
    return DEMOS


def demo_named(name: str) -> Demo:
    """Return a demo by its name. Raises BadInput with the nearest one."""
    return named(DEMOS, name, "there is no demo")


def demo_anew(folder: Path, name: str) -> tuple[OpenBook, str]:
    """Make a demo below a folder, in the place of an earlier one; return it with its title.

    Raises BadInput.
    """
    demo = demo_named(name)
    place = folder / demo.name
    if holds_workbook(place):
        shutil.rmtree(place)
    create(place, demo.make())
    return OpenBook(name=demo.name, folder=place), demo.title


def add_demo(shelf: Shelf, name: str) -> OpenBook:
    """Make a demo workbook on the shelf. Raises BadInput."""
    demo = demo_named(name)
    return shelf.add(demo.name, demo.make())


def add_empty(shelf: Shelf, title: str, unit: str) -> OpenBook:
    """Make an empty workbook on the shelf. unit: as typed ("cm", "in"). Raises BadInput."""
    made = empty_book(title.strip(), parse_unit(unit, where="unit"))
    return shelf.add(made.title, made)
