"""How a file is read, on the page: its pages joined, shown, corrected; what its layers mean."""

from __future__ import annotations

import re

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.piece import piece_picture
from clothwright.outputs.dxf import dxf
from clothwright.pattern.pattern import Pattern
from clothwright.store import load
from clothwright.units import Unit
from clothwright.workroom.pieces import inbox
from clothwright.workroom.pieces.sitting import look
from tests.intake.dxf_sized import panels
from tests.intake.pdf.sheets import skirt_sheet
from tests.intake.pdf.test_said_tiles import in_order, off_its_place, rows_of
from tests.intake.pdf.tiled import A4, MARGIN, OVERLAP, tiled
from tests.intake.test_plausible_size import small
from tests.intake.test_unnamed_sizes import unnamed
from tests.web.conftest import LAPTOP, PHONE, Desk, PageOn
from tests.web.test_add_in_browser import begin, take_in, told
from tests.web.test_add_routes import BOOK, HTML, JSON, brought, mine, say
from tests.web.test_add_routes import take_in as sent
from tests.web.test_look import axe

__all__ = ["mine"]
SHUFFLED = [7, 2, 14, 1, 9, 3, 16, 5, 11, 4, 13, 6, 8, 15, 10, 12]
STEP = {
    "shift-across": f"{A4.x - 2 * MARGIN - OVERLAP} mm",
    "shift-down": f"{A4.y - 2 * MARGIN - OVERLAP} mm",
}
ROWS = "\n".join(rows_of(SHUFFLED).split(" / "))


def taken(desk: Desk, name: str, data: bytes) -> str:
    """Send a file; return its key in the inbox."""
    answer = sent(desk, name, data)
    assert answer.status_code == 200, answer.text
    return answer.json()["address"].rpartition("drawing=")[2]


def read_so(desk: Desk, key: str, **fields: str):
    """Answer how the file is read."""
    form = {"by": "script", **fields}
    return desk.post(f"{BOOK}/add/answer?drawing={key}", data=form, headers=JSON)


def shown(desk: Desk, key: str) -> str:
    """Return the page as it is when it is loaded anew, in one line."""
    answer = desk.client.get(f"{BOOK}/add?drawing={key}", headers=HTML)
    assert answer.status_code == 200
    return " ".join(answer.text.split())


# --- pages ---------------------------------------------------------------------------------------


def test_how_pages_were_joined_is_shown(mine: Desk) -> None:
    """The picture with every page's number, how it was found, and by how much lines miss."""
    key = taken(mine, "skirt.pdf", tiled(skirt_sheet(), "frame"))
    text = shown(mine, key)
    card = text[text.index('id="q-pages"') :]
    assert "16 pages, 4 across and 4 down, by page frames." in card
    seen = look(inbox.one_waiting(mine.folder / "Mine", key), Pattern(pieces=()), Unit.inch)
    assert seen.drawing.pages.miss < 0.2
    assert "run on from page to page" in card
    assert " mm" not in card[: card.index("</section>")].partition("</figure>")[2]
    picture = card[card.index("<svg") : card.index("</svg>")]
    assert re.findall(r">(\d+)</text>", picture) == [str(n) for n in range(1, 17)]
    assert "proposed" in card[: card.index("</h2>")]
    assert len(text) < 300_000


def test_a_file_whose_pages_are_not_joined_is_kept_and_corrected(mine: Desk) -> None:
    """Shuffled pages read apart: no outline; the order is said, and both pieces are there."""
    key = taken(mine, "skirt.pdf", in_order(tiled(skirt_sheet(), "overlap"), SHUFFLED))
    assert "2 outlines, to one scale" in shown(mine, key)
    assert read_so(mine, key, what="pages", way="none").status_code == 200
    first = shown(mine, key)
    assert 'id="q-pages"' in first
    assert "2 outlines, to one scale" not in first
    answer = read_so(mine, key, what="pages", way="rows", rows=ROWS)
    assert answer.status_code == 200, answer.text
    after = shown(mine, key)
    assert "2 outlines, to one scale" in after
    assert ROWS.splitlines()[0] in after
    one = inbox.one_waiting(mine.folder / "Mine", key)
    assert one.how.tiles == rows_of(SHUFFLED)


def test_rows_columns_and_steps(mine: Desk) -> None:
    """4 by 4 with a step typed in inches or mm; a step alone across is refused in words."""
    key = taken(mine, "skirt.pdf", tiled(skirt_sheet(), "overlap"))
    grid = {"what": "pages", "way": "grid", "across": "4", "down": "4"}
    answer = read_so(mine, key, **grid, **STEP)
    assert answer.status_code == 200, answer.text
    assert "4 across and 4 down, as you said" in shown(mine, key)
    short = read_so(mine, key, **grid, **{"shift-across": "7 in"})
    assert short.status_code == 400
    assert "only one length" in short.json()["sentence"]
    many = read_so(mine, key, **{**grid, "across": "9"})
    assert many.status_code == 400
    assert "36 pages, the file has 16" in many.json()["sentence"]
    assert "as you said" in shown(mine, key)
    assert read_so(mine, key, what="pages", way="none").status_code == 200
    assert "each read on its own" in shown(mine, key)
    assert read_so(mine, key, what="pages", way="found").status_code == 200
    assert "by what neighbouring pages both show" in shown(mine, key)


def test_pages_that_draw_shapes_whole_can_be_placed(mine: Desk) -> None:
    """What she says wins over the shapes that pages share: she may type their places."""
    key = taken(mine, "skirt.pdf", tiled(skirt_sheet(), "whole"))
    assert "each a part of the same drawing" in shown(mine, key)
    assert 'name="rows"' in shown(mine, key)
    answer = read_so(mine, key, what="pages", way="grid", across="2", down="8", order="rows")
    assert answer.status_code == 200, answer.text
    assert "2 across and 8 down" in shown(mine, key)


def test_a_single_page_is_moved_and_put_back(mine: Desk) -> None:
    """Typed with units; told in words; put back by one press."""
    key = taken(mine, "skirt.pdf", off_its_place(tiled(skirt_sheet(), "overlap"), 6, (3, -2)))
    grid = {"what": "pages", "way": "grid", "across": "4", "down": "4"}
    assert read_so(mine, key, **grid, **STEP).status_code == 200
    assert "run on nowhere" in shown(mine, key)
    assert read_so(mine, key, what="move", page="6", right="-0.3 cm", up="2 mm").status_code == 200
    after = shown(mine, key)
    assert "Page 6 is moved 1/8 in to the left, 1/16 in up." in after
    assert "run on nowhere" not in after
    assert read_so(mine, key, what="move", page="99", right="1 mm", up="").status_code == 400
    assert read_so(mine, key, what="back", page="6").status_code == 200
    assert "is moved" not in shown(mine, key)


def test_answers_stay_while_the_outlines_do(mine: Desk) -> None:
    """The same places by another way: names stay. Another drawing: they are asked again."""
    key = taken(mine, "skirt.pdf", tiled(skirt_sheet(), "frame"))
    say(mine, key, what="name", name="my own")
    same = read_so(mine, key, what="pages", way="grid", across="4", down="4")
    assert same.json()["words"] == "Read anew."
    assert "my own" in shown(mine, key)
    other = read_so(mine, key, what="pages", way="none")
    assert "asked again" in other.json()["words"]
    assert "my own" not in shown(mine, key)


def test_what_no_form_sends(mine: Desk) -> None:
    """Answers that were not asked, pages that are no numbers, a drawing that is gone."""
    key = taken(mine, "skirt.pdf", tiled(skirt_sheet(), "frame"))
    for fields in (
        {"what": "x"},
        {"what": "pages", "way": "x"},
        {"what": "pages", "way": "rows", "rows": "a b"},
        {"what": "move", "page": "x"},
        {"what": "layers", "layers": "x"},
    ):
        assert read_so(mine, key, **fields).status_code == 400
    assert read_so(mine, "gone", what="pages", way="none").status_code == 400
    plain = brought(mine)
    assert 'id="q-pages"' not in shown(mine, plain)
    assert 'id="q-layers"' not in shown(mine, plain)


# --- layers --------------------------------------------------------------------------------------


def numbered() -> bytes:
    """Return two pieces of the first demo as a DXF file with numbered layers."""
    book = DEMOS[0].make()
    pieces = [book.bought.piece(n) for n in ("skirt front", "skirt back")]
    return dxf([piece_picture(p, book.unit) for p in pieces], numbered=True)


def test_numbers_of_layers_are_a_question(mine: Desk) -> None:
    """Proposed as meaning something: nothing must be answered. As names: the allowance must."""
    key = taken(mine, "skirt.dxf", numbered())
    text = shown(mine, key)
    card = text[text.index('id="q-layers"') :]
    assert "proposed" in card[: card.index("</h2>")]
    assert "2 pieces can be added" in text
    assert "Closed lines lie in each other" not in text
    assert read_so(mine, key, what="layers", layers="names").status_code == 200
    assert "have to be answered first" in shown(mine, key)
    assert read_so(mine, key, what="layers", layers="numbered").status_code == 200
    path = f"{BOOK}/add/confirm?drawing={key}"
    assert mine.post(path, data={"by": "script"}, headers=JSON).status_code == 200
    bought = load(mine.folder / "Mine").bought
    assert {p.name for p in bought.pieces} == {"skirt front", "skirt back"}
    front = bought.piece("skirt front")
    assert front.fold is not None
    assert {round(e.allowance, 1) for e in front.edges} == {0.0, 15.9, 63.5}


def test_blocks_that_may_be_sizes_are_asked(mine: Desk) -> None:
    """Three panels that are alike: nothing is added before it is said whether they are sizes."""
    key = taken(mine, "panels.dxf", panels().data())
    text = shown(mine, key)
    card = text[text.index('id="q-alike"') :]
    assert "to answer" in card[: card.index("</h2>")]
    assert "panel 1, panel 2 and panel 3" in card
    assert "3 outlines" in text
    assert read_so(mine, key, what="alike", alike="both").status_code == 400
    assert read_so(mine, key, what="alike", alike="sizes").status_code == 200
    text = shown(mine, key)
    assert "1 outline, to one scale" in text
    assert "The drawing holds 3 sizes; 2 is shown" in text


def test_lines_in_colours_that_nothing_names_are_asked(mine: Desk) -> None:
    """Three colours, no legend: asked, and then a pattern in three sizes."""
    key = taken(mine, "bodice.svg", unnamed("once").svg())
    card = shown(mine, key)
    card = card[card.index('id="q-alike"') :]
    assert "to answer" in card[: card.index("</h2>")]
    assert "Lines in 3 colours lie in one another as sizes do" in card
    assert read_so(mine, key, what="alike", alike="sizes").status_code == 200
    assert "The drawing holds 3 sizes; 2 is shown" in shown(mine, key)


def test_a_piece_too_small_to_wear_is_asked(mine: Desk) -> None:
    """A bodice of 1 3/4 in: said to be so, or read by another scale, whose question comes anew."""
    key = taken(mine, "bodice.svg", small().svg())
    text = shown(mine, key)
    card = text[text.index('id="q-size"') :]
    assert "to answer" in card[: card.index("</h2>")]
    assert "is 1 3/4 in tall; is that its true size?" in card
    assert "No, drawn in centimetres: Bodice front is 17 11/16 in tall" in card
    path = f"{BOOK}/add/confirm?drawing={key}"
    refused = mine.post(path, data={"by": "script"}, headers=JSON)
    assert "is that its true size?" in refused.json()["sentence"]
    assert say(mine, key, what="size", scale="true").status_code == 200
    assert "You said that the pieces are as large" in shown(mine, key)
    assert say(mine, key, what="size", scale="cm").status_code == 200
    text = shown(mine, key)
    assert "true size?</p>" not in text
    assert "17 11/16 in tall as it is drawn" in text
    assert say(mine, key, what="size", scale="mm").status_code == 200
    assert "is that its true size?" in shown(mine, key)


# --- in the browser ------------------------------------------------------------------------------


def corrected(it) -> None:
    """Say the order of the pages, row by row."""
    it.page.get_by_text("They lie otherwise", exact=True).click()
    it.page.get_by_label("Their numbers as they lie").fill(ROWS)
    it.page.get_by_role("button", name="Use this arrangement").click()
    told(it, "Read anew")
    it.page.get_by_text("2 outlines, to one scale").wait_for()


@pytest.mark.parametrize("size", [LAPTOP, {**PHONE, "width": 360}], ids=["laptop", "phone"])
def test_pages_are_corrected_in_the_browser(page_on: PageOn, tmp_path, shots, size) -> None:
    """The order of the pages is typed, which chooses its way; kept over a reload; axe."""
    file = tmp_path / "skirt.pdf"
    file.write_bytes(in_order(tiled(skirt_sheet(), "overlap"), SHUFFLED))
    it = page_on(size=size)
    begin(it)
    it.page.get_by_label("Choose a file").first.set_input_files(file)
    it.page.get_by_role("button", name="Add this file").click()
    it.page.wait_for_selector("#q-pages")
    it.page.wait_for_selector("html[data-live]", state="attached")
    if size == LAPTOP:
        shots(it, "add-pages-wrong")
    corrected(it)
    it.page.get_by_text("lines at the joints").wait_for(state="detached")
    it.page.reload()
    it.page.wait_for_selector("html[data-live]", state="attached")
    assert it.page.get_by_text("2 outlines, to one scale").is_visible()
    it.page.get_by_text("They lie otherwise", exact=True).click()
    it.page.get_by_text("A single page lies off its place").click()
    assert it.page.get_by_label("in an order of their own").is_checked()
    assert it.page.get_by_label("Their numbers as they lie").input_value() == ROWS
    if size == LAPTOP:
        shots(it, "add-pages")
    assert axe(it) == []
    wide = it.page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    assert wide[0] <= wide[1]
    small = it.page.evaluate(
        """() => [...document.querySelectorAll('#q-pages button, #q-pages select, #q-pages input, '
            + '#q-pages summary, #q-pages label.choice')]
            .filter(e => !['radio', 'hidden'].includes(e.type) && e.checkVisibility())
            .map(e => [e.name, e.getBoundingClientRect().height]).filter(([, h]) => h < 43.9)"""
    )
    assert small == []


def test_layers_are_answered_in_the_browser(page_on: PageOn, tmp_path, shots) -> None:
    """A numbered DXF comes in with all proposed; said to be names, the allowance is asked."""
    file = tmp_path / "skirt.dxf"
    file.write_bytes(numbered())
    it = page_on()
    begin(it)
    take_in(it, file)
    shots(it, "add-layers")
    assert axe(it) == []
    it.page.get_by_label("they are only names").check()
    it.page.get_by_role("button", name="Use this reading of the layers").click()
    told(it, "Read anew")
    it.page.get_by_text("have to be answered first").wait_for()
