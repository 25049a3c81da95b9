"""The list of changes as it is shown: what each did, what it was asked, in her unit."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.errors import BadInput, CannotDo
from clothwright.units import Unit
from clothwright.workbook import Step, replay
from clothwright.workroom.changing.cards import drawn, preview, states
from clothwright.workroom.changing.held import held, would_be
from clothwright.workroom.changing.record import lines_of
from clothwright.workroom.editing.edits.changes import AddChange
from clothwright.workroom.editing.edits.whole import RenameWorkbook
from tests.listed import with_step

CROP = {"edges": ["coat back.hem"], "length": "45 cm"}


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_cards_have_no_dotted_name_and_one_unit(demo) -> None:
    """Whatever unit a length was typed in, it is shown in the workbook's."""
    for unit, foreign in ((Unit.inch, r"\d (mm|cm)\b"), (Unit.cm, r"\d (in|yd|mm)\b")):
        book = replace(demo.make(), unit=unit)
        for card in lines_of(book, replay(book)):
            words = f"{card.title} {card.said} {card.error} {card.given}"
            assert not re.search(foreign, words), words
            assert not re.search(r"[a-z]\.[a-z]", words), words


def test_what_cannot_be_done_is_said_in_her_unit() -> None:
    """A crop above the shoulder is refused with a length in inches, not in mm."""
    book = DEMOS[0].make()
    assert book.unit is Unit.inch
    step = Step(change="crop", params={**CROP, "length": "-2 cm"})
    more = with_step(book, step)
    card = lines_of(more, replay(more))[-1]
    assert card.error
    assert not re.search(r"\d (mm|cm)\b", card.error)


def test_every_state_and_what_differs_between_two() -> None:
    """One state more than changes; a crop of the coat back draws the coat back alone."""
    book = DEMOS[0].make()
    at = states(book, replay(book))
    assert len(at) == len(book.steps) + 1
    assert at[-1] == replay(book).pattern
    assert [d.name for d in drawn(at[0], at[1], book.unit)] == ["coat back"]


def test_a_preview_counts_and_saves_nothing() -> None:
    """It says what would be done and how many findings there would be; else it says why not."""
    book = DEMOS[0].make()
    done, ids = replay(book), tuple(f"c{n}" for n in range(len(book.steps)))
    made = preview(book, done, AddChange(kind="crop", params=CROP), ids, 0)
    assert [d.name for d in made.drawn] == ["coat back"]
    assert "0 now, " in made.words
    with pytest.raises(CannotDo, match="cannot be done like this"):
        preview(book, done, AddChange(kind="crop", params={**CROP, "length": "-2 cm"}), ids, 0)
    with pytest.raises(BadInput, match="could not be read"):
        preview(book, done, RenameWorkbook(title="x"), ids, 0)


def test_a_piece_in_hand_is_said_in_her_unit() -> None:
    """Its edges, and its seams before a pull and with it: an inch is an inch."""
    book = DEMOS[0].make()
    done = replay(book)
    one = held(book, done, "skirt front")
    words = " ".join(e.words for e in one.edges)
    assert "sewn to skirt back, side" in words
    assert not re.search(r"\d (mm|cm)\b|[a-z]\.[a-z]", words)
    made = would_be(book, done, "skirt front", "edge hem", 25.4)
    assert made.shown == "1 in"
    assert made.outline.startswith("M")
    assert made.outline != one.outline
    side = next(s for s in made.seams if s.name == "skirt side")
    assert (side.before, side.kind) == ("agrees", "bad")
    assert "longer" in side.now
