"""The shoulder of a facing: it turns about the neck point as the garment's does. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.hinge import swing
from clothwright.changes.redraw import Redrawn, kept, redrawn, swung_edge
from clothwright.changes.upper import STEEP, armhole_names, laid_along, upper_of
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role


@dataclass(frozen=True, slots=True, kw_only=True)
class FacingShoulder:
    """A facing, its edge at the neck and its shoulder, and how long the garment's shoulder is."""

    piece: Piece
    neck: Edge
    shoulder: Edge
    long: float

    @property
    def from_neck(self) -> bool:
        """Tell whether the shoulder is drawn from the neck point on."""
        return self.piece.neighbours(self.shoulder.name)[0].name == self.neck.name

    @property
    def pivot(self) -> Vec:
        """The neck point."""
        path = self.shoulder.path
        return path.start if self.from_neck else path.end

    @property
    def arm(self) -> Vec:
        """The way from the neck point to where the garment's shoulder has its tip."""
        path = self.shoulder.path
        return ((path.end if self.from_neck else path.start) - self.pivot).unit * self.long

    def turned(self, now: Vec) -> Piece:
        """Return the facing with its shoulder turned to another arm; its inner edge follows."""
        turn = swing(self.pivot, self.arm, now)
        before, after = self.piece.neighbours(self.shoulder.name)
        path = self.shoulder.path.transformed(turn)
        new = {self.shoulder.name: Redrawn(path, kept)}
        if self.from_neck:
            new[after.name] = swung_edge(self.piece, after.name, start=path.end)
        else:
            new[before.name] = swung_edge(self.piece, before.name, end=path.start)
        return redrawn(self.piece, new).piece


def facing_shoulder(pattern: Pattern, piece: Piece) -> FacingShoulder:
    """Return the shoulder of a facing, beside the edge that lies along a neck. CannotDo."""
    for _, of in laid_along(pattern, piece.name):
        there = pattern.piece(of.piece)
        if of.edge and len(armhole_names(pattern, there)) == 1:
            upper = upper_of(pattern, there)
            if upper.neck.name == of.edge_of:
                beside = _beside(pattern, piece, of.edge, of.piece)
                long = upper.tip.distance(upper.neck_point)
                if beside is not None:
                    neck = piece.edge(of.edge)
                    return FacingShoulder(piece=piece, neck=neck, shoulder=beside, long=long)
    raise CannotDo(
        what=f'the shoulder of "{piece.name}" cannot be turned',
        why="which of its edges is the shoulder is not known",
        nearest="a facing that is said to lie along the neck of a front or a back",
    )


def _beside(pattern: Pattern, piece: Piece, neck: str, there: str) -> Edge | None:
    """Return the edge beside a facing's neck that is not sewn to the garment, nor its centre."""
    for edge in piece.neighbours(neck):
        way = edge.path.end - edge.path.start
        steep = abs(piece.up.dot(way)) > STEEP * abs(piece.up.cross(way))
        sewn = {r.piece for s in pattern.seams_of(piece.name, edge.name) for r in s.refs}
        if edge.role is not Role.FOLD and not steep and there not in sewn:
            return edge
    return None
