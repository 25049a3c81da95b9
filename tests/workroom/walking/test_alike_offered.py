"""What was done to a piece and forgotten on its lining is offered for the lining, by one press.

The rule is the trade's: what is altered is altered in lining and facing at the same place by the
same amount (docs/sources.md, lengthening).
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.workbook import Step, Workbook, replay
from clothwright.workroom.changing.alike import said_alike, steps_alike
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.walking.alike import offered
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.mended import take_mend
from tests.garments.wardrobe import GARMENTS
from tests.listed import with_step

CASES = (
    Step(change="full-upper-arm", params={"piece": "coat sleeve", "by": "2 cm"}),
    Step(change="round-back", params={"piece": "coat back", "by": "1.5 cm"}),
    Step(change="shoulder-width", params={"pieces": "coat front, coat back", "by": "1 cm"}),
    Step(change="add-flare", params={"edges": "coat back.side", "by": "4 cm"}),
)


def coat(*steps: Step) -> Workbook:
    """Return a lined coat with these changes."""
    return Workbook(title="coat", unit=Unit.cm, bought=GARMENTS["lined coat"](), steps=steps)


@pytest.mark.parametrize("step", CASES, ids=lambda s: s.change)
def test_the_lining_is_offered_what_its_piece_got(step: Step) -> None:
    """The same kind of change, on the lining alone, by as much; after it nothing is left behind."""
    book = coat(step)
    found = findings_of(book)
    behind = [f for f in found if f.code == "companion-left-behind"]
    assert behind
    mending = offered(behind[0], book, replay(book))
    assert mending is not None
    assert mending.trouble == ""
    assert mending.change == step.change
    assert mending.params["by"] == step.params["by"]
    after = with_step(book, Step(change=mending.change, params=mending.params))
    assert not any(f.code == "companion-left-behind" for f in findings_of(after))
    old, new = replay(book).pattern, replay(after).pattern
    changed = [p.name for p, q in zip(old.pieces, new.pieces, strict=True) if p != q]
    assert changed
    assert all(name.startswith("lining") for name in changed)


@pytest.mark.parametrize("unit", [Unit.cm, Unit.inch])
def test_a_gaping_neck_is_closed_in_facing_and_lining_in_her_unit(unit: Unit) -> None:
    """Both are offered, in lengths as she types them; done, nothing is left behind."""
    params = {"at": "coat front.neck", "by": f"0.4 {unit.value}", "into": "coat front.side"}
    book = replace(coat(Step(change="gaping", params=params)), unit=unit)
    done = replay(book)
    assert said_alike(book, 1, done) == "front facing and lining front"
    steps = steps_alike(book, 1, done)
    assert all(str(s.params["by"]).endswith(f" {unit.value}") for s in steps)
    for step in steps:
        book = with_step(book, step)
    assert not any(f.code == "companion-left-behind" for f in findings_of(book))
    assert said_alike(book, 1, replay(book)) == ""


def test_what_the_facing_is_sewn_to_has_to_follow_and_is_named() -> None:
    """A lower neck: the facings get the same, though the upper collar has to follow them then."""
    lower = {"edges": "coat front.neck, coat back.neck", "lower": "1 cm", "shoulder": "0.5 cm"}
    book = coat(Step(change="shape-opening", params=lower))
    found = findings_of(book)
    facing = next(f for f in found if f.where.piece == "back neck facing")
    mending = offered(facing, book, replay(book))
    assert mending is not None
    assert mending.change == "shape-opening"
    assert mending.trouble == ""
    assert "upper collar" in mending.after


def test_a_cap_is_fitted_on_coat_and_lining_in_one_step(tmp_path: Path) -> None:
    """Armholes of both lowered: either cap alone would leave the other behind; undo takes both."""
    lowered = [
        Step(
            change="shape-opening",
            params={"edges": f"{a} front.armhole, {a} back.armhole", "lower": "2 cm"},
        )
        for a in ("coat", "lining")
    ]
    book = coat(*lowered)
    number = next(
        n for n, f in enumerate(findings_of(book), start=1) if f.where.seam == "coat armhole"
    )
    create(tmp_path / "coat", book)
    opened = OpenBook(name="coat", folder=tmp_path / "coat")
    said = take_mend(opened, number)
    after = load(opened.folder)
    assert [s.change for s in after.steps[2:]] == ["fit-cap", "fit-cap"]
    assert "coat sleeve" in said
    assert "lining sleeve" in said
    assert not any(f.code.startswith(("cap-", "companion-")) for f in findings_of(after))
    opened.undo()
    assert load(opened.folder).steps == book.steps


def test_a_neck_that_was_pinched_is_not_let_out_again_for_its_collar() -> None:
    """The collar follows, as the change says; that the other collar has to, too, is named."""
    pinch = {"at": "coat front.neck", "by": "0.6 cm", "into": "coat front.side"}
    book = coat(Step(change="gaping", params=pinch))
    done = replay(book)
    f = next(f for f in findings_of(book, done) if f.where.seam == "under collar")
    mending = offered(f, book, done)
    assert mending is not None
    assert mending.trouble == ""
    assert (mending.change, mending.params["piece"]) == ("fit-band", "under collar")
    assert "upper collar" in mending.after


def test_what_takes_back_a_change_says_so() -> None:
    """A front edge trimmed by a change: where only putting it back mends the neck, it is said."""
    trim = {"edge": "front.front edge", "by": "-1.5 cm", "direction": "out"}
    shirt = GARMENTS["shirt"]()
    step = Step(change="move-edge", params=trim)
    book = Workbook(title="shirt", unit=Unit.cm, bought=shirt, steps=(step,))
    done = replay(book)
    f = next(f for f in findings_of(book, done) if f.where.seam == "neck")
    mending = offered(f, book, done)
    assert mending is not None
    assert mending.params["edge"] == "front.neck"
    assert "takes back" in mending.after
