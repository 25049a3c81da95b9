"""How the program says the print meets at every seam is what is seen on the painted cloth.

Source: the outside look of this folder (painted cloth, numpy, the JSON of the lay), which shares no
code with `lay` or `drawing` and is itself held against plane geometry in `test_seen.py`. Shares
agree within 1 %, lengths within 0.5 mm, kinds of meeting are the same. All plans of all outfits
and as many lays by chance as wanted: `python -m tests.outfits.compared`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.workroom.searching.laying import lay_plan
from tests.outfits import OUTFITS
from tests.outfits.chance import printed
from tests.outfits.compared import BOOKS, ODD_TURNS, best_share, differences, looked_at, told_of
from tests.outfits.placing import scattered

KINDS = {"runs on", "mirrored", "level", "upright", "apart", "turned", "stops", "plain"}


@pytest.mark.parametrize("name", BOOKS)
def test_what_is_told_of_a_lay_is_what_is_seen(name: str) -> None:
    """The first plan of each outfit and demo, as it is laid at first."""
    book = BOOKS[name]()
    assert differences(lay_plan(book, book.plans[0].name, seconds=60.0, rounds=0)) == []


@pytest.mark.parametrize("name", OUTFITS)
def test_what_is_told_of_pieces_laid_by_chance_is_what_is_seen(name: str) -> None:
    """Turned by quarters, on borders or half on them, over each other: nothing is matched."""
    assert differences(scattered(OUTFITS[name](), 3)) == []


@pytest.mark.parametrize("seed", range(1, 4))
def test_what_is_told_on_any_print_is_what_is_seen(seed: int) -> None:
    """Repeats, drops, mirror lines, half turns and borders by chance, pieces turned oddly."""
    book = OUTFITS[("checked shirt", "two borders", "bias skirt", "one-way vest")[seed]]()
    assert differences(scattered(printed(book, seed), seed, ODD_TURNS)) == []


@pytest.mark.parametrize("seed", [2, 8])
def test_sections_and_halves_of_the_body_are_told_as_they_are(seed: int) -> None:
    """A waist whose back half leaves the border at the side seam: no other section has it stop.

    The waist's right half is the other half of the body, though nothing is sewn so on the left.
    """
    assert differences(scattered(BOOKS["coat-and-skirt"](), seed, ODD_TURNS)) == []


def test_every_kind_of_meeting_is_among_what_is_seen() -> None:
    """So that each is compared: a check laid by chance, a skirt half on its border."""
    seen = set()
    for name, seed in (("checked shirt", 1), ("two borders", 3)):
        for _, _, look in looked_at(scattered(OUTFITS[name](), seed)):
            seen |= set(map(str, look.kind))
    assert seen == KINDS


def test_a_lay_that_is_not_the_one_looked_at_is_found_out() -> None:
    """One piece 1 mm from where it is said to lie: means, shares and the worst differ."""
    laid = lay_plan(OUTFITS["checked shirt"](), "matched", seconds=60.0, rounds=0)
    moved = tuple(
        replace(p, x=p.x + 1.0) if p.shape == "front 1" else p for p in laid.lay.placements
    )
    found = differences(laid, told_of(replace(laid, lay=replace(laid.lay, placements=moved))))
    for what in ("mean", "worst", "share"):
        assert any(what in line for line in found), what


@pytest.mark.parametrize(("name", "seam"), [("one-way vest", "side"), ("one-way vest", "shoulder")])
def test_no_place_of_one_side_meets_along_more_than_is_told(name: str, seam: str) -> None:
    """One side moved over a whole repeat in steps of 1 mm: the most that meets, within 2 %."""
    book = OUTFITS[name]()
    laid = lay_plan(book, book.plans[0].name, seconds=60.0, rounds=0)
    join, cloth, _ = next(x for x in looked_at(laid) if x[0].seam.name == seam)
    told = next(m for m in told_of(laid)["seams"] if m["seam"] == seam)
    assert told["best"]["share"] == pytest.approx(best_share(join, cloth), abs=0.02)
    assert told["best"]["share"] >= told["share"]
