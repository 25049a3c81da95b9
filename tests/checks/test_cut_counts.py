"""As many are cut as are sewn: bands, cuffs, yokes and opened pieces are no faults."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.set_cut import SetCut
from clothwright.changes.set_cut import apply as set_cut
from clothwright.checks import DEFAULTS, run_checks
from clothwright.checks.cut_counts import cut_counts
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Notch, NotchKind, Piece, Role
from clothwright.pattern.whole import unfolded
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workroom.walking.tried import tried_mending
from tests.checks.specimens import outfit, seam
from tests.garments.wardrobe import GARMENTS, settings_of


def cuff(*cuts: Cut) -> Piece:
    at = ((0, 0), (270, 0), (270, 60), (0, 60), (0, 0))
    names = ("outer", "right end", "upper", "left end")
    edges = [
        Edge(name=n, path=polyline((p, q))) for n, p, q in zip(names, at, at[1:], strict=False)
    ]
    return Piece(
        name="cuff", edges=tuple(edges), grain=Grain(start=Vec(20, 30), end=Vec(90, 30)), cuts=cuts
    )


def cuffed(piece: Piece) -> Pattern:
    p = outfit()
    to_sleeve = seam("cuff", "sleeve.hem", "cuff.upper reversed")
    return Pattern(pieces=(*p.pieces, piece), seams=(*p.seams, to_sleeve))


def codes(p: Pattern) -> list[str]:
    return [f.code for f in cut_counts(p, DEFAULTS)]


@pytest.mark.parametrize(
    ("cuts", "found"),
    [
        ((Cut(how="pair"),), []),
        ((Cut(how="pair", count=2),), []),
        ((Cut(count=2),), []),
        ((Cut(count=4),), []),
        ((Cut(count=1),), ["cut-counts-differ"]),
        ((Cut(count=3),), ["cut-twice-alike"]),
        ((Cut(material="interfacing", count=1), Cut(how="pair")), []),
        ((), []),
    ],
)
def test_a_cuff_that_is_its_own_mirror_image(cuts: tuple[Cut, ...], found: list[str]) -> None:
    """Two or four alike serve both wrists, single or double; one or three do not."""
    assert codes(cuffed(cuff(*cuts))) == found


def test_a_notch_at_one_end_makes_a_cuff_left_or_right() -> None:
    """Then two cut the same way up are two lefts."""
    plain = cuff(Cut(count=2))
    notched = plain.with_edge(
        replace(plain.edge("upper"), notches=(Notch(at=40.0, kind=NotchKind.DOUBLE),))
    )
    assert codes(cuffed(notched)) == ["cut-twice-alike"]


def test_an_opened_piece_counts_for_both_sides() -> None:
    """Opened out, a front is cut once and has both its sides, though seams are named for one."""
    p = outfit()
    assert codes(p.with_piece(unfolded(p.piece("front")))) == []


def test_one_band_along_both_halves_of_a_skirt() -> None:
    """A whole band is sewn to the front's left half by one seam and to its right by another."""
    p = outfit()
    band = unfolded(p.piece("waistband"))
    lower = next(e.name for e in band.edges if e.length > 700 and "lower" in e.name)
    waist = "skirt front.waist reversed, skirt back.waist reversed"
    whole = seam("waist", f"{waist}, skirt back.waist, skirt front.waist", f"waistband.{lower}")
    assert codes(p.with_piece(band).with_seam(whole)) == []


def test_a_back_cut_once_against_a_pair_of_fronts() -> None:
    """One of a piece that has no second half cannot be sewn to a left and a right one."""
    p = outfit()
    skirt = p.piece("skirt back")
    edges = tuple(replace(e, role=Role.SEAM) if e.name == "centre" else e for e in skirt.edges)
    once = replace(skirt, edges=edges, cuts=(Cut(),))
    assert set(codes(p.with_piece(once))) == {"cut-counts-differ"}


@pytest.mark.parametrize(("layers", "told"), [(1, True), (2, False)])
@pytest.mark.parametrize("name", ["collar", "collar stand"])
def test_a_collar_is_made_of_two_layers(name: str, layers: int, told: bool) -> None:
    """The shirt's, cut once on the fold, has nothing to turn its outer edge against."""
    pattern = GARMENTS["shirt"]()
    piece = pattern.piece(name)
    first, *rest = piece.cuts
    cut = replace(piece, cuts=(replace(first, count=layers), *rest))
    assert ("cut-in-one-layer" in codes(pattern.with_piece(cut))) is told


@pytest.mark.parametrize(
    ("cut", "told"), [(Cut(how="once"), True), (Cut(how="pair"), False), (Cut(count=2), False)]
)
def test_a_pocket_for_each_front_it_is_marked_on(cut: Cut, told: bool) -> None:
    """The coat's fronts are a left and a right one, each with the pocket's place."""
    pattern = GARMENTS["lined coat"]()
    pocket = replace(pattern.piece("pocket"), cuts=(cut,))
    assert codes(pattern.with_piece(pocket)) == (["patches-too-few"] if told else [])


def test_an_upper_and_an_under_collar_are_two_layers() -> None:
    """Drawn as two pieces, each is cut once; the under one's neck edge lies inside."""
    pattern = GARMENTS["shirt"]()
    upper = pattern.piece("collar")
    one = replace(upper, cuts=(Cut(how="fold"),))
    under = replace(one, name="under collar")
    edges = (e.name for e in one.edges if e.name in ("upper", "end"))
    sewn = (seam(f"collar {e}", f"collar.{e}", f"under collar.{e}") for e in edges)
    both = replace(pattern.with_piece(one), pieces=(*pattern.with_piece(one).pieces, under))
    assert "cut-in-one-layer" in codes(both)
    assert codes(replace(both, seams=(*both.seams, *sewn))) == []


@pytest.mark.parametrize(
    ("name", "cut"),
    [
        ("sleeve", Cut()),  # one sleeve
        ("sleeve", Cut(count=2)),  # two left sleeves
        ("cuff", Cut(how="fold")),  # drawn whole
        ("yoke", Cut(how="pair")),  # half of it drawn
    ],
)
def test_what_is_cut_wrongly_is_cut_as_it_was(name: str, cut: Cut) -> None:
    """One thing done wrongly, and what is offered first for it puts that back."""
    right = GARMENTS["shirt"]()
    piece = right.piece(name)
    wrong = right.with_piece(replace(piece, cuts=tuple(cut for _ in piece.cuts)))
    settings = settings_of("shirt")
    codes = {f.code for f in run_checks(right, settings)}
    f = next(f for f in run_checks(wrong, settings) if f.code not in codes)
    mending = tried_mending(f, wrong, settings, Unit.cm)
    assert mending is not None
    assert (mending.change, mending.trouble) == ("set-cut", "")
    params = read_params(SetCut, mending.params, unit=Unit.cm, where="mend")
    done = set_cut(wrong, params).pattern.piece(name)
    assert [c.how for c in done.cuts] == [c.how for c in piece.cuts]
