"""From nothing to a walked pattern in one sitting, in a browser (demo data)."""

from __future__ import annotations

from clothwright.store import load
from tests.few_rounds import one_core
from tests.intake.pdf.sheets import by_reportlab, nested_sheet, skirt_sheet
from tests.intake.pdf.tiled import tiled
from tests.web.conftest import PHONE, PageOn
from tests.web.intake_demo import bare_file
from tests.web.test_look import axe


def begin(it) -> None:
    """Make a workbook with one press, and go from its empty table to the intake."""
    it.go("/")
    it.page.get_by_label("What do you call the outfit?").fill("Mine")
    it.page.get_by_role("button", name="Begin").click()
    it.page.get_by_role("link", name="Add pattern pieces").click()
    it.page.wait_for_selector("html[data-live]", state="attached")


def take_in(it, file) -> None:
    """Choose a file and send it."""
    it.page.get_by_label("Choose a file").set_input_files(file)
    it.page.get_by_role("button", name="Add this file").click()
    it.page.wait_for_selector("#outline-name")
    it.page.wait_for_selector("html[data-live]", state="attached")


def told(it, words: str) -> None:
    """Wait until the page says that it has kept something, and that it is heard no more."""
    it.page.wait_for_function(
        "w => document.getElementById('said')?.textContent.includes(w)", arg=words
    )
    it.page.evaluate("document.getElementById('said').textContent = ''")


def edges_are(it, count: int) -> None:
    """Wait until so many rows of edges are shown."""
    it.page.wait_for_function(
        "n => document.querySelectorAll('#q-edges tbody tr').length === n", arg=count
    )


def answered(it, name: str) -> None:
    """Answer all that is asked and add the piece."""
    settled(it, name)
    it.page.get_by_role("button", name="Add this piece").click()
    it.page.get_by_text("in the workbook now").wait_for()


def settled(it, name: str) -> None:
    """Take the line inside as the stitching line and all else as shown."""
    it.page.get_by_label("is the stitching line").first.check()
    it.page.get_by_role("button", name="Save the allowance").click()
    told(it, "Saved")
    it.page.get_by_role("button", name=f"All as shown for {name}").click()
    told(it, "Saved")
    it.page.get_by_text("1 piece can be added").wait_for()


def laid_out(it) -> None:
    """Add a cloth and lay the pieces on it, in a workbook in which nobody has made a plan."""
    it.page.get_by_role("link", name="What do I cut from?").or_(
        it.page.get_by_role("link", name="4 cloth")
    ).first.click()
    it.page.wait_for_selector("html[data-live]", state="attached")
    it.page.get_by_label("Name", exact=True).fill("linen")
    it.page.get_by_label("Width, selvedge to selvedge").fill("150 cm")
    it.page.get_by_role("button", name="Add this cloth").click()
    told(it, "linen")
    it.page.get_by_role("link", name="6 cut").click()
    it.page.wait_for_selector("html[data-live]", state="attached")
    with one_core():
        it.page.get_by_role("button", name="Lay this plan").click()
        it.page.wait_for_selector('.hold[data-shape^="skirt front"]')


def test_from_nothing_to_a_walked_pattern(page_on: PageOn, shots, tmp_path) -> None:
    """New workbook, two files, questions, pieces, a seam, the walk; a reload shows it all again."""
    it = page_on()
    files = [bare_file(tmp_path, n) for n in ("skirt front", "skirt back")]
    begin(it)
    shots(it, "add-empty")
    take_in(it, files[0])
    assert "first: they are never guessed" in it.page.locator("#left").inner_text()
    assert it.page.get_by_role("heading", name="Are these darts?").is_visible()
    shots(it, "add-asked")
    it.page.get_by_role("button", name="Add this piece").click()
    it.page.locator("#trouble", has_text="does not say whether").wait_for()
    it.trouble.clear()  # the browser itself notes a refused request
    it.page.get_by_role("button", name="Close").click()
    answered(it, "skirt front")
    take_in(it, files[1])
    answered(it, "skirt back")
    it.page.get_by_role("link", name="which edges are sewn together").first.click()
    it.page.wait_for_selector("html[data-live]", state="attached")
    shots(it, "seams")
    it.page.get_by_role("button", name="Sewn together skirt front, side").click()
    told(it, "skirt side")
    it.page.get_by_role("button", name="Sewn together skirt back, centre").click()
    told(it, "centre")
    it.page.get_by_role("link", name="Does it still sew together?").click()
    verdict = it.page.locator("#verdict").inner_text()
    assert "2 seams agree" in verdict
    it.page.reload()
    assert it.page.locator("#verdict").inner_text() == verdict
    laid_out(it)
    book = load(tmp_path / "Mine")
    assert [p.name for p in book.bought.pieces] == ["skirt front", "skirt back"]
    assert {d.edge for p in book.bought.pieces for d in p.darts} == {"waist"}
    assert len(book.bought.seams) == 2


def test_a_piece_is_added_though_its_page_is_never_drawn_again(page_on: PageOn, tmp_path) -> None:
    """The way to what was added waits for no redraw of the page that is left."""
    it = page_on()
    begin(it)
    take_in(it, bare_file(tmp_path, "skirt front"))
    settled(it, "skirt front")
    it.page.route("**/add?*part=*", lambda route: None)
    it.page.get_by_role("button", name="Add this piece").click()
    it.page.get_by_text("in the workbook now").wait_for()


def test_put_off_and_resumed(page_on: PageOn, tmp_path) -> None:
    """Answers and the file wait when the page is left, and for a server started anew."""
    it = page_on()
    begin(it)
    take_in(it, bare_file(tmp_path, "coat back"))
    it.page.get_by_label("What is it called?").fill("my back")
    it.page.get_by_role("button", name="Save the name").click()
    told(it, "Saved")
    again = page_on()
    again.go("/b/Mine/add")
    again.page.get_by_role("link", name="coat back.svg").click()
    again.page.wait_for_selector("html[data-live]", state="attached")
    assert again.page.get_by_label("What is it called?").input_value() == "my back"
    again.page.get_by_role("button", name="Throw the file away").click()
    again.page.get_by_role("link", name="coat back.svg").wait_for(state="detached")
    assert load(tmp_path / "Mine").bought.pieces == ()


def test_a_corner_is_made_and_unmade_by_keyboard_and_press(page_on: PageOn, tmp_path) -> None:
    """A dot is a button: Space unmakes the corner, a press makes it again; the edges follow."""
    it = page_on()
    begin(it)
    take_in(it, bare_file(tmp_path, "skirt front"))
    count = it.page.locator("#q-edges tbody tr").count()
    dot = it.page.locator(".corner[aria-pressed=true]").first
    at = dot.get_attribute("data-corner")
    dot.focus()
    it.page.keyboard.press("Space")
    told(it, "Saved")
    edges_are(it, count - 1)
    it.page.locator(f'.corner[data-corner="{at}"]').dispatch_event("click")
    told(it, "Saved")
    edges_are(it, count)


def test_the_line_itself_can_be_pressed(page_on: PageOn, tmp_path) -> None:
    """A press on the outline between two corners makes a corner there."""
    it = page_on()
    begin(it)
    take_in(it, bare_file(tmp_path, "skirt front"))
    count = it.page.locator("#q-edges tbody tr").count()
    place = it.page.evaluate(
        """() => { const line = document.querySelector('[data-base]');
            const p = line.getPointAtLength(line.getTotalLength() * 0.35);
            const s = p.matrixTransform(line.getScreenCTM());
            window.scrollTo(0, window.scrollY + s.y - 300);
            const t = p.matrixTransform(line.getScreenCTM()); return [t.x, t.y]; }"""
    )
    it.page.mouse.click(*place)
    told(it, "Saved")
    edges_are(it, count + 1)


def test_axe_in_the_sitting(page_on: PageOn, tmp_path) -> None:
    """The questions and the drawing with its corners: WCAG 2.2 AA as far as axe can tell."""
    it = page_on()
    begin(it)
    take_in(it, bare_file(tmp_path, "coat front"))
    assert axe(it) == []


def test_the_sitting_on_a_narrow_phone(page_on: PageOn, tmp_path) -> None:
    """At 360 px nothing has to be pushed sideways, and what is pressed is 44 px high."""
    it = page_on(size={**PHONE, "width": 360})
    begin(it)
    take_in(it, bare_file(tmp_path, "coat front"))
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360
    small = it.page.evaluate(
        """() => [...document.querySelectorAll('main button, main select, main input')]
            .filter(e => !['radio', 'checkbox', 'hidden'].includes(e.type) && e.checkVisibility())
            .map(e => [e.name, e.getBoundingClientRect().height]).filter(([, h]) => h < 43.9)"""
    )
    assert small == []


def test_a_file_that_is_none_is_refused_in_words(page_on: PageOn, tmp_path) -> None:
    """An empty file is refused before it is sent; one of another kind by the server."""
    it = page_on()
    begin(it)
    wrong = tmp_path / "notes.svg"
    for data, words in (
        (b"", "is empty"),
        (b"<svg", "not well-formed"),
        (b"<a/>", "not a drawing"),
    ):
        wrong.write_bytes(data)
        it.page.get_by_label("Choose a file").set_input_files(wrong)
        it.page.get_by_role("button", name="Add this file").click()
        it.page.locator("#trouble", has_text=words).wait_for()
    it.trouble.clear()  # the browser itself notes a refused request


def test_a_pdf_of_many_pages_becomes_a_walked_pattern(page_on: PageOn, shots, tmp_path) -> None:
    """skirt.pdf: sixteen pages joined, answered, added, a seam confirmed, walked, reloaded."""
    file = tmp_path / "skirt.pdf"
    file.write_bytes(tiled(skirt_sheet(), "frame"))
    it = page_on()
    begin(it)
    take_in(it, file)
    it.page.get_by_text("What was joined or left out").click()
    it.page.get_by_text("joined: 16 pages, 4 across and 4 down").first.wait_for()
    shots(it, "add-pdf")
    for name in ("skirt back", "skirt front"):
        it.page.locator(".outlines a", has_text=name).click()
        it.page.wait_for_selector(f"#outline-name:has-text('{name}')")
        it.page.get_by_label("Yes, as wide as").first.check()
        it.page.get_by_label("Width all round").first.fill("5/8 in")
        it.page.get_by_role("button", name="Save the allowance").click()
        told(it, "Saved")
        it.page.get_by_role("button", name=f"All as shown for {name}").click()
        told(it, "Saved")
    it.page.get_by_text("2 pieces can be added").wait_for()
    it.page.get_by_role("button", name="Add these pieces").click()
    it.page.get_by_text("in the workbook now").wait_for()
    it.page.get_by_role("link", name="which edges are sewn together").first.click()
    it.page.wait_for_selector("html[data-live]", state="attached")
    it.page.get_by_role("button", name="Sewn together").first.click()
    it.page.wait_for_function("() => document.getElementById('said')?.textContent")
    it.page.get_by_role("link", name="Does it still sew together?").click()
    verdict = it.page.locator("#verdict").inner_text()
    it.page.reload()
    assert it.page.locator("#verdict").inner_text() == verdict
    book = load(tmp_path / "Mine")
    assert {p.name for p in book.bought.pieces} == {"skirt back", "skirt front"}
    assert len(book.bought.seams) == 1


def test_nested_sizes_come_in_together(page_on: PageOn, shots, tmp_path) -> None:
    """A PDF in three sizes: asked which to begin with; the others are kept, one is chosen later."""
    file = tmp_path / "front.pdf"
    file.write_bytes(by_reportlab(nested_sheet("dash"), tmp_path))
    it = page_on()
    begin(it)
    take_in(it, file)
    it.page.get_by_role("radio", name="12").check()
    shots(it, "add-sizes")
    it.page.get_by_role("button", name="Begin with it").click()
    told(it, "Saved")
    it.page.get_by_label("No: the outline is the stitching line").first.check()
    it.page.get_by_role("button", name="Save the allowance").click()
    told(it, "Saved")
    it.page.get_by_role("button", name="All as shown for skirt front").click()
    told(it, "Saved")
    it.page.get_by_role("button", name="Add this piece").click()
    it.page.get_by_text("in the workbook now").wait_for()
    book = load(tmp_path / "Mine")
    sizes = book.bought.sizes
    assert sizes is not None
    assert (sizes.names, sizes.drawn) == (("12", "14", "16"), "12")
    hems = [max(e.length for e in p.edges if e.path.is_straight) for p in sizes.each("skirt front")]
    assert hems == sorted(hems)
