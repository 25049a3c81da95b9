"""The forms of changes: what names a thing of the pieces is chosen from them, or typed."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from typing import Any

import pytest

from clothwright.changes import CHANGES
from clothwright.changes.crop import CHANGE as CROP
from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.pattern import Pattern
from clothwright.store import load
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.changing import forms
from clothwright.workroom.editing.asking import Field
from clothwright.workroom.editing.offers import OFFERS, levels_said, whole_outfit
from tests.web.conftest import PHONE, PageOn
from tests.web.test_look import axe

NAMED = (
    "piece",
    "edge",
    "point",
    "place",
    "point of each",
    "level",
    "line",
    "dart",
    "seam",
    "size",
    "sizes",
)
SIZES = "/b/three-sizes/changes"


@cache
def book_of(name: str) -> Workbook:
    """Return a demo workbook."""
    return next(d for d in DEMOS if d.name == name).make()


def form_of(name: str, pattern: Pattern, **given: object) -> dict[str, Field]:
    """Return the fields of a change's form, by name."""
    form = forms.form_of(name, pattern, Unit.inch, given)
    assert form is not None
    return {f.name: f for f in form.fields}


def offered(field: Field) -> list[str]:
    """Return the values of a field that can be chosen."""
    return [value for _, choices in field.groups for value, _, _ in choices]


def picked(field: Field) -> list[str]:
    """Return what is chosen in a field."""
    return [value for _, choices in field.groups for value, _, on in choices if on]


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_what_names_a_thing_of_the_pieces_is_chosen(change: Any) -> None:
    """Sizes, points, levels, darts, edges and seams are lists; each name in them is there."""
    pattern = book_of("coat-and-skirt").bought
    sized = book_of("three-sizes").bought
    for f in form_of(change.id, pattern).values():
        wanted = pattern if f.kind not in ("size", "sizes") else sized
        if f.kind not in NAMED:
            continue
        known = tuple(OFFERS[f.kind].choices(whole_outfit(wanted), f.name))
        assert known
        for option in known:
            piece, _, name = option.key.partition(".")
            if f.kind == "edge":
                wanted.piece(piece).edge(name)
            elif f.kind == "point":
                wanted.piece(piece).point(name)
            elif f.kind == "level":
                assert any(lv.name == piece for p in wanted.pieces for lv in p.levels)


def test_a_size_is_chosen_or_typed() -> None:
    """The sizes it came in and half-way between them; one in between is typed and stays so."""
    bought = book_of("three-sizes").bought
    assert bought.sizes is not None
    field = form_of("choose-size", bought, size="14")["size"]
    assert offered(field) == ["12", "12/14", "14", "14/16", "16"]
    assert (picked(field), field.value, field.typed) == (["14"], "", True)
    for value in offered(field):
        bought.sizes.position(value)
    between = form_of("choose-size", bought, size="15,5")["size"]
    assert (picked(between), between.value) == ([], "15,5")


def test_a_size_is_chosen_at_every_level() -> None:
    """One list a level, as the change has them; a text that says more stays typed."""
    book = book_of("three-sizes")
    step = next(s for s in book.steps if s.change == "blend-sizes")
    field = form_of("blend-sizes", book.bought, **step.params)["at"]
    said = {name: v for name, choices in field.parts for v, _, on in choices if on}
    assert said == levels_said(str(step.params["at"]))
    assert field.value == ""
    odd = form_of("blend-sizes", book.bought, at="waist 12,7, hip 14")["at"]
    assert odd.value == "waist 12,7, hip 14"
    assert not any(on for _, choices in odd.parts for _, _, on in choices)
    alone = form_of("blend-sizes", book_of("coat-and-skirt").bought)["at"]
    assert (alone.parts, alone.groups, alone.typed) == ((), (), False)


def test_places_and_points() -> None:
    """A dart goes to an edge or a point; the crop measures from a point most pieces have."""
    pattern = book_of("coat-and-skirt").bought
    to = offered(form_of("rotate-dart", pattern)["to"])
    assert {"skirt front.hem", "skirt front.hem middle"} <= set(to)
    point = form_of("crop", pattern)["point"]
    assert "neck point" in offered(point)
    assert point.typed
    assert {f.name for f in fields(CROP.params)} == set(form_of("crop", pattern))
    line = offered(form_of("piece-panel", pattern)["line"])
    assert {"waist", "fold"} <= set(line)
    gone = form_of("move-edge", pattern, edge="moon.hem")["edge"]
    assert picked(gone) == ["moon.hem"]


# --- in the browser -------------------------------------------------------------------------------


def test_a_size_from_the_list(page_on: PageOn, shots) -> None:
    """Chosen from the list it is the size; typed it is what is typed; undo takes it back."""
    it = page_on("three-sizes")
    page, folder = it.page, it.folder / "three-sizes"
    book = it.served.room.book("three-sizes")
    book.edit({"edit": "remove-change", "change": "1"}, base=book.read().revision)
    it.go(f"{SIZES}?kind=choose-size")
    form = page.locator("form[data-add=choose-size]")
    form.get_by_label("Which size (needed)").select_option("14")
    form.get_by_role("button", name="Show it first").click()
    page.wait_for_selector("form [data-shown] .words.good")
    shots(it, "change-size")
    assert axe(it) == []
    form.get_by_role("button", name="Add the change").click()
    page.wait_for_selector(".change dd:text-is('14')")
    assert load(folder).steps[-1].params["size"] == "14"
    page.locator("[data-go=undo]").click()
    page.wait_for_selector(".change", state="detached")
    form.get_by_label("or typed instead: Which size").fill("13")
    form.get_by_role("button", name="Add the change").click()
    page.wait_for_selector(".change dd:text-is('13')")
    assert load(folder).steps[-1].params["size"] == "13"


def test_a_size_at_each_level_on_a_phone(page_on: PageOn, shots) -> None:
    """The blend is edited by choosing: the hip becomes another size, the rest stays."""
    it = page_on("three-sizes", size=PHONE)
    page, folder = it.page, it.folder / "three-sizes"
    it.go(SIZES)
    was = levels_said(str(load(folder).steps[0].params["at"]))
    page.get_by_role("link", name="Edit change 1").tap()
    form = page.get_by_role("form", name="Edit change 1")
    form.get_by_label("hip", exact=True).select_option("16")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    shots(it, "change-levels")
    form.get_by_role("button", name="Save the change").tap()
    page.wait_for_selector(".change dd:has-text('hip 16')")
    assert levels_said(str(load(folder).steps[0].params["at"])) == {**was, "hip": "16"}
    assert axe(it) == []


def test_a_point_by_the_keys(page_on: PageOn) -> None:
    """A list takes the keys: the first letters of a point choose it."""
    it = page_on("coat-and-skirt")
    it.go("/b/coat-and-skirt/changes?kind=square-hem")
    page = it.page
    page.locator("#add-square-hem-edge").focus()
    page.keyboard.type("skirt front, hem")
    page.keyboard.press("Tab")
    page.keyboard.type("skirt front, side hem")
    assert page.locator("#add-square-hem-edge").input_value() == "skirt front.hem"
    assert page.locator("#add-square-hem-through").input_value() == "skirt front.side hem"
