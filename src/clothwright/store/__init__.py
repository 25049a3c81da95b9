"""The workbook on disk: a folder with one readable text file and one drawing a piece."""

from clothwright.store.file import BOOK_FILE, create, is_workbook, load, save
from clothwright.store.piece_read import piece_from_svg
from clothwright.store.piece_svg import piece_to_svg

__all__ = [
    "BOOK_FILE",
    "create",
    "is_workbook",
    "load",
    "piece_from_svg",
    "piece_to_svg",
    "save",
]
