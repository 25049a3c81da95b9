"""The print meets where two points are sewn together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from clothwright.cloth.motions import AXES, Motions
from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.rules.as_sewn import as_sewn
from clothwright.rules.joins import joined_at
from clothwright.rules.mirror import places
from clothwright.rules.offers import Choice, Outfit
from clothwright.rules.patches import patches
from clothwright.rules.plan import PlacingRule
from clothwright.rules.printed import printed_on_both
from clothwright.rules.room import APART, apart_words, evenly, looser, room
from clothwright.rules.rule import Ask, Form, RuleKind, named
from clothwright.rules.table import CuttingTable, Lying
from clothwright.units.params import param

Named = tuple[str, str]
MATCHES = {"level": "in height", "upright": "to the side", "both": "in height and to the side"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Meets(PlacingRule):
    """Two points that are sewn together lie at the same phase of the design.

    match: "level" (bars round the body meet), "upright" (bars up the body meet) or "both". within:
    mm by which they may be apart.
    """

    piece_a: str = param("piece", "the piece of the first point")
    point_a: str = param("own point", "", label="A point of one piece")
    piece_b: str = param("piece", "the piece of the second point")
    point_b: str = param("own point", "", label="The point it comes to lie on")
    match: str = param(
        "choice",
        "",
        default="level",
        choices={
            "level": "in height: bars that run round the body",
            "upright": "to the side: bars that run up the body",
            "both": "both ways",
        },
        label="The print meets",
    )
    within: float = room(APART)


def said(rule: Meets) -> Sentence:
    """Return the rule in words."""
    two = f"{rule.piece_a}, {rule.point_a}, and {rule.piece_b}, {rule.point_b}"
    return (f"the print meets {MATCHES[rule.match]} at {two}", *apart_words(rule.within))


def asks(rule: Meets, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield one place of the repeat for the halves that meet, turned as sewn. Raises WrongRule."""
    for join in joined_at(at, rule.piece_a, rule.point_a, rule.piece_b, rule.point_b):
        a, b = ((n, at.pattern.piece(n).point(p)) for n, p in _ends(rule))
        design = printed_on_both(at, join, field="match")
        turn, motion = as_sewn(at, join, design.motions, a, b, field="match")
        axes = _axes(rule, join.a, design.motions)
        said, may = design.saying(axes, "match"), evenly(rule.within)
        yield from places(motion, said, axes, join.both, may=may, tag=f"meets {{}} {join.tag}")
        yield turn


def _ends(rule: Meets) -> tuple[Named, Named]:
    return (rule.piece_a, rule.point_a), (rule.piece_b, rule.point_b)


def _axes(rule: Meets, at: Lying, design: Motions) -> list[str]:
    """Return the cloth axes for "level", "upright" or "both", from how the piece lies.

    On the bias both at once: height and width alone are neither.
    """
    level, upright = at.body_axes
    if rule.match == "both" or at.slanting:
        said = [a for a in (level, upright) if design.says[AXES.index(a)]]
        return said or [level]
    return [level if rule.match == "level" else upright]


# --- along a seam ---------------------------------------------------------------------------------


def seam_points(outfit: Outfit) -> Iterator[Choice]:
    """Yield the points that meet in the seams between pieces with a print."""
    printed = {p.name for p in outfit.printed}
    for seam in outfit.pattern.seams:
        pieces = ({r.piece for r in seam.a}, {r.piece for r in seam.b})
        if pieces[0] & pieces[1] or not (pieces[0] | pieces[1]) <= printed:
            continue
        for (a, at_a), (b, at_b) in meeting(outfit.pattern, seam):
            yield Choice(
                key=f"{seam.name}: {a}.{at_a} = {b}.{at_b}",
                words=(f"{a}, {at_a}, and {b}, {at_b}",),
                values={"piece_a": a, "point_a": at_a, "piece_b": b, "point_b": at_b},
                group=seam.name,
            )


def meeting(pattern: Pattern, seam: Seam) -> tuple[tuple[Named, Named], ...]:
    """Return the points of both sides that meet when a seam is sewn: its ends, and its notches.

    A point is (piece, name). Notches of one name meet; those without meet in order, where both
    sides have as many of them.
    """
    ends = [
        (_end(pattern, seam.a[0], first=True), _end(pattern, seam.b[0], first=True)),
        (_end(pattern, seam.a[-1], first=False), _end(pattern, seam.b[-1], first=False)),
    ]
    a, b = _notches(pattern, seam.a), _notches(pattern, seam.b)
    named_b = {name: at for name, at in b if name}
    notches = [(at, named_b[name]) for name, at in a if name in named_b]
    plain_a, plain_b = [at for name, at in a if not name], [at for name, at in b if not name]
    if len(plain_a) == len(plain_b):
        notches += list(zip(plain_a, plain_b, strict=True))
    return tuple(dict.fromkeys((*ends, *notches)))


def _end(pattern: Pattern, ref: EdgeRef, *, first: bool) -> Named:
    """Return the point at the first or last end of a run, by the corner's name if it has one."""
    piece, edge = pattern.piece(ref.piece), pattern.edge(ref)
    at_start = first != ref.reversed
    following = piece.edges[(piece.index(edge.name) + 1) % len(piece.edges)]
    corner = edge.corner if at_start else following.corner
    return piece.name, corner or f"{edge.name} {'start' if at_start else 'end'}"


def _notches(pattern: Pattern, side: Sequence[EdgeRef]) -> list[tuple[str, Named]]:
    """Return the notches of one side in the order of the seam: (own name or "", point)."""
    found = []
    for ref in side:
        edge = pattern.edge(ref)
        mine = [
            (n.name, (ref.piece, f"{edge.name} notch {n.name or k}"))
            for k, n in enumerate(edge.notches, start=1)
        ]
        found += mine[::-1] if ref.reversed else mine
    return found


def which_seam(offer: Callable[[Outfit], Iterable[Choice]], none: str) -> Ask:
    """Return the question at which point of which seam two pieces meet; it fills both points."""
    return Ask(
        name="seam",
        label="At which point of which seam",
        offer=offer,
        none=none,
        fills=("piece_a", "point_a", "piece_b", "point_b"),
        must=True,
    )


def _both(rule: Meets) -> str:
    return f"{rule.piece_a} and {rule.piece_b}"


RULE = RuleKind(
    id="meets",
    params=Meets,
    said=said,
    forms=(
        Form(
            id="meets-patch",
            title="A pocket vanishes on the piece it is sewn to",
            help="Where its place is marked, the pocket shows the print that lies under it.",
            asks=(
                Ask(
                    name="patch",
                    label="Which pocket, and where",
                    offer=patches,
                    none="no piece has a line marked on it that is the outline of another piece",
                    fills=("piece_a", "point_a", "piece_b", "point_b", "match"),
                    must=True,
                ),
                Ask(name="within"),
            ),
            repeats=True,
        ),
        Form(
            id="meets-seam",
            title="The print meets across a seam",
            help="Two points that are sewn together lie at the same place of the repeat.",
            asks=(
                which_seam(
                    seam_points, "no seam joins two pieces that are cut from a cloth with a print"
                ),
                *named("match", "within"),
            ),
            repeats=True,
        ),
        Form(
            id="meets",
            title="The print meets at two points",
            help="For what is laid on another piece and not in a seam; a marked line has two ends.",
            asks=(
                Ask(name="a", field="point_a"),
                Ask(name="b", field="point_b"),
                *named("match", "within"),
            ),
            repeats=True,
        ),
    ),
    asks=asks,
    on_print=True,
    loosened=lambda r: looser(r, f"the print of {_both(r)}", "apart"),
    dropped=lambda r: (
        f"do not match {_both(r)}",
        f"the print jumps where {_both(r)} are sewn together",
    ),
)
