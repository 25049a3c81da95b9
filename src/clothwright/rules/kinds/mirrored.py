"""A pair that mirrors each other's print."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.rules.offers import Choice, Outfit, points
from clothwright.rules.plan import PlacingRule
from clothwright.rules.room import APART, apart_words, evenly, looser, room
from clothwright.rules.rule import Ask, Form, RuleKind
from clothwright.rules.table import Both, CuttingTable, WrongRule
from clothwright.units.params import declared, param


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirrored(PlacingRule):
    """The two copies of a pair lie mirrored about an axis of the figure, seen at one point.

    way: "along" or "across": on which cloth axis the mirror position is counted. The other way the
    two copies lie at the same phase, where the cloth repeats that way. within: mm by which they may
    be apart.
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
    """Yield the mirror position, one turn, and one place the other way. Raises WrongRule."""
    copies = at.of(rule.piece)
    if len(copies) < 2:
        raise WrongRule(
            field="piece",
            what=f'"{rule.piece}" is not cut as a pair',
            expected="a piece cut as a pair, to lie mirrored",
        )
    first, second = copies[0], copies[1]
    cloth = first.cloth
    point = at.point(first, rule.point)
    both = Both(shape_a=first.id, point_a=point, shape_b=second.id, point_b=point)
    may = evenly(rule.within)
    axes = cloth.print.axes_along if rule.way == "along" else cloth.print.axes_across
    if not axes:
        raise WrongRule(
            field="way",
            what=f'the design of "{cloth.name}" has no mirror axis to count {rule.way}',
            expected="an axis in the cloth's print, or matching without mirroring",
        )
    other = "across" if rule.way == "along" else "along"
    alone = cloth.print.repeat(other) is None
    yield put.MirrorPhase(
        id=f"mirrored {rule.way} {rule.piece}",
        **both,
        axis=rule.way,
        repeat=at.repeat(cloth, rule.way, field="way", alone=alone),
        about=cloth.print.origin(rule.way) + axes[0],
        **may,
    )
    yield put.SameTurn(id=f"same way {rule.piece}", shapes=(first.id, second.id))
    if not alone:
        repeat = at.repeat(cloth, other, field="way", alone=False)
        tag = f"mirrored {other} {rule.piece}"
        yield put.SamePhase(id=tag, **both, **may, axis=other, repeat=repeat)


def _points(outfit: Outfit) -> Iterator[Choice]:
    pairs = (p for p in outfit.printed if any(c.how == "pair" or c.count > 1 for c in p.cuts))
    return points(tuple(pairs))


def _ways(outfit: Outfit) -> Iterator[Choice]:
    """Yield on which axis a pair can lie mirrored: where a cloth has such a mirror line."""
    prints = [c.print for c in outfit.cloths]
    words = declared(Mirrored)["way"].choices
    if any(p.axes_along and p.repeat("along") for p in prints):
        yield Choice(key="along", words=(words["along"],), values={"way": "along"})
    if any(p.axes_across and p.repeat("across") for p in prints):
        yield Choice(key="across", words=(words["across"],), values={"way": "across"})


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
