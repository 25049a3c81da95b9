"""The print meets below a dart in a seam, or above it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.lay.track import apart
from clothwright.pattern.opposite import SewnPlace, opposite
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Piece
from clothwright.rules.as_sewn import as_sewn
from clothwright.rules.joins import joined_on
from clothwright.rules.mirror import places
from clothwright.rules.offers import Choice, Outfit
from clothwright.rules.plan import PlacingRule
from clothwright.rules.printed import printed_on_both
from clothwright.rules.room import APART, apart_words, evenly, room
from clothwright.rules.rule import Ask, Foreseen, Form, RuleKind, named
from clothwright.rules.table import CuttingTable, Landmark, WrongRule
from clothwright.units.params import param
from clothwright.words import is_met, point_name

POINT = " point"
"""Ends the name of a dart's point among the points of a piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetsDart(PlacingRule):
    """Bars round the body meet across a seam just below a dart in it, or just above.

    point: that of the dart. side: "below" matches from the hem up to the dart's lower leg, "above"
    from its upper leg on; the other side is then out by what the dart takes up. within: mm by which
    they may be apart.
    """

    piece: str = param("piece", "the piece with the dart")
    point: str = param("own point", "the dart's point", label="Which dart")
    side: str = param(
        "choice",
        "",
        default="below",
        choices={
            "below": "below the dart, from the hem up",
            "above": "above the dart, to the armhole",
        },
        label="The print meets",
    )
    within: float = room(APART)


def said(rule: MeetsDart) -> Sentence:
    """Return the rule in words."""
    dart = f"the {rule.point.removesuffix(POINT)} of {rule.piece}"
    return (f"the print meets in height {rule.side} {dart}", *apart_words(rule.within))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Legs:
    """A dart in a seam: the seam, the ends of its legs that are sewn together, low on the body."""

    piece: Piece
    dart: Dart
    seam: Seam
    lower: float
    upper: float

    def at(self, rule: MeetsDart) -> float:
        return self.lower if rule.side == "below" else self.upper

    @property
    def takes_up(self) -> float:
        """By how much the upper leg's end lies higher than the lower one's, mm."""
        path, up = self.piece.edge(self.dart.edge).path, self.piece.up
        return up.dot(path.point_at(self.upper) - path.point_at(self.lower))


def _legs(rule: MeetsDart, pattern: Pattern) -> _Legs:
    """Return the dart that a rule means. Raises WrongRule where it is in no seam of two pieces."""
    piece = pattern.piece(rule.piece)
    dart = next((d for d in piece.darts if d.name + POINT == rule.point), None)
    if dart is None:
        raise WrongRule(
            field="point",
            what=f'"{rule.point}" is not the point of a dart of "{piece.name}"',
            expected="a dart in a seam",
        )
    seams = pattern.seams_of(piece.name, dart.edge)
    if not seams:
        raise WrongRule(
            field="point",
            what=f'the edge of the dart "{dart.name}" is in no seam',
            expected="a dart in a seam with another piece",
        )
    path = piece.edge(dart.edge).path
    low, high = sorted((dart.a, dart.b), key=lambda at: piece.up.dot(path.point_at(at)))
    return _Legs(piece=piece, dart=dart, seam=seams[0], lower=low, upper=high)


def _partner(rule: MeetsDart, legs: _Legs, pattern: Pattern) -> SewnPlace:
    """Return what the leg's end is sewn to, counted from the seam's end on its own side."""
    edge = legs.piece.edge(legs.dart.edge)
    rises = legs.piece.rises(edge.name)
    ref = next(r for r in legs.seam.refs if (r.piece, r.edge) == (legs.piece.name, edge.name))
    starts_low = rises != ref.reversed
    from_end = starts_low != (rule.side == "below")
    return opposite(
        pattern, legs.seam, legs.piece.name, edge.name, legs.at(rule), from_end=from_end
    )


def _sewn(rule: MeetsDart, legs: _Legs, pattern: Pattern) -> tuple[SewnPlace, SewnPlace]:
    """Return the end of the dart's leg, and what it is sewn to."""
    path, mm = legs.piece.edge(legs.dart.edge).path, legs.at(rule)
    here = SewnPlace(rule.piece, legs.dart.edge, mm, path.point_at(mm))
    return here, _partner(rule, legs, pattern)


def asks(rule: MeetsDart, at: CuttingTable) -> Iterator[put.Rule | Landmark]:
    """Yield one place of the repeat for the dart's leg and what it is sewn to. Raises WrongRule."""
    legs = _legs(rule, at.pattern)
    sewn = _sewn(rule, legs, at.pattern)
    for join, marks in joined_on(at, *sewn, f"{rule.side} {legs.dart.name}"):
        yield from marks
        ends = ((each.piece, each.point) for each in sewn)
        design = printed_on_both(at, join, field="side")
        turn, motion = as_sewn(at, join, design.motions, *ends, field="side")
        axes, may = join.a.body_axes[:1], evenly(rule.within)
        said = design.saying(axes, "side")
        yield from places(motion, said, axes, join.both, may=may, tag=f"meets-dart {join.tag}")
        yield turn


def foreseen(rule: MeetsDart, at: CuttingTable) -> Iterator[Foreseen]:
    """Yield by how much the bars are apart on the other side of the dart."""
    legs = _legs(rule, at.pattern)
    join = next((j for j, _ in joined_on(at, *_sewn(rule, legs, at.pattern), rule.side)), None)
    if join is None:
        return
    design = printed_on_both(at, join, field="side")
    repeat, takes = design.repeat(join.a.body_axes[0], "side"), legs.takes_up
    off = apart(takes, repeat) if repeat else takes
    beyond = "Above" if rule.side == "below" else "Below"
    if is_met(off):
        words: Sentence = (f"{beyond} the dart they meet as well: it takes up whole repeats.",)
    else:
        words = (
            f"{beyond} the dart the print is ",
            off,
            " apart: the dart takes up ",
            takes,
            *((", and the print repeats every ", repeat) if repeat else ()),
            ".",
        )
    yield Foreseen(words=words)


def against(a: MeetsDart, b: MeetsDart) -> bool:
    """Tell whether two rules match both sides of one dart."""
    return (a.piece, a.point) == (b.piece, b.point) and a.side != b.side


def _darts(outfit: Outfit) -> Iterator[Choice]:
    """Yield the darts in seams between pieces with a print, each by its point."""
    printed = {p.name for p in outfit.printed}
    for piece in outfit.printed:
        for dart in piece.darts:
            for seam in outfit.pattern.seams_of(piece.name, dart.edge)[:1]:
                if seam.pieces <= printed:
                    yield Choice(
                        key=f"{piece.name}.{dart.name}",
                        words=(point_name(piece.name, dart.name),),
                        values={"piece": piece.name, "point": dart.name + POINT},
                        group=seam.name,
                    )


RULE = RuleKind(
    id="meets-dart",
    params=MeetsDart,
    said=said,
    forms=(
        Form(
            id="meets-dart",
            title="The print meets below a dart, or above it",
            help="A dart in a seam takes up some of the print: it can meet on one side of it.",
            asks=(
                Ask(
                    name="dart",
                    label="Which dart",
                    offer=_darts,
                    none="no seam between pieces with a print has a dart in it",
                    fills=("piece", "point"),
                    must=True,
                ),
                *named("side", "within"),
            ),
            repeats=True,
        ),
    ),
    asks=asks,
    foreseen=foreseen,
    on_print=True,
    against=against,
    dropped=lambda r: (
        f"do not match the print at the dart of {r.piece}",
        f"the print jumps in the seam with the dart of {r.piece}",
    ),
)
