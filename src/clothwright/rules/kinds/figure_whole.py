"""Figures kept whole: no seam, hem, dart or marked line cuts one."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.lay.room import room_left
from clothwright.pattern.measure import dart_corners
from clothwright.pattern.whole import unfolded
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import PRINTED, Ask, Foreseen, Form, RuleKind, clearance
from clothwright.rules.table import CuttingTable, Lying, WrongRule, figure_on
from clothwright.units.params import param
from clothwright.words import motif_name

FLAT_MM = 0.25
"""mm: a curved line is taken as chords that stay this near to it; the figure keeps off by so much
more, so that none is cut by the curve itself."""
LITTLE = 0.1
"""A share of the repeat: with less room the lay may take more cloth, and it is said."""
CUTS = {
    "all": "seams, hems, darts and lines marked on it",
    "outline": "seams and hems",
    "inside": "darts and lines marked on it",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureWhole(PlacingRule):
    """Every copy of a figure lies wholly on one side of the stitching lines of a piece.

    lines: what may not cut it. A half piece is opened out: its fold is no line that cuts. by: mm
    that it keeps off them beside.
    """

    piece: str = param("piece", "", label="Which piece")
    figure: str = param("figure", "", label="Which figure")
    lines: str = param("choice", "", default="all", choices=CUTS, label="It is not cut by")
    by: float = clearance()


CUT_BY = {
    "all": "a seam, hem, dart or marked line",
    "outline": "a seam or hem",
    "inside": "a dart or marked line",
}


def said(rule: FigureWhole) -> Sentence:
    """Return the rule in words."""
    first = f"no {motif_name(rule.figure)} on {rule.piece} is cut by {CUT_BY[rule.lines]}"
    return (first, " or comes nearer to one than ", rule.by) if rule.by else (first,)


def asks(rule: FigureWhole, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield what each copy keeps off every image of the figure. Raises WrongRule.

    Where wherever it lies some figure is cut, that is told now and not after a search in vain.
    """
    for each in at.of(rule.piece):
        found = _whole(rule, each)
        if not _room(each, found):
            raise WrongRule(
                field="figure",
                what=f'wherever "{rule.piece}" lies on "{each.cloth.name}", some '
                f"{motif_name(rule.figure)} is cut by {CUT_BY[rule.lines]}",
                expected="more room between one and the next than the piece needs for its lines",
                try_="keeping them off fewer lines, or centring one figure on the piece instead",
            )
        yield from found


def foreseen(rule: FigureWhole, at: CuttingTable) -> Iterator[Foreseen]:
    """Yield how few places of the repeat keep every figure whole, where they are few."""
    for each in at.of(rule.piece)[:1]:
        room = _room(each, _whole(rule, each))
        if room < LITTLE:
            yield Foreseen(
                words=(
                    f"Only about {max(1, round(room * 100))} of 100 places in the repeat leave "
                    f"every {motif_name(rule.figure)} on {rule.piece} whole, so it may take "
                    "more cloth.",
                )
            )


def _room(each: Lying, found: tuple[put.KeepWhole, ...]) -> float:
    if not found:
        return 1.0
    turns = each.turns_deg
    return max(room_left(found, turn, flipped=each.copy.turned_over) for turn in turns)


def _whole(rule: FigureWhole, each: Lying) -> tuple[put.KeepWhole, ...]:
    figure, parts = figure_on(each.cloth, rule.figure), tuple(_parts(each.copy, rule.lines))
    if not parts:  # no dart and no marked line: nothing inside it can cut
        return ()
    return tuple(
        put.KeepWhole(
            id=f"figure-whole {each.id} {k}",
            shape=each.id,
            parts=parts,
            radius=figure.radius + rule.by + FLAT_MM,
            centre=centre,
            **figure.repeats,
        )
        for k, centre in enumerate(figure.centres, start=1)
    )


def _parts(copy: Copy, lines: str) -> Iterator[tuple[put.Point, ...]]:
    """Yield what cuts, in the shape's frame: stretches of lines, and darts as triangles."""
    piece = unfolded(copy.piece)
    paths: list[Path] = []
    if lines != "inside":
        paths += [e.path for e in piece.edges]
    if lines != "outline":
        paths += [m.path for m in piece.marks if m.path is not None]
        for dart in piece.darts:
            yield tuple(_frame(copy, p) for p in dart_corners(piece, dart))
    for path in paths:
        points = [_frame(copy, p) for p in path.flatten(FLAT_MM)]
        yield from itertools.pairwise(points)


def _frame(copy: Copy, p: Vec) -> put.Point:
    q = copy.frame_point(p)
    return (q.x, q.y)


RULE = RuleKind(
    id="figure-whole",
    params=FigureWhole,
    said=said,
    forms=(
        Form(
            id="figure-whole",
            title="Motifs kept whole on a piece",
            help="No flower is cut in two by a seam, a dart or a zip.",
            asks=(PRINTED, Ask(name="figure"), Ask(name="lines"), Ask(name="by", least=0.0)),
        ),
    ),
    asks=asks,
    foreseen=foreseen,
    on_print=True,
    dropped=lambda r: (
        f"let a seam or dart of {r.piece} cut a {motif_name(r.figure)}",
        f"a {motif_name(r.figure)} on {r.piece} may be cut in two",
    ),
)
