"""The page of the cloth: its figures typed, its print dragged, cloths added and taken out."""

from __future__ import annotations

import re

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.meanings import cloth_words, other_widths
from clothwright.cloth.prints import Border, Print
from clothwright.drawing.cloth_holds import holds
from clothwright.store import keep_picture, load, opened
from clothwright.units import Unit
from clothwright.web.cloth_pictures import picture_address
from tests.web.conftest import PHONE, Desk, PageOn

BOOK = "/b/coat-and-skirt/cloth"
WOOL = "bordered wool"


def cloth_of(it) -> Cloth:
    """Return the wool as it is in the workbook's file now."""
    return load(it.folder / "coat-and-skirt").cloth(WOOL)


def test_each_cloth_has_its_drawing_and_fields(desk: Desk) -> None:
    """The query names the cloth; one that is not there is said, and the first is shown."""
    text = desk.client.get(f"{BOOK}?cloth=lining").text
    assert 'id="cloth-name">lining<' in text
    assert 'aria-label="The cloth lining' in text
    assert "There is no cloth" not in text
    text = desk.client.get(f"{BOOK}?cloth=felt").text
    assert "There is no cloth “felt”" in text
    assert f'id="cloth-name">{WOOL}<' in text


def test_handles_lie_where_the_lines_are() -> None:
    """A border along the upper selvedge is counted from that selvedge, downwards."""
    border = Border(name="vine", side="upper", base=40.0, height=100.0, repeat=60.0)
    cloth = Cloth(name="c", width=1400.0, length=2000.0, print=Print(borders=(border,)))
    found = {h.key: h for h in holds(cloth, Unit.cm)}
    assert found["border.0.base"].at == 1360.0
    assert found["border.0.height"].at == 1260.0
    assert found["border.0.base"].sign == found["border.0.height"].sign == -1
    assert found["border.0.repeat"].at == 60.0
    assert "repeat_along" not in found


def test_words_of_a_cloth() -> None:
    """Usable width, washing, nap and border are said; buy = need / (1 - s)."""
    border = Border(name="vine", side="lower", base=40.0, height=100.0)
    cloth = Cloth(
        name="c", width=1400.0, nap=True, shrink_along=0.05, print=Print(borders=(border,))
    )
    words = " ".join(cloth_words(cloth, Unit.cm))
    assert "138 cm of its 140 cm" in words
    assert "1.05 times" in words
    assert "tops point one way" in words
    assert "from 4 cm to 14 cm, counted from the lower selvedge" in words


def test_other_widths_come_from_the_published_table() -> None:
    """2 yd of 60 in cloth is 2 3/4 yd of 45 in; a cloth to be bought has no figure yet."""
    cloth = Cloth(name="c", width=1524.0, length=1828.8)
    assert ("45 in", "2 3/4 yd") in other_widths(cloth, Unit.inch)
    assert other_widths(Cloth(name="c", width=1524.0), Unit.inch) == ()


def test_a_border_is_typed(page_on: PageOn) -> None:
    """A base line typed in any unit is kept, drawn, and there after a reload."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    field = it.page.get_by_label("Base line, from the selvedge")
    field.fill("4 in")
    it.page.get_by_role("button", name="Save the borders").click()
    it.page.wait_for_selector('.hold[data-key="border.0.base"][aria-valuetext="4 in"]')
    assert cloth_of(it).print.borders[0].base == pytest.approx(101.6)
    assert cloth_of(it).print.borders[0].repeat == 56.0  # shown as 2 3/16 in, and not touched
    it.page.reload()
    assert field.input_value() == "4 in"


def test_a_border_is_moved_by_the_keys_alone(page_on: PageOn) -> None:
    """Tab to the knob, arrows: a step each; the figure stands in the form, survives, is undone."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    before = cloth_of(it).print.borders[0]
    hold = it.page.locator('.hold[data-key="border.0.base"]')
    for _ in range(40):
        it.page.keyboard.press("Tab")
        if hold.evaluate("e => e === document.activeElement"):
            break
    it.page.keyboard.press("ArrowUp")
    it.page.keyboard.press("ArrowUp")
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector("#said:has-text('Cloth')")
    moved = cloth_of(it).print.borders[0]
    assert moved.base == pytest.approx(88.9)  # 82 mm, then on the eighths: 3 3/8, 3 1/2 in
    assert moved.height == before.height
    assert hold.evaluate("e => e === document.activeElement")
    it.page.reload()
    assert it.page.get_by_label("Base line, from the selvedge").input_value() == "3 1/2 in"
    it.page.get_by_role("button", name="Undo").click()
    it.page.wait_for_selector('.hold[data-key="border.0.base"][data-mm="82.0000"]')


def test_no_millimetre_in_an_inch_workbook(desk: Desk) -> None:
    """The demo thinks in inches; its cloths were measured in mm: fields and words are in inches."""
    for cloth in ("bordered wool", "lining", "interfacing"):
        shown = desk.client.get(f"{BOOK}?cloth={cloth}").text
        seen = re.sub(r' data-[a-z-]+="[^"]*"', "", shown)
        assert re.search(r"\d (?:mm|cm)\b", seen) is None


def test_a_price_is_of_a_yard_to_who_thinks_in_inches(page_on: PageOn) -> None:
    """Typed of a yard, kept of a metre (1 yd = 0.9144 m exactly), shown of a yard again."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    it.page.get_by_label("Price of a yard").fill("18,29")
    it.page.get_by_role("button", name="Save the measurements").click()
    it.page.wait_for_selector("#said:has-text('Cloth')")
    kept = cloth_of(it).price_per_m
    assert kept == pytest.approx(18.29 / 0.9144, abs=1e-5)
    it.page.reload()
    assert it.page.get_by_label("Price of a yard").input_value() == "18.29"
    it.page.locator("#c-note").fill("the only length there is")
    it.page.get_by_role("button", name="Save the measurements").click()
    it.page.wait_for_selector(".board-head:has-text('the only length there is')")
    assert cloth_of(it).price_per_m == kept


def test_the_repeat_is_dragged(page_on: PageOn) -> None:
    """The pointer takes the knob along; when it lets go, the value is kept once."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    knob = it.page.locator('.hold[data-key="origin_along"] .knob')
    knob.scroll_into_view_if_needed()
    box = knob.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    it.page.mouse.move(x, y)
    it.page.mouse.down()
    it.page.mouse.move(x + 30, y + 5, steps=4)
    it.page.mouse.up()
    it.page.wait_for_selector("#said:has-text('Cloth')")
    assert cloth_of(it).print.origin_along > 40.0
    assert cloth_of(it).print.borders[0].base == 82.0


def test_a_border_is_added_and_taken_out(page_on: PageOn) -> None:
    """A fresh border has a name of its own; both steps are edits of the workbook."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    it.page.get_by_role("button", name="Add a border").click()
    it.page.wait_for_selector("legend:text-is('border')")
    assert [b.name for b in cloth_of(it).print.borders] == ["woven border", "border"]
    it.page.get_by_role("button", name="Take border out").click()
    it.page.wait_for_selector("legend:text-is('border')", state="detached")
    assert len(cloth_of(it).print.borders) == 1


def test_a_flaw_is_marked_and_a_cloth_renamed(page_on: PageOn) -> None:
    """A flaw has corners to type; a new name is followed by the page."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    it.page.get_by_role("button", name="Mark a flaw").click()
    corners = it.page.get_by_label("Corners")
    corners.fill("50 cm by 40 cm\n60 cm by 40 cm\n60 cm by 50 cm")
    it.page.get_by_role("button", name="Save the flaws").click()
    it.page.wait_for_selector("#said:has-text('Cloth')")
    it.page.wait_for_selector("#w-ring-0:text-matches('19 11/16 in by 15 3/4 in')")
    assert cloth_of(it).flaws[0].ring == ((500.0, 400.0), (600.0, 400.0), (600.0, 500.0))
    it.page.locator("#c-name").fill("wool")
    it.page.get_by_role("button", name="Save the measurements").click()
    it.page.wait_for_selector("#cloth-name:text-is('wool')")
    assert "cloth=wool" in it.page.url


def test_a_cloth_is_added_and_taken_out(page_on: PageOn) -> None:
    """Another cloth needs a name and a width; its length may still be bought."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    it.page.locator("#a-name").fill("linen")
    it.page.locator("#a-width").fill("140 cm")
    it.page.get_by_role("button", name="Add this cloth").click()
    it.page.wait_for_selector("#cloth-name:text-is('linen')")
    assert load(it.folder / "coat-and-skirt").cloth("linen").length is None
    it.page.get_by_role("button", name="Take linen out").click()
    it.page.wait_for_selector(f"#cloth-name:text-is('{WOOL}')")
    assert len(load(it.folder / "coat-and-skirt").cloths) == 3


def test_a_knob_is_for_fingers(page_on: PageOn) -> None:
    """On a phone the knob of a border is in sight and takes a finger 22 px beside its middle."""
    it = page_on("coat-and-skirt", size=PHONE)
    it.go(BOOK)
    knob = it.page.locator('.hold[data-key="border.0.base"] .knob')
    knob.scroll_into_view_if_needed()
    box = knob.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    assert 0 < x < PHONE["width"]
    found = it.page.evaluate(
        "([x, y]) => document.elementFromPoint(x, y)?.closest('.hold')?.dataset.key", [x - 21, y]
    )
    assert found == "border.0.base"


def test_only_pictures_that_the_workbook_names_are_served(desk: Desk) -> None:
    """The door gives the picture a cloth names, with its type; any other is refused."""
    folder = desk.folder / "coat-and-skirt"
    data, other = (b"\x89PNG\r\n\x1a\n" + bytes([k] * 40) for k in (1, 2))
    name, unnamed = keep_picture(folder, data), keep_picture(folder, other)
    values = {"file": name, "width": "20 cm", "height": "1 m"}
    edit = {"edit": "set-picture", "cloth": WOOL, "values": values}
    sent = {"base": opened(folder).revision, "token": "", "edit": edit}
    assert desk.post("/b/coat-and-skirt/edit", json=sent).status_code == 200
    answer = desk.client.get(picture_address("coat-and-skirt", name))
    assert (answer.status_code, answer.content) == (200, data)
    assert answer.headers["content-type"] == "image/png"
    assert answer.headers["x-content-type-options"] == "nosniff"
    for wrong in (unnamed, "..%2Fworkbook.toml", "%2e%2e%2fworkbook.toml", "x.png"):
        refused = desk.client.get(f"/b/coat-and-skirt/pictures/{wrong}")
        assert refused.status_code in (400, 404)
        assert b"unit" not in refused.content
