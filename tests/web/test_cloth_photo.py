"""A photo of the cloth on the page: corners, figures, taken over, undone (simulated photos)."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from clothwright.store import load
from clothwright.workroom.cloth.photos import PhotoLies
from tests.photo.cloths import Design, Shot, photographed
from tests.web.conftest import PHONE, Desk, PageOn
from tests.web.test_look import axe

HERE = "/b/coat-and-skirt/cloth/photo"
DESIGN = Design(kind="border", along=61.0, base=24.0, height=70.0, side="lower")


def jpeg(shot: Shot) -> bytes:
    """Return a photo as a JPEG file."""
    out = io.BytesIO()
    Image.fromarray(shot.photo.pixels).save(out, "JPEG", quality=92)
    return out.getvalue()


def spots(shot: Shot) -> list[tuple[float, float]]:
    """Return the corners as shares of the photo."""
    return [(x / shot.photo.width, y / shot.photo.height) for x, y in shot.corners]


def text_of(shot: Shot) -> str:
    """Return the corners as the address says them."""
    return " ".join(f"{x:.5f},{y:.5f}" for x, y in spots(shot))


def sent(desk: Desk, data: bytes, name: str = "cloth.jpg") -> object:
    """Send a photo as the page does."""
    return desk.post(f"{HERE}/file?cloth=bordered+wool&name={name}", content=data)


@pytest.fixture(scope="module")
def shot() -> Shot:
    """A photo of a bordered cloth, its figures known."""
    return photographed(DESIGN, 3, pixels=1200)


def test_found_and_shown(desk: Desk, shot: Shot) -> None:
    """With corners and size the page shows the border and its repeat, near the truth."""
    assert sent(desk, jpeg(shot)).status_code == 200  # type: ignore[attr-defined]
    query = f"cloth=bordered+wool&how=corners&corners={text_of(shot)}"
    page = desk.client.get(f"{HERE}?{query}&width={shot.width:.1f}mm&height={shot.height:.1f}mm")
    assert page.status_code == 200
    assert "along the lower selvedge" in page.text
    assert f'value="{"24"}' in page.text or 'name="border.0.base"' in page.text
    again = desk.client.get(
        f"{HERE}/straight.jpg?{query}&width={shot.width:.1f}mm&height={shot.height:.1f}mm"
    )
    assert again.headers["content-type"] == "image/jpeg"


@pytest.mark.parametrize(
    ("data", "words"),
    [(b"", "photo"), (b"GIF89a....", "photo"), (b"\xff\xd8\xff\xe0 cut off", "photo")],
)
def test_what_is_no_photo_is_refused(desk: Desk, data: bytes, words: str) -> None:
    """A sentence, and nothing is kept."""
    answer = sent(desk, data)
    assert answer.status_code == 400  # type: ignore[attr-defined]
    assert words in answer.json()["sentence"].lower()  # type: ignore[attr-defined]
    assert not list((desk.folder / "coat-and-skirt").glob("photos/*"))


@pytest.mark.parametrize(("first", "up"), [(0, "upper"), (1, "end"), (2, "lower"), (3, "start")])
def test_the_top_of_the_photo_lies_on_the_cloth(first: int, up: str) -> None:
    """A photo turned by quarters: its top edge lies between the corners that are named so.

    With the lower left corner at the photo's lower left its top is the upper selvedge; with it at
    the lower right, the cloth's length runs up the photo, and so on round.
    """
    ring = ((0.1, 0.9), (0.9, 0.9), (0.9, 0.1), (0.1, 0.1))
    corners = ring[first:] + ring[:first]
    assert PhotoLies(corners=corners, width=300.0, height=200.0).up == up
    assert PhotoLies(dpi=300.0).up == "upper"


@pytest.mark.parametrize(
    "query", ["corners=1,2", "corners=a,b c,d e,f g,h", "width=-3cm&height=2cm"]
)
def test_bad_figures_are_said_on_the_page(desk: Desk, shot: Shot, query: str) -> None:
    """The page stays, with a sentence."""
    sent(desk, jpeg(shot))
    page = desk.client.get(f"{HERE}?cloth=bordered+wool&{query}")
    assert page.status_code == 200
    assert 'id="photo-trouble"' in page.text


def measured(it, shot: Shot, tmp_path: Path) -> None:
    """Send the photo, put the corners in place, type the size, straighten."""
    file = tmp_path / "cloth.jpg"
    file.write_bytes(jpeg(shot))
    it.page.get_by_label("Choose the photo").set_input_files(file)
    # Reached by a link: a form that is sent before the page's script runs cannot send a photo.
    it.page.wait_for_selector("html[data-live]", state="attached")
    it.page.get_by_role("button", name="Add this photo").click()
    it.page.wait_for_selector(".photo .knob")
    it.page.wait_for_selector("html[data-live]", state="attached")
    for k, (x, y) in enumerate(spots(shot)):
        knob = it.page.locator(f'.knob[data-corner="{k}"]')
        knob.scroll_into_view_if_needed()
        box = it.page.locator("svg.photo[data-width]").bounding_box()
        at = knob.locator(".dot").bounding_box()
        it.page.mouse.move(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)
        it.page.mouse.down()
        it.page.mouse.move(box["x"] + x * box["width"], box["y"] + y * box["height"], steps=4)
        it.page.mouse.up()
    it.page.get_by_label("Between the corners, along the selvedge").fill(
        f"{shot.width / 10:.2f} cm"
    )
    it.page.get_by_label("Between the corners, across").fill(f"{shot.height / 10:.2f} cm")
    it.page.get_by_role("button", name="Straighten it").click()
    it.page.wait_for_selector("#straight-name")


def test_measured_taken_reloaded_undone(page_on: PageOn, shots, shot: Shot, tmp_path: Path) -> None:
    """Figures within 2 mm of the truth, the picture with them; undo takes both back."""
    it = page_on("coat-and-skirt")
    folder = it.folder / "coat-and-skirt"
    before = load(folder).cloth("bordered wool").print
    it.go("/b/coat-and-skirt/cloth")
    it.page.get_by_role("link", name="Measure the print from a photo").click()
    measured(it, shot, tmp_path)
    shots(it, "cloth-photo-found")
    assert axe(it) == []
    assert it.page.locator("input[name=up]:checked").count() == 0  # which way is up is asked
    assert "its top points towards the upper selvedge" in it.page.locator("#t-up-help").inner_text()
    it.page.get_by_label("towards the upper selvedge").check()
    it.page.get_by_role("button", name="Save these measurements").click()
    it.page.wait_for_selector('body[data-page="cloth"]')
    it.page.wait_for_selector("svg.has-photo image", state="attached")
    shots(it, "cloth-with-photo")
    made = load(folder).cloth("bordered wool").print
    assert made.picture is not None
    assert made.up == "upper"
    assert made.borders[0].base == pytest.approx(DESIGN.base, abs=2.0)
    assert made.borders[0].height == pytest.approx(DESIGN.height, abs=2.0)
    assert made.borders[0].repeat == pytest.approx(DESIGN.along, abs=1.0)
    it.page.reload()
    assert it.page.locator("svg.has-photo image").count() > 0
    it.page.wait_for_selector("html[data-live]", state="attached")
    it.page.get_by_role("button", name="Undo").click()
    it.page.wait_for_selector("svg.has-photo", state="detached")
    assert load(folder).cloth("bordered wool").print == before


def test_corners_by_the_keys_on_a_phone(page_on: PageOn, shot: Shot, tmp_path: Path) -> None:
    """A corner is moved with the arrow keys; nothing hangs over at 360 px."""
    it = page_on("coat-and-skirt", size={**PHONE, "width": 360})
    it.go(HERE + "?cloth=bordered+wool")
    file = tmp_path / "cloth.jpg"
    file.write_bytes(jpeg(shot))
    it.page.get_by_label("Choose the photo").set_input_files(file)
    it.page.get_by_role("button", name="Add this photo").click()
    knob = it.page.locator('.knob[data-corner="0"]')
    knob.wait_for()
    it.page.wait_for_selector("html[data-live]", state="attached")
    was = float(knob.get_attribute("data-x"))
    knob.focus()
    it.page.keyboard.press("Shift+ArrowRight")
    it.page.keyboard.press("ArrowLeft")
    assert float(knob.get_attribute("data-x")) == pytest.approx(was + 0.009, abs=1e-6)
    field = it.page.locator("#size-form input[name=corners]").input_value()
    assert field.startswith(f"{was + 0.009:.5f},")
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360
