"""The page of the sewing: steps in order, ticks that stay, the guide and its files."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import replace

import pytest

from clothwright.picture.document import Caution, Table
from clothwright.rules.weighing.laid import Laid
from clothwright.sewing import order_of_work
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.web.pages.sew import block_html
from clothwright.words import say
from clothwright.workroom.editing.opened import empty_book
from clothwright.workroom.searching.laying import keep_better
from tests.web.conftest import Desk, PageOn
from tests.web.test_look import axe

BOOK = "/b/coat-and-skirt/sew"


def test_steps_come_in_the_order_of_the_work(desk: Desk) -> None:
    """Darts before seams, a sleeve after the side seam it crosses, hems last; keys are unlike."""
    book = load(desk.folder / "coat-and-skirt")
    steps = order_of_work(book.bought)
    keys = [s.key for s in steps]
    assert len(set(keys)) == len(keys) > 10
    kinds = [k.split()[1] for k in keys]
    assert kinds == sorted(kinds, key=("dart", "seam", "hem").index)
    words = [say(s.words, book.unit) for s in steps]
    side = next(i for i, w in enumerate(words) if w == "Sew coat front (side) to coat back (side).")
    sleeve = next(i for i, w in enumerate(words) if w.startswith("Set coat sleeve"))
    assert side < sleeve
    eased = 'ease it in between notch "front" and notch "back"'
    assert eased in say(steps[sleeve].more, book.unit)


def test_a_step_names_the_seams_own_figures(desk: Desk) -> None:
    """Ease and allowance are those of the workbook; no seam, no step."""
    book = load(desk.folder / "coat-and-skirt")
    seam = next(s for s in book.bought.seams if s.kind == "cap")
    eased = replace(seam, ease=25.4, ease_from="", ease_to="")
    steps = order_of_work(replace(book.bought, seams=(eased,)))
    found = [s for s in steps if s.key.startswith("sew seam")]
    assert len(found) == 1
    assert "1 in longer: ease it in." in say(found[0].more, book.unit)


def test_blocks_are_safe_html() -> None:
    """Words of the workbook are words on the page; a caution is set apart."""
    assert "&lt;b&gt;" in block_html(Caution(words="<b>"))
    table = block_html(Table(head=("a", "b"), rows=(("<i>", "2"),), figures=(1,)))
    assert '<th scope="row">&lt;i&gt;</th><td class="figure">2</td>' in table


def test_without_a_lay_the_page_says_so(desk: Desk) -> None:
    """The guide is there all the same, and what is missing in it is said."""
    text = desk.client.get(BOOK).text
    assert "is not laid yet" in text
    assert "What was changed" in text
    assert "How to lay it" not in text


@pytest.fixture
def kept(desk: Desk, laid: Laid) -> Desk:
    """Keep a lay of the chosen plan."""
    folder = desk.folder / "coat-and-skirt"
    keep_better(folder, load(folder), laid)
    return desk


def test_with_a_lay_the_guide_has_it(kept: Desk) -> None:
    """A kept lay stands in the guide with its picture, its table and the cautions."""
    text = kept.client.get(BOOK).text
    assert "How to lay it" in text
    assert "Where each grain line lies" in text
    assert "is not laid yet" not in text
    assert len(text.encode()) < 260_000


def test_files_to_take_away(desk: Desk) -> None:
    """The guide as PDF and as text with pictures, the cuts as a table."""
    pdf = desk.client.get(f"{BOOK}/guide.pdf")
    assert pdf.content.startswith(b"%PDF")
    assert 'filename="guide.pdf"' in pdf.headers["content-disposition"]
    box = zipfile.ZipFile(io.BytesIO(desk.client.get(f"{BOOK}/guide.zip").content))
    assert {"guide.md"} < set(box.namelist())
    assert any(n.endswith(".svg") for n in box.namelist())
    assert "coat back" in desk.client.get(f"{BOOK}/cuts.csv").text


def test_a_tick_of_no_step_is_refused(desk: Desk) -> None:
    """Only steps of the list are ticked."""
    for sent in ({"key": "sew wings", "done": True}, {"key": "sew wings"}, [], None):
        answer = desk.post(f"{BOOK}/tick", content=json.dumps(sent))
        assert answer.status_code == 400
    assert not (desk.folder / "coat-and-skirt" / "ticks").exists()


def test_ticks_survive_a_reload_and_reach_another_window(page_on: PageOn) -> None:
    """By the keys alone: a step is ticked with the space bar; both windows and a reload show it."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    other = it.page.context.new_page()
    other.goto(it.served.address + BOOK)
    other.wait_for_selector("html[data-live]", state="attached")
    it.page.bring_to_front()
    box = it.page.get_by_role("checkbox").nth(2)
    for _ in range(30):
        it.page.keyboard.press("Tab")
        if box.evaluate("e => e === document.activeElement"):
            break
    left = int(it.page.locator("#steps-head").inner_text().split()[0])
    it.page.keyboard.press("Space")
    other.wait_for_selector(f"#steps-head:has-text('{left - 1} of')")
    assert other.get_by_role("checkbox").nth(2).is_checked()
    it.page.reload()
    assert box.is_checked()
    assert not it.page.get_by_role("checkbox").nth(1).is_checked()


def test_the_print_is_shown_on_the_pieces(kept: Desk) -> None:
    """Each piece laid on the bordered wool has a picture; the plain lining has none."""
    text = kept.client.get(BOOK).text
    part = text[text.index('data-part="printed"') : text.index('data-part="guide"')]
    assert 'data-key="skirt front' in part
    assert 'data-key="lining' not in part
    assert 'class="r-border"' in part
    assert 'data-part="printed"' in kept.client.get(f"{BOOK}?part=printed").text


def test_a_page_with_a_lay_is_drawn_and_reachable(page_on: PageOn, laid: Laid, shots) -> None:
    """With the lay in it the page is still free of faults that axe finds, and fits a phone."""
    it = page_on("coat-and-skirt")
    folder = it.folder / "coat-and-skirt"
    keep_better(folder, load(folder), laid)
    it.go(BOOK)
    it.page.wait_for_selector(".printed li")
    shots(it, "sew-laid")
    assert axe(it) == []
    it.page.set_viewport_size({"width": 360, "height": 800})
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360


def test_edges_that_no_step_speaks_of_are_named(desk: Desk) -> None:
    """The list is not said to be the whole work: the waistband's lap end is in no seam."""
    text = desk.client.get(f"{BOOK}?part=steps").text
    assert "No step speaks of edges that no seam names" in text
    assert "waistband, lap end" in text


def test_a_guide_without_pieces_says_so(desk: Desk) -> None:
    """An empty workbook's guide: whole sentences, no list of nothing."""
    create(desk.folder / "mine", empty_book("mine", Unit.inch))
    text = desk.client.get("/b/mine/sew").text
    assert "No pieces yet." in text
    assert "no pieces:" not in text
