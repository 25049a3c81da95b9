"""A part of a page is redrawn while somebody types in it: nothing is lost, nothing stale stays."""

from __future__ import annotations

from typing import Any

from tests.web.conftest import PageOn, Shown

BOOK = "/b/coat-and-skirt/cloth?cloth=bordered+wool"
MARKED = "for (const e of document.querySelectorAll('input, select')) e.setAttribute('style', '')"
"""What an extension of the browser, or a sentence beside a field, leaves on it: other markup."""


def other_window(it: Shown) -> Any:
    """Open the same page in another window of the same browser."""
    other = it.page.context.new_page()
    other.goto(it.served.address + BOOK)
    other.wait_for_selector("html[data-live]", state="attached")
    return other


def test_what_is_typed_ticked_and_chosen_outlives_a_redraw(page_on: PageOn) -> None:
    """Fields half filled in keep all of it when the news of another window is drawn."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    other = other_window(it)
    other.evaluate(MARKED)
    look = other.get_by_label("Drawn as")
    value = look.locator("option:not([selected])").first.get_attribute("value")
    look.select_option(value)
    top = other.locator("input[name='print.up'][value='end']")
    assert not top.is_checked()
    top.check()
    along = other.get_by_label("Begins, from the cut end")
    along.fill("7/8 in")
    other.locator("#cloth-name").click()  # the focus is elsewhere
    it.page.locator("#c-length").fill("199 in")
    it.page.get_by_role("button", name="Save the measurements").click()
    other.wait_for_function("() => document.getElementById('c-length').value.startsWith('199')")
    assert along.input_value() == "7/8 in"
    assert top.is_checked()
    assert look.input_value() == value


def test_what_the_server_says_anew_is_shown(page_on: PageOn) -> None:
    """A choice and a tick, saved and then undone in another window, show what holds again.

    The tick is saved by Enter, so that it keeps the focus.
    """
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    other = other_window(it)
    look = it.page.get_by_label("Drawn as")
    top = it.page.locator("input[name='print.up'][value='end']")
    was = look.input_value()
    assert not top.is_checked()
    look.select_option(look.locator("option:not([selected])").first.get_attribute("value"))
    top.check()
    top.press("Enter")
    it.page.wait_for_function("() => document.getElementById('said').textContent")
    other.wait_for_function("v => document.getElementById('p-look').value !== v", arg=was)
    other.get_by_role("button", name="Undo").click()
    it.page.wait_for_function("v => document.getElementById('p-look').value === v", arg=was)
    assert not top.is_checked()
    assert top.evaluate("e => e === document.activeElement")


OVERTAKEN = """async () => {
    const { refresh } = await import(document.querySelector("link[href$='/js/morph.js']").href);
    const part = document.querySelector("[data-part]").dataset.part;
    const really = window.fetch;
    let asked = 0;
    window.fetch = async (...what) => {
        const second = ++asked === 2;
        const answer = await really(...what);
        if (second) await new Promise((go) => setTimeout(go, 700));
        return answer;
    };
    const came = [];
    document.addEventListener("morphed", (e) => e.detail === part && came.push("drawn"));
    await Promise.all([1, 2].map((k) => refresh([part]).then(() => came.push(k))));
    return came;
}"""


def test_who_draws_a_part_goes_on_when_it_is_drawn(page_on: PageOn) -> None:
    """Though another began to draw it meanwhile: keys pressed next meet what is there now."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    assert it.page.evaluate(OVERTAKEN)[0] == "drawn"


SHIFTED = """async () => {
    const { refresh } = await import(document.querySelector("link[href$='/js/morph.js']").href);
    const really = window.fetch;
    window.fetch = async (...what) => {
        const answer = await really(...what);
        const more = "<br>".repeat(20);
        const drawn = (await answer.text()).replace(/(<[^>]*data-part[^>]*>)/, "$1" + more);
        return new Response(drawn, { status: answer.status });
    };
    window.came = [];
    document.addEventListener("morphed", () => window.came.push("drawn"));
    document.addEventListener("click", (e) => window.came.push(e.target.textContent), true);
    refresh([document.querySelector("main [data-part]").dataset.part]);
}"""


def test_a_press_is_heard_though_the_part_is_drawn_anew_under_it(page_on: PageOn) -> None:
    """What comes while a button is held down is drawn when it is let go."""
    it = page_on("coat-and-skirt")
    it.go(BOOK)
    button = it.page.locator("main [data-part] button:visible").last
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    it.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    it.page.mouse.down()
    with it.page.expect_response(lambda r: "part=" in r.url):
        it.page.evaluate(SHIFTED)
    it.page.mouse.up()
    it.page.wait_for_function("() => window.came.includes('drawn')")
    assert it.page.evaluate("window.came")[0] == button.text_content()
