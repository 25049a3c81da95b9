"""Photos of a paper piece on the page: taken in together, corrected by hand, nothing lost."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from clothwright.geometry.path import join_all
from clothwright.store import load
from clothwright.workroom.pieces import inbox, photo_sitting
from clothwright.workroom.pieces.photo_solving import whole_table
from tests.photo.taken import BAR, POCKET, jpegs, with_a_pocket, without_sheets
from tests.web.conftest import PHONE, PageOn
from tests.web.test_add_in_browser import begin, told
from tests.web.test_look import axe

NAMES = ("front 1.jpg", "front 2.jpg")


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """Photos as files: two of a front."""
    folder = tmp_path_factory.mktemp("taken")
    for name, data in zip(NAMES, jpegs(), strict=False):
        (folder / name).write_bytes(data)
    return [folder / n for n in NAMES]


def take_photos(it, files, bar: str = BAR) -> None:
    """Choose photos, say the bar, send them, and wait for the outline."""
    it.page.get_by_label("Choose one to five photos").set_input_files(files)
    it.page.locator("#bar-first").fill(bar)
    it.page.get_by_role("button", name="Add these photos").click()
    it.page.wait_for_selector("#outline-pic")


def waits(it):
    """Return the piece that waits, as it stands on the disk."""
    (one,) = inbox.waiting(it.folder / "Mine")
    return photo_sitting.view_of(one)


def drag(it, knob, by: tuple[float, float]) -> None:
    """Drag a point by so many pixels with the mouse."""
    box = knob.locator(".dot").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    it.page.mouse.move(x, y)
    it.page.mouse.down()
    it.page.mouse.move(x + by[0], y + by[1], steps=4)
    it.page.mouse.up()


def put_right(it) -> None:
    """The lettering's bump is taken out; the other doubt is said to be right."""
    it.page.get_by_role("button", name="Run fair across doubt 2").click()
    told(it, "fair across")
    it.page.get_by_role("button", name="This is right doubt 1").click()
    told(it, "Saved")
    it.page.get_by_text("all looked at").wait_for()


def test_photos_become_a_corrected_piece(page_on: PageOn, files) -> None:
    """Two photos, the bar, a doubt, a dragged corner, undo, a reload: the piece is as corrected."""
    it = page_on()
    begin(it)
    it.page.get_by_text("How to take them").click()
    assert it.page.get_by_role("link", name="4 sheets on A4").is_visible()
    take_photos(it, files, bar="")
    told(it, "2 photos were put together")
    assert "to answer" in it.page.locator("#bar-name").inner_text()
    it.page.locator("#bar").fill(BAR)
    it.page.get_by_role("button", name="Save this length").click()
    told(it, "198 mm")
    put_right(it)
    it.page.get_by_role("button", name="Show it doubt 1").click()
    corner = it.page.locator("#outline-pic .knob.at-corner").first
    at = corner.get_attribute("data-at")
    it.page.get_by_role("button", name="Whole").click()
    corner.scroll_into_view_if_needed()
    drag(it, corner, (9.0, 6.0))
    told(it, "Saved: moved by")
    view = waits(it)
    (moved,) = [m for m in view.photos.moves if m.to is not None]
    scale = view.found.size_mm[0] / it.page.locator("#outline-pic image").bounding_box()["width"]
    gone = (moved.to - moved.at) * view.share
    assert (gone.x, gone.y) == pytest.approx((9.0 * scale, -6.0 * scale), abs=0.6)
    it.page.get_by_role("button", name="Undo correction").click()
    told(it, "undone")
    assert all(m.to is None for m in waits(it).photos.moves)
    it.page.get_by_role("button", name="Do it again").click()
    told(it, "done again")
    it.page.reload()
    it.page.wait_for_selector("html[data-live]", state="attached")
    assert it.page.locator(f'.knob[data-at="{at}"]').get_attribute("data-kind") == "hand"
    assert "Corrected by hand" in it.page.locator("#outline").inner_text()
    corrected = waits(it)
    it.page.get_by_label("No: the outline is the stitching line").first.check()
    it.page.get_by_role("button", name="Save the allowance").click()
    told(it, "Saved")
    it.page.get_by_role("button", name="Add this piece").click()
    it.page.get_by_text("in the workbook now").wait_for()
    (piece,) = load(it.folder / "Mine").bought.pieces
    line = join_all(tuple(e.path for e in piece.edges))
    path = corrected.now.outline.path
    assert max(path.nearest(line.point_at(s))[1] for s in range(0, int(line.length), 9)) < 0.001
    assert line.length == pytest.approx(path.length, abs=0.01)
    assert "from 2 photos" in piece.note
    assert "corrected by hand" in piece.note
    assert "not looked at" not in piece.note


def test_keys_and_axe(page_on: PageOn, files) -> None:
    """Points are chosen, moved, given up, taken away and added by keys; axe finds nothing."""
    it = page_on()
    begin(it)
    take_photos(it, files[:1])
    told(it, "flattened")
    assert axe(it) == []
    first = it.page.locator("#outline-pic .knob").first
    first.focus()
    it.page.keyboard.press("PageDown")
    at = it.page.evaluate("document.activeElement.dataset.at")
    it.page.keyboard.press("ArrowRight")
    it.page.keyboard.press("Shift+ArrowUp")
    it.page.keyboard.press("Enter")
    told(it, "Saved: moved by 4")
    (move,) = waits(it).photos.moves
    assert ((move.to - move.at) * waits(it).share).norm == pytest.approx(4.031, abs=0.01)
    assert it.page.evaluate("document.activeElement.dataset.at") == at
    it.page.keyboard.press("ArrowLeft")
    it.page.keyboard.press("Escape")
    it.page.wait_for_timeout(1200)
    assert len(waits(it).photos.before) == 1
    it.page.keyboard.press("Delete")
    told(it, "as it was found")
    it.page.keyboard.press("Delete")
    told(it, "taken away")
    assert len(waits(it).mended.taken) == 1
    it.page.keyboard.press("Control+z")
    told(it, "undone")
    it.page.keyboard.press("+")
    assert it.page.locator("#outline-pic.near").count() == 1
    it.page.get_by_role("button", name="Next point").click()
    it.page.get_by_role("button", name="Add a point after it").click()
    told(it, "point was added")
    assert sum(h.by_hand for h in waits(it).mended.holds) == 1
    assert axe(it) == []


def test_by_finger_on_a_phone(page_on: PageOn, files) -> None:
    """Zoomed in a finger hits the millimetre; the magnifier shows it; nothing hangs over."""
    it = page_on(size={**PHONE, "width": 360})
    begin(it)
    take_photos(it, files[:1])
    told(it, "flattened")
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360
    it.page.get_by_role("button", name="Show it doubt 1").tap()
    knob = it.page.locator("#outline-pic .knob.chosen")
    it.page.get_by_role("button", name="Closer").tap()
    assert it.page.locator("#loupe").is_visible()
    view = it.page.locator("#outline-pic image").bounding_box()["width"]
    scale = waits(it).found.size_mm[0] / view
    assert 5 * scale < 1.0  # five pixels are less than a millimetre
    box = knob.locator(".dot").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger = it.page.context.new_cdp_session(it.page)
    touch = "Input.dispatchTouchEvent"
    finger.send(touch, {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for k in range(1, 11):
        finger.send(touch, {"type": "touchMove", "touchPoints": [{"x": x + k, "y": y}]})
    finger.send(touch, {"type": "touchEnd", "touchPoints": []})
    told(it, "Saved: moved by")
    (move,) = waits(it).photos.moves
    assert ((move.to - move.at) * waits(it).share).x == pytest.approx(10 * scale, abs=0.3)
    it.page.get_by_role("button", name="Move the point right").tap()
    told(it, "Saved: moved by")
    (again,) = waits(it).photos.moves
    assert ((again.to - move.to) * waits(it).share).x == pytest.approx(0.5, abs=0.01)


def test_what_is_wrong_is_said_and_the_rest_stays(page_on: PageOn, files, tmp_path) -> None:
    """A photo without sheets, a damaged one: named; the good one waits, and takes one more."""
    bad, half = tmp_path / "lonely.jpg", tmp_path / "half.jpg"
    bad.write_bytes(without_sheets())
    half.write_bytes(jpegs()[1][:5000])
    it = page_on()
    begin(it)
    take_photos(it, [bad, files[0], half], bar="much")
    it.page.locator("#trouble", has_text="no marker sheet").wait_for()
    trouble = it.page.locator("#trouble").inner_text()
    assert "onely.jpg: no marker sheet" in trouble
    assert "alf.jpg" in trouble
    assert "much" in trouble
    it.trouble.clear()  # the browser itself notes a refused request
    it.page.get_by_role("button", name="Close", exact=True).click()
    it.page.get_by_label("One more photo").set_input_files(files[1])
    it.page.get_by_role("button", name="Add this photo").click()
    it.page.get_by_role("button", name="Leave out front 2.jpg").wait_for()
    assert len(waits(it).photos.used) == 2
    it.page.get_by_role("button", name="Leave out front 2.jpg").click()
    told(it, "left out")
    assert len(waits(it).photos.used) == 1
    x, y = it.page.evaluate(
        """() => { const line = document.getElementById('outline-reach');
            line.scrollIntoView({block: 'center'});
            for (let far = 20; ; far += 5) { // where no point lies already
              const at = line.getPointAtLength(line.getTotalLength() / 3 + far);
              const on = at.matrixTransform(line.getScreenCTM());
              if (document.elementFromPoint(on.x, on.y) === line) return [on.x, on.y];
            } }"""
    )
    it.page.mouse.click(x, y)
    told(it, "point was added")
    assert sum(h.by_hand for h in waits(it).mended.holds) == 1
    again = page_on()  # another server on the same folder
    again.go("/b/Mine/add")
    again.page.get_by_role("link", name="front 1.jpg").click()
    again.page.wait_for_selector("#outline-pic")
    assert again.page.locator("#outline-pic .knob.hand").count() == 1


def test_another_piece_is_pointed_at(page_on: PageOn, tmp_path) -> None:
    """Pressed in the middle of the pocket on the whole table: the pocket is the piece."""
    file = tmp_path / "front.jpg"
    file.write_bytes(with_a_pocket())
    it = page_on()
    begin(it)
    take_photos(it, [file])
    told(it, "flattened")
    it.page.get_by_text("Another one is meant").click()
    before = it.page.locator("#outline-pic image").get_attribute("href")
    view = waits(it)
    (one,) = inbox.waiting(it.folder / "Mine")
    table = whole_table(one.stored.parent, view.photos)
    assert table is not None
    number, corners = next(iter(table.sheets.items()))
    low, high = view.found.outline.path.bounds()
    middle = (low + high) * (0.5 / view.share) + corners[0]
    middle -= view.found.sheets[number][0] * (1 / view.share)
    it.page.locator("#whole-pic image").scroll_into_view_if_needed()
    box = it.page.locator("#whole-pic image").bounding_box()
    x = box["x"] + middle.x / table.size[0] * box["width"]
    y = box["y"] + (1 - middle.y / table.size[1]) * box["height"]
    it.page.mouse.click(x, y)
    told(it, "This piece was found")
    length = waits(it).found.outline.path.length
    assert length == pytest.approx(2 * sum(POCKET), rel=0.01)
    address = it.page.locator("#outline-pic image").get_attribute("href")
    assert address != before  # else the browser lays the outline over the picture it has
    shape = Image.open(io.BytesIO(it.page.request.get(it.served.address + address).body())).size
    wide, tall = waits(it).found.size_mm
    assert shape[0] / shape[1] == pytest.approx(wide / tall, rel=0.01)
    it.page.get_by_role("button", name="Take the largest after all").click()
    told(it, "This piece was found")
    assert waits(it).found.outline.path.length > 1500
