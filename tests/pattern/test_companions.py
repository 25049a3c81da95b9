"""Pieces that go with others: their names follow what changes rename, divide and take away."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.specimens import bodice

from clothwright.changes.alike import edges_alike, pieces_alike
from clothwright.errors import BadInput
from clothwright.pattern.companions import check_companion, companions_of, without_piece
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.trail import Trail


def lined() -> Pattern:
    """A bodice whose back has a lining, and its lining a facing at the armhole; demo data."""
    pattern = bodice()
    back = pattern.piece("back")
    twins = tuple(replace(back, name=n) for n in ("lining", "facing"))
    return replace(
        pattern,
        pieces=(*pattern.pieces, *twins),
        companions=(
            Companion(
                piece="lining",
                kind="lining",
                of=(
                    Along(edge="hem", piece="back", edge_of="hem"),
                    Along(edge="armhole", piece="back", edge_of="armhole"),
                ),
            ),
            Companion(
                piece="facing",
                kind="facing",
                of=(Along(edge="armhole", piece="lining", edge_of="armhole", longer=2.0),),
                by="drafted",
            ),
        ),
    )


def test_what_goes_with_a_piece_goes_on_to_what_goes_with_that() -> None:
    """A back's lining, then the facing of the lining; by the edge only what lies along it."""
    pattern = lined()
    assert pieces_alike(pattern, ["back"]) == ("lining", "facing")
    assert pieces_alike(pattern, ["back", "lining"]) == ("facing",)
    assert edges_alike(pattern, "back", "hem") == (("lining", "hem"),)
    found = edges_alike(pattern, "back", "armhole")
    assert found == (("lining", "armhole"), ("facing", "armhole"))
    assert pieces_alike(pattern, ["front"]) == ()


def test_a_companion_follows_its_pieces() -> None:
    """A renamed piece, a divided edge: companions are told by the names there are now."""
    pattern = lined()
    back = replace(pattern.piece("back"), name="upper back")
    renamed = replace(
        pattern,
        pieces=tuple(back if p.name == "back" else p for p in pattern.pieces),
        seams=(),
        trail=Trail(pieces=(("back", ("upper back",)),)),
    )
    (lining,) = companions_of(renamed, "upper back")
    assert [(a.piece, a.edge_of) for a in lining.of] == [
        ("upper back", "hem"),
        ("upper back", "armhole"),
    ]
    assert companions_of(renamed, "back") == ()
    divided = replace(
        pattern, trail=Trail(edges=((("back", "hem"), (("back", "side"), ("back", "neck"))),))
    )
    gone = replace(pattern, pieces=tuple(p for p in divided.pieces if p.name != "back"), seams=())
    assert companions_of(gone, "back") == ()
    edges = replace(
        divided,
        companions=(
            Companion(
                piece="facing",
                kind="facing",
                of=(Along(edge="hem", piece="back", edge_of="bottom"),),
            ),
        ),
        trail=Trail(edges=((("back", "bottom"), (("back", "side"), ("back", "neck"))),)),
    )
    (facing,) = companions_of(edges, "back")
    assert [a.edge_of for a in facing.of] == ["side", "neck"]


def test_what_is_taken_out_of_the_pattern_leaves_no_companion_of_its_own() -> None:
    """Without the lining there is no companion left; without the back the facing stays."""
    known = lined().companions
    assert without_piece(known, "lining") == ()
    assert [c.piece for c in without_piece(known, "back")] == ["facing"]


@pytest.mark.parametrize(
    ("piece", "of", "words"),
    [
        ("linig", Along(piece="back"), 'Did you mean "lining"'),
        ("lining", Along(piece="bak"), 'Did you mean "back"'),
        ("lining", Along(piece="lining"), "with itself"),
        ("lining", Along(edge="hem", piece="back"), "only one names an edge"),
        ("lining", Along(edge="hem", piece="back", edge_of="hme"), 'Did you mean "hem"'),
    ],
)
def test_a_companion_names_what_is_there(piece: str, of: Along, words: str) -> None:
    """Pieces and edges that are there, another piece than itself, both edges or none."""
    with pytest.raises(BadInput) as caught:
        check_companion(lined(), Companion(piece=piece, kind="lining", of=(of,)))
    assert words in str(caught.value)
