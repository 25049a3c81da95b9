"""Edits of the pieces as bought."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.pattern import companions
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.rules.names import without_piece
from clothwright.words import Sentence, listed
from clothwright.workroom.editing.edit import Desk, Edit, new_name
from clothwright.workroom.pieces.sizes import with_sizes


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPieces(Edit):
    """Add pieces, all or none; as data each is an annotated drawing (docs/file-format.md).

    replace: those of their name give way. sizes: the pieces in every size they came in.
    """

    pieces: tuple[Piece, ...]
    replace: bool = False
    sizes: SizeRange | None = None

    def do(self, desk: Desk) -> Desk:
        """Add them after the others; what was known of their sizes is forgotten."""
        bought = desk.book.bought
        kept = {p.name: p for p in bought.pieces}
        for piece in self.pieces:
            if not self.replace:
                new_name("piece", piece.name, list(kept))
            kept[piece.name] = piece
        known, _ = with_sizes(bought.sizes, self.sizes, {p.name for p in self.pieces})
        return desk.with_book(bought=replace(bought, pieces=tuple(kept.values()), sizes=known))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f"Added {listed([p.name for p in self.pieces]) or 'no piece'}",)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePiece(Edit):
    """Take a piece out, with the seams and the placing rules that name it."""

    piece: str

    def do(self, desk: Desk) -> Desk:
        """Take it out, with what names it."""
        bought = desk.book.bought
        name = bought.piece(self.piece).name
        seams = tuple(s for s in bought.seams if all(r.piece != name for r in s.refs))
        pieces = tuple(p for p in bought.pieces if p.name != name)
        plans = tuple(
            replace(p, rules=tuple(r for rule in p.rules for r in without_piece(rule, name)))
            for p in desk.book.plans
        )
        sizes = bought.sizes and bought.sizes.without(name)
        left = companions.without_piece(bought.companions, name)
        found = Pattern(pieces=pieces, seams=seams, companions=left, sizes=sizes)
        return desk.with_book(bought=found, plans=plans)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f"Removed the piece {self.piece}",)
