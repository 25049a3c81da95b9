"""The changes page: its preview's door, and what a person does with the list in Chromium."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from clothwright.errors import garbled
from clothwright.store import create, load, opened
from clothwright.workbook import change_of
from clothwright.workroom.editing.edits.changes import AddChange, RepeatChange
from clothwright.workroom.editing.edits.companions import AddCompanion
from tests.web.change_demo import CROP
from tests.web.conftest import Desk, PageOn
from tests.workroom.changing.test_again import renamed

BOOK = "/b/coat-and-skirt/changes"


def preview(desk: Desk, **edit: Any) -> Any:
    """Ask what an edit would do."""
    return desk.post(BOOK + "/preview", json=edit)


def test_every_change_is_a_card_with_its_pieces(desk: Desk) -> None:
    """Each change stands there with its lasting name, its sentence, and the old line on a piece."""
    shown = desk.client.get(BOOK).text
    at = opened(desk.folder / "coat-and-skirt")
    assert all(f'data-change="{name}"' in shown for name in at.ids)
    assert shown.count('class="change"') == len(at.book.steps)
    assert shown.count('class="r-leftover"') >= len(at.book.steps)


@pytest.mark.parametrize("theirs", ["crop", "rotate-dart", "set-hem", "mirror", "piece-panel"])
def test_a_form_asks_for_every_parameter(desk: Desk, theirs: str) -> None:
    """The form of a change has a field for each of its parameters, with the pattern's own names."""
    shown = desk.client.get(BOOK, params={"kind": theirs, "part": "adding"}).text
    for f in fields(change_of(theirs).params):  # type: ignore[arg-type]
        assert f'name="{f.name}"' in shown or f'name="{f.name}0"' in shown


def test_the_last_change_offers_to_do_the_same_to_the_lining(desk: Desk) -> None:
    """Its card names the lining that goes with its piece; done there too, it offers no more."""
    book = desk.room.book("coat-and-skirt")
    at = desk.folder / "coat-and-skirt"
    book.edit(
        AddCompanion(piece="lining back", kind="lining", along=("side on coat back.side",)),
        base=opened(at).revision,
    )
    longer = {"pieces": "coat back", "level": "waist", "by": "1 in"}
    book.edit(AddChange(kind="lengthen", params=longer), base=opened(at).revision)
    offer = "It was not done to what goes with it: lining back."
    assert offer in desk.client.get(BOOK).text
    name = opened(at).ids[-1]
    book.edit(RepeatChange(change=name), base=opened(at).revision)
    assert "It was not done" not in desk.client.get(BOOK, params={"open": name}).text
    last = opened(at).book.steps[-1]
    assert (last.change, last.params["pieces"]) == ("lengthen", ("lining back",))


def test_a_piece_divided_before_is_told_and_its_parts_are_offered(desk: Desk) -> None:
    """The card of the crop says which change divided its piece; its form offers both parts."""
    folder = desk.folder / "coat-and-skirt"
    cut = {"piece": "coat back", "start": "hem middle", "end": "neck middle"}
    first = {"edit": "add-change", "kind": "piece-panel", "params": cut, "at": 1}
    desk.room.book("coat-and-skirt").edit(first, base=opened(folder).revision)
    name = opened(folder).ids[1]
    shown = desk.client.get(BOOK, params={"open": name}).text
    assert "here is no piece" not in shown
    told = shown.split("<b>Not done.</b>")
    assert len(told) == 2
    assert "change 1 (piece: cut in two along a line and add a seam) divided" in told[1]
    for part in ("coat back inner", "coat back outer"):
        assert f'value="{part}.hem"' in shown


def test_a_preview_saves_nothing(desk: Desk) -> None:
    """What a change would do is drawn and said; the workbook stays as it is."""
    before = opened(desk.folder / "coat-and-skirt")
    answer = preview(desk, edit="add-change", kind="set-hem", params=hem())
    assert answer.status_code == 200, answer.text
    assert "before-after" in answer.json()["html"]
    assert answer.json()["words"]
    assert opened(desk.folder / "coat-and-skirt") == before


def hem() -> dict[str, object]:
    """Return a hem of the skirt that another depth is asked for."""
    return {"edges": ["skirt front.hem"], "depth": "7 cm"}


def test_a_preview_says_why_not(desk: Desk) -> None:
    """A change that cannot be done is answered with its sentence, and another edit with one too."""
    bad = preview(desk, edit="add-change", kind="crop", params={**CROP, "length": "-2 cm"})
    assert bad.status_code in (400, 409)
    assert "sentence" in bad.json()
    other = preview(desk, edit="rename-workbook", title="x")
    assert other.status_code == 400
    assert other.json()["sentence"] == str(garbled())


def test_a_filled_form_becomes_an_edit(desk: Desk) -> None:
    """What is wrong is said beside its field; only what differs is sent; what is gone is told."""
    form = {"kind": "crop", "length": "wide", "wanted": "edit"}
    wrong = desk.post(BOOK + "/change", data=form)
    assert (wrong.status_code, set(wrong.json()["fields"])) == (400, {"edges", "length"})
    name = opened(desk.folder / "coat-and-skirt").ids[0]
    same = {"edges0": "coat back.hem", "length": "49 cm", "point": "neck point"}
    set_ = desk.post(BOOK + "/change", data={"change": name, "wanted": "edit", **same}).json()
    assert set_["edit"] == {"edit": "set-change", "change": name, "params": {"length": "49 cm"}}
    gone = desk.post(BOOK + "/change", data={"change": "none", "wanted": "edit"})
    assert gone.status_code == 409
    assert "taken out meanwhile" in gone.json()["sentence"]


def test_a_form_without_a_script_makes_the_edit(desk: Desk) -> None:
    """It leads back to the list, which has the change."""
    form = {"kind": "set-allowance", "edges0": "coat back.side", "amount": "1 in", "why": "room"}
    answer = desk.post(BOOK + "/change", data=form)
    assert (answer.status_code, answer.headers["location"]) == (303, BOOK)
    last = opened(desk.folder / "coat-and-skirt").book.steps[-1]
    assert (last.change, last.why, last.params["amount"]) == ("set-allowance", "room", "1 in")


def test_add_switch_undo_redo_move_reload(page_on: PageOn) -> None:
    """A change is added, seen, switched off, undone, done again, moved; a reload shows the same."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    page, folder = it.page, it.folder / "coat-and-skirt"
    n = len(load(folder).steps)
    page.locator(".menu a", has_text="Set hem depth").click()
    page.wait_for_selector("form[data-add=set-hem]")
    page.locator("form[data-add] label", has_text="skirt front, hem").click()
    page.get_by_role("textbox", name="depth").fill("7 cm")
    page.get_by_role("button", name="Show it first").click()
    page.wait_for_selector("[data-shown] svg")
    assert len(load(folder).steps) == n
    page.get_by_role("button", name="Add the change").click()
    page.wait_for_function("n => document.querySelectorAll('.change').length === n", arg=n + 1)
    last = page.locator(".change").last
    assert last.locator(".r-leftover").count() == 1
    last.get_by_role("checkbox").uncheck()
    page.wait_for_selector(".change.off")
    assert not load(folder).steps[-1].on
    page.locator("[data-go=undo]").click()
    page.wait_for_selector(".change.off", state="detached")
    page.locator("[data-go=redo]").click()
    page.wait_for_selector(".change.off")
    last.get_by_role("button", name="Up").click()
    page.wait_for_selector(f".change.off[data-number='{n}']")
    page.reload()
    assert load(folder).steps[-2].change == "set-hem"
    assert page.locator(".change").nth(n - 1).evaluate("e => e.classList.contains('off')")


def test_edited_in_place(page_on: PageOn) -> None:
    """The numbers of a change are typed anew where it stands, in any unit."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    page = it.page
    page.get_by_role("link", name="Edit change 1").click()
    field = page.locator("form[data-set]").get_by_label("length")
    field.fill("49 cm")
    page.get_by_role("button", name="Save the change").click()
    page.wait_for_selector(".change dd:text-is('19 5/16 in')")
    assert load(it.folder / "coat-and-skirt").steps[0].params["length"] == "49 cm"


def test_dragged_and_by_the_keys(page_on: PageOn) -> None:
    """The handle moves a change by the pointer, and by the arrow keys alone."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    page, folder = it.page, it.folder / "coat-and-skirt"
    names = opened(folder).ids
    grip = page.locator(f"[data-grip='{names[0]}']")
    grip.focus()
    page.keyboard.press("ArrowDown")
    page.wait_for_selector(f"[data-change='{names[0]}'][data-number='2']")
    assert opened(folder).ids[:2] == (names[1], names[0])
    assert grip.evaluate("e => e === document.activeElement")
    page.set_viewport_size({"width": 1280, "height": 2400})
    page.evaluate("scrollTo(0, 0)")
    start = grip.bounding_box()
    goal = page.locator(f"[data-change='{names[1]}'] h3").bounding_box()
    page.mouse.move(start["x"] + 9, start["y"] + 9)
    page.mouse.down()
    page.mouse.move(goal["x"] + 9, goal["y"] + 9, steps=4)
    page.mouse.up()
    page.wait_for_selector(f"[data-change='{names[0]}'][data-number='1']")
    assert opened(folder).ids == names


def test_added_by_the_keys_alone(page_on: PageOn) -> None:
    """Without a pointer: pick a change, tick a piece's edge, type its number, add it."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    page, folder = it.page, it.folder / "coat-and-skirt"
    n = len(load(folder).steps)

    def reach(what: str) -> None:
        """Press Tab until it has the focus."""
        goal = page.locator(what)
        for _ in range(260):
            page.keyboard.press("Tab")
            if goal.evaluate("e => e === document.activeElement"):
                return
        raise AssertionError(f"{what} cannot be reached")

    reach(".menu a[href='?kind=set-hem']")
    page.keyboard.press("Enter")
    page.wait_for_selector("form[data-add=set-hem]")
    reach("form[data-add] input[value='skirt front.hem']")
    page.keyboard.press("Space")
    reach("#add-set-hem-depth")
    page.keyboard.type("2 3/4 in")
    page.keyboard.press("Enter")
    page.wait_for_function("n => document.querySelectorAll('.change').length === n", arg=n + 1)
    assert load(folder).steps[-1].params["depth"] == "2 3/4 in"


def test_the_changes_of_another_workbook_are_done_here(desk: Desk) -> None:
    """The page asks what is called otherwise, does the rest on a press, and Undo takes it back."""
    folder = desk.folder / "jacket"
    coat = load(desk.folder / "coat-and-skirt")
    create(
        folder, replace(coat, steps=(), bought=renamed(coat.bought, "coat front", "jacket front"))
    )
    page = "/b/jacket/changes"
    shown = desk.client.get(page, params={"again": "coat-and-skirt", "part": "again"}).text
    assert "What is meant by coat front?" in shown
    assert '<option value="jacket front" selected>' in shown
    meant = {"again": "coat-and-skirt", "means.coat front": "jacket front"}
    shown = desk.client.get(page, params={**meant, "part": "again"}).text
    assert f"Do these {len(coat.steps)} changes here" in shown
    assert desk.post(f"{page}/again", data=meant).status_code == 303
    assert len(load(folder).steps) == len(coat.steps)
    again = desk.client.get(page, params={**meant, "part": "again"}).text
    assert "in the list already" in again
    assert desk.client.get(page, params={"again": "nobody"}).status_code == 200
