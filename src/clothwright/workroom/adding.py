"""Add pieces from drawings to a workbook."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.intake import READERS, Reader
from clothwright.intake.recognise import Answers, propose
from clothwright.intake.svg import is_annotated
from clothwright.pattern.piece import Piece
from clothwright.store import piece_from_svg
from clothwright.workbook import Workbook


def reader_of(name: str) -> Reader:
    """Return the reader for a file of this name. Raises BadInput: which endings are read."""
    suffix = FilePath(name).suffix.lower()
    for reader in READERS:
        if suffix in reader.suffixes:
            return reader
    known = [s for r in READERS for s in r.suffixes]
    raise BadInput(
        where=name,
        what=f'files ending in "{suffix}" are not read yet' if suffix else "its name has no ending",
        expected="a file ending in " + " or ".join(known),
    )


def with_drawing(
    book: Workbook, file: FilePath, answers: Answers, *, replace_same: bool = False
) -> tuple[Workbook, tuple[Piece, ...], tuple[str, ...]]:
    """Return the workbook with the drawing's pieces, those pieces, and notes in words.

    Raises BadInput; the workbook given stays as it is.
    """
    reader = reader_of(file.name)
    try:
        data = file.read_bytes()
    except OSError as error:
        raise BadInput(where=str(file), what=f"it cannot be read ({error.strerror})") from None
    pieces: tuple[Piece, ...]
    notes: tuple[str, ...] = ()
    if is_annotated(data):
        pieces = (piece_from_svg(data, file.name),)
    else:
        draft = propose(reader.read(data, file.name), answers, unit=book.unit)
        pieces, notes = draft.pieces, draft.notes
    kept = {p.name: p for p in book.bought.pieces}
    for piece in pieces:
        if piece.name in kept and not replace_same:
            raise BadInput(
                where=file.name,
                what=f'the workbook has a piece "{piece.name}" already',
                expected="another name (--name), or --replace",
            )
        kept[piece.name] = piece
    bought = replace(book.bought, pieces=tuple(kept.values()))
    return replace(book, bought=bought), pieces, notes
