"""What all our drafts share: pieces turned out with one call, edges with their usual allowances."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.demo.body import SEAM
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Seam
from clothwright.pattern.piece import (
    Cut,
    Edge,
    Grain,
    Join,
    Level,
    Notch,
    NotchKind,
    Piece,
    Role,
)
from clothwright.pattern.refs import parse_edge


def seam_edge(
    name: str,
    path: Path,
    corner: str,
    *notches: Notch,
    join: Join = Join.EXTENDED,
    allowance: float = SEAM,
) -> Edge:
    """Return an edge that is sewn to another. Allowance and places in mm."""
    return Edge(
        name=name, path=path, corner=corner, notches=notches, join=join, allowance=allowance
    )


def hem_edge(path: Path, corner: str, depth: float, *, join: Join = Join.FOLDED) -> Edge:
    """Return a hem of a depth (mm), its allowance; its first corner folds back with the side."""
    return Edge(name="hem", path=path, role=Role.HEM, corner=corner, allowance=depth, join=join)


def fold_edge(name: str, path: Path, corner: str) -> Edge:
    """Return an edge on the fold: no allowance."""
    return Edge(name=name, path=path, role=Role.FOLD, corner=corner)


def single(at: float, name: str) -> Notch:
    """Return a single notch (front, or a plain match mark), mm along its edge."""
    return Notch(at=at, name=name)


def double(at: float, name: str) -> Notch:
    """Return a double notch (back), mm along its edge."""
    return Notch(at=at, kind=NotchKind.DOUBLE, name=name)


def grain(x: float, low: float, high: float) -> Grain:
    """Return a grain line up the piece (mm)."""
    return Grain(start=Vec(x, low), end=Vec(x, high))


def levels(**at: tuple[float, float]) -> tuple[Level, ...]:
    """Return level lines by name, each through a point."""
    return tuple(Level(name=name, at=Vec(*p)) for name, p in at.items())


def cuts(how: str, *materials: str) -> tuple[Cut, ...]:
    """Return the same cut from several materials."""
    return tuple(Cut(material=m, how=how) for m in materials)


def seam(
    name: str,
    a: str | Sequence[str],
    b: str | Sequence[str],
    *,
    kind: str = "plain",
    ease: float = 0.0,
    ease_from: str = "",
    ease_to: str = "",
) -> Seam:
    """Return a seam from texts such as "coat back.side reversed"; ease in mm."""

    def refs(side: str | Sequence[str]) -> tuple[str, ...]:
        return (side,) if isinstance(side, str) else tuple(side)

    return Seam(
        name=name,
        a=tuple(parse_edge(t) for t in refs(a)),
        b=tuple(parse_edge(t) for t in refs(b)),
        kind=kind,
        ease=ease,
        ease_from=ease_from,
        ease_to=ease_to,
    )


def renamed(piece: Piece, name: str, cut: tuple[Cut, ...]) -> Piece:
    """Return a piece under another name, cut from other cloth."""
    return replace(piece, name=name, cuts=cut, note="")
