"""What is pressed before the page's scripts have come: it waits for them, and is done then."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from clothwright.store import load
from tests.web.conftest import LAPTOP, PageOn, Shown, shown_by
from tests.web.test_look import PAGES

EARLY = ("early.js", "theme.js")
"""The classic scripts, which stand before anything that can be pressed."""
NAME = "coat-and-skirt"


def without_modules(it: Shown, path: str) -> Callable[[], None]:
    """Open a page whose modules do not come; what is returned lets them come, and waits."""
    held: list[Any] = []
    late = True

    def asked(route: Any) -> None:
        if late and not route.request.url.endswith(EARLY):
            held.append(route)
        else:
            route.continue_()

    def come() -> None:
        nonlocal late
        late = False
        for route in held:
            route.continue_()
        it.page.wait_for_load_state("domcontentloaded")
        it.page.wait_for_selector("html:not([data-waits])", state="attached")

    it.page.route("**/static/*/js/*.js", asked)
    it.page.goto(it.served.address + path, wait_until="commit")
    it.page.wait_for_selector("footer")
    return come


def sent(it: Shown) -> list[str]:
    """Return a list that grows with everything that is sent to the server."""
    found: list[str] = []
    it.page.on("request", lambda r: r.method == "POST" and found.append(r.url))
    return found


@pytest.fixture(scope="module")
def one(looks: PageOn, browser: Any) -> Iterator[Shown]:
    """One browser for all pages whose scripts do not come."""
    served = looks(LAPTOP).served
    with shown_by(browser, served, served.room.root, LAPTOP) as it:
        yield it


@pytest.mark.parametrize("name", [n for n, path in PAGES.items() if path.startswith("/b/")])
def test_nothing_goes_out_and_nothing_is_lost(one: Shown, name: str) -> None:
    """Whatever is pressed, ticked or chosen on any page before its scripts are there waits."""
    pressed_everything(one, name)
    assert one.strays == one.trouble == []


def pressed_everything(it: Shown, name: str) -> None:
    """Press everything of a page whose scripts do not come; see that nothing comes of it."""
    posts = sent(it)
    without_modules(it, PAGES[name])
    here = it.page.url
    pressed = it.page.evaluate(
        """() => {
            let pressed = 0;
            for (const form of document.forms) form.noValidate = true;
            for (const e of document.querySelectorAll(
                "form button, button[type=button]:not([disabled]), main input[type=checkbox]"
            )) {
                if (e.closest("form")?.method === "get" || e.disabled) continue;
                if (e.type === "submit" && !e.form) continue;
                e.click();
                pressed += 1;
            }
            return pressed;
        }"""
    )
    it.page.evaluate("new Promise(done => setTimeout(done, 0))")
    assert it.page.url == here
    assert posts == []
    assert (it.page.locator("html[data-waits]").count() == 1) == (pressed > 0)


def test_an_edit_waits(page_on: PageOn) -> None:
    """A form that is sent as an edit: one step, once, although it was pressed twice."""
    it = page_on(NAME)
    come = without_modules(it, f"/b/{NAME}/pieces?piece=coat+back&edge=side")
    before = len(load(it.folder / NAME).steps)
    it.page.get_by_label("Another allowance for this edge").fill("1 in")
    button = it.page.get_by_role("button", name="Put into the changes")
    button.click()
    button.click()
    assert it.page.get_by_role("status").filter(has_text="waits until the page").count() == 1
    come()
    it.page.wait_for_selector("tr.chosen td:has-text('1 in')")
    assert len(load(it.folder / NAME).steps) == before + 1


def test_a_button_waits(page_on: PageOn) -> None:
    """A button that belongs to a script (here Undo) is pressed for good when that is there."""
    it = page_on(NAME)
    it.go(f"/b/{NAME}/pieces?piece=coat+back&edge=side")
    it.page.get_by_label("Another allowance for this edge").fill("1 in")
    it.page.get_by_role("button", name="Put into the changes").click()
    it.page.wait_for_selector("tr.chosen td:has-text('1 in')")
    come = without_modules(it, f"/b/{NAME}/pieces?piece=coat+back&edge=side")
    it.page.get_by_role("button", name="Undo").click()
    come()
    it.page.wait_for_selector("tr.chosen td:has-text('5/8 in')")


def test_a_switch_waits(page_on: PageOn) -> None:
    """A box that is ticked before is sent afterwards: what it shows is what is kept."""
    it = page_on(NAME)
    come = without_modules(it, f"/b/{NAME}/changes")
    it.page.get_by_label("on, change 3").click()
    come()
    it.page.wait_for_selector(".change.off")
    assert not load(it.folder / NAME).steps[2].on


def test_a_photo_waits(page_on: PageOn) -> None:
    """A file chosen and sent before the script is there goes the script's way, not the form's."""
    it = page_on(NAME)
    answers: list[tuple[str, int]] = []
    it.page.on(
        "response", lambda r: r.request.method == "POST" and answers.append((r.url, r.status))
    )
    come = without_modules(it, f"/b/{NAME}/add")
    field = it.page.locator("#photos-form input[type=file]")
    field.set_input_files({"name": "none.png", "mimeType": "image/png", "buffer": b"no photo"})
    it.page.locator("#photos-form button.main").click()
    come()
    it.page.get_by_role("alert").filter(has_text="none.png").wait_for()
    assert [url.partition("?")[0].rpartition("/")[2] for url, _ in answers] == ["photo"]
    it.trouble.clear()  # the browser logs the refusal that told us


def test_a_page_whose_scripts_never_come_still_sends_its_forms(page_on: PageOn) -> None:
    """When the modules cannot be fetched, a form goes to the server by itself."""
    it = page_on()
    it.page.route(
        "**/static/*/js/*.js",
        lambda r: r.continue_() if r.request.url.endswith(EARLY) else r.abort(),
    )
    it.page.goto(it.served.address + "/")
    it.page.get_by_role("button", name="Coat and skirt").click()
    it.page.wait_for_url("**/b/coat-and-skirt/pieces")
    it.trouble.clear()  # the browser logs what did not come
