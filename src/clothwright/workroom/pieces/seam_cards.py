"""Pairs of edges as cards to say yes or no to, and what is said to them."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath

from clothwright.drawing.seam_walked import Walked, walked
from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.intake.seams.ends import ends_words
from clothwright.intake.seams.proposed import Proposed, pair_of
from clothwright.intake.seams.said import said_seam
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.pattern.walk import run_is, run_name, walk_seam
from clothwright.pattern.ways_round import turned
from clothwright.units import Unit
from clothwright.words import edge_name, is_met, listed, show_difference, show_length, told
from clothwright.workbook import Workbook, check_settings
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.whole import Several
from clothwright.workroom.editing.opened import OpenBook, Result
from clothwright.workroom.pieces.seam_choices import Yes, adding, open_proposals, refuse, refused
from clothwright.workroom.pieces.seam_form import SeamForm, said_in, seam_form
from clothwright.workroom.pieces.seam_named import NamedSeam, marks_named, named_seams

MOST_SHOWN = 30
Sides = tuple[Sequence[str], Sequence[str]]
"""Edges of both sides of a pair, as `EdgeChoice.id` has them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeChoice:
    """An edge that may be sewn: what a form calls it, and its name in words."""

    id: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PairCard:
    """A pair that may be sewn together, in words. key: what it is called between requests.

    difference: by how much `longer` (a side) is longer, "" when they are equal. start, end: what
    meets there. turned: the second side is laid the other way round. sides: as a form sends them.
    """

    key: str
    name: str
    a: str
    b: str
    length_a: str
    length_b: str
    difference: str
    longer: str
    ease: str
    why: str
    start: str
    end: str
    turned: bool
    form: SeamForm
    walked: Walked
    sides: Sides


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Every pair to look at. more: those not shown yet. count: proposals; refused: how many were.

    trouble: why the pair she chose herself cannot be. edges: those to choose from.
    """

    cards: tuple[PairCard, ...]
    more: int
    count: int
    refused: int
    trouble: str
    seams: tuple[NamedSeam, ...]
    edges: tuple[EdgeChoice, ...]


def pairs_of(
    folder: FilePath,
    book: Workbook,
    pattern: Pattern,
    *,
    own: Sides = ((), ()),
    turns: Collection[str] = (),
    most: int = MOST_SHOWN,
) -> Pairs:
    """Return the pairs of a workbook's pieces that may be sewn, in its unit.

    own: a pair that she has chosen herself, which comes first. turns: keys of the pairs whose
    second side is laid the other way round. most: pairs that are shown.
    """
    found = open_proposals(folder, pattern)
    mine, trouble = None, ""
    if all(own):
        try:
            mine = _own_pair(pattern, own)
        except ClothwrightError as error:
            trouble = told(error, book.unit)
    shown = ([mine] if mine else []) + [p for p in found if not mine or p.key != mine.key]
    agree = check_settings(book).agree
    return Pairs(
        cards=tuple(_card(pattern, p, book.unit, agree, turn=p.key in turns) for p in shown[:most]),
        more=max(0, len(shown) - most),
        count=len(found),
        refused=len(refused(folder)),
        trouble=trouble,
        seams=named_seams(book, pattern),
        edges=tuple(
            EdgeChoice(id=str(EdgeRef(p.name, e.name)), words=edge_name(p.name, e.name))
            for p in pattern.pieces
            for e in p.edges
            if e.role is not Role.FOLD
        ),
    )


def _own_pair(pattern: Pattern, sides: Sides) -> Proposed:
    """Return a pair of edges that she has chosen herself. Raises BadInput."""
    a, b = (tuple(EdgeRef(r.piece, r.edge) for r in map(parse_edge, side)) for side in sides)
    for ref in (*a, *b):
        pattern.edge(ref)
    if set(a) & set(b) and a != b:
        raise BadInput(what="an edge stands on both sides", expected="another one")
    return pair_of(pattern, a, b)


def _card(pattern: Pattern, p: Proposed, unit: Unit, agree: float, *, turn: bool) -> PairCard:
    seam = turned(p.seam) if turn else p.seam
    walk = walk_seam(pattern, seam)
    more = walk.b.length - walk.a.length
    start, end = ends_words(pattern, seam)
    return PairCard(
        key=p.key,
        name=p.seam.name,
        a=run_name(seam.a),
        b=run_name(seam.b),
        length_a=show_length(walk.a.length, unit),
        length_b=show_length(walk.b.length, unit),
        difference="" if is_met(more) else show_difference(abs(more), unit),
        longer=run_is(seam.b if more > 0 else seam.a),
        ease=show_length(seam.ease, unit) if seam.ease else "",
        why="; ".join(p.why),
        start=start,
        end=end,
        turned=turn,
        form=seam_form(pattern, p.seam, unit),
        walked=walked(pattern, seam, unit, agree),
        sides=(tuple(map(str, p.seam.a)), tuple(map(str, p.seam.b))),
    )


def say_to_pair(book: OpenBook, fields: Mapping[str, str], base: int) -> Result:
    """Sew a pair or refuse it, against revision `base`; return what came of it.

    fields: key, do (confirm, refuse), those of `seam_form.said_in`; a and b, its edges with "|"
    between them, for a pair that is not proposed. Raises BadInput, CannotDo.
    """
    key = fields.get("key", "")
    if fields.get("do") == "refuse":
        refuse(book.folder, [key])
        return Result(revision=base, words="It is not proposed again.")
    a, b = (fields.get(side, "") for side in ("a", "b"))
    sides = (a.split("|"), b.split("|")) if a and b else None
    return sew(book, [Yes(key=key, said=said_in(fields), sides=sides)], base)


def sew_all(book: OpenBook, base: int) -> Result:
    """Make a seam of every proposal that is shown, as one edit. Raises CannotDo, BadInput."""
    used: set[tuple[str, str]] = set()
    said = []
    for p in open_proposals(book.folder, book.replayed(book.read()).pattern)[:MOST_SHOWN]:
        keys = {(r.piece, r.edge) for r in p.seam.refs}
        halves = len(p.seam.a) != len(p.seam.b)  # both halves of a band may use the same edges
        if halves or not keys & used:
            used |= keys
            said.append(Yes(key=p.key))
    if not said:
        raise CannotDo(what="nothing was sewn", why="there are no pairs proposed")
    return sew(book, said, base)


def sew(book: OpenBook, said: Sequence[Yes], base: int) -> Result:
    """Make seams of pairs, as one edit against revision `base`. Raises BadInput, CannotDo."""
    at = book.read()
    pattern, unit = book.replayed(at).pattern, at.book.unit
    found = {p.key: p for p in open_proposals(book.folder, pattern)}
    edits = []
    marks: list[Edit] = []
    for yes in said:
        p = found.get(yes.key) or (_own_pair(pattern, yes.sides) if yes.sides else None)
        if p is None:
            raise CannotDo(
                what="this pair was not sewn",
                why="it is in a seam already, or its edges have changed",
                nearest="to look at the pairs as they are now",
            )
        named, seam = marks_named(at.book.bought, said_seam(pattern, p, unit, yes.said))
        marks += named
        edits.append(adding(seam, unit))
    words = f"{len(edits)} seams: {listed([str(e.values['name']) for e in edits])}"
    both = (*marks, *edits)
    one = Several(edits=both, words=words if len(edits) > 1 else "") if both[1:] else both[0]
    return book.edit(one, base=base)
