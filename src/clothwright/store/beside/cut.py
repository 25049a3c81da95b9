"""What is cut, as it is kept: each piece with its drawing, and where it lay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

from clothwright.lay.cut_piece import CutPiece
from clothwright.pattern.piece import Piece
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.beside.places import cut_file
from clothwright.store.book.piece_read import piece_from_svg
from clothwright.store.book.piece_svg import piece_to_svg
from clothwright.store.values import Own, Place, Reading
from clothwright.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCut:
    """Every piece that is cut, in the order they were ticked."""

    FORMAT: ClassVar[str] = "clothwright-cut/1"
    pieces: tuple[CutPiece, ...] = ()


def kept_cut(folder: Path) -> tuple[CutPiece, ...] | None:
    """Return what is cut; None where nothing was ever ticked as cut, or the record is damaged.

    A damaged one is set aside, and that is noticed.
    """
    found = sound(read_kept(cut_file(folder), KeptCut, OWN))
    return None if found is None else found.pieces


def keep_cut(folder: Path, pieces: Sequence[CutPiece]) -> None:
    """Keep what is cut. Raises BadInput."""
    write_kept(cut_file(folder), KeptCut(pieces=tuple(pieces)), OWN)


def _read_piece(reading: Reading, data: Any, at: Place) -> Piece | None:
    if isinstance(data, str):
        return piece_from_svg(data.encode(), "ticks/cut.json")
    reading.slip(at, "it is no drawing of a piece", "the text of an SVG")
    return None


def _write_piece(piece: Piece, _: Unit) -> str:
    return piece_to_svg(piece)


OWN = {Piece: Own(_read_piece, _write_piece)}
