"""A newcomer's whole path over every page, by keys alone, and by a finger on a phone.

The mouse goes the parts of the path in `test_walk`, `test_plans` and `test_cut`.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from clothwright.store import load
from clothwright.workroom.searching.laying import keep_better, lay_plan
from tests.few_rounds import first_lays, one_core
from tests.web.conftest import LAPTOP, PHONE, PageOn, Shown, until_laid, wait_for_a_lay

PIECE = "back neck facing shell"
"""A piece that no rule holds, so that it may lie anywhere."""
SIDE = "change 3"
"""The change that makes the coat's front as long as its back; off, the walk finds a fault."""
SHOWS_FOCUS = """e => [e, ...e.children].some(it => {
    const here = getComputedStyle(it), stroke = here.stroke
    const ring = here.outlineStyle !== 'none' || here.boxShadow !== 'none'
    if (ring || !(it instanceof SVGElement)) return ring
    e.blur()
    const other = getComputedStyle(it).stroke !== stroke
    e.focus()
    return other
})"""
LIES_BEFORE = """e => document.activeElement.compareDocumentPosition(e)
    & Node.DOCUMENT_POSITION_PRECEDING"""
TABS = 60


@dataclass
class Finger:
    """Works a page as a finger on glass does."""

    page: Any

    def press(self, what: Any) -> None:
        """Tap it."""
        what.scroll_into_view_if_needed()
        what.tap()

    def drag(self, name: str) -> None:
        """Tap the piece, then drag it: a finger on a piece not chosen moves the table."""
        self.page.touchscreen.tap(*middle(self.page, name))
        self.page.wait_for_selector(f'.hold.chosen[data-shape="{name}"]')
        glass = self.page.context.new_cdp_session(self.page)
        x, y = middle(self.page, name)

        def touch(kind: str, *at: tuple[float, float]) -> None:
            points = [{"x": px, "y": py} for px, py in at]
            glass.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

        touch("touchStart", (x, y))
        for k in range(1, 7):
            touch("touchMove", (x + 4 * k, y + 2 * k))
            self.page.wait_for_timeout(30)
        touch("touchEnd")


@dataclass
class Keys:
    """Works a page by keys alone: nothing is clicked, nothing is focused but by Tab."""

    page: Any

    def reach(self, what: Any) -> None:
        """Press Tab, or Shift and Tab, until it has the focus, and see that the focus shows."""
        key = "Shift+Tab" if what.evaluate(LIES_BEFORE) else "Tab"
        for _ in range(TABS):
            if what.evaluate("e => e === document.activeElement"):
                break
            self.page.keyboard.press(key)
        else:
            raise AssertionError(f"not reached by the Tab key: {what}")
        assert what.evaluate(SHOWS_FOCUS)

    def press(self, what: Any) -> None:
        """Go there and press Enter; a box takes Space."""
        self.reach(what)
        box = what.evaluate("e => e.type === 'checkbox'")
        self.page.keyboard.press("Space" if box else "Enter")

    def choose(self, what: Any, value: str) -> None:
        """Go to the list and press the down arrow until it shows the wanted line."""
        self.reach(what)
        for _ in range(12):
            if what.input_value() == value:
                return
            self.page.keyboard.press("ArrowDown")
        for _ in range(12):
            if what.input_value() == value:
                return
            self.page.keyboard.press("ArrowUp")
        raise AssertionError(f"no {value}")

    def drag(self, name: str) -> None:
        """Move the piece with the arrow keys."""
        self.reach(self.page.locator(f'.hold[data-shape="{name}"]'))
        for key in ("Shift+ArrowRight", "ArrowRight"):
            self.page.keyboard.press(key)


def middle(page: Any, name: str) -> tuple[float, float]:
    """Return where a piece's middle is on the screen."""
    hold = page.locator(f'.hold[data-shape="{name}"]')
    hold.scroll_into_view_if_needed()
    box = hold.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


Hands = Finger | Keys


@pytest.mark.slow
def test_from_nothing_to_a_ticked_lay(page_on: PageOn) -> None:
    """Open the demo, mend a finding, compare plans, choose, drag, lay, print, tick, reload."""
    it = page_on(size=LAPTOP)
    it.go("/")
    hands = Keys(it.page)
    opened(it, hands)
    read_and_mended(it, hands)
    compared_and_chosen(it, hands)
    cut_out(it, hands)


@pytest.mark.slow
def test_with_a_finger_on_a_phone(page_on: PageOn) -> None:
    """The same on a narrow screen; her plan was laid before she takes the phone to the table."""
    it = page_on(size=PHONE)
    it.go("/")
    hands = Finger(it.page)
    opened(it, hands)
    read_and_mended(it, hands)
    folder = it.folder / "coat-and-skirt"
    book = load(folder)
    keep_better(folder, book, lay_plan(book, seconds=0.0))
    cut_out(it, hands)


def cut_out(it: Shown, hands: Hands) -> None:
    """From the cutting table to the ticks; a reload shows all of it."""
    chosen = load(it.folder / "coat-and-skirt").chosen_plan
    at = dragged_and_laid(it, hands)
    printed(it, hands)
    ticked(it, hands)
    it.page.reload()
    everything_is_there(it, chosen, at)


def stage(it: Shown, hands: Hands, name: str) -> None:
    """Go to a stage by the tape at the head of the page."""
    hands.press(it.page.locator(".tape a", has_text=name))
    it.page.wait_for_selector(f'body[data-page="{name}"]')
    it.page.wait_for_selector("html[data-live]", state="attached")


def opened(it: Shown, hands: Hands) -> None:
    """One press on the first page brings the demo, at its first stage."""
    hands.press(it.page.locator('button[value="coat-and-skirt"]'))
    it.page.wait_for_selector('body[data-page="pieces"]')
    it.page.wait_for_selector("html[data-live]", state="attached")


def read_and_mended(it: Shown, hands: Hands) -> None:
    """Leave a change out, read what the walk then finds, press its mend: it is gone."""
    stage(it, hands, "changes")
    hands.press(it.page.get_by_label("on, " + SIDE))
    it.page.wait_for_selector(".change.off")
    stage(it, hands, "walk")
    it.page.get_by_text("coat front, side is 3/8 in longer than coat back, side").first.wait_for()
    mend = it.page.get_by_role("button", name="Mend coat side")
    hands.press(mend)
    mend.wait_for(state="detached")
    assert load(it.folder / "coat-and-skirt").steps[-1].change == "match-edge"


def compared_and_chosen(it: Shown, hands: Keys) -> None:
    """Lay the three plans, see which fit, choose the first."""
    stage(it, hands, "plans")
    hands.choose(it.page.get_by_label("Search for each plan"), "10")
    with first_lays():
        hands.press(it.page.get_by_role("button", name="Lay all"))
        until_laid(it, 3)
    verdicts = it.page.locator(".plan .verdict").all_inner_texts()
    assert len(verdicts) == 3
    assert verdicts[0].startswith("Fits")
    assert any(v.startswith("Does not fit: short by") for v in verdicts)
    name: str = it.page.locator(".plan h2").nth(1).inner_text()
    choose = it.page.get_by_role("button", name=f"Choose this one: {name}")
    if choose.count():
        hands.press(choose)
    it.page.wait_for_selector(f".plan.chosen h2:has-text('{name}')")
    assert load(it.folder / "coat-and-skirt").chosen_plan == name


def dragged_and_laid(it: Shown, hands: Hands) -> str:
    """Move one piece, have the rest laid around it; return where the piece lies, as written."""
    stage(it, hands, "cut")
    hands.drag(PIECE)
    held = it.page.locator(f'.hold.pinned[data-shape="{PIECE}"]')
    held.wait_for()
    at: str = held.get_attribute("data-x")
    stop = it.page.get_by_role("button", name="Stop")
    with one_core():
        hands.press(it.page.get_by_role("button", name="Lay the rest around it"))
        stop.wait_for()
        wait_for_a_lay(it)
    if stop.is_visible():
        hands.press(stop)
    it.page.get_by_text("nothing overlaps, and every rule is kept").wait_for()
    assert held.get_attribute("data-x") == at
    return at


def printed(it: Shown, hands: Hands) -> None:
    """Take the full-size pages away."""
    with it.page.expect_download() as got:
        hands.press(it.page.get_by_role("link", name="on A4 pages"))
    assert Path(got.value.path()).read_bytes().startswith(b"%PDF")


def ticked(it: Shown, hands: Hands) -> None:
    """Tick the first two steps of the laying list."""
    for box in ("#tick-lay-1", "#tick-lay-2"):
        with it.page.expect_response(lambda r: r.url.endswith("/cut/tick")) as said:
            hands.press(it.page.locator(box))
        assert said.value.ok


def everything_is_there(it: Shown, plan: str, at: str) -> None:
    """After a reload: the ticks, the pinned piece in its place, the mend, the plan."""
    it.page.wait_for_selector("html[data-live]", state="attached")
    assert it.page.locator("#tick-lay-1").is_checked()
    assert it.page.locator("#tick-lay-2").is_checked()
    assert not it.page.locator("#tick-lay-3").is_checked()
    held = it.page.locator(f'.hold.pinned[data-shape="{PIECE}"]')
    assert held.get_attribute("data-x") == at
    book = load(it.folder / "coat-and-skirt")
    assert book.chosen_plan == plan
    assert book.steps[-1].change == "match-edge"
    assert not book.steps[2].on
