"""One piece as an SVG that any browser shows; `data-` attributes make the round trip exact.

Units are mm; SVG counts y downward, so y changes its sign and nothing else. Everything that is
read back stands in elements with a `data-` attribute of ours (docs/file-format.md); the cutting
line, arrow heads and words are drawn for the eye and made anew whenever the piece is written.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwright.drawing.style import GRAPHITE, INK, PENCIL, TISSUE
from clothwright.errors import ClothwrightError
from clothwright.geometry.path import Path
from clothwright.geometry.path_data import number_text, path_text, point_text
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_mouth
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Cut, Dart, Edge, Level, Mark, Notch, NotchKind, Piece, Role
from clothwright.pattern.whole import levels_at
from clothwright.picture.xml_words import escape, quoted

PIECE = "data-clothwright-piece"
FORMAT = "1"
MARGIN_MM = 20.0
NOTCH_MM = 4.0
"""How far a notch mark runs to either side of the stitching line."""
STYLE = f"""
.cut{{fill:{TISSUE};stroke:{INK};stroke-width:.7}}
.edge{{fill:none;stroke:{GRAPHITE};stroke-width:.5;stroke-dasharray:4 2}}
.fold{{stroke-dasharray:12 2 2 2;stroke-width:.8}}
.hem{{stroke-dasharray:8 2.5}}
.dart,.grain,.mark{{fill:none;stroke:{GRAPHITE};stroke-width:.5}}
.notch{{fill:none;stroke:{INK};stroke-width:.7}}
.level{{fill:none;stroke:{PENCIL};stroke-width:.3}}
.head{{fill:{GRAPHITE}}}
text{{font-family:sans-serif;font-size:5px;fill:{GRAPHITE};text-anchor:middle}}
.title{{font-size:10px;font-weight:bold;fill:{INK}}}
"""
HOW = {"once": "cut {n}", "pair": "cut {n} pair", "fold": "cut {n} on the fold"}


def piece_to_svg(piece: Piece) -> str:
    """Return the piece as SVG text (mm, true size)."""
    cut = _cutting_line(piece)
    low, high = (cut or piece.outline).bounds().grown(MARGIN_MM)
    x0, y0 = math.floor(low.x), math.floor(-high.y)
    wide, tall = math.ceil(high.x) - x0, math.ceil(-low.y) - y0
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{tall}mm"'
        f' viewBox="{x0} {y0} {wide} {tall}" {PIECE}={quoted(piece.name)}'
        f' data-format="{FORMAT}">',
        f"<title>{escape(piece.name)}</title>",
        *([f'<desc data-note="note">{escape(piece.note)}</desc>'] if piece.note else []),
        f"<style>{STYLE}</style>",
        *([f'<path class="cut" d="{path_text(cut)} Z"/>'] if cut else []),
        *(_level(piece, level) for level in piece.levels),
        *(line for e in piece.edges for line in _edge(e)),
        *(_dart(piece, d) for d in piece.darts),
        *_grain(piece),
        *(_mark(m) for m in piece.marks),
        *(_cut(c) for c in piece.cuts),
        *_words(piece),
        "</svg>",
        "",
    ]
    return "\n".join(lines)


def _cutting_line(piece: Piece) -> Path | None:
    """The cutting line, or None when this piece's allowances leave none: it is just for the eye."""
    try:
        return cutting_line(piece).outline
    except (ClothwrightError, ValueError):
        return None


def _edge(edge: Edge) -> Iterator[str]:
    kind = {Role.FOLD: "edge fold", Role.HEM: "edge hem"}.get(edge.role, "edge")
    corner = f" data-corner={quoted(edge.corner)}" if edge.corner else ""
    yield (
        f'<path class="{kind}" data-edge={quoted(edge.name)} data-role="{edge.role.value}"'
        f' data-allowance="{number_text(float(edge.allowance))}" data-join="{edge.join.value}"'
        f'{corner} d="{path_text(edge.path)}"/>'
    )
    for notch in edge.notches:
        name = f" data-name={quoted(notch.name)}" if notch.name else ""
        yield (
            f'<path class="notch" data-notch={quoted(edge.name)}'
            f' data-at="{number_text(float(notch.at))}" data-kind="{notch.kind.value}"{name}'
            f' d="{_notch_line(edge, notch)}"/>'
        )


def _notch_line(edge: Edge, notch: Notch) -> str:
    at, along = edge.path.point_at(notch.at), edge.path.tangent_at(notch.at)
    across = along.perp * NOTCH_MM
    shifts = (-1.5, 1.5) if notch.kind is NotchKind.DOUBLE else (0.0,)
    return " ".join(
        f"M {_near(at + along * s - across)} L {_near(at + along * s + across)}" for s in shifts
    )


def _near(p: Vec) -> str:
    return f"{p.x + 0.0:.3f} {-p.y + 0.0:.3f}"


def _dart(piece: Piece, dart: Dart) -> str:
    a, b = dart_mouth(piece, dart)
    return (
        f'<path class="dart" data-dart={quoted(dart.name)} data-on={quoted(dart.edge)}'
        f' data-a="{number_text(float(dart.a))}" data-b="{number_text(float(dart.b))}"'
        f" data-pressed={quoted(dart.pressed)}"
        f' d="M {_near(a)} L {point_text(dart.point)} L {_near(b)}"/>'
    )


def _grain(piece: Piece) -> Iterator[str]:
    if piece.grain is None:
        return
    start, end, u = piece.grain.start, piece.grain.end, piece.grain.direction
    (x1, y1), (x2, y2) = point_text(start).split(), point_text(end).split()
    yield f'<line class="grain" data-grain="up" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'
    left, right = end - u * 6 + u.perp * 2, end - u * 6 - u.perp * 2
    yield f'<path class="head" d="M {_near(end)} L {_near(left)} L {_near(right)} Z"/>'


def _level(piece: Piece, level: Level) -> str:
    """A level line: the path starts at the very point the level goes through."""
    line = levels_at(piece, level)
    ends = (level.at,) if line is None else (line.start, line.end)
    drawn = " ".join(f"L {_near(p)}" for p in ends)
    name = quoted(level.name)
    return f'<path class="level" data-level={name} d="M {point_text(level.at)} {drawn}"/>'


def _mark(mark: Mark) -> str:
    words = f" data-words={quoted(mark.note)}" if mark.note else ""
    attributes = f"data-mark={quoted(mark.name)}{words}"
    path = mark.path and f'<path class="mark" {{}}d="{path_text(mark.path)}"/>'
    circle = ""
    if mark.at is not None:
        cx, cy = point_text(mark.at).split()
        circle = f'<circle class="mark" {{}}r="3" cx="{cx}" cy="{cy}"/>'
    if bool(path) is not bool(circle):
        return (path or circle).format(attributes + " ")
    return f"<g {attributes}>{circle.format('')}{(path or '').format('')}</g>"


def _cut(cut: Cut) -> str:
    how = quoted(cut.how)
    return f'<g data-cut={quoted(cut.material)} data-how={how} data-count="{cut.count}"/>'


def _words(piece: Piece) -> Iterator[str]:
    """The names of piece, edges, levels and marks, and how to cut: for the eye."""
    for edge in piece.edges:
        half = edge.length / 2
        along = edge.path.tangent_at(half)
        words = f"{edge.name} (fold)" if edge.role is Role.FOLD else edge.name
        turn_deg = _readable_deg(along.angle_deg)
        away = 2.0 if abs(turn_deg - along.angle_deg) < 1 else 6.0  # from the letters' foot
        yield _text(edge.path.point_at(half) + along.perp * away, words, turn_deg=turn_deg)
    for level in piece.levels:
        line = levels_at(piece, level)
        end = level.at if line is None else line.end.lerp(line.start, 0.08)
        yield _text(end + Vec(0.0, 1.5), level.name)
    for mark in piece.marks:
        if mark.at is not None:
            yield _text(mark.at + Vec(0.0, 5.0), mark.note or mark.name)
    middle = piece.outline.bounds().middle
    yield _text(middle, piece.name, "title")
    for k, cut in enumerate(piece.cuts, start=1):
        words = HOW.get(cut.how, "cut {n}").format(n=cut.count)
        yield _text(middle - Vec(0.0, 2.0 + 7.0 * k), f"{cut.material}: {words}")


def _readable_deg(angle_deg: float) -> float:
    """The direction of writing along a line, never upside down."""
    if angle_deg > 90:
        return angle_deg - 180
    return angle_deg + 180 if angle_deg <= -90 else angle_deg


def _text(at: Vec, words: str, kind: str = "", turn_deg: float = 0.0) -> str:
    (x, y), style = _near(at).split(), f' class="{kind}"' if kind else ""
    turn = f' transform="rotate({-turn_deg:.1f} {x} {y})"' if turn_deg else ""
    return f'<text{style} x="{x}" y="{y}"{turn}>{escape(words)}</text>'
