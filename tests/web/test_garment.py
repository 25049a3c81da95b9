"""The print on the garment in the browser: on the cut page, live in a drag, and for each plan."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from clothwright.cloth.prints import Figure, PrintPicture
from clothwright.drawing.worn import under, worn
from clothwright.geometry.transform import IDENTITY, rotation_deg, translation
from clothwright.picture.paths import matrix
from clothwright.rules.weighing.laid import Laid
from clothwright.store import keep_picture, load, opened
from clothwright.units import Unit
from clothwright.web.rendering import macro
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.editing.edits.cloths import SetPicture
from clothwright.workroom.searching.laying import keep_better, lay_plan
from tests.web.conftest import Desk, PageOn
from tests.web.test_look import axe

CUT, PLANS = "/b/coat-and-skirt/cut", "/b/coat-and-skirt/plans"
MOST_BYTES = 300_000
PIECE = "skirt front"


def keep(folder: Path, laid: Laid) -> None:
    """Keep the lay in a workbook, as an earlier evening did."""
    at = folder / "coat-and-skirt"
    keep_better(at, load(at), laid)


def test_the_cut_page_shows_front_and_back(desk: Desk, laid: Laid) -> None:
    """Both garments, front and back, with words for every seam that the print crosses."""
    keep(desk.folder, laid)
    html = desk.client.get(CUT).text
    for words in ("Coat front", "Coat back", "Skirt front", "Skirt back"):
        assert f"<figcaption>{words}</figcaption>" in html
    assert "Skirt centre back: the border runs on." in html
    assert 'data-worn="skirt front"' in html
    assert "style=" not in html
    assert len(html.encode()) < MOST_BYTES


def test_the_part_is_drawn_alone_with_the_same_ids(desk: Desk, laid: Laid) -> None:
    """Fetched anew after a drop, the part names the prints and clips that it has itself."""
    keep(desk.folder, laid)
    part = desk.client.get(f"{CUT}?part=garment").text
    ids = set(re.findall(r' id="([^"]+)"', part))
    assert len(ids) == len(re.findall(r' id="([^"]+)"', part))
    for used in re.findall(r'href="#([^"]+)"', part) + re.findall(r"url\(#([^)]+)\)", part):
        assert used in ids


def test_a_garment_is_taken_away_as_a_page(desk: Desk, laid: Laid) -> None:
    """The page links a PDF of each garment; another name is refused with the names there are."""
    keep(desk.folder, laid)
    html = desk.client.get(CUT).text
    assert "The print on the skirt, front and back (PDF)" in html
    answer = desk.client.get(f"{CUT}/garment.pdf?name=skirt")
    assert answer.headers["content-type"] == "application/pdf"
    (page,) = pypdfium2.PdfDocument(answer.content)
    assert "skirt back" in page.get_textpage().get_text_range()
    wrong = desk.client.get(f"{CUT}/garment.pdf?name=hat", headers={"accept": "application/json"})
    assert wrong.status_code == 400
    assert "coat, skirt" in wrong.text


def test_before_a_lay_the_part_says_so(desk: Desk) -> None:
    """Nothing laid: no picture, a sentence."""
    part = desk.client.get(f"{CUT}?part=garment").text
    assert "As soon as the plan is laid" in part
    assert "<svg" not in part


def test_every_plan_that_is_laid_shows_its_garment(desk: Desk, laid: Laid) -> None:
    """The plans page answers its question with the picture; a cloth is drawn once for all plans."""
    keep(desk.folder, laid)
    at = desk.folder / "coat-and-skirt"
    keep_better(at, load(at), lay_plan(load(at), "skirt only", seconds=60, rounds=1))
    for html in (desk.client.get(PLANS).text, desk.client.get(f"{PLANS}?part=plans").text):
        assert html.count("<figcaption>Skirt front</figcaption>") == 2
        assert len(html.encode()) < MOST_BYTES
        drawn = re.findall(r' id="(print-[^"]+)"', html)
        assert len(drawn) == 1
        assert set(re.findall(r'<use href="#([^"]+)"', html)) == set(drawn)
        clips = re.findall(r' id="(clip-[^"]+)"', html)
        assert len(set(clips)) == len(clips)


def test_a_photo_of_the_cloth_is_drawn_over_its_lines(laid: Laid) -> None:
    """With a photo the pieces are cut from the photo; lines under it show where it is not there."""
    cloth = next(c for c in laid.compiled.cloths if c.print.borders)
    before = macro("garment_figures.html", "prints", worn(laid, Unit.inch, key="k").cloths, "one")
    assert "<image" not in before
    assert "r-border" in before
    picture = PrintPicture(file="wool.png", width=500.0, height=cloth.width)
    cloths = tuple(
        replace(c, print=replace(c.print, picture=picture)) if c.name == cloth.name else c
        for c in laid.compiled.cloths
    )
    other = replace(laid, compiled=replace(laid.compiled, cloths=cloths))
    after = macro("garment_figures.html", "prints", worn(other, Unit.inch, key="k").cloths, "a b")
    assert re.search(r'<image id="[^"]+" href="/b/a%20b/pictures/wool.png"', after)
    assert f'y="{-cloth.width:g}"' in after
    assert 0 < after.index("r-border") < after.index("<use")


def test_the_drop_in_a_figure_is_open_on_the_page(page_on: PageOn, laid: Laid) -> None:
    """A motif's disc is filled, its drop is not, so that upside down is seen: as a browser says."""
    it = page_on("coat-and-skirt")
    keep(it.folder, laid)
    it.go(CUT)
    rose = Figure(name="rose", x=400.0, y=700.0, radius=100.0)
    cloths = tuple(
        replace(c, print=replace(c.print, up="end", figures=(rose,))) for c in laid.compiled.cloths
    )
    other = replace(laid, compiled=replace(laid.compiled, cloths=cloths))
    html = macro("garment_figures.html", "prints", worn(other, Unit.inch, key="k").cloths, "one")
    it.page.evaluate(
        """h => { document.querySelector('.prints').outerHTML = h;
            const probe = '<svg id="probe" class="pic" width="200" height="200" '
                + 'viewBox="300 -800 200 200"><use href="#' + document.querySelector('.prints g').id
                + '"/></svg>';
            document.querySelector('#garment').insertAdjacentHTML('afterbegin', probe); }""",
        str(html),
    )
    shot = it.page.locator("#probe").screenshot()
    seen = Image.open(BytesIO(shot)).convert("RGB")
    disc, cloth, *drop, beside = (
        seen.getpixel((100 + dx, 100 + dy))
        for dx, dy in ((-90, 0), (-95, -95), (-30, 0), (40, 0), (40, 40))
    )
    assert disc == beside != cloth
    assert drop == [cloth, cloth]


def test_a_photo_that_is_not_there_is_said(desk: Desk, laid: Laid) -> None:
    """On the cloth's page and on the cut page, with what to do; with its file neither says it."""
    at = desk.folder / "coat-and-skirt"
    cloth = load(at).cloths[0].name
    photo = BytesIO()
    Image.effect_noise((60, 90), 50).save(photo, "PNG")
    name = keep_picture(at, photo.getvalue())
    values = {"file": name, "width": "6 cm", "height": "9 cm"}
    commit_edit(at, SetPicture(cloth=cloth, values=values), base=opened(at).revision)
    keep(desk.folder, laid)
    pages = ("/b/coat-and-skirt/cloth", CUT)
    words = f"The photo of “{cloth}” is not in the workbook"
    assert not any(words in desk.client.get(page).text for page in pages)
    (at / "pictures" / name).unlink()
    assert all(words in desk.client.get(page).text for page in pages)


def test_moves_are_written_as_svg_reads_them() -> None:
    """y points up here and down there: a turn to the left stays one, a shift up goes up."""
    assert matrix(IDENTITY) == "matrix(1.000000, -0.000000, -0.000000, 1.000000, 0, 0)"
    assert matrix(translation((3.0, 4.0))).endswith("3, -4)")
    assert matrix(rotation_deg(90.0)).startswith("matrix(0.000000, -1.000000, 1.000000, 0.000000")
    assert under(120.25, 40.0, 90.0) == "rotate(90) translate(-120.25 40)"


USES = f"""[...document.querySelectorAll('[data-worn="{PIECE}"] use')]
    .map((u) => u.getAttribute("transform"))"""


def test_the_print_follows_while_a_piece_is_dragged(page_on: PageOn, laid: Laid) -> None:
    """In the drag itself, before anything is let go, the cloth moves under the piece's outline."""
    it = page_on("coat-and-skirt")
    keep(it.folder, laid)
    it.go(CUT)
    before = it.page.evaluate(USES)
    others = it.page.evaluate("document.querySelector('[data-worn=\"coat back\"] use').outerHTML")
    place = next(p for p in laid.lay.placements if p.shape == PIECE)
    assert before == [under(place.x, place.y, place.turn_deg)]
    revision = it.page.get_attribute("body", "data-revision")
    hold = it.page.locator(f'.hold[data-shape="{PIECE}"]')
    hold.scroll_into_view_if_needed()
    box = hold.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    it.page.route("**/cut/try", lambda route: None)  # the server does not answer meanwhile
    it.page.mouse.move(x, y)
    it.page.mouse.down()
    it.page.mouse.move(x + 40, y, steps=4)
    now = it.page.evaluate(USES)
    mm = it.page.evaluate("1 / document.querySelector('svg.lay').getScreenCTM().a")
    along = [float(re.search(r"translate\((\S+) ", t)[1]) for t in (before[0], now[0])]  # type: ignore[index]
    assert along[1] - along[0] == pytest.approx(-40 * mm, abs=0.5)
    assert it.page.get_attribute("body", "data-revision") == revision
    assert others == it.page.evaluate(
        "document.querySelector('[data-worn=\"coat back\"] use').outerHTML"
    )


@pytest.mark.parametrize("path", [CUT, PLANS])
def test_axe_finds_nothing_on_the_pictures(page_on: PageOn, laid: Laid, path: str) -> None:
    """WCAG 2.2 AA as far as axe-core can tell, with the garment on the page; 360 px wide."""
    it = page_on("coat-and-skirt", size={"width": 360, "height": 740})
    keep(it.folder, laid)
    it.go(path)
    assert it.page.locator("svg.worn-view").count() == 4
    assert axe(it) == []
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360


def test_after_the_drop_the_picture_is_the_servers(page_on: PageOn, laid: Laid) -> None:
    """Let go and pinned, the print lies where the piece was pinned, as a reload shows it."""
    it = page_on("coat-and-skirt")
    keep(it.folder, laid)
    it.go(CUT)
    before = it.page.evaluate(USES)
    it.page.evaluate(
        "document.addEventListener('morphed', e => { window.anew ||= e.detail === 'garment' })"
    )
    hold = it.page.locator(f'.hold[data-shape="{PIECE}"]')
    hold.scroll_into_view_if_needed()
    box = hold.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    it.page.mouse.move(x, y)
    it.page.mouse.down()
    it.page.mouse.move(x + 12, y, steps=4)
    it.page.mouse.up()
    it.page.wait_for_selector(f'.hold.pinned[data-shape="{PIECE}"]', state="attached")
    it.page.wait_for_function("() => window.anew")
    after = it.page.evaluate(USES)
    assert after != before
    it.go(CUT)
    assert it.page.evaluate(USES) == after


def test_no_two_things_on_a_page_have_one_id(desk: Desk, laid: Laid) -> None:
    """Photo and clips of each drawing have ids of their own, though all show the same photo."""
    at = desk.folder / "coat-and-skirt"
    photo = BytesIO()
    Image.effect_noise((60, 90), 50).save(photo, "PNG")
    values = {"file": keep_picture(at, photo.getvalue()), "width": "6 cm", "height": "9 cm"}
    commit_edit(
        at, SetPicture(cloth=load(at).cloths[0].name, values=values), base=opened(at).revision
    )
    keep(desk.folder, laid)
    for page in ("/b/coat-and-skirt/cloth", CUT):
        html = desk.client.get(page).text
        ids = re.findall(r' id="([^"]+)"', html)
        assert html.count("<image ") > 0
        assert [i for i in dict.fromkeys(ids) if ids.count(i) > 1] == [], page
