"""Parts that several garments have: bands, facings, a sleeve, a yoke, a collar on its stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.demo.curves import bend, scoop, solve, spline, straight
from clothwright.demo.draft import (
    cuts,
    double,
    fold_edge,
    grain,
    hem_edge,
    levels,
    seam,
    seam_edge,
    single,
)
from clothwright.demo.sleeve import Armhole, cap_line
from clothwright.geometry.path import Path
from clothwright.geometry.transform import reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Along, Companion, Seam
from clothwright.pattern.piece import (
    Cut,
    Edge,
    Grain,
    Join,
    Mark,
    Notch,
    Piece,
    Role,
)
from clothwright.pattern.refs import parse_edge
from tests.garments.kit import Half, arriving, leaving, over


def goes_with(kind: str, *pairs: str) -> Companion:
    """Return what a piece is to others: "front facing.neck on front.neck"."""
    both = [tuple(parse_edge(t) for t in pair.split(" on ")) for pair in pairs]
    along = tuple(Along(edge=a.edge, piece=b.piece, edge_of=b.edge) for a, b in both)
    return Companion(piece=both[0][0].piece, kind=kind, of=along, by="drafted")


def band(
    name: str,
    long: float,
    high: float,
    *notches: Notch,
    how: str = "once",
    folded: bool = False,
    materials: Sequence[str] = ("shell", "interfacing"),
) -> Piece:
    """Return a straight band, `lower` sewn on; grain along it. With `folded`, half of it."""
    end = Edge(name="centre", path=straight((0.0, high), (0.0, 0.0)), role=Role.FOLD)
    return Piece(
        name=name,
        edges=(
            seam_edge("lower", straight((0.0, 0.0), (long, 0.0)), "low start", *notches),
            seam_edge("end", straight((long, 0.0), (long, high)), "low end"),
            seam_edge("upper", straight((long, high), (0.0, high)), "high end"),
            end if folded else seam_edge("start", end.path, "high start"),
        ),
        grain=Grain(start=Vec(long * 0.2, high * 0.4), end=Vec(long * 0.8, high * 0.4)),
        marks=(
            Mark(name="fold line", note="fold", path=straight((0.0, high / 2), (long, high / 2))),
        ),
        cuts=cuts("fold" if folded else how, *materials),
    )


def lapped(of: Piece, lap: float) -> Piece:
    """Return a band with an underlap beyond its end."""
    edges = {e.name: e for e in of.edges}
    end, high = edges["end"].path.start, edges["end"].length
    under = seam_edge("underlap", straight(end, end + Vec(lap, 0.0)), "low end")
    lap_end = seam_edge("end", straight(under.path.end, under.path.end + Vec(0.0, high)), "lap end")
    upper = replace(edges["upper"], path=edges["upper"].path.with_ends(start=lap_end.path.end))
    fold = replace(of.marks[0], path=straight((0.0, high / 2), (end.x + lap, high / 2)))
    return replace(of, edges=(edges["lower"], under, lap_end, upper, edges["start"]), marks=(fold,))


def noted(piece: Piece, edge: str, *marks: tuple[float, str]) -> Piece:
    """Return the piece with single notches (mm along, name) more on an edge."""
    old = piece.edge(edge)
    more = (*old.notches, *(single(s, n) for s, n in marks))
    return piece.with_edge(replace(old, notches=tuple(sorted(more, key=lambda n: n.at))))


def folded_seam(
    name: str, a: str | Sequence[str], b: str | Sequence[str], join: str, ease: float,
    start: str = "", end: str = "", folds: int = 0, fold_to: str = "",
) -> Seam:  # fmt: skip
    """Return a seam whose side b is gathered, pleated, ... to side a between two notches."""
    plain = seam(name, a, b, ease=ease, ease_from=start, ease_to=end)
    return replace(plain, join=join, folds=folds, fold_to=fold_to)


BOUND = 6.35
"""1/4 in: the allowance of a bound neck (factory practice; docs/sources.md, allowances)."""


def allowed(piece: Piece, allowance: float) -> Piece:
    """Return the piece with another allowance on all its seams."""
    edges = (replace(e, allowance=allowance) if e.role is Role.SEAM else e for e in piece.edges)
    return replace(piece, edges=tuple(edges))


def bound(piece: Piece, edge: str = "neck") -> Piece:
    """Return the piece with the allowance of a bound edge."""
    return piece.with_edge(replace(piece.edge(edge), allowance=BOUND))


def bias(name: str, long: float) -> Piece:
    """Return a bias strip to bind an edge with, four times as wide as it is when finished."""
    wide = 4 * BOUND
    plain = band(name, long, wide, materials=("shell",))
    edges = tuple(replace(e, allowance=BOUND) for e in plain.edges)
    middle = Vec(long / 2, wide / 2)
    reach = Vec(wide * 0.3, wide * 0.3)
    return replace(
        plain, edges=edges, marks=(), grain=Grain(start=middle - reach, end=middle + reach)
    )


def neck_facing(of: Piece, name: str, wide: float = 55.0) -> Piece:
    """Return the neck facing of a front or a back drafted with its centre on the left."""
    neck, shoulder = of.edge("neck"), of.edge("shoulder").path
    centre = next(e for e in of.edges if e.path.start.distance(neck.path.end) < 1e-6)
    end = shoulder.end - shoulder.end_tangent * wide
    low = centre.path.point_at(wide)
    inner = scoop(low, centre.path.tangent_at(wide).angle_deg + 90.0, end,
                  shoulder.end_tangent.angle_deg - 90.0, full=0.7)  # fmt: skip
    middle = centre.path.between(0.0, wide)
    return Piece(
        name=name,
        edges=(
            Edge(name="inner", path=inner, role=Role.RAW, corner="low centre"),
            seam_edge("shoulder", straight(end, shoulder.end), "facing point"),
            neck,
            fold_edge("centre", middle, centre.corner)
            if centre.role is Role.FOLD
            else seam_edge("centre", middle, centre.corner),
        ),
        grain=Grain(start=low.lerp(neck.path.end, 0.2) + Vec(8.0, 0.0),
                    end=low.lerp(neck.path.end, 0.8) + Vec(8.0, 0.0)),
        cuts=cuts("fold" if centre.role is Role.FOLD else "pair", "shell", "interfacing"),
    )  # fmt: skip


def sleeve(
    name: str,
    hole: Armhole,
    *,
    biceps: float,
    long: float,
    wrist: float,
    ease: tuple[float, float],
    hem: float = 30.0,
    bottom: str = "hem",
) -> Piece:
    """Return a straight one-piece sleeve, front on the left; its ease over the top, front and back.

    bottom: "hem", turned up, or the name of an edge that is sewn to a cuff.
    """
    half, low = biceps / 2, Vec(wrist / 2, -long)
    front = straight((-half, 0.0), (-low.x, low.y))
    back = straight(low, (half, 0.0))
    line = bend(front.end, leaving(front), low, arriving(back))
    cap = cap_line(hole.front + hole.back + sum(ease), half, front, back)
    elbow = min(150.0, long * 0.4)
    lower = (
        hem_edge(line, "front wrist", hem)
        if bottom == "hem"
        else seam_edge(bottom, line, "front wrist")
    )
    return Piece(
        name=name,
        edges=(
            lower,
            seam_edge("back seam", back, "back wrist", single(back.length - elbow, "elbow"),
                      join=Join.FOLDED if bottom == "hem" else Join.EXTENDED),
            seam_edge("cap", cap, "back underarm", double(hole.back_notch, "back"),
                      single(hole.back + ease[1], "shoulder tip"),
                      single(cap.length - hole.front_notch, "front")),
            seam_edge("front seam", front, "front underarm", single(elbow, "elbow")),
        ),
        grain=grain(0.0, -long + 60, 60.0),
        levels=levels(biceps=(0.0, 0.0)),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Yoked:
    """Half a body with a yoke: what is left of front and back, and the yoke, turned over.

    Lines run from the armhole inwards, armholes from the underarm up.
    """

    front_hole: Path
    front_line: Path
    front_neck: Path
    back_hole: Path
    back_line: Path
    yoke: Piece


def yoked(front: Half, back: Half, *, forward: float = 35.0, down: float = 90.0) -> Yoked:
    """Cut a yoke from front and back, in one over the shoulder: the front's share turned over."""
    hole, neck = front.armhole(), front.neckline()
    rest, strip = hole.split_at(hole.length - forward)
    neck_strip, neck_rest = neck.split_at(forward)
    line = straight(rest.end, neck_strip.end)
    b_hole = back.armhole()
    y = back.centre.y - down
    b_rest, b_strip = b_hole.split_at(
        solve(lambda s: b_hole.point_at(s).y - y, 1.0, b_hole.length - 1.0)
    )
    move = (
        reflection(front.tip, front.neck)
        .then(rotation_deg(back.slope_deg - front.slope_deg, front.tip))
        .then(translation(back.tip - front.tip))
    )
    arm = b_strip.joined(strip.transformed(move).reversed().with_ends(start=b_strip.end))
    across = line.transformed(move)
    nape = back.neckline(0.75)
    collar = neck_strip.transformed(move).reversed().with_ends(end=nape.start).joined(nape)
    low = Vec(0.0, y)
    yoke = Piece(
        name="yoke",
        edges=(
            seam_edge("back seam", straight(low, b_rest.end), "yoke centre"),
            seam_edge("armhole", arm, "yoke back", single(b_strip.length, "shoulder tip")),
            seam_edge("front seam", across, "yoke front"),
            seam_edge("neck", collar, "yoke neck"),
            fold_edge("centre", straight(back.centre, low), "centre neck"),
        ),
        grain=grain(40.0, y + 15, back.centre.y - 15),
        cuts=(Cut(how="fold", count=2),),
    )  # fmt: skip
    return Yoked(
        front_hole=rest, front_line=line, front_neck=neck_rest, back_hole=b_rest,
        back_line=straight(b_rest.end, low), yoke=over(yoke),
    )  # fmt: skip


def collar(
    name: str, long: float, tip: Vec, high: float, cut: tuple[Cut, ...], *marks: tuple[float, str]
) -> Piece:
    """Return half a collar on the fold, `lower` sewn on and as long as asked for (mm).

    tip: its point, as seen from the end of `lower`. high: of the centre. marks: notches of `lower`.
    """

    def made(x: float) -> Path:
        return spline(((0.0, 8.0), (x * 0.5, 6.5), (x, 0.0)), 0.0, -6.0)

    lower = made(solve(lambda x: made(x).length - long, long * 0.8, long))
    point, top = lower.end + tip, Vec(0.0, 8.0 + high)
    outer = spline((point, (point.x * 0.5, top.y + 1.0), top), 189.0, 180.0)
    end = seam_edge("end", straight(lower.end, point), "front low")
    return noted(collar_piece(name, lower, end, outer, cut), "lower", *marks)


def collar_piece(name: str, lower: Path, end: Edge, upper: Path, cut: tuple[Cut, ...]) -> Piece:
    """Return a collar or a stand, on the fold at the centre back."""
    return Piece(
        name=name,
        edges=(
            seam_edge("lower", lower, "centre low"),
            end,
            seam_edge("upper", upper, "front point"),
            fold_edge("centre", straight(upper.end, lower.start), "centre high"),
        ),
        grain=grain(lower.end.x * 0.3, lower.start.y + 6, upper.end.y - 6),
        cuts=cut,
    )
