"""Add pieces from drawings to a workbook."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.intake import READERS, Reader, propose_sized
from clothwright.intake.recognise import Answers
from clothwright.intake.svg import is_annotated
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
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
    sizes: SizeRange | None = None
    if is_annotated(data):
        pieces = (piece_from_svg(data, file.name),)
    else:
        sized = propose_sized(reader.drawing(data, file.name, answers), answers, unit=book.unit)
        pieces, notes, sizes = sized.draft.pieces, sized.draft.notes, sized.sizes
    kept = {p.name: p for p in book.bought.pieces}
    for piece in pieces:
        if piece.name in kept and not replace_same:
            raise BadInput(
                where=file.name,
                what=f'the workbook has a piece "{piece.name}" already',
                expected="another name (--name), or --replace",
            )
        kept[piece.name] = piece
    known, more = with_sizes(book.bought.sizes, sizes, {p.name for p in pieces})
    bought = replace(book.bought, pieces=tuple(kept.values()), sizes=known)
    return replace(book, bought=bought), pieces, (*notes, *more)


def with_sizes(
    known: SizeRange | None, new: SizeRange | None, added: set[str]
) -> tuple[SizeRange | None, tuple[str, ...]]:
    """Return the sizes of a pattern after pieces were added, and what became of new ones, in words.

    added: names of the pieces added; what was known of their sizes is forgotten. Sizes of another
    range than the pattern's own are not kept.
    """
    for name in added:
        if known is not None and name in known.piece_names:
            known = known.without(name)
    if new is None or known is None:
        return new or known, ()
    if (known.names, known.drawn) != (new.names, new.drawn):
        words = (
            f"other sizes not kept: the workbook has {', '.join(known.names)} with {known.drawn} "
            f"shown, this drawing {', '.join(new.names)} with {new.drawn}"
        )
        return known, (words,)
    sets = (a + b for a, b in zip(known.pieces, new.pieces, strict=True))
    return replace(known, pieces=tuple(sets)), ()
