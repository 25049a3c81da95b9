"""Unfolding half pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.unfold import Unfold, apply
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Piece, signed_area
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.shirt import shirt
from tests.garments.wardrobe import GARMENTS, settings_of
from tests.specimens import bodice, edge, line, seam, skirt


def test_area_and_hem_double_and_the_fold_goes() -> None:
    """Twice the area, hem and neck of twice the length, no fold, cut once."""
    old = bodice().piece("front")
    new = apply(bodice(), Unfold(pieces=("front",))).pattern.piece("front")
    assert signed_area(new) == pytest.approx(2 * signed_area(old), rel=1e-6)
    for name in ("hem", "neck"):
        assert new.edge(name).length == pytest.approx(2 * old.edge(name).length, abs=1e-6)
    assert new.fold is None
    assert new.cuts == (Cut(how="once"),)
    assert {d.name for d in new.darts} == {"bust", "bust~"}
    assert net_length(new, "side~") == pytest.approx(net_length(old, "side"), abs=1e-6)


def test_side_seams_gain_a_twin() -> None:
    """Both unfolded: side seam and side seam~ agree, and each twin meets the other's twin."""
    new = apply(bodice(), Unfold(pieces=("front", "back"))).pattern
    assert [s.name for s in new.seams] == [
        "side seam",
        "side seam~",
        "shoulder seam",
        "shoulder seam~",
    ]
    twin = new.seam("side seam~")
    assert [str(r) for r in (*twin.a, *twin.b)] == ["front.side~", "back.side~ reversed"]
    assert side(new, twin.a).length == pytest.approx(side(new, twin.b).length, abs=1e-3)
    starts = [new.piece("front").edge("side~").path.start, new.piece("front").point("underarm")]
    assert starts[0].y == pytest.approx(starts[1].y, abs=1e-6)  # it starts at the underarm, too


def test_one_unfolded_meets_the_other_copy() -> None:
    """Only the front unfolded: its second side is sewn to the back's second copy."""
    new = apply(bodice(), Unfold(pieces=("front",))).pattern
    twin = new.seam("side seam~")
    assert [str(r) for r in (*twin.a, *twin.b)] == ["front.side~", "back.side"]


def test_an_edge_at_the_fold_is_not_sewn_to_half_an_edge() -> None:
    """Hems sewn to each other: both must be unfolded together; then the seam stays."""
    pattern = bodice()
    pattern = Pattern(
        pieces=pattern.pieces,
        seams=(*pattern.seams, seam("hems", "front.hem", "back.hem reversed", ease=3.0)),
    )
    with pytest.raises(CannotDo, match="front, back together"):
        apply(pattern, Unfold(pieces=("front",)))
    new = apply(pattern, Unfold(pieces=("front", "back"))).pattern
    assert new.seam("hems").ease == 6.0
    assert side(new, new.seam("hems").a).length == pytest.approx(2 * 228.6, abs=1e-6)


def test_a_whole_piece_cannot_be_unfolded() -> None:
    """A piece without a fold: refused, with the pieces that have one."""
    once = apply(bodice(), Unfold(pieces=("front",))).pattern
    with pytest.raises(CannotDo, match="to unfold back"):
        apply(once, Unfold(pieces=("front",)))


def band_and_skirt() -> Pattern:
    """A half skirt front sewn to a band that is whole: a left and a right half in two seams."""
    front = skirt().piece("skirt front")
    half = net_length(front, "waist")
    names = ("right", "left", "end", "top", "start")
    corners = [(-half, 0), (0, 0), (half, 0), (half, 40), (-half, 40)]
    edges = tuple(edge(n, line(corners[i], corners[(i + 1) % 5])) for i, n in enumerate(names))
    return Pattern(
        pieces=(front, Piece(name="band", edges=edges)),
        seams=(
            seam("waist left", "skirt front.waist reversed", "band.left"),
            seam("waist right", "skirt front.waist", "band.right"),
        ),
    )


def test_a_left_and_a_right_seam_become_one() -> None:
    """A band's two halves, each sewn to half the front: unfolded, one seam holds both."""
    new = apply(band_and_skirt(), Unfold(pieces=("skirt front",))).pattern
    assert [s.name for s in new.seams] == ["waist left"]
    whole = new.seam("waist left")
    assert [str(r) for r in whole.a] == ["skirt front.waist"]
    assert [str(r) for r in whole.b] == ["band.right", "band.left"]
    assert side(new, whole.a).length == pytest.approx(side(new, whole.b).length, abs=1e-6)


def test_a_run_of_several_edges_goes_on_along_the_twins() -> None:
    """Shoulder and neck sewn to the like: past the fold the run goes on along both twins."""
    pattern = bodice()
    runs = ("front.shoulder,front.neck", "back.shoulder reversed,back.neck reversed")
    pattern = Pattern(pieces=pattern.pieces, seams=(seam("edge", *runs, ease=-1.0),))
    new = apply(pattern, Unfold(pieces=("front", "back"))).pattern
    whole = new.seam("edge")
    assert [str(r) for r in whole.a] == ["front.shoulder", "front.neck", "front.shoulder~"]
    assert [str(r) for r in whole.b] == [
        "back.shoulder reversed",
        "back.neck reversed",
        "back.shoulder~ reversed",
    ]
    for run in ("a", "b"):
        half = side(pattern, getattr(pattern.seam("edge"), run)).length
        assert side(new, getattr(whole, run)).length == pytest.approx(2 * half, abs=1e-6)


def test_a_neck_is_counted_once_all_round_its_band() -> None:
    """By hand: front and back neck twice as long as their halves, and the band twice its half."""
    pattern = GARMENTS["knit top"]()
    done = apply(pattern, Unfold(pieces=("front", "back", "neck band"))).pattern
    old, new = pattern.seam("neck band"), done.seam("neck band")
    for run in ("a", "b"):
        half = side(pattern, getattr(old, run)).length
        assert side(done, getattr(new, run)).length == pytest.approx(2 * half, abs=1e-6)
    sections = walk_seam(done, new).sections
    assert [s.off for s in sections] == pytest.approx([0.0] * len(sections), abs=0.01)
    assert len(sections) == 2 * len(walk_seam(pattern, old).sections) - 1  # one lies over the fold
    marks = done.piece("neck band").marks
    assert [m.name for m in marks] == ["fold line"]
    ends = [done.piece("neck band").edge(e).path for e in ("end", "end~")]
    line = marks[0].path
    assert line is not None
    assert all(min(p.nearest(at)[1] for p in ends) < 1e-6 for at in line.ends)
    settings = settings_of("knit top")
    before = {say(f.words, Unit.cm) for f in run_checks(pattern, settings)}
    told = [say(f.words, Unit.cm) for f in run_checks(done, settings)]
    assert not [w for w in told if w not in before and "other half" not in w]
    assert "~" not in " ".join(told)


def test_a_neck_and_its_facing_go_round_alike() -> None:
    """Both sides of the seam all round, nothing with ends: both begin at the shoulder."""
    pattern = GARMENTS["knit top"]()
    facings = tuple(replace(pattern.piece(n), name=f"{n} facing") for n in ("front", "back"))
    runs = ("back.neck, front.neck", "back facing.neck, front facing.neck")
    both = Pattern(pieces=(*pattern.pieces, *facings), seams=(seam("neck facing", *runs),))
    names = ("front", "back", "front facing", "back facing")
    ring = apply(both, Unfold(pieces=names)).pattern.seam("neck facing")
    assert [[str(r) for r in run] for run in (ring.a, ring.b)] == [
        ["back.neck", "front.neck"],
        ["back facing.neck", "front facing.neck"],
    ]


def test_what_is_cut_as_a_pair_lies_on_both_sides_of_a_whole_neck() -> None:
    """A shirt's stand goes along left front, whole yoke and right front; every check is content.

    The seam walked by hand: in at one front's neck, round the yoke, out along the other's.
    """
    before = shirt()
    names = ("yoke", "collar", "collar stand", "back")
    new = apply(before, Unfold(pieces=names)).pattern
    neck = new.seam("neck")
    assert [str(r) for r in neck.a] == ["front.neck reversed", "yoke.neck reversed", "front.neck"]
    assert [str(r) for r in neck.b] == ["collar stand.lower"]
    assert side(new, neck.a).length == pytest.approx(
        2 * side(before, before.seam("neck").a).length, abs=1e-6
    )
    assert {f.code for f in run_checks(new)} <= {f.code for f in run_checks(before)}


def test_what_is_cut_once_is_named_where_it_hinders() -> None:
    """A front cut once lies on one side only: half the neck would have nothing to be sewn to."""
    pattern = shirt()
    once = replace(pattern.piece("front"), cuts=(Cut(how="once"),))
    with pytest.raises(CannotDo, match="front is cut as a pair"):
        apply(pattern.with_piece(once), Unfold(pieces=("yoke", "collar", "collar stand", "back")))
