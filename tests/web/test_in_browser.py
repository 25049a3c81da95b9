"""What a person does, in Chromium: press, type, undo, lose the connection, use the keys."""

from __future__ import annotations

from clothwright.store import load
from clothwright.web.serve import prepare
from tests.web.conftest import PHONE, PageOn, drawn

BOOK = "/b/coat-and-skirt/pieces"


def middle_of(page, edge: str) -> tuple[float, float]:
    """Return where on the screen the middle of an edge lies, after bringing it into view."""
    found = page.evaluate(
        """name => {
            const line = document.querySelector(`a.edge[data-edge="${name}"] .shown`);
            line.scrollIntoView({block: "center"});
            const at = line.getPointAtLength(line.getTotalLength() / 2);
            const p = at.matrixTransform(line.getScreenCTM());
            return [p.x, p.y];
        }""",
        edge,
    )
    return found[0], found[1]


def test_from_nothing_to_the_pieces(page_on: PageOn) -> None:
    """A newcomer in an empty folder: one press on a demo shows its pieces."""
    it = page_on()
    it.go("/")
    it.page.get_by_role("button", name="Coat and skirt").click()
    it.page.wait_for_url("**/b/coat-and-skirt/pieces")
    assert it.page.get_by_role("heading", level=1).inner_text() == "What have I got?"
    assert it.page.locator(".laid li").count() == 11


def test_an_edge_is_pressed(page_on: PageOn) -> None:
    """Pressing a line of the drawing shows that edge; the address remembers it."""
    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back")
    it.page.mouse.click(*middle_of(it.page, "side"))
    it.page.wait_for_selector(".ticket h3")
    assert it.page.locator(".ticket h3").inner_text().startswith("side")
    assert "edge=side" in it.page.url
    it.page.reload()
    assert it.page.locator(".ticket h3").inner_text().startswith("side")


def test_an_edge_by_the_keys(page_on: PageOn) -> None:
    """By keyboard alone: reach an edge, press it, and be where one was."""
    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back")
    link = it.page.locator("table.edges a", has_text="armhole")
    for _ in range(80):
        it.page.keyboard.press("Tab")
        if link.evaluate("e => e === document.activeElement"):
            break
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector(".ticket h3:has-text('armhole')")
    assert link.evaluate("e => e === document.activeElement")


def test_a_typed_length_becomes_a_change_and_is_undone(page_on: PageOn) -> None:
    """Any unit may be typed; it is echoed, saved as a change, shown, and undone by a press."""
    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back&edge=side")
    folder = it.folder / "coat-and-skirt"
    before = len(load(folder).steps)
    field = it.page.get_by_label("Another allowance for this edge")
    field.fill("2,54 cm")
    it.page.wait_for_selector("#amount-echo:has-text('1 in')")
    it.page.get_by_role("button", name="Put into the changes").click()
    it.page.wait_for_selector("tr.chosen td:has-text('1 in')")
    assert load(folder).steps[-1].change == "set-allowance"
    assert len(load(folder).steps) == before + 1
    it.page.get_by_role("button", name="Undo").click()
    it.page.wait_for_selector("tr.chosen td:has-text('5/8 in')")
    assert len(load(folder).steps) == before


def test_nonsense_in_a_length_is_said_at_the_field(page_on: PageOn) -> None:
    """The field says what is wrong, and nothing is sent."""
    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back&edge=side")
    it.page.get_by_label("Another allowance for this edge").fill("five ells")
    it.page.wait_for_selector("#amount[aria-invalid=true]")
    assert "not" in it.page.locator("#amount-echo").inner_text()


def test_a_refusal_is_shown_and_nothing_is_lost(page_on: PageOn) -> None:
    """An allowance that cannot be is refused in a sentence, in sight; the workbook stays."""
    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back&edge=neck")
    before = load(it.folder / "coat-and-skirt")
    it.page.get_by_label("Another allowance for this edge").fill("3 yd")
    it.page.get_by_role("button", name="Put into the changes").click()
    alert = it.page.get_by_role("alert")
    alert.wait_for()
    assert "was not added" in alert.inner_text()
    assert load(it.folder / "coat-and-skirt") == before
    alert.get_by_role("button", name="Close").click()
    alert.wait_for(state="hidden")
    it.trouble.clear()  # the browser logs the 409 that told us


def test_two_windows(page_on: PageOn) -> None:
    """What one window does appears in the other; a half-typed field there keeps its words."""
    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back&edge=side")
    other = it.page.context.new_page()
    other.goto(it.served.address + BOOK + "?piece=coat+back&edge=side")
    other.wait_for_selector("html[data-live]", state="attached")
    typed = other.get_by_label("Another allowance for this edge")
    typed.fill("7/8")
    it.page.get_by_label("Another allowance for this edge").fill("1 in")
    it.page.get_by_role("button", name="Put into the changes").click()
    other.wait_for_selector("tr.chosen td:has-text('1 in')")
    assert typed.input_value() == "7/8"
    assert typed.evaluate("e => e === document.activeElement")


def test_the_server_comes_back(page_on: PageOn) -> None:
    """The server is ended and started again: the page says so, finds it, and shows the news."""
    from dataclasses import replace

    from clothwright.store import save

    it = page_on("coat-and-skirt")
    it.go(BOOK + "?piece=coat+back&edge=side")
    it.served.stop()
    it.page.wait_for_selector("#link-state:has-text('lost')")
    folder = it.folder / "coat-and-skirt"
    book = load(folder)
    save(replace(book, steps=()), folder)
    again = prepare(it.folder, port=it.served.port, whole=True)
    again.start()
    try:
        it.page.wait_for_selector("#link-state:has-text('back')")
        it.page.wait_for_selector(".pair a[aria-current]:has-text('as bought')")
    finally:
        again.stop()
    it.trouble.clear()  # refused connections while it was away


def test_the_theme_switch_is_kept(page_on: PageOn) -> None:
    """Dark by the switch stays dark after a reload, whatever the device says."""
    it = page_on("coat-and-skirt")
    it.go("/style")
    paper = "getComputedStyle(document.querySelector('.sheet')).backgroundColor"
    light = it.page.evaluate(paper)
    switch = it.page.locator("[data-theme-switch]")
    switch.click()
    switch.click()
    assert it.page.evaluate(paper) != light
    it.page.reload()
    assert it.page.evaluate(paper) != light
    assert "dark" in switch.inner_text()


def test_by_touch_on_a_phone(page_on: PageOn) -> None:
    """A finger on a piece brings it below the table; nothing is under a hover."""
    it = page_on("coat-and-skirt", size=PHONE)
    it.go(BOOK)
    it.page.locator(".laid a", has_text="skirt front").tap()
    it.page.wait_for_selector("#piece-name:has-text('skirt front')")
    drawn(it.page)
    it.page.touchscreen.tap(*middle_of(it.page, "waist"))
    it.page.wait_for_selector(".ticket h3:has-text('waist')")


def test_scale_is_one_for_all(page_on: PageOn) -> None:
    """Every piece on the table and the tape have the same px for a mm."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    scales = it.page.evaluate(
        """() => [...document.querySelectorAll('.laid svg.pic, .tape-scale')].map(s =>
            s.getBoundingClientRect().width / s.viewBox.baseVal.width)"""
    )
    assert len(scales) == 12
    assert max(scales) - min(scales) < 0.002
