"""A figure centred on a piece: a point, or its middle line, on the centre of a figure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.rules.plan import PlacingRule
from clothwright.rules.room import ASIDE, HIGHER, LOWER, on_body, room, room_words
from clothwright.rules.rule import Form, RuleKind, named
from clothwright.rules.table import CuttingTable, FigureOn, Lying, WrongRule, figure_on
from clothwright.units.params import param
from clothwright.words import motif_name

SEEN = {
    "both": "exactly, in height and sideways",
    "upright": "sideways only: on the middle line, at any height",
    "level": "in height only",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureCentred(PlacingRule):
    """A point of a piece lies on the centre of a copy of a figure, or in line with one.

    match: "both"; "upright": only sideways, so that the figure stands on the line up the body
    through the point; "level": only in height. lower, higher, aside: mm on the body by which it may
    be missed.
    """

    piece: str = param("piece", "the piece whose point it is")
    point: str = param("own point", "", label="Which point")
    figure: str = param("figure", "", label="Which figure")
    match: str = param("choice", "", default="both", choices=SEEN, label="It lies on the centre")
    lower: float = room(LOWER)
    higher: float = room(HIGHER)
    aside: float = room(ASIDE)


def said(rule: FigureCentred) -> Sentence:
    """Return the rule in words."""
    on = {"both": "on", "upright": "sideways on", "level": "at the height of"}[rule.match]
    first = f"{rule.piece}, {rule.point}, lies {on} the middle of a {motif_name(rule.figure)}"
    return (first, *room_words(*_room(rule)))


def _room(rule: FigureCentred) -> tuple[float, float, float]:
    """Return by how much it may lie lower, higher and aside, mm, in the ways it is asked for."""
    lower, higher = (0.0, 0.0) if rule.match == "upright" else (rule.lower, rule.higher)
    return lower, higher, 0.0 if rule.match == "level" else rule.aside


def asks(rule: FigureCentred, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the places for each copy: every image of the figure. Raises WrongRule.

    Where it may be missed, the first image alone and its repeats.
    """
    for each in at.of(rule.piece):
        figure, point = figure_on(each.cloth, rule.figure), at.point(each, rule.point)
        if any(_room(rule)):
            yield from _near(rule, each, figure, point)
        else:
            yield put.AtFigure(
                id=f"figure-centred {each.id}",
                shape=each.id,
                point=point,
                centres=figure.centres,
                axes=_axes(rule, each),
                **figure.repeats,
            )


def _near(rule: FigureCentred, each: Lying, figure: FigureOn, point: str) -> Iterator[put.Rule]:
    """Yield the place on each axis with its room; on an axis without a repeat it is a line."""
    along, across = figure.repeats["repeat_along"], figure.repeats["repeat_across"]
    (x, y), shape = figure.centres[0], each.id
    for axis, place, repeat in (("along", x, along), ("across", y, across)):
        if axis not in _axes(rule, each):
            continue
        may = on_body(each, axis, *_room(rule))
        tag = f"figure-centred {axis} {each.id}"
        if repeat is None:
            yield put.OnLine(id=tag, shape=shape, points=(point,), axis=axis, at=place, **may)
        else:
            yield put.AtPhase(
                id=tag, shape=shape, point=point, axis=axis, phase=place, repeat=repeat, **may
            )


def _axes(rule: FigureCentred, each: Lying) -> tuple[str, ...]:
    """Return the cloth's axes on which it is seen. Raises WrongRule on the bias for one alone."""
    if each.slanting and rule.match != "both":
        raise WrongRule(
            field="match",
            what=f'"{rule.piece}" lies on the bias, where its height is not that of the print',
            expected="exactly on the centre, or a piece on the straight grain",
        )
    level, upright = each.body_axes
    return {"both": ("along", "across"), "upright": (upright,), "level": (level,)}[rule.match]


def against(a: FigureCentred, b: FigureCentred) -> bool:
    """Tell whether two rules lay one point on two figures."""
    alike = (a.piece, a.point, a.match) == (b.piece, b.point, b.match)
    return alike and a.figure != b.figure


RULE = RuleKind(
    id="figure-centred",
    params=FigureCentred,
    said=said,
    forms=(
        Form(
            id="figure-centred",
            title="A figure centred on a piece",
            help="A flower in the middle of the back, for example: say the point it lies on.",
            asks=named("point", "figure", "match", "lower", "higher", "aside"),
        ),
    ),
    asks=asks,
    places=True,
    on_print=True,
    against=against,
    dropped=lambda r: (
        f"let the figure fall as it may at {r.piece}, {r.point}",
        f"no {motif_name(r.figure)} is centred at {r.piece}, {r.point}",
    ),
)
