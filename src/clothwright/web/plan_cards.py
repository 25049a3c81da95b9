"""One plan as a card: does it fit, what is used, how the print meets, its lay drawn small."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from markupsafe import Markup

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.folded import fold_lines
from clothwright.drawing.lay import ROOM_MM, lay_picture
from clothwright.drawing.words import CHAR, place_words
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.thin import thinned_ring
from clothwright.geometry.vec import Vec
from clothwright.lay.match import SeamMatch
from clothwright.lay.problem import Ring
from clothwright.lay.result import Placement
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke, Text
from clothwright.units import Unit
from clothwright.web.svg import inline
from clothwright.words import say, show_length
from clothwright.workroom.searching.laying import Laid
from clothwright.workroom.searching.lays import LayState
from clothwright.workroom.sewing.guiding import fit_words

ROUGH_MM = 1.5
"""A small drawing may stray this far from the cutting line."""
LETTERS = (0.034, 0.029, 0.025)
"""Sizes of a piece's name, as shares of the drawing's width, the first that fits."""
SAME_MM = 0.05
"""A print that is apart by less than this meets."""
KEPT = frozenset({Role.MOTIF, Role.BORDER, Role.FLAW})
MOST_KEPT = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallLay:
    """One cloth of a lay, drawn small. large: in hand, printed or folded, so it is what decides."""

    cloth: str
    words: str
    drawing: Markup
    large: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One plan. kind: "good", "notice" or "bad"; verdict: the same in words."""

    name: str
    why: str
    chosen: bool
    busy: bool
    share: float
    kind: str
    verdict: str
    fits: bool
    lays: tuple[SmallLay, ...]
    facts: tuple[tuple[str, str], ...]
    faults: tuple[str, ...]


def cards(
    states: Sequence[LayState], unit: Unit, whys: Mapping[str, str], chosen: str
) -> tuple[Card, ...]:
    """Return the plans as cards; lays on one cloth are drawn to one scale."""
    longest: dict[str, float] = {}
    for state in states:
        if state.laid is not None:
            for cloth in state.laid.laid_cloths:
                room = 0.0 if cloth.length is not None else ROOM_MM
                ends = (longest.get(cloth.name, 0.0), cloth.length or 0.0)
                longest[cloth.name] = max(*ends, state.laid.lay.used[cloth.name] + room)
    return tuple(
        _card(s, unit, whys.get(s.plan, ""), s.plan == chosen, tuple(longest.items()))
        for s in states
    )


def _card(
    state: LayState, unit: Unit, why: str, chosen: bool, longest: tuple[tuple[str, float], ...]
) -> Card:
    kind, verdict = _verdict(state, unit)
    laid = state.laid
    shown = _shown(_Key(laid), unit, longest) if laid is not None else ((), (), ())
    return Card(
        name=state.plan,
        why=why,
        chosen=chosen,
        busy=state.busy,
        share=state.spent / state.seconds if state.seconds else 0.0,
        kind=kind,
        verdict=verdict,
        fits=laid is not None and laid.lay.fits and not laid.faults,
        lays=shown[0],
        facts=shown[1],
        faults=shown[2],
    )


def _long(mm: float, unit: Unit) -> str:
    """Return a length that is not broken at the end of a line."""
    return show_length(mm, unit).replace(" ", "\u00a0")


def _verdict(state: LayState, unit: Unit) -> tuple[str, str]:
    """Return how a plan stands, as a kind and a sentence."""
    laid = state.laid
    if state.stage == "failed":
        return "bad", f"It cannot be laid. {state.trouble}"
    so_far = _fit(laid, unit) if laid is not None else ""
    if state.stage == "waiting":
        return "notice", "It waits for its turn." + (f" So far: {so_far}." if so_far else "")
    if state.stage == "laying":
        return "notice", f"Being laid. So far: {so_far or 'the first lay is being made'}."
    if laid is None and state.stage == "stale":
        return "notice", "The pieces, the cloth or its rules have changed. Lay it again."
    if laid is None:
        return "notice", "Not laid yet."
    words = f"{so_far[:1].upper()}{so_far[1:]}."
    return ("good" if laid.lay.fits and not laid.faults else "bad"), words


def _fit(laid: Laid, unit: Unit) -> str:
    """Say whether it fits, and with how much to spare."""
    if laid.faults:
        return "not to be cut by: the lay has faults"
    words = fit_words(laid, unit)
    spare = [f"{_long(v, unit)} of {n} left" for n, v in laid.left_over.items()]
    spare = spare or [f"{_long(v, unit)} of {n} to buy" for n, v in laid.buy.items()]
    if laid.lay.fits:
        return f"{words}, {', '.join(spare)}" if spare else words
    return words if words.startswith("does not") else f"does not fit: {words}"


@dataclass(frozen=True, slots=True, eq=False)
class _Key:
    """A lay as a key of a cache: one and the same lay, not one that is equal."""

    laid: Laid

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and other.laid is self.laid

    def __hash__(self) -> int:
        return id(self.laid)


_Shown = tuple[tuple[SmallLay, ...], tuple[tuple[str, str], ...], tuple[str, ...]]


@lru_cache(maxsize=MOST_KEPT)
def _shown(key: _Key, unit: Unit, longest: tuple[tuple[str, float], ...]) -> _Shown:
    """Return drawings, figures and faults of a lay; made once for each lay."""
    laid, ends = key.laid, dict(longest)
    lays = tuple(_small(laid, c, unit, ends[c.name]) for c in laid.laid_cloths)
    faults = tuple(say(f.words, unit) for f in laid.faults)
    return (
        tuple(sorted(lays, key=lambda x: not x.large)),
        tuple(_facts(laid, unit)),
        faults,
    )


def _facts(laid: Laid, unit: Unit) -> Iterator[tuple[str, str]]:
    """Yield what a maker weighs, as pairs of a label and words."""
    for name, used in laid.lay.used.items():
        left = laid.left_over.get(name)
        spare = f", {_long(left, unit)} left" if left else ""
        if used > 0:
            yield name, f"{_long(used, unit)} used{spare}"
    yield from _print_facts(laid.matches)
    if laid.off_grain:
        yield "off the usual grain", ", ".join(laid.off_grain)
    if laid.cost is not None:
        yield "cost", f"{laid.cost:.2f}"
    worst = max(laid.residuals.values(), default=0.0)
    if laid.residuals:
        yield "rules met within", f"{worst:.2f} mm"


def _print_facts(matches: Sequence[SeamMatch]) -> Iterator[tuple[str, str]]:
    crossed = [m for m in matches if m.alike and any(s.counts for s in m.spots)]
    height = max(crossed, key=lambda m: m.level or 0.0, default=None)
    side = max(crossed, key=lambda m: m.upright or 0.0, default=None)
    if height is not None and height.level is not None:
        yield "print apart in height", _apart(height.level, height.seam)
    if side is not None and side.upright is not None:
        yield "print apart sideways", _apart(side.upright, side.seam)
    broken = dict.fromkeys(m.seam for m in matches if not m.alike)
    if broken:
        yield "print stops at", ", ".join(broken)


def _apart(mm: float, seam: str) -> str:
    return "nowhere" if mm < SAME_MM else f"{mm:.1f} mm at most ({seam})"


# --- the small drawing ----------------------------------------------------------------------------


def _small(laid: Laid, cloth: Cloth, unit: Unit, longest: float) -> SmallLay:
    """Return one cloth with its pieces, to the scale of the longest lay on that cloth."""
    used = laid.lay.used[cloth.name]
    end = cloth.length if cloth.length is not None else used + ROOM_MM
    drawn = lay_picture(laid.compiled, laid.lay, cloth.name, unit, positions=False)
    printed = [i for i in drawn.items if i.role in KEPT and not isinstance(i, Text)]
    items: list[Item] = [*_ground(cloth, printed, end, used)]
    for placement in (p for p in laid.lay.placements if p.region == cloth.name):
        items += _piece(laid, placement, max(longest, end))
    folds = [f for f in laid.folds if f.cloth == cloth.name]
    lines = [i for f in folds for i in fold_lines(f, used, cloth.width) if isinstance(i, Stroke)]
    labels = [i for i in items if isinstance(i, Text)]
    items = [*(i for i in items if not isinstance(i, Text)), *lines, *labels]
    # the lines of a border show through the tissue
    items += [i for i in printed if isinstance(i, Stroke) and i.role is Role.BORDER]
    if used > end + 1.0:
        line = polyline(((end, -20.0), (end, cloth.width + 20.0)))
        items.append(Stroke(path=line, role=Role.FAULT))
    words = f"{show_length(used, unit)} used"
    if cloth.length is not None:
        words += f" of {show_length(cloth.length, unit)}"
    words += "".join(f"; folded {f.way}, drawn opened out" for f in folds)
    names = ", ".join(p.shape for p in laid.lay.placements if p.region == cloth.name)
    drawing = inline(
        Picture(items=tuple(items), title=cloth.name),
        alt=f"{cloth.name}: {words}. On it: {names}.",
        to_scale=False,
        margin=22.0,
        extra="small-lay",
        within=(Vec(0.0, 0.0), Vec(max(longest, end), cloth.width)),
    )
    large = cloth.length is not None or cloth.print.has_design or bool(folds)
    return SmallLay(cloth=cloth.name, words=words, drawing=drawing, large=large)


def _ground(cloth: Cloth, printed: Sequence[Item], end: float, used: float) -> Iterator[Item]:
    """Yield the cloth with its print and flaws; what lies past its end is no cloth."""
    outline = _rough(cloth.outline) if cloth.outline else _box(0.0, 0.0, end, cloth.width)
    yield Fill(path=outline, role=Role.CLOTH)
    yield from printed
    if used > end + 1.0:
        yield Fill(path=_box(end, 0.0, used, cloth.width), role=Role.FAULT)


def _piece(laid: Laid, placement: Placement, wide_mm: float) -> Iterator[Item]:
    """Yield one piece and, where it finds room, its name."""
    path = _rough(placement.outline)
    yield Fill(path=path, role=Role.PIECE, group=placement.shape)
    words = laid.compiled.copy(placement.shape).piece.name
    for size in (share * wide_mm for share in LETTERS):
        for along in (Vec(1.0, 0.0), Vec(0.0, 1.0)):
            wide = CHAR * size * len(words)
            spot = place_words(placement.outline, wide, size * 1.2, along)
            if spot is not None:
                yield Text(
                    words=words,
                    at=spot - along.perp * (size * 0.35),
                    size=size,
                    role=Role.LABEL,
                    anchor="middle",
                    angle_deg=along.angle_deg,
                )
                return


def _rough(ring: Ring) -> Path:
    """Return a ring with as few corners as a small drawing needs, closed."""
    points = thinned_ring(ring, ROUGH_MM)
    return polyline(tuple((round(x, 1), round(y, 1)) for x, y in (*points, points[0])))


def _box(x0: float, y0: float, x1: float, y1: float) -> Path:
    return polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)))
