"""A hem or edge on a border."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import UP_DEG, Border
from clothwright.errors import Sentence, joined
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.pattern.finding import Mend
from clothwright.pattern.parts import sleeve_names
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.rise import (
    Rise,
    beside,
    centre_of,
    centre_point,
    centre_words,
    inward,
    rise_of,
)
from clothwright.pattern.whole import TWIN
from clothwright.rules.plan import PlacingRule
from clothwright.rules.room import HIGHER, LOWER, room, room_words
from clothwright.rules.rule import Foreseen, Form, Home, RuleKind, Stance, Turns, named
from clothwright.rules.table import CuttingTable, Landmark, WrongRule
from clothwright.units.params import param
from clothwright.words import edge_name, is_met

STRAIGHT_MM = 0.1
"""mm: an edge that rises and falls no more is straight, and is laid level by both its ends."""
MAY_STRAIGHTEN_MM = 10.0
"""mm of rise up to which a hem may be straightened and taken off at the waist; beyond it the border
goes on as a band of its own (common practice, docs/sources.md, hems on a border)."""
AGREE_MM = 1.5
"""mm: an edge that leaves the line less is told as lying on it (the walk's own band)."""
FOLLOWS = {
    "centre": "at its middle: the fold or the centre, else half way along",
    "sides": "at its ends, by the side seams",
    "halfway": "half way along it",
    "best": "as near as it can all along: as far below the line as above it",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBorder(PlacingRule):
    """An edge lies along a border, its stitching (or fold) line `above` mm from the base line.

    All copies of the piece turn so that the border's "down" points down the body. On a border
    without a top they lie either way up. `upside_down`: their tops point to the border's selvedge.
    follows: which part of a curved edge lies there. lower, higher: mm on the body by which it may
    be missed.
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
    upside_down: bool = param("flag", "", default=False, label="Its top towards that selvedge")
    follows: str = param(
        "choice", "", default="centre", choices=FOLLOWS, label="A curved edge lies on the line"
    )
    lower: float = room(LOWER)
    higher: float = room(HIGHER)


LIES = {
    "centre": "",
    "sides": ", by its ends",
    "halfway": ", half way along",
    "best": ", as far below as above the line",
}


def said(rule: OnBorder) -> Sentence:
    """Return the rule in words."""
    return joined((f"{rule.piece}, {rule.edge}, lies along ",), where_on(rule))


def where_on(rule: OnBorder) -> Sentence:
    """Return in words where on a border an edge lies: "the vine, 3 cm above its lower line"."""
    turned = ", its top towards the selvedge" if rule.upside_down else ""
    more = LIES[rule.follows] + turned
    may = room_words(rule.lower, rule.higher)
    if not rule.above:
        return (f"the {rule.border}{more}", *may)
    way = "above" if rule.above > 0 else "below"
    return (f"the {rule.border}, ", abs(rule.above), f" {way} its lower line{more}", *may)


def border_of(rule: OnBorder, cloth: Cloth) -> Border | None:
    """Return the rule's border on a cloth, None where the cloth has none of that name."""
    return next((b for b in cloth.print.borders if b.name == rule.border), None)


def home(
    rule: OnBorder, what: Home, found: tuple[Cloth, ...], _: tuple[Cloth, ...]
) -> tuple[Cloth, ...]:
    """Return the cloth with the border, where the piece may be cut from it."""
    mine = tuple(c for c in found if what.piece == rule.piece and border_of(rule, c))
    return mine[:1] or found


def turns(rule: OnBorder, copy: Copy, cloth: Cloth) -> Turns | None:
    """Return the turn in which the border stands on the piece, or its top faces the selvedge."""
    border = border_of(rule, cloth)
    if border is None or copy.piece.name != rule.piece:
        return None
    ways = _within(rule, copy, cloth, border) if border.up_deg is None else [border.up_deg]
    if rule.upside_down:
        ways = [UP_DEG[border.side]]
    return Turns(tuple((way - _aside_deg(rule, copy)) % 360.0 for way in ways))


def _within(rule: OnBorder, copy: Copy, cloth: Cloth, border: Border) -> list[float]:
    """Return how a copy may look from a band of no way without lying beyond a selvedge.

    Both ways where it can lie in neither: that is told by the lay.
    """
    edge = copy.piece.edge(rule.edge)
    into = inward(copy.piece, edge)
    tall = max(into.dot(p - edge.path.start) for p in copy.piece.outline.flatten(1.0))
    line = border.line(cloth.width, rule.above)
    found = [90.0] * (line + tall <= cloth.width) + [270.0] * (line - tall >= 0.0)
    return found or [90.0, 270.0]


def _aside_deg(rule: OnBorder, copy: Copy) -> float:
    """Return how far from its top a copy's edge looks into it, degrees: 0 for a hem."""
    piece = copy.piece
    into = inward(piece, piece.edge(rule.edge)).angle_deg - piece.up.angle_deg
    return round(-into if copy.turned_over else into, 6)


def asks(rule: OnBorder, at: CuttingTable) -> Iterator[put.Rule | Landmark]:
    """Yield the line for each copy. Raises WrongRule when none is cut from the border's cloth."""
    laid = [(each, border_of(rule, each.cloth)) for each in at.of(rule.piece)]
    if not any(border for _, border in laid):
        raise WrongRule(
            field="border",
            what=f'"{rule.piece}" is not cut from the cloth with the border "{rule.border}"',
            expected="a piece that is cut from that cloth",
        )
    for each, border in laid:
        if border is not None:
            landmarks = _landmarks(rule, each.copy)
            yield from (s for s in landmarks if isinstance(s, Landmark))
            yield put.OnLine(
                id=f"on-border {each.id}",
                shape=each.id,
                points=tuple(s.name if isinstance(s, Landmark) else s for s in landmarks),
                axis="across",
                at=border.line(each.cloth.width, rule.above),
                least=-rule.lower,
                most=rule.higher,
            )


def _landmarks(rule: OnBorder, copy: Copy) -> tuple[str | Landmark, ...]:
    """Return what of an edge is put on the border's line: its points by name, or a landmark.

    Both ends of a straight edge, so that a tilt the grain allows lays it level; of a curved one
    what the rule says it follows.
    """
    piece, edge = copy.piece, copy.piece.edge(rule.edge)
    rise = rise_of(piece, edge)
    if rise.total <= STRAIGHT_MM:
        names = (f"{edge.name} start", f"{edge.name} end")
        both = copy.fold is not None and inward(piece, edge) == piece.up
        return names + (tuple(n + TWIN for n in names) if both else ())
    end = centre_of(piece, edge)
    if rule.follows == "halfway" or (rule.follows == "centre" and not end):
        return (f"{edge.name} middle",)
    if rule.follows == "centre":
        return (f"{edge.name} {end}",)
    lift = inward(piece, edge) * line_height(rule, rise)
    point = copy.frame_point(centre_point(piece, edge) + lift)
    return (Landmark(shape=copy.id, name=f"{edge.name} {rule.follows}", at=(point.x, point.y)),)


def line_height(rule: OnBorder, rise: Rise) -> float:
    """Return how high above the centre of an edge the rule lays the border's line, mm."""
    heights = {"sides": rise.sides, "halfway": rise.halfway, "best": rise.best}
    return heights.get(rule.follows, 0.0)


def foreseen(rule: OnBorder, at: CuttingTable) -> Iterator[Foreseen]:
    """Yield how far a curved edge leaves the line, and what would bring it back."""
    piece = at.pattern.piece(rule.piece)
    edge = piece.edge(rule.edge)
    rise = rise_of(piece, edge)
    if rise.total <= AGREE_MM:
        return
    ref = f"{piece.name}.{edge.name}"
    yield Foreseen(
        words=(
            *against_line(piece, edge, rise.above(line_height(rule, rise))),
            *_advice(rise, at.pattern, piece),
        ),
        mend=Mend(change="square-hem", params={"edge": ref}),
    )
    border = next((b for c in at.cloths if (b := border_of(rule, c))), None)
    if rise.total > MAY_STRAIGHTEN_MM and border is not None and border.height > rule.above:
        depth = border.height - max(0.0, rule.above)
        yield Foreseen(
            words=("Or the border is cut off and sewn on as a band ", depth, " deep."),
            mend=Mend(change="apply-band", params={"edges": (ref,), "depth": depth}),
        )


def _advice(rise: Rise, pattern: Pattern, piece: Piece) -> Sentence:
    if rise.total <= MAY_STRAIGHTEN_MM:
        straight = " may be straightened, and taken off at the waist instead."
        return (" A rise of ", rise.total, straight)
    side = f"seam of the {piece.name}" if piece.name in sleeve_names(pattern) else "side"
    return (
        " A rise of ",
        rise.total,
        " is more than the ",
        MAY_STRAIGHTEN_MM,
        f" that is usually straightened: the {side} would be longer by as much.",
    )


def against_line(piece: Piece, edge: Edge, rise: Rise) -> Sentence:
    """Return in whole sentences how an edge runs along a border. rise: above the border's line."""
    first = f"The {edge_name(piece.name, edge.name)}, lies "
    return (first, *_at_ends(piece, edge, rise), ".", *_run(rise))


def _at_ends(piece: Piece, edge: Edge, rise: Rise) -> Sentence:
    """Say how high an edge lies at its centre and side, or at both its ends."""
    told: list[tuple[float, str]] = []
    if centre_of(piece, edge):
        told = [(rise.centre, f"at {centre_words(piece, edge)}"), (rise.sides, "at the side")]
    else:
        bowed = [(rise.halfway, "at its middle")] if rise.bow > AGREE_MM else []
        told = [*bowed, *_ends(piece, edge, rise)]
    out: list[str | float] = []
    for n, (high, where) in enumerate(told):
        out += [", " if n + 1 < len(told) else " and "] if n else []
        out += [*_height(high), f" {where}"]
    return tuple(out)


def _ends(piece: Piece, edge: Edge, rise: Rise) -> list[tuple[float, str]]:
    if abs(rise.start - rise.end) <= AGREE_MM:
        return [(rise.sides, "at both ends")]
    ends = (("start", rise.start), ("end", rise.end))
    return [(high, f"at its end by the {beside(piece, edge, end).name}") for end, high in ends]


def _run(rise: Rise) -> Sentence:
    """Say whether an edge is straight and slants, or how far it curves away from that."""
    if rise.bow <= AGREE_MM:
        return (" It is straight and slants by ", abs(rise.end - rise.start), ".")
    bows = ((rise.above_chord, "rises "), (rise.below_chord, "falls "))
    out: list[str | float] = []
    for bow, way in bows:
        if bow > AGREE_MM:
            out += [" and " if out else " Between its ends it ", way, bow]
            out += [" above" if way == "rises " else " below"]
    return (*out, " the straight line from one to the other.")


def _height(mm: float) -> Sentence:
    if is_met(mm):
        return ("on the line of the border",)
    return (abs(mm), " above the line" if mm > 0 else " below the line")


def against(a: OnBorder, b: OnBorder) -> bool:
    """Tell whether two rules lay one edge at two places, or a piece both ways up on one border."""
    if a.piece != b.piece:
        return False
    two_places = (a.border, a.above, a.follows) != (b.border, b.above, b.follows)
    both_ways = a.border == b.border and a.upside_down != b.upside_down
    return both_ways or (a.edge == b.edge and two_places)


RULE = RuleKind(
    id="on-border",
    params=OnBorder,
    said=said,
    forms=(
        Form(
            id="on-border",
            title="A hem or edge on a border",
            help="The edge's stitching line, or the fold of its hem, lies along the border.",
            asks=named("edge", "border", "above", "follows", "lower", "higher", "upside_down"),
        ),
    ),
    asks=asks,
    places=True,
    foreseen=foreseen,
    home=home,
    turns=turns,
    rank=1,
    turned_by="border",
    stance=lambda r: Stance(r.piece, r.border, "on", r.above),
    on_print=True,
    against=against,
)
