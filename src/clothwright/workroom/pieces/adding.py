"""Add pieces from drawings to a workbook."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing, DrawnLine, Reader
from clothwright.intake.readers import READERS
from clothwright.intake.svg import is_annotated
from clothwright.intake.typed.file import READER as TYPED_READER
from clothwright.intake.typed.file import typed_in
from clothwright.intake.waiting.at_once import Draft, drawn_draft, typed_draft
from clothwright.pattern.piece import Piece
from clothwright.photo.outline import check_followed
from clothwright.photo.photographed import (
    SUFFIXES,
    Photographed,
    bar_length,
    bar_words,
    by_hand_words,
    corrected,
    error_words,
    followed,
    is_photo,
    moves_from,
    note_words,
    photographed,
    picture_png,
    said_of,
)
from clothwright.photo.read import read_photo
from clothwright.photo.sheet import BAR_MM
from clothwright.store import piece_from_svg
from clothwright.store.disk import write_whole
from clothwright.units import Unit
from clothwright.words import listed, say
from clothwright.workbook import Workbook
from clothwright.workroom.apart.asking import apart_for
from clothwright.workroom.editing.edits.pieces import AddPieces
from clothwright.workroom.pieces.sizes import with_sizes

FILES: tuple[tuple[str, tuple[str, ...]], ...] = (
    *((r.title, r.suffixes) for r in READERS),
    ("Photo of a paper piece beside a marker sheet", SUFFIXES),
)
"""Every kind of file that pieces come from: what it is, and the endings of its name."""


LARGEST = 100_000_000
"""Bytes of a file at most."""
BAR_TAKEN = (
    "the bar on the marker sheets was taken to be ", BAR_MM, " long: measure it, and give --bar "
    "with what your ruler says if it is not",
)  # fmt: skip


def outline_drawing(found: Photographed, unit: Unit) -> Drawing:
    """Return a piece from photos as a drawing like any other, its doubts as notes."""
    lines = [DrawnLine(path=found.outline.path, closed=True, label=found.name)]
    lines += [DrawnLine(path=p, closed=False) for p in found.outline.inner]
    notes = [
        f"the outline follows {followed(found.outline)}; by the photos it very likely lies within "
        f"{error_words(found.error_mm, unit)} of it",
        *by_hand_words(found, unit),
        *found.notes,
        *bar_words(found.bar_mm, unit),
        *(said_of(d, unit) for d in found.outline.doubts),
    ]
    return Drawing(name=found.name, lines=tuple(lines), scale_known=True, notes=tuple(notes))


def kind_of(name: str) -> tuple[str, str]:
    """Return what a file of this name is, and its ending. Raises BadInput: which endings are read.

    >>> kind_of("front.SVG")
    ('SVG drawing', '.svg')
    """
    suffix = FilePath(name).suffix.lower()
    for title, suffixes in FILES:
        if suffix in suffixes:
            return title, suffix
    known = [s for _, suffixes in FILES for s in suffixes]
    raise BadInput(
        where=name,
        what=f'files ending in "{suffix}" are not read yet' if suffix else "its name has no ending",
        expected="a file ending in " + listed(known, "or"),
    )


def reader_of(name: str) -> Reader:
    """Return the reader for a drawing of this name; for a photo there is none. Raises BadInput."""
    _, suffix = kind_of(name)
    return next(r for r in READERS if suffix in r.suffixes)


def annotated(data: bytes, file: str, name: str = "") -> Piece | None:
    """Return the piece of a drawing with our own annotation, read exactly; None for others.

    name: what it is called instead of its own name. Raises BadInput.
    """
    if not is_annotated(data):
        return None
    piece = piece_from_svg(data, file)
    return replace(piece, name=name) if name else piece


def answers_of(*, edges: str = "", **said: str) -> Answers:
    """Return what was answered about a drawing, each as typed. edges: their names, with commas."""
    return Answers(edges=tuple(e for e in edges.split(",") if e.strip()), **said)


def pieces_of(
    book: Workbook,
    file: FilePath,
    answers: Answers,
    *,
    more: Sequence[FilePath] = (),
    bar: str = "",
    follow: str = "",
    correct: str = "",
    show: FilePath | None = None,
    replace_same: bool = False,
) -> tuple[AddPieces, tuple[str, ...]]:
    """Return the edit that adds the pieces of a drawing to a workbook, and notes in words.

    more: further photos of the same piece. bar: what a ruler says of the sheets' 200 mm bar.
    follow: "line" or "edge", what the outline is. correct: places of the outline put elsewhere by
    hand ("120,35 by 2,0; 60,300 out"). show: where the flat picture with the outline over it is
    written (these five: photos only).
    Raises BadInput.
    """
    kind_of(file.name)
    if not is_photo(file.name) and (more or bar or show or correct or follow):
        raise BadInput(
            where=file.name,
            what="only photos of one piece come several at once, with --bar, --follow, "
            "--correct and --show",
            expected="one drawing at a time",
        )
    files = tuple((one.name, _data_of(one)) for one in (file, *more))
    said = _SaidOfPhotos(bar=bar, follow=follow, correct=correct, shown=show is not None)
    made, picture = apart_for(len(files), file.name, _read, files, answers, said, book.unit)
    if show is not None and picture:
        write_whole(show, picture)
    names = {p.name for p in made.pieces}
    for name in sorted(names & {p.name for p in book.bought.pieces}):
        if not replace_same:
            raise BadInput(
                where=file.name,
                what=f'the workbook has a piece "{name}" already',
                expected="another name (--name), or --replace",
            )
    _, words = with_sizes(book.bought.sizes, made.sizes, names)
    edit = AddPieces(pieces=made.pieces, replace=replace_same, sizes=made.sizes)
    return edit, (*made.notes, *words)


class _SaidOfPhotos(NamedTuple):
    """What is said of photos, as typed. shown: their flat picture is wanted."""

    bar: str
    follow: str
    correct: str
    shown: bool


def _read(
    files: Sequence[tuple[str, bytes]], answers: Answers, said: _SaidOfPhotos, unit: Unit
) -> tuple[Draft, bytes]:
    """Return the pieces in a file (a name and what is in it), or in photos; their flat picture."""
    (name, data), *_ = files
    own = annotated(data, name, answers.name)
    if own is not None:
        return Draft(pieces=(own,)), b""
    if is_photo(name):
        return _of_photos(files, answers, said, unit)
    reader = reader_of(name)
    if reader is TYPED_READER:
        return typed_draft(name, typed_in(data, name, unit), answers, unit), b""
    return drawn_draft(reader.drawing(data, name, answers), answers, unit), b""


def _of_photos(
    files: Sequence[tuple[str, bytes]], answers: Answers, said: _SaidOfPhotos, unit: Unit
) -> tuple[Draft, bytes]:
    """Return the piece in photos, its outline corrected as asked. Raises BadInput."""
    check_followed(said.follow)
    moves = moves_from(said.correct)
    taken = [read_photo(data, name) for name, data in files]
    bar_mm = bar_length(said.bar)
    found = photographed(taken, bar_mm=bar_mm, name=answers.name, by=said.follow)
    found = corrected(found, moves)
    note = note_words(found, len(files), len(found.outline.doubts), unit)
    drawing = outline_drawing(found, unit)
    if not said.bar:
        drawing = replace(drawing, notes=(*drawing.notes, say(BAR_TAKEN, unit)))
    picture = picture_png(found) if said.shown else b""
    return drawn_draft(drawing, answers, unit, note=note), picture


def _data_of(file: FilePath) -> bytes:
    """Return what is in a file. Raises BadInput: one that cannot be read, and why."""
    try:
        with file.open("rb") as handle:
            data = handle.read(LARGEST + 1)
    except OSError as error:
        raise BadInput(where=str(file), what=f"it cannot be read ({error.strerror})") from None
    if len(data) > LARGEST:
        raise BadInput(
            where=file.name,
            what=f"it has more than {LARGEST // 1_000_000} MB",
            expected="a smaller file",
            try_="leaving pictures out of it",
        )
    return data
