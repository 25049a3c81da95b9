"""One piece in hand: its handles, its edges and its seams in words, and what a pull would do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.checks.check import CheckSettings
from clothwright.drawing.named import named_picture
from clothwright.geometry.path import join_all
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.walk import run_name, walk_seam
from clothwright.picture.paths import path_data
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import say, show_difference, show_length
from clothwright.workbook import Replay, Workbook, check_settings
from clothwright.workroom.changing.pulling import Pull, SeamNow, pulled, pulls_of, seam_now

KNOB_SHARE = 0.012
"""Radius of a handle's knob, as a share of the piece's longer side."""
NAME_AT = 0.3
"""Where along an edge its name stands, clear of the handle at its middle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeHeld:
    """An edge to be pressed. words: its length, allowance and partner; line: as SVG draws it."""

    name: str
    role: str
    length: str
    allowance: str
    words: str
    line: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamPulled:
    """How a seam of the piece stands, before a pull and with it; kind: "good", "notice", "bad"."""

    name: str
    before: str
    now: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A piece to be pulled. outline: its stitching line as SVG draws it. size: its longer side, mm.

    knob: radius of a handle, mm.
    """

    name: str
    picture: Picture
    outline: str
    size: float
    knob: float
    handles: tuple[Pull, ...]
    edges: tuple[EdgeHeld, ...]
    seams: tuple[SeamPulled, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WouldBe:
    """What a pull would do. shown: how far; outline: the piece then; kind, params: the change."""

    words: str
    shown: str
    outline: str
    seams: tuple[SeamPulled, ...]
    kind: str
    params: Mapping[str, object]


def held(book: Workbook, done: Replay, name: str) -> Held:
    """Return a piece as changed with its handles, in the workbook's unit. Raises BadInput.

    done: the changes as applied.
    """
    pattern, unit, settings = done.pattern, book.unit, check_settings(book)
    piece = pattern.piece(name)
    low, high = piece.outline.bounds()
    size = max(high.x - low.x, high.y - low.y)
    seams = [s for s in pattern.seams if name in s.pieces]
    standing = [(s, walk_seam(pattern, s).off) for s in seams]
    return Held(
        name=name,
        picture=named_picture(piece, levels=True, share=NAME_AT),
        outline=_outline(piece),
        size=size,
        knob=size * KNOB_SHARE,
        handles=pulls_of(piece),
        edges=tuple(_edge(pattern, piece, e, unit) for e in piece.edges),
        seams=tuple(_line(seam_now(s, off, off), settings, unit) for s, off in standing),
    )


def would_be(book: Workbook, done: Replay, piece: str, key: str, mm: float) -> WouldBe:
    """Return what pulling a handle by `mm` would do; nothing is saved. Raises BadInput, CannotDo.

    done: the changes as applied. key: the handle, of `Held.handles`.
    """
    unit, settings = book.unit, check_settings(book)
    made = pulled(done.pattern, piece, key, mm, unit)
    return WouldBe(
        words=say(made.said, unit),
        shown=show_length(mm, unit),
        outline=_outline(made.piece),
        seams=tuple(_line(s, settings, unit) for s in made.seams),
        kind=made.kind,
        params=made.params,
    )


def _outline(piece: Piece) -> str:
    return path_data(join_all([e.path for e in piece.edges]), closed=True)


def _edge(pattern: Pattern, piece: Piece, edge: Edge, unit: Unit) -> EdgeHeld:
    length, allowance = show_length(edge.length, unit), show_length(edge.allowance, unit)
    sewn = [_partner(pattern, s, piece.name, edge.name, unit) for s in pattern.seams]
    words = f"{edge.name}, {edge.role.value}, {length} sewn, allowance {allowance}"
    return EdgeHeld(
        name=edge.name,
        role=edge.role.value,
        length=length,
        allowance=allowance,
        words="; ".join((words, *(w for w in sewn if w))),
        line=path_data(edge.path),
    )


def _partner(pattern: Pattern, seam: Seam, piece: str, edge: str, unit: Unit) -> str:
    """Say what a seam sews an edge to; "" when the edge is not in it."""
    mine = any((r.piece, r.edge) == (piece, edge) for r in seam.a)
    if not mine and not any((r.piece, r.edge) == (piece, edge) for r in seam.b):
        return ""
    walk = walk_seam(pattern, seam)
    length = walk.b.length if mine else walk.a.length
    other = run_name(seam.b if mine else seam.a)
    return f"sewn to {other} in {seam.name}, which is {show_length(length, unit)}"


def _line(seam: SeamNow, settings: CheckSettings, unit: Unit) -> SeamPulled:
    def words(off: float) -> str:
        if abs(off) <= settings.agree:
            return "agrees"
        return f"{seam.b if off > 0 else seam.a} is {show_difference(abs(off), unit)} longer"

    off = abs(seam.now)
    kind = "good" if off <= settings.agree else "notice" if off <= settings.notice else "bad"
    return SeamPulled(name=seam.name, before=words(seam.before), now=words(seam.now), kind=kind)
