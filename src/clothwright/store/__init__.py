"""The workbook on disk: a folder with one readable text file and one drawing a piece."""

from clothwright.store.book.file import create, holds_workbook, is_workbook, load, save
from clothwright.store.book.pictures import keep_picture, picture, pictures_in, pictures_named
from clothwright.store.book.piece_read import piece_from_svg
from clothwright.store.book.piece_svg import piece_to_svg
from clothwright.store.disk import BOOK_FILE, readable
from clothwright.store.history.record import Saved
from clothwright.store.history.steps import (
    Opened,
    Undoable,
    opened,
    redo,
    steps,
    undo,
)

__all__ = [
    "BOOK_FILE",
    "Opened",
    "Saved",
    "Undoable",
    "create",
    "holds_workbook",
    "is_workbook",
    "keep_picture",
    "load",
    "opened",
    "picture",
    "pictures_in",
    "pictures_named",
    "piece_from_svg",
    "piece_to_svg",
    "readable",
    "redo",
    "save",
    "steps",
    "undo",
]
