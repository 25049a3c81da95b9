"""A newcomer's whole path over every page, by the mouse, by a finger on a phone, by keys alone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from clothwright.store import load
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
TABS = 400


@dataclass
class Mouse:
    """Works a page as a hand with a mouse does."""

    page: Any

    def press(self, what: Any) -> None:
        """Press a button, a link or a box."""
        what.click()

    def choose(self, what: Any, value: str) -> None:
        """Choose one of a list."""
        what.select_option(value)

    def drag(self, name: str) -> None:
        """Drag a piece on the cutting table a little to the right and down."""
        x, y = middle(self.page, name)
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + 12, y + 8, steps=6)
        self.page.mouse.up()


@dataclass
class Finger(Mouse):
    """Works a page as a finger on glass does."""

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
class Keys(Mouse):
    """Works a page by keys alone: nothing is clicked, nothing is focused but by Tab."""

    def reach(self, what: Any) -> None:
        """Press Tab until it has the focus, and see that the focus shows."""
        for _ in range(TABS):
            if what.evaluate("e => e === document.activeElement"):
                break
            self.page.keyboard.press("Tab")
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


HANDS: dict[str, tuple[Callable[[Any], Mouse], dict[str, int]]] = {
    "mouse": (Mouse, LAPTOP),
    "finger": (Finger, PHONE),
    "keys": (Keys, LAPTOP),
}


@pytest.mark.slow
@pytest.mark.parametrize("hand", HANDS)
def test_from_nothing_to_a_ticked_lay(page_on: PageOn, hand: str) -> None:
    """Open the demo, mend a finding, compare plans, choose, drag, lay, print, tick, reload."""
    make, size = HANDS[hand]
    it = page_on(size=size)
    it.go("/")
    hands = make(it.page)
    opened(it, hands)
    read_and_mended(it, hands)
    chosen = compared_and_chosen(it, hands)
    at = dragged_and_laid(it, hands)
    printed(it, hands)
    ticked(it, hands)
    it.page.reload()
    everything_is_there(it, chosen, at)


def stage(it: Shown, hands: Mouse, name: str) -> None:
    """Go to a stage by the tape at the head of the page."""
    hands.press(it.page.locator(".tape a", has_text=name))
    it.page.wait_for_selector(f'body[data-page="{name}"]')
    it.page.wait_for_selector("html[data-live]", state="attached")


def opened(it: Shown, hands: Mouse) -> None:
    """One press on the first page brings the demo, at its first stage."""
    hands.press(it.page.locator('button[value="coat-and-skirt"]'))
    it.page.wait_for_selector('body[data-page="pieces"]')
    it.page.wait_for_selector("html[data-live]", state="attached")


def read_and_mended(it: Shown, hands: Mouse) -> None:
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


def compared_and_chosen(it: Shown, hands: Mouse) -> str:
    """Lay the three plans, see which fit, choose the first; return its name."""
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
    return name


def dragged_and_laid(it: Shown, hands: Mouse) -> str:
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


def printed(it: Shown, hands: Mouse) -> None:
    """Take the full-size pages away."""
    with it.page.expect_download() as got:
        hands.press(it.page.get_by_role("link", name="on A4 pages"))
    assert Path(got.value.path()).read_bytes().startswith(b"%PDF")


def ticked(it: Shown, hands: Mouse) -> None:
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
