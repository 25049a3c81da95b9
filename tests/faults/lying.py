"""Pockets, buttons, zips and slits planted on the outfit, right or a little wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Level, Mark, Notch, Piece, Role
from tests.checks.specimens import SEAM, seam

Spoil = Callable[[Pattern], Pattern]

POCKET = ((70, 350), (70, 250), (170, 250), (170, 350))
"""A pocket 10 cm square on the skirt's front, 25 cm above its hem."""


def ring(*points: tuple[float, float]) -> Path:
    return polyline((*points, points[0]))


def pocket(wide: float = 100.0) -> Piece:
    """The pocket as cut, drawn apart from its place."""
    return four_sided("pocket", Vec(400, 250), Vec(400 + wide, 350), cuts=(Cut(how="pair"),))


def with_marks(name: str, *marks: Mark) -> Spoil:
    return lambda p: p.with_piece(replace(p.piece(name), marks=(*p.piece(name).marks, *marks)))


def pocketed(wide: float = 100.0, by: tuple[float, float] = (0, 0)) -> Spoil:
    """The pocket, so wide, and its place, moved by so much."""
    place = Mark(name="pocket", path=ring(*POCKET).transformed(translation(by)))

    def spoil(p: Pattern) -> Pattern:
        p = with_marks("skirt front", place)(p)
        return replace(p, pieces=(*p.pieces, pocket(wide)))

    return spoil


def cut_once(p: Pattern) -> Pattern:
    """One pocket for the two places on the skirt's front."""
    p = pocketed()(p)
    return p.with_piece(replace(p.piece("pocket"), cuts=(Cut(how="once"),)))


def one_side_shorter(p: Pattern) -> Pattern:
    """The pocket's right side 12 mm shorter than its left, as wide and as long as before."""
    p = pocketed()(p)
    low, high = Vec(400, 250), Vec(500, 350)
    short = four_sided("pocket", low, high)
    corner = high - Vec(0, 12)
    paths = {"b": ((500, 250), corner), "c": (corner, (400, 350))}
    edges = tuple(
        replace(e, path=polyline(paths[e.name])) if e.name in paths else e for e in short.edges
    )
    return p.with_piece(replace(short, edges=edges, cuts=(Cut(how="pair"),)))


def tied(layers: int) -> Spoil:
    """A tie sewn to the end of the waistband, with allowances all round."""

    def spoil(p: Pattern) -> Pattern:
        tie = four_sided("tie", Vec(0, 800), Vec(300, 840))
        edges = tuple(replace(e, role=Role.SEAM, allowance=SEAM) for e in tie.edges)
        tie = replace(tie, edges=edges, cuts=(Cut(how="pair", count=layers),))
        sewn = seam("tie", "waistband.end", "tie.d reversed")
        return replace(p, pieces=(*p.pieces, tie), seams=(*p.seams, sewn))

    return spoil


def corner_off(p: Pattern) -> Pattern:
    """The mark for the pocket's corner lies 40 mm nearer to the side."""
    return with_marks("skirt front", Mark(name="pocket corner", at=Vec(110, 350)))(pocketed()(p))


def four_sided(name: str, low: Vec, high: Vec, *names: str, **more: object) -> Piece:
    """A loose piece with four sides, its edges raw, its grain up the middle."""
    corners = (low, Vec(high.x, low.y), high, Vec(low.x, high.y))
    sides = zip(names or "abcd", corners, (*corners[1:], low), strict=True)
    edges = tuple(Edge(name=n, path=polyline((a, b)), role=Role.RAW) for n, a, b in sides)
    middle, half = low.lerp(high, 0.5), Vec(0, (high.y - low.y) / 3)
    grain = Grain(start=middle - half, end=middle + half)
    piece = Piece(name=name, edges=edges, grain=grain, cuts=(Cut(how="once"),))
    return replace(piece, **more)  # type: ignore[arg-type]


def one_lower(p: Pattern) -> Pattern:
    """An apron with two pockets, one 12 mm lower than the other."""
    left = [(-x, y - 12) for x, y in POCKET]
    sides = {"right pocket": POCKET, "left pocket": left}
    marks = tuple(Mark(name=name, path=ring(*points)) for name, points in sides.items())
    apron = four_sided("apron", Vec(-300, 0), Vec(300, 600), marks=marks)
    return with_pieces(apron, pocket())(p)


HEIGHTS = (20.0, 100.0, 180.0, 260.0)


def tab(
    name: str, heights: tuple[float, ...] = HEIGHTS, *, stand: float = 20.0, holes: bool = False
) -> Piece:
    """A loose front 120 mm wide, its edge `stand` beyond the centre, buttons up the centre."""
    word = "buttonhole" if holes else "button"
    at = [Mark(name=f"{word} {n}", at=Vec(0, y)) for n, y in enumerate(heights, start=1)]
    return four_sided(
        name,
        Vec(-stand, 0),
        Vec(100, 280),
        levels=(Level(name="waist", at=Vec(50, 60)),),
        marks=(Mark(name="centre", path=polyline(((0, 0), (0, 280)))), *at),
    )


def swung(by: float) -> Spoil:
    """A front with a marked centre, its edge so much farther from it at the lower end."""
    front, low = tab("left tab", ()), Vec(-20.0 - by, 0)
    paths = {"a": (low, (100, 0)), "d": ((-20, 280), low)}
    edges = [
        replace(e, corner=f"corner {e.name}", path=polyline(paths.get(e.name, e.path.ends)))
        for e in front.edges
    ]
    return with_pieces(replace(front, edges=tuple(edges)))


def with_pieces(*pieces: Piece) -> Spoil:
    return lambda p: replace(p, pieces=(*p.pieces, *pieces))


def tabs(left: tuple[float, ...], right: tuple[float, ...]) -> Spoil:
    """Buttons on a left front, buttonholes on a right one, so high."""
    return with_pieces(tab("left tab", left), tab("right tab", right, holes=True))


def aside(piece: Piece, by: float, *names: str) -> Piece:
    """A piece with these marks, or all its buttons, moved across."""
    return replace(
        piece,
        marks=tuple(
            replace(m, at=m.at + Vec(by, 0)) if m.at and (m.name in names or not names) else m
            for m in piece.marks
        ),
    )


def slit(gap: float = 0.0) -> Spoil:
    """A slit of 110 mm in the sleeve, from its hem up, its foot `gap` above that."""

    def spoil(p: Pattern) -> Pattern:
        foot = p.piece("sleeve").edge("hem").path.middle + Vec(0, gap)
        return with_marks("sleeve", Mark(name="slit", path=polyline((foot, foot + Vec(0, 110)))))(p)

    return spoil


def short_placket(p: Pattern) -> Pattern:
    """A placket of 90 mm for that slit."""
    piece = four_sided("sleeve placket", Vec(0, 0), Vec(40, 90), cuts=(Cut(how="pair"),))
    return with_pieces(piece)(slit()(p))


def zipped(opens: float) -> Spoil:
    """A zip in the skirt's side, notched 180 mm below the waist on both edges."""

    def spoil(p: Pattern) -> Pattern:
        for name, above in (("skirt front", True), ("skirt back", False)):
            piece = p.piece(name)
            edge = piece.edge("side")
            at = edge.length - 180.0 if above else 180.0
            more = (*edge.notches, Notch(at=at, name="zip end"))
            notches = tuple(sorted(more, key=lambda n: n.at))
            p = p.with_piece(piece.with_edge(replace(edge, notches=notches)))
        return p.with_seam(replace(p.seam("skirt side"), zip=opens))

    return spoil


def lapped(by: float) -> Spoil:
    """The waistband with an underlap, so long, beyond the waist that it is sewn to."""

    def spoil(p: Pattern) -> Pattern:
        band = p.piece("waistband")
        ends = band.edge("end").path.ends
        low, high = (at + Vec(by, 0) for at in ends)
        under = Edge(name="underlap", path=polyline((ends[0], low)), corner="side")
        moved = {"end": polyline((low, high)), "upper": polyline((high, (0, 40)))}
        edges = [replace(e, path=moved.get(e.name, e.path)) for e in band.edges]
        return p.with_piece(replace(band, edges=(edges[0], under, *edges[1:])))

    return spoil


def fold_marked(over: float, at: float = 20.0) -> Spoil:
    """The waistband's fold line, drawn so far over its end, so high above its lower edge."""

    def spoil(p: Pattern) -> Pattern:
        long = p.piece("waistband").edge("lower").length
        fold = polyline(((0, at), (long + over, at)))
        return with_marks("waistband", Mark(name="fold line", note="fold", path=fold))(p)

    return spoil
