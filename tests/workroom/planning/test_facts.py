"""What is weighed about a plan, in her words: every cloth and price, no number without a unit."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.guide_blocks import buying_blocks
from clothwright.drawing.laying_chapter import laying_section
from clothwright.rules.weighing.facts import KEPT, WHOLE, facts, fit_and_spare
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import show_size
from clothwright.workbook import Workbook
from clothwright.workroom.planning.facts import compare_table
from clothwright.workroom.searching.laying import lay_plan


@cache
def laid() -> Laid:
    """The chosen plan of the coat and skirt after one round."""
    return lay_plan(coat_and_skirt(), seconds=60.0, rounds=1)


def book(unit: Unit, currency: str = "") -> Workbook:
    """The workbook in another unit, with a currency or none."""
    it = coat_and_skirt()
    return replace(it, unit=unit, settings=replace(it.settings, currency=currency))


def said(unit: Unit, currency: str = "") -> dict[str, str]:
    """Every fact by its label."""
    return {f.label: f.words for f in facts(laid(), unit, book(unit, currency).settings.currency)}


@pytest.mark.parametrize(
    ("currency", "price"), [("EUR", " EUR for"), ("", " in your currency for")]
)
def test_no_cloth_without_a_price_is_left_out_silently(currency: str, price: str) -> None:
    """The cost names what it is for, its currency, and the cloth that has no price."""
    cost = said(Unit.inch, currency)["cost"]
    assert price in cost
    for cloth in laid().laid_cloths:
        assert cloth.name in cost
    assert "bordered wool has no price" in cost


def test_cloth_to_buy_is_said_as_shops_cut_it() -> None:
    """By 1/8 yd to who measures in inches, by 0.05 m to who measures in centimetres."""
    assert re.search(r", [\d /]+ yd to buy", said(Unit.inch)["lining"])
    assert re.search(r", \d+(\.\d5?)? m to buy", said(Unit.cm)["lining"])


def test_what_is_met_is_no_number() -> None:
    """Rules that are kept are kept, not met within 0.00; a print that meets is said to."""
    words = said(Unit.inch)
    assert words["your rules"] == KEPT
    assert words["print meets along"] == "all the seams it crosses"
    assert not any("0.00" in w or "mm" in w for w in words.values())


def test_the_card_and_the_table_say_the_same() -> None:
    """What stands on a card is a part of the table, word for word."""
    here = book(Unit.cm)
    rows = {row[0]: row[1] for row in compare_table(here, [laid()]).rows}
    short = [f for f in facts(laid(), here.unit, here.settings.currency) if f.short]
    assert short
    assert all(rows[f.label] == f.words for f in short)


def test_what_one_plan_alone_has_to_say_stands_in_its_place() -> None:
    """A first plan whose print crosses no seam: the other's rows still come before the grain."""
    plain = replace(laid())
    vars(plain)["meetings"] = ()
    for columns in ([plain, laid()], [laid(), plain]):
        labels = [row[0] for row in compare_table(book(Unit.cm), columns).rows]
        assert labels.index("print runs on at") < labels.index("cut across the grain")
        assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(
    ("turn", "across", "bias"),
    [
        (0.0, "nothing", None),
        (90.0, "piece", None),
        (45.0, "nothing", "piece"),
        (135.0, "nothing", "piece"),
        (270.0, "piece", None),
    ],
)
def test_what_lies_slantwise_is_not_told_as_across_the_grain(
    turn: float, across: str, bias: str | None
) -> None:
    """One piece turned by hand, all others along the selvedge."""
    first, *others = laid().lay.placements
    name = laid().compiled.copy(first.shape).piece.name
    turned = (replace(first, turn_deg=turn), *(replace(p, turn_deg=0.0) for p in others))
    one = replace(laid(), lay=replace(laid().lay, placements=turned))
    told = {f.label: f.words for f in facts(one, Unit.cm, "")}
    assert told["cut across the grain"] == across.replace("piece", name)
    assert told.get("cut on the bias") == (bias and name)


def test_a_piece_without_a_cloth_is_no_all_clear() -> None:
    """The waistband's interfacing has no cloth: verdict, table and what to buy all say it."""
    laid = lay_plan(next(d for d in DEMOS if d.name == "three-sizes").make(), seconds=60, rounds=1)
    assert laid.lay.fits
    lacking = "No cloth is named for waistband in interfacing, so it is not laid"
    assert lacking in fit_and_spare(laid, Unit.inch)
    assert lacking in str([f.words for f in facts(laid, Unit.inch, "") if f.short])
    assert lacking in str(buying_blocks(laid, Unit.inch))


def test_one_piece_lies_and_two_lie() -> None:
    """The guide says how a printed half is opened out, in number with the pieces it names."""
    book = next(d for d in DEMOS if d.name == "three-sizes").make()
    said = str(laying_section(lay_plan(book, seconds=60, rounds=1), Unit.inch))
    assert "Skirt front is printed as a half and lies here opened out" in said


def test_what_is_left_of_a_remnant_is_a_rectangle_it_holds() -> None:
    """Its ragged end makes no length over the whole width: the largest rectangle is told."""
    book = next(d for d in DEMOS if d.name == "remnant").make()
    laid = lay_plan(book, seconds=60, rounds=1)
    (rest,) = (r for r in laid.rests if r.region == "corduroy remnant")
    size = show_size(rest.along, rest.across, Unit.inch)
    assert f"{size.replace(' ', WHOLE)} of corduroy remnant left" in fit_and_spare(laid, Unit.inch)
    told = {f.label: f.words for f in facts(laid, Unit.inch, "")}
    assert told["corduroy remnant"].endswith(f"used, {size} left")
