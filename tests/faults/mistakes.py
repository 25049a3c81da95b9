"""Forty mistakes that somebody makes who alters paper pieces, on our eight garments that are right.

Each is done with scissors, pencil and tape (`paper`), not by a change of the program. What is to
be named: a seam whose two sides no longer go together, or the edge or the dart that was spoilt.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from clothwright.checks import CheckSettings
from clothwright.demo.curves import straight
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import NotchKind, Piece
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from clothwright.workbook import change_of
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.tried import tried_mending
from tests.faults.paper import cornered, darted, hollowed, lengthened, let_out, notched, redrawn
from tests.garments.wardrobe import GARMENTS, settings_of

Do = Callable[[Pattern], Pattern]


class Mistake(NamedTuple):
    """What was done to which garment, and the places any of which is the right one to be told.

    at: names of seams, of edges as "PIECE.EDGE", of a companion that was forgotten.
    """

    garment: str
    did: str
    do: Do
    at: tuple[str, ...]


def on(name: str, spoil: Callable[..., Piece], *args: object, **more: object) -> Do:
    """Spoil one piece."""
    return lambda p: p.with_piece(spoil(p.piece(name), *args, **more))


def both(*steps: Do) -> Do:
    """Do one thing after the other."""

    def do(pattern: Pattern) -> Pattern:
        for step in steps:
            pattern = step(pattern)
        return pattern

    return do


def allowance(piece: Piece, edge: str, mm: float) -> Piece:
    """Return the piece with another allowance on one edge."""
    return piece.with_edge(replace(piece.edge(edge), allowance=mm))


def swapped(piece: Piece, *edges: str) -> Piece:
    """Return the piece with single notches double and the other way round on some edges."""
    other = {NotchKind.SINGLE: NotchKind.DOUBLE, NotchKind.DOUBLE: NotchKind.SINGLE}
    for name in edges:
        edge = piece.edge(name)
        notches = tuple(replace(n, kind=other[n.kind]) for n in edge.notches)
        piece = piece.with_edge(replace(edge, notches=notches))
    return piece


def ruled(piece: Piece, edge: str, dart: str) -> Piece:
    """Return the piece with an edge ruled straight over a dart, which is left out."""
    line = piece.edge(edge).path
    piece = replace(piece, darts=tuple(d for d in piece.darts if d.name != dart))
    return redrawn(piece, **{edge.replace(" ", "_"): straight(line.start, line.end)})


def traced(of: str, name: str) -> Do:
    """Cut a piece from another one's paper."""

    def do(p: Pattern) -> Pattern:
        return p.with_piece(replace(p.piece(of), name=name, cuts=p.piece(name).cuts))

    return do


MISTAKES: tuple[Mistake, ...] = (
    Mistake("princess", "side front made 15 mm longer above the waist, the panels beside it not",
            on("side front", lengthened, 100.0, 15.0), ("front panel seam", "side")),
    Mistake("princess", "neck of the front cut 12 mm lower, its facing forgotten",
            on("centre front", cornered, "centre", 0.0, -12.0), ("front neck facing",)),
    Mistake("princess", "curve over the bust shaved off the side front by 6 mm",
            on("side front", hollowed, "panel seam", 6.0), ("front panel seam",)),
    Mistake("princess", "cap of the sleeve cut 12 mm flatter",
            on("sleeve", hollowed, "cap", 12.0), ("armhole",)),
    Mistake("princess", "side back let out by 8 mm down the whole side, the sleeve left as it was",
            on("side back", let_out, "side", 8.0), ("armhole",)),
    Mistake("trousers", "fork of the back drawn out by 15 mm",
            on("back", cornered, "crotch", 15.0, 0.0), ("inseam",)),
    Mistake("trousers", "back taken in by 15 mm at the centre of the waist, the band forgotten",
            on("back", cornered, "waist", -15.0, 0.0), ("waist",)),
    Mistake("trousers", "legs folded shorter: the front by 30 mm, the back by 25",
            both(on("front", lengthened, -700.0, -30.0), on("back", lengthened, -700.0, -25.0)),
            ("side", "inseam")),
    Mistake("trousers", "dart of the front made wider by 8 mm on one leg only",
            on("front", darted, "front dart", b=8.0), ("front.waist", "waist")),
    Mistake("trousers", "hem of the back left 25 mm deep, the front's 38",
            on("back", allowance, "hem", 25.0), ("back.hem", "front.hem", "side", "inseam")),
    Mistake("blouse", "front made fuller by 40 mm at the fold",
            on("front", let_out, "centre", 40.0), ("front yoke", "neck")),
    Mistake("blouse", "yoke cut 10 mm further forward, the front not shortened",
            on("yoke", let_out, "front seam", 10.0), ("front yoke", "armhole", "neck")),
    Mistake("blouse", "cuff made 20 mm longer for a stout arm, the sleeve not",
            on("cuff", let_out, "end", 20.0), ("cuff",)),
    Mistake("blouse", "sleeve made wider by 15 mm under the back of the arm only",
            on("sleeve", cornered, "cap", 15.0, 0.0), ("sleeve seam", "armhole")),
    Mistake("blouse", "binding of the neck cut 20 mm short",
            on("neck binding", let_out, "end", -20.0), ("neck",)),
    Mistake("raglan", "raglan line of the front hollowed by 10 mm",
            on("front", hollowed, "raglan", 10.0), ("front raglan",)),
    Mistake("raglan", "notches of the sleeve traced the wrong way round, double in front",
            on("sleeve", swapped, "front raglan", "back raglan"),
            ("front raglan", "back raglan")),
    Mistake("raglan", "back seam of the sleeve cut 15 mm shorter at the wrist",
            on("sleeve", cornered, "back seam", 0.0, 15.0), ("side and sleeve", "cuff")),
    Mistake("raglan", "point of the shoulder dart moved 15 mm to the back",
            on("sleeve", darted, "shoulder dart", point=Vec(15.0, 0.0)), ("sleeve.neck",)),
    Mistake("raglan", "underarm of the front cut 20 mm lower, back and sleeve not",
            on("front", cornered, "raglan", 0.0, -20.0), ("front raglan", "side and sleeve")),
    Mistake("shirt", "collar stand shortened by 10 mm at the centre back",
            on("collar stand", let_out, "centre", -10.0), ("neck", "collar")),
    Mistake("shirt", "collar drawn 8 mm longer at its lower front corner",
            on("collar", cornered, "lower", -8.0, 0.0), ("collar",)),
    Mistake("shirt", "pleat of the back folded away, the yoke seam still asking for it",
            on("back", let_out, "centre", -30.0), ("back yoke",)),
    Mistake("shirt", "cuff cut with 8 mm of allowance, the sleeve with 16",
            on("cuff", allowance, "lower", 8.0), ("cuff",)),
    Mistake("shirt", "tail of the front raised by 15 mm at the side, the back not",
            on("front", cornered, "side", 0.0, 15.0), ("side",)),
    Mistake("knit top", "neck band cut as long as the neck, with nothing left to stretch",
            on("neck band", let_out, "end", 33.0), ("neck band",)),
    Mistake("knit top", "armholes cut 15 mm lower, the sleeve left as it was",
            both(on("front", cornered, "armhole", 0.0, -15.0),
                 on("back", cornered, "side", 0.0, -15.0)), ("armhole",)),
    Mistake("knit top", "shoulder of the back sloped by 12 mm more, the front's not",
            on("back", cornered, "armhole", 0.0, -12.0), ("shoulder", "armhole")),
    Mistake("knit top", "sleeve taken in by 10 mm at the front of the biceps only",
            on("sleeve", cornered, "front seam", 10.0, 0.0), ("sleeve seam", "armhole")),
    Mistake("knit top", "waist notch of the front 15 mm too high at the side",
            on("front", notched, "side", "waist", 15.0), ("side",)),
    Mistake("lined coat", "back neck cut 8 mm lower, the collar forgotten",
            on("coat back", cornered, "neck", 0.0, -8.0), ("under collar",)),
    Mistake("lined coat", "upper collar cut from the paper of the under collar",
            traced("under collar", "upper collar"), ("collar edge",)),
    Mistake("lined coat", "elbow dart of the sleeve left out, its seam ruled straight",
            on("coat sleeve", ruled, "back seam", "elbow dart"), ("coat sleeve seam",)),
    Mistake("lined coat", "front facing folded shorter by 15 mm below the waist",
            on("front facing", lengthened, -300.0, -15.0),
            ("front facing", "lining to front facing")),
    Mistake("lined coat", "bust dart of the lining made narrower by 10 mm on one leg",
            on("lining front", darted, "bust dart", b=-10.0), ("lining front.side", "lining side")),
    Mistake("lined coat", "front taken in by 12 mm down the side, sleeve and lining forgotten",
            on("coat front", let_out, "side", -12.0),
            ("coat armhole", "coat side", "lining front")),
    Mistake("wrap dress", "neck edge of the fronts hollowed by 15 mm",
            on("bodice front", hollowed, "neck", 15.0), ("neck",)),
    Mistake("wrap dress", "waist dart of the back made 8 mm narrower, the skirt's left as it was",
            on("bodice back", darted, "back waist dart", a=4.0, b=-4.0),
            ("waist", "bodice back.waist")),
    Mistake("wrap dress", "skirt back made 25 mm longer below the hip, the front not",
            on("skirt back", lengthened, -400.0, 25.0), ("skirt side",)),
    Mistake("wrap dress", "bust dart stitched 45 mm further, past the bust point",
            on("bodice front", darted, "bust dart", point=Vec(-45.0, 5.0)),
            ("bodice front.side",)),
)  # fmt: skip


FAULT = Severity.FAULT


class Told(NamedTuple):
    """What the checks say of a mistake.

    right: findings at a right place. other: the rest. mending: the first mend that is offered at a
    right place. left: what is found after it. harm: what is found that was not and is a fault or is
    not said with the mend, or is the one that it was to mend.
    """

    right: tuple[Finding, ...]
    other: tuple[Finding, ...]
    mending: Mending | None
    left: tuple[Finding, ...]
    harm: tuple[str, ...]


@cache
def told(mistake: Mistake) -> Told:
    """Make a mistake, run every check, do the first mend that is offered at a right place."""
    settings = settings_of(mistake.garment)
    clean = _clean(mistake.garment)
    spoilt = mistake.do(GARMENTS[mistake.garment]())
    found = tuple(f for f in _found(spoilt, settings) if _key(f) not in clean)
    right = tuple(f for f in found if _places(f) & set(mistake.at))
    other = tuple(f for f in found if f not in right)
    mending, harm = None, set(map(_key, found))
    for f in right:
        tried = tried_mending(f, spoilt, settings, Unit.cm)
        if tried is not None and not tried.trouble:
            mending, harm = tried, {_key(f)}
            break
    after = _found(_done(mending, spoilt), settings) if mending else ()
    then = tuple(f for f in after if _key(f) not in clean)
    known = set(map(_key, found))
    new = [f for f in then if _key(f) in harm or _key(f) not in known]
    said = mending.after.lower() if mending else ""
    words = [(f.severity, say(f.words, Unit.cm)) for f in new]
    bad = tuple(text for weight, text in words if weight is FAULT or text.lower() not in said)
    return Told(right=right, other=other, mending=mending, left=then, harm=bad)


@cache
def _clean(garment: str) -> set[tuple[str, Where]]:
    return set(map(_key, _found(GARMENTS[garment](), settings_of(garment))))


def _done(mending: Mending, pattern: Pattern) -> Pattern:
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    return change.apply(pattern, params).pattern


def _found(pattern: Pattern, settings: CheckSettings) -> tuple[Finding, ...]:
    return tuple(f for f in checked(pattern, settings) if f.severity is not Severity.NOTE)


def _key(finding: Finding) -> tuple[str, Where]:
    return finding.code, finding.where


def _places(finding: Finding) -> set[str]:
    w = finding.where
    return {w.seam, w.piece, f"{w.piece}.{w.edge}"}
