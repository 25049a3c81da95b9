"""An end of an edge is said by what she sees there."""

from __future__ import annotations

from dataclasses import replace

from tests.garments.wardrobe import GARMENTS

from clothwright.pattern.ends import end_words


def test_an_end_is_said_by_its_corner() -> None:
    """Of every edge of eight garments: two ends that are told apart, each lying at its corner."""
    for draft in GARMENTS.values():
        for piece in draft().pieces:
            for edge in piece.edges:
                ends = {end: end_words(piece, edge.name, end) for end in ("start", "end")}
                assert len(set(ends.values())) == 2, (piece.name, edge.name)
                for end, words in ends.items():
                    name = words.removeprefix('the corner "').removesuffix('"')
                    at = edge.path.start if end == "start" else edge.path.end
                    if words.startswith("the corner with "):
                        name = f"{edge.name} {end}"
                    assert piece.point(name).is_near(at, 1e-6)


def test_a_corner_without_a_name_is_said_by_the_edge_beside_it() -> None:
    """She finds it where the two edges meet."""
    piece = GARMENTS["trousers"]().pieces[0]
    bare = replace(piece, edges=tuple(replace(e, corner="") for e in piece.edges))
    before, after = bare.neighbours("hem")
    assert end_words(bare, "hem", "start") == f"the corner with {before.name}"
    assert end_words(bare, "hem", "end") == f"the corner with {after.name}"
