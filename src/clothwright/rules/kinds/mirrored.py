"""A pair that mirrors each other's print."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.cloth.motions import AXES, Motions
from clothwright.errors import Sentence, joined
from clothwright.lay import problem as put
from clothwright.rules.joins import SewnTogether, joined_at
from clothwright.rules.mirror import MirrorLine, can_lie, mirrors, places, turned_so, why_not
from clothwright.rules.offers import Choice, Outfit, points
from clothwright.rules.plan import PlacingRule
from clothwright.rules.printed import designs_of, printed_on_both
from clothwright.rules.room import APART, apart_words, evenly, looser, room
from clothwright.rules.rule import Ask, Form, RuleKind
from clothwright.rules.table import CuttingTable, WrongRule
from clothwright.units.params import declared, param


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirrored(PlacingRule):
    """The two copies of a pair lie mirrored about an axis of the figure, seen at one point.

    way: "along" or "across": on which cloth axis the mirror position is counted. The second copy is
    turned as the mirror turns the first, and lies where it does on the other axis too. within: mm
    by which they may be apart.
    """

    piece: str = param("piece", "a piece that is cut as a pair")
    point: str = param("own point", "", label="Seen at which point")
    way: str = param(
        "choice",
        "",
        default="along",
        choices={
            "along": "a mirror line that runs across the cloth",
            "across": "a mirror line that runs along the cloth",
        },
        label="Mirrored about",
    )
    within: float = room(APART)


def said(rule: Mirrored) -> Sentence:
    """Return the rule in words."""
    first = f"the two of {rule.piece} mirror each other's print at {rule.point}"
    return (first, *apart_words(rule.within))


def asks(rule: Mirrored, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the turn and the place of the second as the mirror has them. Raises WrongRule."""
    join = next(joined_at(at, rule.piece, rule.point, rule.piece, rule.point), None)
    if join is None:
        raise WrongRule(
            field="piece",
            what=f'"{rule.piece}" is not cut as a pair',
            expected="a piece cut as a pair, to lie mirrored",
        )
    design = printed_on_both(at, join, field="point").motions
    mirror = _mirror(rule, join, design)
    yield turned_so(mirror, rule.piece, join.a.id, join.b.id)
    tag = f"mirrored {{}} {rule.piece}"
    yield from places(mirror.motion, design, AXES, join.both, may=evenly(rule.within), tag=tag)


def _mirror(rule: Mirrored, join: SewnTogether, design: Motions) -> MirrorLine:
    """Return the mirror of the print that the rule means. Raises WrongRule."""
    mirror = next(mirrors(design, (rule.way,)), None)
    if mirror is None:
        raise WrongRule(
            field="way",
            what=f'the design of "{join.a.cloth.name}" has no mirror axis to count {rule.way}',
            expected="an axis in the cloth's print, or the two level: the print meets in height",
        )
    if not can_lie(mirror, join.a, join.b):
        raise WrongRule(
            field="way",
            what=joined(
                f'left and right "{rule.piece}" cannot mirror each other about ',
                f"{declared(Mirrored)['way'].choices[rule.way]}: ",
                why_not(mirror, join.a),
            ),
            expected="the other mirror line, or the two level: the print meets in height",
        )
    return mirror


def _points(outfit: Outfit) -> Iterator[Choice]:
    pairs = (p for p in outfit.printed if any(c.how == "pair" or c.count > 1 for c in p.cuts))
    return points(tuple(pairs))


def _ways(outfit: Outfit) -> Iterator[Choice]:
    """Yield on which axis a pair can lie mirrored: where a cloth has such a mirror line."""
    prints = [c.print for c in outfit.cloths if c.print.has_design]
    words = declared(Mirrored)["way"].choices
    for way in words:
        if any(True for p in prints for d in designs_of(p) for _ in mirrors(d, (way,))):
            yield Choice(key=way, words=(words[way],), values={"way": way})


RULE = RuleKind(
    id="mirrored",
    params=Mirrored,
    said=said,
    forms=(
        Form(
            id="mirrored",
            title="A pair that mirrors each other's print",
            help="Left and right show the same figure, one turned over.",
            asks=(
                Ask(
                    name="point",
                    offer=_points,
                    none="no pair is cut from a cloth with a print",
                    fills=("piece", "point"),
                ),
                Ask(
                    name="way",
                    offer=_ways,
                    none="no cloth has a mirror line in its repeat yet",
                    fills=("way",),
                ),
                Ask(name="within"),
            ),
        ),
    ),
    asks=asks,
    on_print=True,
    loosened=lambda r: looser(r, f"the print of the two of {r.piece}", "apart"),
    dropped=lambda r: (
        f"do not mirror the two of {r.piece}",
        f"left and right {r.piece} show the print at different places",
    ),
)
