"""Choosing a size, and blending two, as changes of a workbook."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.body.body import Body
from clothwright.changes.blend_sizes import BlendSizes
from clothwright.changes.blend_sizes import apply as blend
from clothwright.changes.choose_size import ChooseSize
from clothwright.changes.choose_size import apply as choose
from clothwright.demo.three_sizes import MISSES, draft_size, nested_skirt, three_sizes
from clothwright.errors import BadInput, CannotDo
from clothwright.store import create, load, save
from clothwright.words import say
from clothwright.workbook import Step, Workbook, replay
from clothwright.workroom.walking.checking import findings_of
from tests.specimens import skirt


def with_steps(*steps: Step) -> Workbook:
    """Return the demo with other changes."""
    return replace(three_sizes(), steps=steps, body=Body())


@pytest.mark.parametrize("size", MISSES)
def test_a_size_is_the_draft_of_that_size(size: str) -> None:
    """Every piece is exactly what was drafted for that size."""
    made = choose(nested_skirt(), ChooseSize(size=size)).pattern
    assert made.pieces == draft_size(size)


@pytest.mark.parametrize("size", ["12", "12.5", "13", "15", "15.75", "16"])
def test_edges_that_agree_in_every_size_agree_between(size: str) -> None:
    """The walk finds nothing in any size, nor between two."""
    assert findings_of(with_steps(Step(change="choose-size", params={"size": size}))) == ()


def test_both_sides_blended_agree_one_alone_does_not() -> None:
    """The demo's blend walks clean; a front blended alone no longer meets its back."""
    assert findings_of(three_sizes()) == ()
    alone = {"at": "waist 12, hip 16", "pieces": ("skirt front",)}
    found = findings_of(with_steps(Step(change="blend-sizes", params=alone)))
    assert "skirt side" in {f.where.seam for f in found}
    assert {f.code for f in found} == {"seam-length"}


def test_what_was_altered_before_is_not_lost() -> None:
    """After another change of the piece the size is refused, and the change stays."""
    shorter = Step(change="move-edge", params={"edge": "skirt front.hem", "by": "-1 in"})
    told = replay(with_steps(shorter, Step(change="choose-size", params={"size": "12"}))).told
    assert told[0].error == ""
    assert "move this change before change 1" in told[1].error


def test_a_pattern_of_one_size_says_so() -> None:
    """Nothing to choose from."""
    with pytest.raises(CannotDo, match="one size only"):
        choose(skirt(), ChooseSize(size="14"))


def test_only_the_pieces_named() -> None:
    """The others stay in the size drawn."""
    before = nested_skirt()
    made = choose(before, ChooseSize(size="16", pieces=("waistband",))).pattern
    assert made.piece("skirt front") == before.piece("skirt front")
    assert made.piece("waistband") == draft_size("16")[2]


@pytest.mark.parametrize(
    ("at", "error", "words"),
    [
        ("bust 14", BadInput, 'no level or piece "bust"'),
        ("waist 12, waist 14", BadInput, "named twice"),
        ("waist", BadInput, "not a level and a size"),
        ("", BadInput, "not a level and a size"),
        ("waist 12, hip 20", CannotDo, "beyond them nothing is known"),
        ("waist 12, hip 16", CannotDo, 'size of "waistband" is not known'),
    ],
)
def test_a_blend_that_cannot_be(at: str, error: type[Exception], words: str) -> None:
    """What is missing or wrong is named; the pattern stays."""
    with pytest.raises(error, match=words):
        blend(nested_skirt(), BlendSizes(at=at))


def test_what_is_told() -> None:
    """The record says which sizes, where, of which pieces."""
    said = blend(nested_skirt(), BlendSizes(at="waist 13, hip=16, waistband 13")).said
    words = say(said, three_sizes().unit)
    assert words == (
        "Sizes blended (waist half-way from 12 to 14, hip 16, waistband half-way from 12 to 14): "
        "3 pieces."
    )


def test_kept_with_the_workbook(tmp_path: Path) -> None:
    """Written and read back the same; a size not in the list is a mistake with its line."""
    book = three_sizes()
    create(tmp_path / "w", book)
    assert load(tmp_path / "w") == book
    save(replace(book, notes="other"), tmp_path / "w")
    assert load(tmp_path / "w").bought == book.bought
    file = tmp_path / "w" / "workbook.toml"
    file.write_text(file.read_text().replace('size = "16"', 'size = "18"', 1))
    with pytest.raises(BadInput, match=r'line \d+.*"18" is not one of the further sizes'):
        load(tmp_path / "w")
