"""The sitting in words: one card a question, what is proposed there, and what has been answered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwright.intake.typed.pieces import said_by
from clothwright.intake.waiting.pictures import Preview, drawn_picture, preview
from clothwright.intake.waiting.rows import (
    EdgeRow,
    MarkRow,
    NestedCard,
    Recognised,
    edge_rows,
    mark_rows,
    nested_card,
    recognised,
    state_of,
    stitching_words,
)
from clothwright.intake.waiting.said import size_shown
from clothwright.intake.waiting.seen import Outline, SeenDrawing
from clothwright.pattern.piece import Cut
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workroom.pieces.reading import ReadingView, reading_view

EDGE_WORDS = (
    "hem",
    "side",
    "waist",
    "armhole",
    "shoulder",
    "neck",
    "centre front",
    "centre back",
    "front edge",
    "cap",
    "front seam",
    "back seam",
    "inner",
)
"""Names offered for an edge; any other may be typed."""
MOST_CUTS = 4
ASKED = ("allowance", "edges", "grain", "cut", "marks")


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineView:
    """All questions about one outline, and how each stands ("to answer", "proposed", "answered").

    of: the outline itself. exact: read exactly, nothing to ask but the name. open: which of
    allowance, grain and cut the file leaves to be answered; must: ids of what needs an answer.
    inner: how far a line inside runs that may be the stitching line, "" without one. arrow: a
    grain arrow was recognised. cuts: rows to fill in, one empty; cut_said: what the piece says.
    """

    of: Outline
    exact: bool
    open: frozenset[str]
    must: tuple[str, ...]
    states: Mapping[str, str]
    preview: Preview
    inner: str
    edges: tuple[EdgeRow, ...]
    found: tuple[Recognised, ...]
    nested: NestedCard | None
    arrow: bool
    cuts: tuple[Cut, ...]
    cut_said: str
    marks: tuple[MarkRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingView:
    """A waiting drawing and its questions.

    of: how it stands. begin: the size that is shown, of several. wide, tall: of the first outline
    as drawn, "" when nothing was drawn. left: questions that need an answer; proposed: answers
    taken as shown; count: pieces that would be added. one: the chosen outline.
    """

    of: SeenDrawing
    reading: ReadingView | None
    picture: Picture
    begin: str
    wide: str
    tall: str
    left: int
    proposed: int
    count: int
    one: OutlineView | None


def sitting_view(seen: SeenDrawing, chosen: int, unit: Unit) -> SittingView:
    """Return how a drawing stands, with everything about one outline (its number, or the first)."""
    wanted = [o for o in seen.outlines if o.wanted]
    first = next((o.candidate for o in seen.outlines if o.candidate), None)
    size = first.outline.path.bounds().size if first else None
    one = next((o for o in seen.outlines if o.number == chosen), None)
    one = one or (seen.outlines[0] if seen.outlines else None)
    return SittingView(
        of=seen,
        reading=reading_view(seen, unit),
        picture=drawn_picture(seen.outlines),
        begin=size_shown(seen.waiting, seen.sizes),
        wide=show_length(size.x, unit) if size else "",
        tall=show_length(size.y, unit) if size else "",
        left=sum(len(o.must) for o in wanted) + len(seen.asked),
        proposed=sum(len(o.asked) for o in wanted),
        count=len(wanted),
        one=_outline(one, unit) if one else None,
    )


def _outline(outline: Outline, unit: Unit) -> OutlineView:
    said = said_by(outline.typed) if outline.typed else ()
    candidate, piece = outline.candidate, outline.piece
    inner = candidate.stitching if candidate else None
    cuts: Sequence[Cut] = piece.cuts if piece else (Cut(),)
    return OutlineView(
        of=outline,
        exact=candidate is None,
        open=frozenset(("allowance", "grain", "cut")) - frozenset(said),
        must=tuple(q.id for q in outline.must),
        states={key: state_of(outline, key) for key in ASKED},
        preview=preview(outline),
        inner=stitching_words(inner, unit) if inner else "",
        edges=edge_rows(outline, unit),
        found=recognised(outline, unit),
        nested=nested_card(outline, unit),
        arrow=bool(candidate and candidate.read.grain),
        cuts=(*cuts, Cut(material=""))[:MOST_CUTS],
        cut_said=candidate.words.said if candidate else "",
        marks=mark_rows(outline, unit),
    )
