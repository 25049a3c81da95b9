"""A piece pulled by its handles: the change it makes, the live walk, mouse, finger and keys."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest

from clothwright.demo import DEMOS
from clothwright.errors import BadInput, ClothwrightError
from clothwright.store import load
from clothwright.units import Unit
from clothwright.workbook import replay
from clothwright.workroom.changing.pulling import pulled, pulls_of
from tests.web.conftest import PHONE, Desk, PageOn, until
from tests.web.test_look import axe

if TYPE_CHECKING:
    from playwright.sync_api import Route

HERE = "/b/coat-and-skirt/direct"
INCH = 25.4


def tried(desk: Desk, **sent: object) -> tuple[int, dict[str, object]]:
    """Ask what a pull would do."""
    answer = desk.post(f"{HERE}/try", content=json.dumps(sent).encode())
    return answer.status_code, answer.json()


@pytest.mark.parametrize("demo", DEMOS[:2], ids=lambda d: d.name)
def test_every_handle_can_be_pulled_or_says_why_not(demo) -> None:
    """Half an inch either way at every handle: a piece and its seams, or a sentence."""
    pattern = replay(demo.make()).pattern
    done, refused = 0, list[str]()
    for piece in pattern.pieces:
        for pull in pulls_of(piece):
            for mm in (INCH / 2, -INCH / 2):
                try:
                    made = pulled(pattern, piece.name, pull.key, mm, Unit.inch)
                except ClothwrightError as error:
                    refused.append(str(error))
                    continue
                assert made.piece != piece
                assert {s.name for s in made.seams} >= {
                    s.name for e in piece.edges for s in pattern.seams_of(piece.name, e.name)
                }
                done += 1
    assert done > 30
    assert all(words.endswith(".") for words in refused)


def test_the_walk_says_the_difference() -> None:
    """The skirt front an inch longer at the hip: its side an inch longer than the back's."""
    pattern = replay(DEMOS[0].make()).pattern
    made = pulled(pattern, "skirt front", "level hip", INCH, Unit.inch)
    side = next(s for s in made.seams if s.name == "skirt side")
    assert abs(side.now - side.before) == pytest.approx(INCH, abs=0.3)
    assert made.kind == "lengthen"
    assert made.params["by"] == "1 in"


@pytest.mark.parametrize("mm", [1e9, float("nan"), float("inf")])
def test_farther_than_a_hand_is_refused(mm: float) -> None:
    """A sentence."""
    pattern = replay(DEMOS[0].make()).pattern
    with pytest.raises(BadInput, match="hand pulls"):
        pulled(pattern, "skirt front", "level hip", mm, Unit.inch)


def test_the_door_answers_in_words(desk: Desk) -> None:
    """What it does, in the maker's unit; bad input is a sentence; nothing is saved."""
    before = load(desk.folder / "coat-and-skirt")
    status, said = tried(desk, piece="skirt front", key="edge hem", mm=INCH)
    assert status == 200
    assert said["shown"] == "1 in"
    assert "hem" in str(said["words"])
    assert tried(desk, piece="skirt front", key="nowhere", mm=3)[0] == 400
    assert tried(desk, piece="nobody", key="edge hem", mm=3)[0] == 400
    assert tried(desk, piece="skirt front")[0] == 400
    assert load(desk.folder / "coat-and-skirt") == before


def knob(it, key: str):
    """Return a handle."""
    return it.page.locator(f'.pull[data-key="{key}"]')


def test_pulled_by_the_mouse(page_on: PageOn, shots) -> None:
    """Drag the hip level down: the walk follows; let go: one change; undo takes it back."""
    it = page_on("coat-and-skirt")
    folder = it.folder / "coat-and-skirt"
    before = load(folder).steps
    it.go(f"{HERE}?piece=skirt+front")
    hip = knob(it, "level hip")
    hip.scroll_into_view_if_needed()
    box = hip.locator(".dot").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    it.page.mouse.move(x, y)
    it.page.mouse.down()
    it.page.mouse.move(x + 3, y + 30, steps=6)
    it.page.wait_for_selector('#walks tr.bad[data-key="skirt side"]')
    assert "longer" in it.page.locator('#walks [data-key="skirt side"] [data-now]').inner_text()
    shots(it, "direct-pulled")
    assert load(folder).steps == before
    it.page.mouse.up()
    it.page.wait_for_function("n => Number(document.body.dataset.revision) > n", arg=0)
    it.page.get_by_role("button", name="Undo").click()
    until(lambda: load(folder).steps == before, it.page)
    assert load(folder).steps == before


def test_pulled_by_the_keys(page_on: PageOn) -> None:
    """Arrow keys on the focused hem, Enter: the change is 3/8 in; Escape leaves all as it is."""
    it = page_on("coat-and-skirt")
    folder = it.folder / "coat-and-skirt"
    before = load(folder).steps
    it.go(f"{HERE}?piece=skirt+front")
    knob(it, "edge hem").focus()
    it.page.keyboard.press("ArrowDown")
    it.page.keyboard.press("Escape")
    it.page.get_by_text("Given up").wait_for()
    assert load(folder).steps == before
    for _ in range(3):
        it.page.keyboard.press("ArrowDown")
    it.page.keyboard.press("Enter")
    until(lambda: len(load(folder).steps) > len(before), it.page)
    step = load(folder).steps[-1]
    assert (step.change, step.params["edge"], step.params["by"]) == (
        "move-edge",
        "skirt front.hem",
        "3/8 in",
    )
    it.go("/b/coat-and-skirt/changes")
    assert it.page.get_by_text(re.compile("3/8 in")).count() > 0


def test_an_answer_after_giving_up_is_not_shown(page_on: PageOn) -> None:
    """The server is slow, Escape comes first: no ghost, no words of a pull that was given up."""
    it = page_on("coat-and-skirt")
    it.go(f"{HERE}?piece=skirt+front")
    waiting: list[Route] = []

    def hold(route: Route) -> None:
        waiting.append(route)

    it.page.route("**/direct/try", hold)
    knob(it, "edge hem").focus()
    with it.page.expect_request("**/direct/try"):
        it.page.keyboard.press("ArrowDown")
    it.page.keyboard.press("Escape")
    it.page.get_by_text("Given up").wait_for()
    with it.page.expect_response("**/direct/try"):
        waiting[0].continue_()
    it.page.wait_for_timeout(200)
    assert it.page.locator("#pulled").inner_text().startswith("Given up")
    assert it.page.locator(".ghost").get_attribute("hidden") is not None


def test_an_edge_is_pressed_on_a_phone(page_on: PageOn) -> None:
    """A tap on an edge says its name, length, allowance, partner; it fits 360 px."""
    it = page_on("coat-and-skirt", size={**PHONE, "width": 360})
    it.go(f"{HERE}?piece=skirt+front")
    it.page.locator('.edge[aria-label^="side"]').dispatch_event("click")
    words = it.page.locator("#pulled").inner_text()
    assert words.startswith("side, seam,")
    assert "sewn to skirt back, side in skirt side" in words
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360


def test_pulled_by_a_finger(page_on: PageOn) -> None:
    """A finger takes the hem along, and the page does not scroll away under it."""
    it = page_on("coat-and-skirt", size=PHONE)
    folder = it.folder / "coat-and-skirt"
    before = load(folder).steps
    it.go(f"{HERE}?piece=skirt+front")
    hem = knob(it, "edge hem")
    hem.scroll_into_view_if_needed()
    box = hem.locator(".dot").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger, touch = it.page.context.new_cdp_session(it.page), "Input.dispatchTouchEvent"
    top = it.page.evaluate("scrollY")
    finger.send(touch, {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for k in range(1, 6):
        finger.send(touch, {"type": "touchMove", "touchPoints": [{"x": x + k, "y": y + 4 * k}]})
    finger.send(touch, {"type": "touchEnd", "touchPoints": []})
    until(lambda: len(load(folder).steps) > len(before), it.page)
    assert load(folder).steps[-1].params["edge"] == "skirt front.hem"
    assert it.page.evaluate("scrollY") == top


def test_axe(page_on: PageOn) -> None:
    """WCAG 2.2 AA as far as axe-core can tell."""
    it = page_on("coat-and-skirt")
    it.go(f"{HERE}?piece=coat+front")
    assert axe(it) == []
