"""The walk page: findings beside the seam, their mends, every seam."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import pypdfium2

from clothwright.checks import looked_at
from clothwright.store import load, save
from clothwright.workroom.walking.checking import findings_of
from tests.listed import switched
from tests.web.conftest import Desk, PageOn
from tests.web.test_look import axe

BOOK = "/b/coat-and-skirt/walk"
SIDE, ELBOW = 3, 6
"""Changes of the demo: the coat's side made to match; its sleeve straightened."""


def undo(folder: Path, number: int) -> None:
    """Switch one change of the demo off, as another program would, and keep that."""
    save(switched(load(folder), number, on=False), folder)


def test_all_agrees(desk: Desk) -> None:
    """The demo agrees: the verdict says it, with what was looked at; every seam is listed."""
    text = desk.client.get(BOOK).text
    book = load(desk.folder / "coat-and-skirt")
    assert f"All {len(book.bought.seams)} seams agree" in text
    looked = [c.title for c, what in looked_at(book.bought) if what.count]
    assert len(looked) > 10
    assert all(f"{title} Yes: " in text.replace("&#39;", "'") for title in looked)
    assert len(re.findall(r'class="status good"', text)) == len(book.bought.seams)
    assert "status bad" not in text


def test_a_finding_says_what_its_mend_will_do(desk: Desk) -> None:
    """Measured difference in the maker's unit, and the change that mends it and upsets nothing.

    To take the front up would leave its facing too long, so that the back is offered.
    """
    undo(desk.folder / "coat-and-skirt", SIDE)
    text = desk.client.get(f"{BOOK}?part=findings").text
    assert "coat front, side is 3/8 in longer than coat back, side" in text
    assert 'name="kind" value="match-edge"' in text
    assert 'name="params.edge" value="coat back.side"' in text
    assert "this finding is gone" in text
    assert 'name="params.neighbour" value="parallel"' in text  # its hem lies along a border
    assert "2 faults to mend" in text


def test_a_finding_without_a_seam_shows_its_piece(desk: Desk) -> None:
    """What lies on one piece is shown on that piece, its edge marked."""
    undo(desk.folder / "coat-and-skirt", ELBOW)
    text = desk.client.get(f"{BOOK}?part=findings").text
    assert "Where: coat sleeve, hem, with grain line marked." in text


def test_the_toile_on_paper_is_handed_over(desk: Desk) -> None:
    """As a PDF, and as text whose pictures lie beside it; both tell what the page tells."""
    undo(desk.folder / "coat-and-skirt", SIDE)
    page = desk.client.get(f"{BOOK}?part=findings").text
    pdf, box = re.findall(r'href="([^"]+)" download', page)
    held = zipfile.ZipFile(io.BytesIO(desk.client.get(box).content))
    text = held.read("toile-on-paper.md").decode()
    with pypdfium2.PdfDocument(desk.client.get(pdf).content) as document:
        printed = " ".join(p.get_textpage().get_text_bounded() for p in document)
    for words in (text, " ".join(printed.split())):
        assert "2 faults to mend before you cut." in words
        assert "coat front, side is 3/8 in longer than coat back, side" in words
        assert "What was not looked at" in words
    drawn = set(re.findall(r"\((pictures/[^)]+)\)", text))
    assert drawn == set(held.namelist()) - {"toile-on-paper.md"}


def test_a_seam_is_chosen_in_the_address(desk: Desk) -> None:
    """The chosen seam is drawn section by section; one that is not there is said, not a fault."""
    text = desk.client.get(f"{BOOK}?seam=coat+side&part=seam").text
    assert "Above: coat front" in text
    assert "Below: coat back" in text
    assert "same length, no ease planned" in text
    assert re.findall(r'<th scope="col"[^>]*>([^<]*)<', text) == [
        "section",
        "coat front",
        "coat back",
        "difference",
    ]
    assert "From mark to mark" in text
    gone = desk.client.get(f"{BOOK}?seam=nowhere")
    assert gone.status_code == 200
    assert "There is no seam “nowhere”" in gone.text


def test_edges_in_no_seam_are_named(desk: Desk) -> None:
    """What was not walked is said: the free edges of the waistband, no hem."""
    text = desk.client.get(f"{BOOK}?part=findings").text
    assert "waistband, lap end" in text
    assert "skirt front, hem" not in text


def test_read_a_finding_apply_its_mend(page_on: PageOn) -> None:
    """Read, press, gone; still gone after a reload; the change is in the workbook."""
    it = page_on("coat-and-skirt")
    folder = it.folder / "coat-and-skirt"
    undo(folder, SIDE)
    before = len(load(folder).steps)
    it.go(BOOK)
    it.page.wait_for_selector("#verdict:has-text('2 faults')")
    it.page.get_by_role("button", name="Mend coat side").click()
    it.page.get_by_role("button", name="Mend coat side").wait_for(state="detached")
    assert it.page.get_by_role("button", name="Mend coat side").count() == 0
    steps = load(folder).steps
    assert (len(steps), steps[-1].change) == (before + 1, "match-edge")
    assert steps[-1].params["seam"] == "coat side"
    it.page.reload()
    assert it.page.get_by_role("button", name="Mend coat side").count() == 0
    assert not [f for f in findings_of(load(folder)) if f.where.seam == "coat side"]
    it.page.get_by_role("button", name="Undo").click()
    it.page.get_by_role("button", name="Mend coat side").wait_for()


def test_by_the_keys(page_on: PageOn) -> None:
    """By keyboard alone: reach the mend, press it, and be at the verdict; then choose a seam."""
    it = page_on("coat-and-skirt")
    undo(it.folder / "coat-and-skirt", SIDE)
    it.go(BOOK)
    reach(it.page, it.page.get_by_role("button", name="Mend coat side"))
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector("#verdict:focus")
    reach(it.page, it.page.locator("summary", has_text="Seams that agree"))
    it.page.keyboard.press("Enter")
    link = it.page.locator(".seams a", has_text="coat side")
    reach(it.page, link)
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector("#seam-name:has-text('coat side')")
    assert "seam=coat" in it.page.url


def reach(page, wanted) -> None:
    """Press Tab until it is there."""
    for _ in range(80):
        page.keyboard.press("Tab")
        if wanted.evaluate("e => e === document.activeElement"):
            return
    raise AssertionError("not reached by the Tab key")


def test_axe_finds_nothing_beside_findings(page_on: PageOn) -> None:
    """WCAG 2.2 AA as far as axe-core can tell, with findings and mends on the page."""
    it = page_on("coat-and-skirt")
    undo(it.folder / "coat-and-skirt", SIDE)
    it.go(BOOK)
    it.page.wait_for_selector(".mending")
    assert axe(it) == []


def test_a_page_with_findings_is_looked_at(page_on: PageOn, shots) -> None:
    """A page with findings, for a person to look at; nothing hangs over at 360 px."""
    it = page_on("coat-and-skirt")
    undo(it.folder / "coat-and-skirt", SIDE)
    it.go(f"{BOOK}?seam=coat+side")
    it.page.wait_for_selector(".find")
    shots(it, "walk-findings")
    it.page.set_viewport_size({"width": 360, "height": 800})
    over = it.page.evaluate(
        """[...document.querySelectorAll('main *:not(svg *)')]
            .filter(e => e.getBoundingClientRect().right > 360)
            .map(e => e.outerHTML.slice(0, 90))"""
    )
    assert over == []
