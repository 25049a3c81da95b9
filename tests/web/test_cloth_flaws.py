"""Flaws of a cloth placed on its picture: drawn, moved, sized by mouse, finger and keys."""

from __future__ import annotations

from typing import Any

import pytest

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.drawing.cloth_flaws import box_of, place_words, size_words, spots
from clothwright.store import load
from clothwright.units import Unit
from tests.web.conftest import PHONE, Desk, PageOn, Shown
from tests.web.test_look import axe

BOOK = "/b/coat-and-skirt/cloth"
WOOL = "bordered wool"
STAIN = [["30 cm", "40 cm"], ["40 cm", "40 cm"], ["40 cm", "50 cm"], ["30 cm", "50 cm"]]
STEP = 25.4 / 8
"""mm: the demo thinks in inches."""


def flaws_of(it: Shown | Desk) -> tuple[Flaw, ...]:
    """Return the flaws of the wool as saved."""
    return load(it.folder / "coat-and-skirt").cloth(WOOL).flaws


def stained(it: Shown) -> None:
    """Put a stain on the wool, and open its page."""
    book = it.served.room.book("coat-and-skirt")
    edit = {
        "edit": "set-cloth",
        "cloth": WOOL,
        "values": {"flaw": [{"name": "stain", "ring": STAIN}]},
    }
    book.edit(edit, base=book.read().revision)
    it.go(BOOK)


def middle(it: Shown, what: str) -> tuple[float, float]:
    """Return the middle of something on the screen."""
    found = it.page.locator(what)
    found.scroll_into_view_if_needed()
    box = found.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def pulled(it: Shown, start: tuple[float, float], by: tuple[float, float]) -> None:
    """Drag with the mouse."""
    it.page.mouse.move(*start)
    it.page.mouse.down()
    it.page.mouse.move(start[0] + by[0], start[1] + by[1], steps=4)
    it.page.mouse.up()


def changed(it: Shown, was: str, key: str = "flaw.0.move") -> None:
    """Wait until the drawing has a flaw at another place, as saved."""
    it.page.wait_for_function(
        "([key, was]) => document.querySelector(`.spot[data-key='${key}']`).dataset.ring !== was",
        arg=[key, was],
    )


def ring_on(it: Shown, key: str = "flaw.0.move") -> str:
    """Return the corners of a flaw as drawn."""
    return str(it.page.locator(f'.spot[data-key="{key}"]').get_attribute("data-ring"))


def test_words_of_a_flaw() -> None:
    """Where it lies and how large it is, in the maker's unit."""
    flaw = Flaw(name="stain", ring=((300.0, 400.0), (420.0, 400.0), (300.0, 450.0)))
    assert box_of(flaw) == (300.0, 400.0, 420.0, 450.0)
    assert place_words(flaw, Unit.cm) == "30 cm from the cut end, 40 cm from the lower selvedge"
    assert size_words(flaw, Unit.cm) == "12 cm along by 5 cm across"


@pytest.mark.parametrize("x", [0.0, 3.0, 1000.0, 1990.0])
def test_both_knobs_of_a_flaw_can_be_hit(x: float) -> None:
    """Wherever it lies they stand apart, on the cloth, and its corners are said exactly."""
    ring = ((x, 100.0), (x + 10.0, 100.0), (x + 10.0, 110.0))
    cloth = Cloth(name="c", width=1400.0, length=2000.0, flaws=(Flaw(name="hole", ring=ring),))
    found = spots(cloth, Unit.cm)
    places = [spot.x for spot in found]
    assert len(places) == 2
    assert places[1] - places[0] >= 6 * 0.011 * 2000.0 - 0.01
    assert all(0.0 <= p <= 2000.0 for p in places)
    assert all(spot.ring.startswith(f"{x:.4f},100.0000 ") for spot in found)


def test_a_flaw_has_knobs_with_names(desk: Desk) -> None:
    """Its name is text, whatever is in it."""
    book = desk.room.book("coat-and-skirt")
    row = {"name": '<b>"hole"', "ring": STAIN}
    book.edit(
        {"edit": "set-cloth", "cloth": WOOL, "values": {"flaw": [row]}}, base=book.read().revision
    )
    text = desk.client.get(BOOK).text
    assert "&lt;b&gt;&#34;hole&#34;, its place: 11 13/16 in from the cut end" in text
    assert '<b>"hole"' not in text


def test_a_flaw_is_dragged_and_sized(page_on: PageOn, shots) -> None:
    """The mouse takes it along; its size is pulled by the other knob; undo puts both back."""
    it = page_on("coat-and-skirt")
    stained(it)
    before = flaws_of(it)
    was = ring_on(it)
    pulled(it, middle(it, '.spot[data-key="flaw.0.move"] .knob'), (60, -20))
    changed(it, was)
    x0, y0, x1, y1 = box_of(flaws_of(it)[0])
    assert (x0 > 300.0, y0 > 400.0) == (True, True)
    assert (x1 - x0, y1 - y0) == pytest.approx((100.0, 100.0), abs=1e-3)
    assert x0 / STEP == pytest.approx(round(x0 / STEP), abs=1e-3)
    it.page.wait_for_selector("#hold-said:has-text('from the cut end')")
    was = ring_on(it)
    pulled(it, middle(it, '.spot[data-key="flaw.0.size"] .knob'), (40, -30))
    changed(it, was)
    larger = box_of(flaws_of(it)[0])
    assert larger[:2] == pytest.approx((x0, y0), abs=1e-3)
    assert larger[2] > x1
    assert larger[3] > y1
    shots(it, "cloth-flaws")
    assert axe(it) == []
    for _ in range(2):
        was = ring_on(it)
        it.page.locator("[data-go=undo]").click()
        changed(it, was)
    assert flaws_of(it) == before


def test_a_flaw_is_drawn(page_on: PageOn) -> None:
    """From corner to corner over the cloth; the next one by a mere touch; names are their own."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    button = it.page.get_by_role("button", name="Draw a flaw on the picture")
    button.click()
    assert button.get_attribute("aria-pressed") == "true"
    x, y = middle(it, ".cloth-pic")
    pulled(it, (x, y), (80, 40))
    it.page.wait_for_selector('.spot[data-key="flaw.0.move"]:focus')
    x0, y0, x1, y1 = box_of(flaws_of(it)[0])
    assert x1 - x0 > y1 - y0 > 10.0
    assert button.get_attribute("aria-pressed") == "false"
    button.click()
    x, y = middle(it, ".cloth-pic")
    it.page.mouse.click(x - 120, y)
    it.page.wait_for_selector('.spot[data-key="flaw.1.move"]')
    assert [f.name for f in flaws_of(it)] == ["flaw", "flaw 2"]
    box = box_of(flaws_of(it)[1])
    assert box[2] - box[0] == pytest.approx(50.8, abs=STEP)
    button.click()
    it.page.keyboard.press("Escape")
    assert button.get_attribute("aria-pressed") == "false"


def test_a_flaw_by_the_keys_alone(page_on: PageOn) -> None:
    """Marked in the middle, moved by arrows and Shift, kept with Enter; Escape puts it back."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    it.page.get_by_role("button", name="Draw a flaw on the picture").focus()
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector('.spot[data-key="flaw.0.move"]:focus')
    x0, y0, _, _ = box_of(flaws_of(it)[0])
    was = ring_on(it)
    it.page.keyboard.press("ArrowRight")
    it.page.keyboard.press("Shift+ArrowUp")
    it.page.keyboard.press("Enter")
    changed(it, was)
    found = box_of(flaws_of(it)[0])
    assert found[:2] == pytest.approx((x0 + STEP, y0 + 8 * STEP), abs=STEP / 2)
    it.page.keyboard.press("ArrowLeft")
    it.page.keyboard.press("Escape")
    was = ring_on(it)
    it.page.locator('.spot[data-key="flaw.0.size"]').focus()
    it.page.keyboard.press("Shift+ArrowRight")
    it.page.keyboard.press("Enter")
    changed(it, was)
    assert box_of(flaws_of(it)[0])[0] == pytest.approx(found[0], abs=1e-3)
    assert box_of(flaws_of(it)[0])[2] > found[2]


def touched(it: Shown, cdp: Any, kind: str, *at: float) -> None:
    """Send a touch to the browser."""
    points = [{"x": at[0], "y": at[1]}] if at else []
    cdp.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_a_flaw_with_a_finger(page_on: PageOn) -> None:
    """On a phone a knob takes a finger beside its middle, and the page stays where it is."""
    it = page_on("coat-and-skirt", size=PHONE)
    stained(it)
    x, y = middle(it, '.spot[data-key="flaw.0.move"] .knob')
    assert 0 < x < PHONE["width"]
    hit = "([x, y]) => document.elementFromPoint(x, y)?.closest('.spot')?.dataset.key"
    assert it.page.evaluate(hit, [x - 15, y]) == "flaw.0.move"
    was, top = ring_on(it), it.page.evaluate("scrollY")
    cdp = it.page.context.new_cdp_session(it.page)
    touched(it, cdp, "touchStart", x, y)
    for k in range(1, 5):
        touched(it, cdp, "touchMove", x + 10 * k, y - 6 * k)
    touched(it, cdp, "touchEnd")
    changed(it, was)
    found = box_of(flaws_of(it)[0])
    assert found[0] > 300.0
    assert found[1] > 400.0
    assert it.page.evaluate("scrollY") == top
    assert it.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_a_border_with_a_finger(page_on: PageOn) -> None:
    """The knob of a line is drawn along by a finger as by the mouse."""
    it = page_on("coat-and-skirt", size=PHONE)
    it.go(BOOK)
    base = load(it.folder / "coat-and-skirt").cloth(WOOL).print.borders[0].base
    x, y = middle(it, '.hold[data-key="border.0.base"] .knob')
    cdp = it.page.context.new_cdp_session(it.page)
    touched(it, cdp, "touchStart", x, y)
    for k in range(1, 5):
        touched(it, cdp, "touchMove", x, y - 5 * k)
    touched(it, cdp, "touchEnd")
    it.page.wait_for_selector("#said:has-text('Cloth')")
    assert load(it.folder / "coat-and-skirt").cloth(WOOL).print.borders[0].base > base
