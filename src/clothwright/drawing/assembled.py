"""The garment put together flat: every copy laid so that sewn stitching lines lie along each other.

Only what is seen from outside is put together: facings, linings and interfacings are left out. A
view ends at the side seams. Darts stay open, so there is a gap in the piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from clothwright.drawing.printed import within
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.lay.compile import Compiled
from clothwright.lay.copies import Copy
from clothwright.lay.match import placement_move, seam_places
from clothwright.lay.problem import Ring
from clothwright.lay.result import Placement
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import unfolded

SAGITTA_MM = 0.2
"""mm: how far the drawn outline may stray from the stitching line."""
GAP_MM = 14.0
"""mm left between pieces that no seam joins in a view."""
PLACES = 60
"""Places along a seam by which one piece is fitted to the next."""
MOST_KEPT = 16
TUBE_MM = 25.0
"""Fitted to several seams and still so far off (RMS, mm), a piece closes a tube with its
neighbour; then it is laid along one of them."""
INNER = ("lining", "interfacing", "interlining")
FRONT, BACK, BESIDE = "front", "back", "beside"
UPRIGHT = rotation_deg(90.0)
FAR_MM = 1e5

Joined = tuple[str, Vec, str, Vec]
"""A place of one copy sewn to a place of another, each in its own copy's frame."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One copy, or a stretch of it, in a view.

    ring: the stitching line with darts cut out, right side up, its top towards +x (the frame of
    a placement before it is turned and moved). move: from there to the view (mm, y up the body).
    off: what is left of the fit to its seams (RMS, mm); 0 for the piece a view begins with.
    """

    shape: str
    ring: Ring
    move: Transform
    off: float = 0.0

    @property
    def outline(self) -> Ring:
        """The ring as it lies in the view."""
        return tuple(_pair(self.move.apply(p)) for p in self.ring)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One side of a garment. name: "front", "back", or "beside" for pieces laid beside it."""

    name: str
    parts: tuple[Part, ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least x, least y, largest x, largest y of its outlines, mm."""
        points = [p for part in self.parts for p in part.outline]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True, kw_only=True)
class Garment:
    """A garment put together flat. notes: what could not be known, in sentences."""

    name: str
    views: tuple[View, ...]
    notes: tuple[str, ...] = ()


def assembled(pattern: Pattern, compiled: Compiled) -> tuple[Garment, ...]:
    """Return every garment of a pattern, front and back, as it is sewn; nothing is asked of a lay.

    A piece's view is read from the word "front" or "back" in its name, else from the one view
    that its seams join it to. A strip that a seam joins to pieces of both (a waistband) is shown in
    both, each stretch at what it is sewn to. Sleeves (the second side of a cap seam) lie opened
    out beside the front. Anything else lies beside, and a note says so.
    """
    return _assembled(_Asked(pattern=pattern, compiled=compiled))


class _Asked:
    """What is put together, as the key of a cache: the very same pattern, the same copies."""

    def __init__(self, *, pattern: Pattern, compiled: Compiled) -> None:
        self.pattern, self.compiled = pattern, compiled
        self.copies = tuple((c.id, c.material, c.turned_over) for c in compiled.copies)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, _Asked):
            return False
        return other.pattern is self.pattern and other.copies == self.copies

    def __hash__(self) -> int:
        return hash((id(self.pattern), self.copies))


@lru_cache(maxsize=MOST_KEPT)
def _assembled(asked: _Asked) -> tuple[Garment, ...]:
    pattern, compiled = asked.pattern, asked.compiled
    shown = {c.id: c for c in compiled.copies if _is_outside(pattern, c)}
    placed = {k: _resting(c) for k, c in shown.items()}
    rows: list[tuple[str, tuple[Joined, ...]]] = []
    for seam in pattern.seams:
        if seam.kind in ("plain", "cap"):
            found = seam_places(pattern, compiled, placed, seam, places=PLACES)
            rows += [(seam.kind, row) for row in found]
    groups = _groups(shown, [row for _, row in rows])
    several = len(groups) > 1
    return tuple(
        _Making.of({k: shown[k] for k in group}, rows).garment(several=several) for group in groups
    )


def _is_outside(pattern: Pattern, copy: Copy) -> bool:
    """Tell whether a copy is seen when the garment is worn."""
    name = copy.piece.name
    words = name.lower().split()
    if copy.material in INNER or any(w in words for w in ("facing", *INNER)):
        return False
    first = next(c.material for c in copy.piece.cuts if c.material not in INNER)
    if copy.material != first:
        return False
    return not any(r.piece == name for s in pattern.seams if s.kind == "facing" for r in s.b)


def _resting(copy: Copy) -> Placement:
    """Return a copy right side up in its own frame, neither turned nor moved."""
    return Placement(
        shape=copy.id, region="", turn_deg=0.0, flipped=copy.turned_over, x=0.0, y=0.0, outline=()
    )


def _groups(
    shown: Mapping[str, Copy], rows: Sequence[tuple[Joined, ...]]
) -> tuple[tuple[str, ...], ...]:
    """Return the copies of each garment; both of a pair belong to one, however they are joined."""
    group = {k: c.piece.name for k, c in shown.items()}
    for row in rows:
        for a, _, b, _ in row:
            one, two = group[a], group[b]
            if one != two:
                group = {k: one if g == two else g for k, g in group.items()}
    out: dict[str, list[str]] = {}
    for k, g in group.items():
        out.setdefault(g, []).append(k)
    worn = [g for g in out.values() if any(_named_view(shown[k].piece) for k in g)]
    rest = [k for g in out.values() if g not in worn for k in g]
    if len(worn) == 1:
        worn[0] += rest
    elif rest:
        worn.append(rest)
    return tuple(tuple(g) for g in worn)


def _named_view(piece: Piece) -> str:
    words = piece.name.lower().split()
    found = [v for v in (FRONT, BACK) if v in words]
    return found[0] if len(found) == 1 else ""


@dataclass(slots=True, kw_only=True)
class _Making:
    """One garment while it is put together."""

    copies: Mapping[str, Copy]
    plain: Sequence[Sequence[Joined]]
    caps: Sequence[Sequence[Joined]]
    rings: Mapping[str, Ring]
    notes: list[str] = field(default_factory=list)

    @classmethod
    def of(
        cls, copies: Mapping[str, Copy], rows: Iterable[tuple[str, tuple[Joined, ...]]]
    ) -> _Making:
        mine = [(kind, row) for kind, row in rows if row[0][0] in copies]
        return cls(
            copies=copies,
            plain=[row for kind, row in mine if kind == "plain"],
            caps=[row for kind, row in mine if kind == "cap"],
            rings={k: _ring(c) for k, c in copies.items()},
        )

    def garment(self, *, several: bool) -> Garment:
        sleeves = {b for row in self.caps for _, _, b, _ in row}
        views, bands = self._views(sleeves)
        front = self._view([k for k, v in views.items() if v == FRONT], views)
        back = self._view([k for k, v in views.items() if v == BACK], views)
        back = self._level(front, back)
        front = [*front, *self._sleeves(front)]
        for band in bands:
            front, back = [*front, *self._band(band, front)], [*back, *self._band(band, back)]
        seen = {p.shape for p in (*front, *back)}
        beside = self._row([k for k in self.copies if k not in seen])
        named = ((FRONT, front), (BACK, back), (BESIDE, beside))
        return Garment(
            name=self._name(several=several),
            views=tuple(View(name=n, parts=tuple(p)) for n, p in named if p),
            notes=tuple(dict.fromkeys(self.notes)),
        )

    def _name(self, *, several: bool) -> str:
        """Return the words that stand before "front" and "back" in the names of its pieces."""
        for copy in self.copies.values():
            words = copy.piece.name.split()
            view = _named_view(copy.piece)
            before = [w for w in words if w.lower() != view]
            if view and before and len(words) == 2:
                return before[0]
        return "other pieces" if several and not self._worn() else "garment"

    def _worn(self) -> bool:
        return any(_named_view(c.piece) for c in self.copies.values())

    def _views(self, sleeves: set[str]) -> tuple[dict[str, str], list[str]]:
        """Return the view of every copy that has one, and the strips that belong to both."""
        views = {k: _named_view(c.piece) for k, c in self.copies.items() if k not in sleeves}
        bands: list[str] = []
        for k in [k for k, v in views.items() if not v]:
            sides = [
                {views.get(other, "") for here, _, other, _ in _seen_from(row, k)}
                for row in self.plain
            ]
            near = {v for side in sides for v in side} - {""}
            if any({FRONT, BACK} <= side for side in sides):
                bands.append(k)
            elif len(near) == 1:
                views[k] = near.pop()
            else:
                self.notes.append(
                    f'It cannot be told whether "{self.copies[k].piece.name}" belongs to the front '
                    "or the back: no seam joins it to one of them. It lies beside."
                )
        return {k: v for k, v in views.items() if v}, bands

    # --- one view ---------------------------------------------------------------------------------

    def _view(self, shapes: Sequence[str], views: Mapping[str, str]) -> list[Part]:
        """Put the copies of one view together, from its centre outwards."""
        rest = sorted(shapes, key=lambda k: (self.copies[k].fold is None, -_area(self.rings[k])))
        rest_of = tuple(rest)
        centre: list[Part] = []
        halves: dict[int, list[Part]] = {1: [], -1: []}
        while rest:
            parts = self._grown(rest[0], rest)
            rest = [k for k in rest if k not in {p.shape for p in parts}]
            hand = 0 if self._has_centre(parts) else self._hand(parts, views)
            if hand:
                halves[hand] += _beyond(parts, hand, _reach(halves[hand], hand))
            elif not centre:
                x0, _, x1, _ = View(name="", parts=tuple(parts)).box
                centre = _shifted(parts, Vec(-(x0 + x1) / 2, 0.0))
            else:
                name = self.copies[parts[0].shape].piece.name
                self.notes.append(f'No seam joins "{name}" to its neighbours. It lies beside.')
        if not centre and halves[1] and halves[-1]:
            self.notes.append(
                f"The two halves of the {views[rest_of[0]]} lie edge to edge, not lapped."
            )
        out = list(centre)
        for hand in (1, -1):
            if centre and halves[hand]:
                wide = _reach(centre, hand)
                out += _shifted(halves[hand], Vec(hand * wide, 0.0))
            else:
                out += halves[hand]
        return out

    def _grown(self, start: str, free: Sequence[str]) -> list[Part]:
        """Lay one copy upright and fit to it all that its seams join, one after the other."""
        done = {start: Part(shape=start, ring=self.rings[start], move=UPRIGHT)}
        while True:
            onto: dict[str, list[list[tuple[Vec, Vec]]]] = {}
            for k in (k for k in free if k not in done):
                for row in self.plain:
                    sewn = [
                        (p, done[a].move.apply(q)) for _, p, a, q in _seen_from(row, k) if a in done
                    ]
                    if len(sewn) > 1:
                        onto.setdefault(k, []).append(sewn)
            if not onto:
                return list(done.values())
            k = max(onto, key=lambda b: sum(len(sewn) for sewn in onto[b]))
            move, off = _fit_seams(onto[k])
            done[k] = Part(shape=k, ring=self.rings[k], move=move, off=off)

    def _has_centre(self, parts: Sequence[Part]) -> bool:
        names = [self.copies[p.shape].piece.name for p in parts]
        folded = any(self.copies[p.shape].fold is not None for p in parts)
        return folded or any(names.count(n) > 1 for n in names)

    def _hand(self, parts: Sequence[Part], views: Mapping[str, str]) -> int:
        """Return 1 when their seams to the other view and to sleeves lie on the right, else -1."""
        moves = {p.shape: p.move for p in parts}
        x0, _, x1, _ = View(name="", parts=tuple(parts)).box
        away = [
            moves[k].apply(p).x - (x0 + x1) / 2
            for row in self.plain
            for k in moves
            for _, p, other, _ in _seen_from(row, k)
            if views.get(other, "") not in ("", views[k])
        ]
        away += [
            moves[k].apply(p).x - (x0 + x1) / 2
            for row in self.caps
            for k, p, _, _ in row
            if k in moves
        ]
        if not away:
            return 0
        return 1 if sum(away) > 0 else -1

    def _level(self, front: list[Part], back: list[Part]) -> list[Part]:
        """Shift the back so that its side seam's lower end is as high as the front's."""
        ahead, behind = ({p.shape: p.move for p in parts} for parts in (front, back))
        pairs = [
            (ahead[a].apply(p).y, behind[b].apply(q).y)
            for row in self.plain
            for k in ahead
            for a, p, b, q in _seen_from(row, k)
            if b in behind
        ]
        if not pairs:
            return back
        low = min(pairs)
        return _shifted(back, Vec(0.0, low[0] - low[1]))

    # --- what is not in one view ------------------------------------------------------------------

    def _sleeves(self, front: Sequence[Part]) -> list[Part]:
        """Lay sleeves opened out beside the front, underarm level with underarm."""
        moves = {p.shape: p.move for p in front}
        out: list[Part] = []
        for row in self.caps:
            sewn = [(moves[a].apply(p), q) for a, p, _, q in row if a in moves]
            mine = list(dict.fromkeys(k for _, _, k, _ in row))
            if not sewn or mine[0] in {p.shape for p in out}:
                continue
            hand = 1 if sum(p.x for p, _ in sewn) > 0 else -1
            sleeve = self._grown(mine[0], mine)
            at = {p.shape: p.move for p in sleeve}
            ends = [at[k].apply(q).y for _, _, k, q in row if k in at]
            level = Vec(0.0, min(p.y for p, _ in sewn) - min(ends))
            beyond = _reach([*front, *out], hand) + GAP_MM
            out += _beyond(_shifted(sleeve, level), hand, beyond)
        if out:
            self.notes.append("The sleeves lie opened out beside the front, underarm level.")
        return out

    def _band(self, k: str, view: Sequence[Part]) -> list[Part]:
        """Lay the stretches of a strip along what each is sewn to in a view."""
        moves = {p.shape: p.move for p in view}
        sewn: list[tuple[Vec, Vec]] = []
        all_of: list[Vec] = []
        for row in self.plain:
            for _, p, other, q in _seen_from(row, k):
                all_of.append(p)
                if other in moves:
                    sewn.append((p, moves[other].apply(q)))
        if len(sewn) < 2:
            return []
        far = max(all_of, key=all_of[0].distance)
        if far.distance(all_of[0]) < 1.0:
            return []
        along = (far - all_of[0]).unit
        ends = [p.dot(along) for p in all_of]
        step = 3.0 * (max(ends) - min(ends)) / len(ends)
        sewn.sort(key=lambda pair: pair[0].dot(along))
        runs: list[list[tuple[Vec, Vec]]] = []
        for pair in sewn:
            at = pair[0].dot(along)
            if runs and at - runs[-1][-1][0].dot(along) <= step:
                runs[-1].append(pair)
            else:
                runs.append([pair])
        out = []
        for run in runs:
            low, high = run[0][0].dot(along), run[-1][0].dot(along)
            low = -FAR_MM if low <= min(ends) + 1.0 else low
            high = FAR_MM if high >= max(ends) - 1.0 else high
            move, off = rigid_fit([p for p, _ in run], [q for _, q in run])
            ring = _stretch(self.rings[k], along, low, high)
            out.append(Part(shape=k, ring=ring, move=move, off=off))
        return out

    def _row(self, shapes: Sequence[str]) -> list[Part]:
        """Lay copies upright in a row."""
        out: list[Part] = []
        x = 0.0
        for k in shapes:
            part = Part(shape=k, ring=self.rings[k], move=UPRIGHT)
            x0, y0, x1, _ = View(name="", parts=(part,)).box
            out += _shifted([part], Vec(x - x0, -y0))
            x += x1 - x0 + GAP_MM
        return out


def _fit_seams(seams: Sequence[list[tuple[Vec, Vec]]]) -> tuple[Transform, float]:
    """Lay a copy along all its seams, or along the longest where they close a tube."""
    together = [pair for sewn in seams for pair in sewn]
    move, off = rigid_fit([p for p, _ in together], [q for _, q in together])
    if off <= TUBE_MM or len(seams) == 1:
        return move, off
    longest = max(seams, key=lambda sewn: sewn[0][0].distance(sewn[-1][0]))
    return rigid_fit([p for p, _ in longest], [q for _, q in longest])


def _seen_from(row: Sequence[Joined], shape: str) -> list[Joined]:
    """Return the places of a seam at one copy, that copy first."""
    out = [j for j in row if j[0] == shape]
    return out + [(b, q, a, p) for a, p, b, q in row if b == shape and a != shape]


def _ring(copy: Copy) -> Ring:
    """Return the stitching line of a copy in its frame, right side up, with its darts cut out."""
    piece = unfolded(copy.piece)
    move = placement_move(copy, _resting(copy))
    points: list[tuple[float, float]] = []
    for edge in piece.edges:
        at = 0.0
        for dart in piece.darts_on(edge.name):
            if dart.a > at + 1e-6:
                points += edge.path.between(at, dart.a).flatten(SAGITTA_MM)
            points.append(dart.point)
            at = dart.b
        if edge.length > at + 1e-6:
            points += edge.path.between(at, edge.length).flatten(SAGITTA_MM)
    ring: list[tuple[float, float]] = []
    for p in points:
        q = _pair(move.apply(p))
        if not ring or Vec(*q).distance(ring[-1]) > 0.01:
            ring.append(q)
    if Vec(*ring[0]).distance(ring[-1]) <= 0.01:
        ring.pop()
    return tuple(reversed(ring)) if move.mirrors else tuple(ring)


def _stretch(ring: Ring, along: Vec, low: float, high: float) -> Ring:
    """Return the part of a ring between two lines square to a direction."""
    turn = rotation_deg(-along.angle_deg)
    laid = tuple(_pair(turn.apply(p)) for p in ring)
    back = turn.inverse()
    return tuple(_pair(back.apply(p)) for p in within(laid, 0, low, high))


def _shifted(parts: Iterable[Part], by: Vec) -> list[Part]:
    return [replace(p, move=p.move.then(translation(by))) for p in parts]


def _reach(parts: Sequence[Part], hand: int) -> float:
    """Return how far parts reach to the right (1) or left (-1) of the middle, mm."""
    if not parts:
        return 0.0
    x0, _, x1, _ = View(name="", parts=tuple(parts)).box
    return max(0.0, x1 if hand > 0 else -x0)


def _beyond(parts: Sequence[Part], hand: int, reach: float) -> list[Part]:
    """Shift parts to the right or left until they lie beyond a reach from the middle."""
    x0, _, x1, _ = View(name="", parts=tuple(parts)).box
    near = reach + GAP_MM / 2
    return _shifted(parts, Vec(near - x0 if hand > 0 else -near - x1, 0.0))


def _area(ring: Ring) -> float:
    return abs(sum(Vec(*p).cross(q) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2)


def _pair(p: Vec) -> tuple[float, float]:
    return (p.x, p.y)
