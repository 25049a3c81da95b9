"""Halves of an upper body in straight lines, as the worked examples have them; cm times ten."""

from __future__ import annotations

from dataclasses import replace

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.finding import Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Level, Mark, Notch, Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workroom.walking.checking import checked
from tests.garments.wardrobe import settings_of

CM = 10.0


def at(x: float, y: float) -> Vec:
    """A point given in cm."""
    return Vec(x * CM, y * CM)


PITCH, BUST = at(17, 29), at(9.5, 17)


def front_of(
    pitch: Vec = PITCH, side: tuple[Vec, ...] = (at(23, 0), at(24, 21)), dart: int = 0
) -> Piece:
    """Half a front in straight lines, no allowances: the worked example of a full bust.

    Its armhole turns a corner at the pitch, where a notch is. side: from the waist up; dart: the
    number of the corner of it at which a dart to the bust point begins, 0 for none.
    """
    armhole = (side[-1], pitch, at(19, 37))
    path = polyline(side)
    low = polyline(side[: dart + 1]).length if dart else 0.0
    darts = (Dart(name="bust", edge="side", a=low, b=0.0, point=BUST),) if dart else ()
    darts = tuple(replace(d, b=low + side[dart].distance(side[dart + 1])) for d in darts)
    return Piece(
        name="front",
        edges=(
            Edge(name="waist", path=polyline((at(0, 0), side[0])), corner="waist centre"),
            Edge(name="side", path=path, corner="waist side"),
            Edge(
                name="armhole",
                path=polyline(armhole),
                corner="underarm",
                notches=(Notch(at=armhole[0].distance(pitch), name="pitch"),),
            ),
            Edge(name="shoulder", path=polyline((armhole[2], at(7, 41))), corner="tip"),
            Edge(name="neck", path=polyline((at(7, 41), at(0, 33))), corner="neck point"),
            Edge(
                name="centre",
                path=polyline((at(0, 33), at(0, 0))),
                corner="neck centre",
                role=Role.CENTRE,
            ),
        ),
        darts=darts,
        grain=Grain(start=at(4, 5), end=at(4, 30)),
        levels=(Level(name="bust", at=at(0, 17)), Level(name="waist", at=at(0, 0.5))),
        marks=(Mark(name="bust point", at=BUST),),
        cuts=(Cut(how="pair"),),
    )


def example_front() -> Piece:
    """The worked example itself, its cut in the side marked by a notch "bust"."""
    piece = front_of()
    side = piece.edge("side")
    where = side.path.start.distance(at(23 + 13 / 21, 13))
    return piece.with_edge(replace(side, notches=(Notch(at=where, name="bust"),)))


def table_front(dart_deg: float = 0.0) -> Piece:
    """The front of the tables: hinge 6 across and 11 above the bust point, side 14 from it.

    dart_deg: the angle of a dart there, both legs 14 long.
    """
    pitch = BUST + at(6, 11)
    half = unit_at(-dart_deg / 2) * 14 * CM, unit_at(dart_deg / 2) * 14 * CM
    if not dart_deg:
        return front_of(pitch, (at(23.5, 0), BUST + half[0], at(23.5, 21)))
    return front_of(pitch, (at(23, 0), BUST + half[0], BUST + half[1], at(23.5, 21)), dart=1)


def alone(piece: Piece) -> Pattern:
    """A piece in a pattern of its own."""
    return Pattern(pieces=(piece,))


def told_anew(before: Pattern, after: Pattern, garment: str) -> list[str]:
    """What the walk says above a note of a changed garment and did not say of it before."""
    known = {(f.code, f.where) for f in checked(before, settings_of(garment))}
    return [
        say(f.words, Unit.cm)
        for f in checked(after, settings_of(garment))
        if f.severity is not Severity.NOTE and (f.code, f.where) not in known
    ]
