"""The page of the wearer: measurements with slips asked about, the chart typed, the size taken."""

from __future__ import annotations

import re

import pytest

from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.editing.opened import empty_book
from clothwright.workroom.editing.reading import edit_from
from tests.store.history.saving import revision
from tests.web.conftest import PHONE, Desk, PageOn, Shown
from tests.web.test_look import axe

BOOK = "/b/three-sizes/body"
ENVELOPE = "size 12 14 16\nwaist 26 1/2 28 30\nhip 36 38 40"


def book_of(it: Shown):
    """Return the workbook as it is on the disk now."""
    return load(it.folder / "three-sizes")


def bare(page_on: PageOn, **more: object) -> Shown:
    """Open the page of the skirt in three sizes, nobody measured and no chart typed."""
    it = page_on("three-sizes", **more)
    folder = it.folder / "three-sizes"
    gone = {"edit": "set-body", "values": dict.fromkeys(("bust", "waist", "hip", "note"), "")}
    for edit in (gone, {"edit": "set-chart", "text": ""}):
        commit_edit(folder, edit_from(edit), base=revision(folder))
    it.go(BOOK)
    return it


def keep(it: Shown) -> None:
    """Press the button that keeps the measurements, and wait until it is said."""
    it.page.get_by_role("button", name="Save these measurements").click()
    it.page.locator("#said", has_text="measured").wait_for()


def filled(it: Shown) -> None:
    """Type waist and hip, keep them, and take the example chart."""
    it.page.get_by_label("Waist girth", exact=True).fill("29")
    it.page.get_by_label("Hip girth", exact=True).fill("38 in")
    keep(it)
    it.page.get_by_role("button", name="Use the example").click()
    it.page.get_by_text("For this pattern: sizes blended").wait_for()


def test_from_the_tape_to_the_cut_and_back(page_on: PageOn) -> None:
    """Typed, the example taken, one press puts the blend into the changes; Undo takes it back."""
    it = bare(page_on)
    filled(it)
    assert book_of(it).chart.name == "purchased-pattern misses sizes"
    it.page.get_by_role("button", name="Use these sizes").click()
    it.page.get_by_text("These sizes are used").wait_for()
    (step,) = book_of(it).steps
    assert (step.change, dict(step.params)) == (
        "blend-sizes",
        {"at": "waist 15, hip 14, waistband 15"},
    )
    it.page.locator("button[data-go=undo]").click()
    it.page.get_by_role("button", name="Use these sizes").wait_for()
    (step,) = book_of(it).steps
    assert dict(step.params) == {"at": "waist 12, hip 14, waistband 12"}


def test_a_slip_is_asked_about_beside_its_field_and_mended(page_on: PageOn) -> None:
    """83 in of hip beside a waist: two digits changed places, and one press takes 38 in."""
    it = bare(page_on)
    it.page.get_by_label("Waist girth", exact=True).fill("27 1/4 in")
    it.page.get_by_label("Hip girth", exact=True).fill("83")
    keep(it)
    asked = it.page.locator("#m-hip-doubt")
    asked.wait_for()
    assert "two digits changed places" in asked.text_content()
    assert "260 physically active adult women" in it.page.locator("#main").text_content()
    assert "m-hip-doubt" in it.page.locator("#m-hip").get_attribute("aria-describedby")
    it.page.get_by_role("button", name="Use 38 in as Hip girth").click()
    asked.wait_for(state="detached")
    assert dict(book_of(it).body.taken)["hip"].text == "38 in"
    assert it.page.get_by_label("Hip girth", exact=True).input_value() == "38 in"


def test_a_chart_is_typed_mended_and_taken_out(page_on: PageOn) -> None:
    """A mistake is said with its line and keeps what was typed; mended, the chart is a table."""
    it = bare(page_on)
    field = it.page.get_by_label("Sizes and measurements")
    field.fill(ENVELOPE.replace("26 1/2 28 30", "26 1/2 28"))
    it.page.get_by_role("button", name="Save this chart").click()
    it.page.get_by_text("line 2: 2 numbers for 3 sizes").wait_for()
    it.trouble.clear()  # the browser logs the 400 that told us
    assert field.input_value().startswith("size 12 14 16")
    field.fill(ENVELOPE)
    it.page.get_by_role("button", name="Save this chart").click()
    it.page.get_by_role("region", name="The size chart; it can").wait_for()
    assert book_of(it).chart.sizes == ("12", "14", "16")
    it.page.get_by_text("Type another, or correct this one").click()
    it.page.get_by_role("button", name="Remove the chart").click()
    it.page.get_by_role("button", name="Use the example").wait_for()
    assert book_of(it).chart is None
    it.page.locator("button[data-go=undo]").click()
    it.page.get_by_role("region", name="The size chart; it can").wait_for()


def test_how_to_take_it_opens_by_the_keyboard(page_on: PageOn) -> None:
    """Each measurement tells how it is taken, under its field."""
    it = bare(page_on)
    it.page.get_by_text("How to take it: Waist girth").focus()
    it.page.keyboard.press("Enter")
    assert it.page.get_by_text("Tie a cord round the waist").is_visible()


def test_the_filled_page_on_a_phone(page_on: PageOn) -> None:
    """With questions, a size and a chart: axe finds nothing, and nothing hangs over at 360 px."""
    it = bare(page_on, size={**PHONE, "width": 360})
    filled(it)
    it.page.get_by_label("Hip girth", exact=True).fill("83")
    keep(it)
    it.page.locator("#m-hip-doubt").wait_for()
    assert axe(it) == []
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360


def test_pieces_in_one_size_are_told_so(desk: Desk) -> None:
    """The coat and skirt came in one size: both suggestions are made, and no change is offered."""
    folder = desk.folder / "coat-and-skirt"
    for base, edit in enumerate(
        (
            {"edit": "set-body", "values": {"bust": "35 in", "hip": "37 in"}},
            {"edit": "set-chart", "text": "size 12 14\nbust 34 36\nhip 36 38", "unit": "in"},
        ),
        start=desk.room.book("coat-and-skirt").read().revision,
    ):
        commit_edit(folder, edit_from(edit), base=base)
    text = desk.client.get("/b/coat-and-skirt/body").text
    assert "For a bodice, dress or coat" in text
    assert "For a skirt or trousers fitted at the hip" in text
    assert "came in one size" in text
    assert "Use these sizes" not in text


def test_the_walk_does_not_claim_room_for_nobody(desk: Desk) -> None:
    """Nobody measured: the walk says that this was not looked at, not that it agrees."""
    text = desk.client.get("/b/coat-and-skirt/walk").text
    assert "<li>Is there room for the wearer?</li>" not in text
    assert "Nobody has been measured" in text


def test_what_is_printed_tells_no_figure(desk: Desk) -> None:
    """With a wearer far larger than the pieces, neither guide nor steps say anything of her."""
    folder = desk.folder / "coat-and-skirt"
    base = desk.room.book("coat-and-skirt").read().revision
    values = {"bust": "57 1/8 in", "hip": "61 3/8 in", "note": "privately"}
    commit_edit(folder, edit_from({"edit": "set-body", "values": values}), base=base)
    assert "57 1/8 in" in desk.client.get("/b/coat-and-skirt/walk").text
    for path in ("sew", "changes", "cut", "pieces"):
        text = desk.client.get(f"/b/coat-and-skirt/{path}").text
        assert not any(w in text for w in ("57 1/8", "61 3/8", "privately")), path


@pytest.mark.parametrize(("unit", "there"), [("in", "31 1/2"), ("cm", "66.5")])
def test_a_chart_is_shown_how_to_type_in_her_unit(desk: Desk, unit: str, there: str) -> None:
    """The example in the empty field is in the unit that numbers without one count in."""
    create(desk.folder / "mine", empty_book("mine", Unit(unit)))
    page = desk.client.get("/b/mine/body").text
    (shown,) = re.findall(r'placeholder="(size[^"]*)"', page)
    assert there in shown
    assert ("/" in shown) == (unit == "in")
