"""A hem or edge on a border."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.whole import TWIN
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Ask, Form, Home, RuleKind, Turns
from clothwright.rules.table import CuttingTable, WrongRule
from clothwright.units.params import param

STRAIGHT_MM = 0.1
"""mm: an edge whose two ends lie this level is laid by both ends, else by its middle or fold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBorder(PlacingRule):
    """An edge lies along a border, its stitching (or fold) line `above` mm from the base line.

    All copies of the piece turn so that the border's "down" points down the body, or up it with
    `upside_down`.
    """

    piece: str = param("piece", "the piece whose edge it is")
    edge: str = param("own edge", "", label="Which edge")
    border: str = param("border", "", label="Which border")
    above: float = param(
        "length",
        "left empty: on the line itself",
        default=0.0,
        label="How far above its lower line",
    )
    upside_down: bool = param("flag", "", default=False, label="The piece lies upside down on it")


def said(rule: OnBorder) -> Sentence:
    """Return the rule in words."""
    turned = ", upside down" if rule.upside_down else ""
    first = f"{rule.piece}, {rule.edge}, lies along the {rule.border}"
    if not rule.above:
        return (first + turned,)
    return (first + ", ", rule.above, " above its lower line" + turned)


def _border_of(rule: OnBorder, cloth: Cloth) -> Border | None:
    return next((b for b in cloth.print.borders if b.name == rule.border), None)


def home(
    rule: OnBorder, what: Home, found: tuple[Cloth, ...], _: tuple[Cloth, ...]
) -> tuple[Cloth, ...]:
    """Return the cloth with the border, where the piece may be cut from it."""
    mine = tuple(c for c in found if what.piece == rule.piece and _border_of(rule, c))
    return mine[:1] or found


def turns(rule: OnBorder, copy: Copy, cloth: Cloth) -> Turns | None:
    """Return the turn that brings the border's "down" down the body, or up it."""
    border = _border_of(rule, cloth)
    if border is None or copy.piece.name != rule.piece:
        return None
    if border.up_deg is None:
        return Turns((90.0, 270.0))
    return Turns(((border.up_deg + 180.0 * rule.upside_down) % 360.0,))


def asks(rule: OnBorder, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the line for each copy. Raises WrongRule when none is cut from the border's cloth."""
    laid = [(each, _border_of(rule, each.cloth)) for each in at.of(rule.piece)]
    if not any(border for _, border in laid):
        raise WrongRule(
            field="border",
            what=f'"{rule.piece}" is not cut from the cloth with the border "{rule.border}"',
            expected="a piece that is cut from that cloth",
        )
    for each, border in laid:
        if border is not None:
            yield put.OnLine(
                id=f"on-border {each.id}",
                shape=each.id,
                points=border_points(each.copy.piece, each.copy.piece.edge(rule.edge)),
                axis="across",
                at=border.line(each.cloth.width, rule.above),
            )


def against(a: OnBorder, b: OnBorder) -> bool:
    """Tell whether two rules lay one edge at two places, or a piece both ways up on one border."""
    if (a.piece, a.border) != (b.piece, b.border):
        return False
    return a.upside_down != b.upside_down or (a.edge == b.edge and a.above != b.above)


def border_points(piece: Piece, edge: Edge) -> tuple[str, ...]:
    """Return the names of the points of an edge that are put on a border's line.

    Both ends when they are level (square to the grain); else the end at the fold or centre, where
    the eye looks first; else the middle. Where an edge rises at its ends the border runs out there.
    """
    up = piece.up
    start, end = edge.path.start, edge.path.end
    if abs(up.dot(end - start)) <= STRAIGHT_MM:
        names = [f"{edge.name} start", f"{edge.name} end"]
        fold = piece.fold
        return tuple(names) + (tuple(n + TWIN for n in names) if fold is not None else ())
    i = piece.index(edge.name)
    centre = (Role.FOLD, Role.CENTRE)
    if piece.edges[i - 1].role in centre:
        return (f"{edge.name} start",)
    if piece.edges[(i + 1) % len(piece.edges)].role in centre:
        return (f"{edge.name} end",)
    return (f"{edge.name} middle",)


RULE = RuleKind(
    id="on-border",
    params=OnBorder,
    said=said,
    forms=(
        Form(
            id="on-border",
            title="A hem or edge on a border",
            help="The edge's stitching line, or the fold of its hem, lies along the border.",
            asks=(
                Ask(name="edge"),
                Ask(name="border"),
                Ask(name="above"),
                Ask(name="upside_down"),
            ),
        ),
    ),
    asks=asks,
    home=home,
    turns=turns,
    rank=1,
    on_print=True,
    against=against,
)
