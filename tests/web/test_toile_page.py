"""The toile page: noted, answered, left."""

from __future__ import annotations

from clothwright.store import load
from tests.web.conftest import PageOn
from tests.web.test_look import axe

BOOK = "/b/coat-and-skirt/toile"


def test_noted_answered_and_taken_back(page_on: PageOn) -> None:
    """Noted, with its proposals; one is taken, and told; Undo takes it back; readable to all."""
    it = page_on("coat-and-skirt")
    folder = it.folder / "coat-and-skirt"
    before = len(load(folder).steps)
    it.go(BOOK)
    page = it.page
    page.get_by_label("Where", exact=True).select_option("skirt front.side")
    page.get_by_label("What you see").select_option("let-out")
    page.get_by_label("How much, measured on the body").fill("1/2 in")
    page.get_by_role("button", name="Note it").click()
    page.wait_for_selector(".find .mending")
    note = load(folder).toile[0]
    assert (note.where, note.by, note.side) == ("skirt front.side", 12.7, "both")
    page.get_by_role("button", name="Take this change 1 of note 1").click()
    page.wait_for_selector(".find :text('Taken.')")
    assert axe(it) == []
    page.set_viewport_size({"width": 360, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    steps = load(folder).steps
    assert (len(steps), steps[-1].toile) == (before + 1, note.name)
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector(".find :text('Taken.')", state="detached")
    page.get_by_role("button", name="Leave it as it is").click()
    page.wait_for_selector(".find :text('Left as it is.')")
    assert load(folder).toile[0].answer == "left"
    assert len(load(folder).steps) == before
