"""The first look in the browser: slides move the cloth at once, words follow, and it is laid so."""

from __future__ import annotations

import re

import pytest

from clothwright.store import load
from tests.web.conftest import Desk, PageOn

LOOK = "/b/coat-and-skirt/plans?look=skirt+only"
SLIDE = "slide-border-1-2"
SKIRT = "#look [data-worn='skirt front'] use"


def test_nothing_is_laid_and_the_garment_is_there(desk: Desk) -> None:
    """Before any search: every view with its print, a slide for the hem, words for the seams."""
    part = desk.client.get(f"{LOOK}&part=look").text
    assert "<figcaption>Skirt front</figcaption>" in part
    assert f'name="{SLIDE}"' in part
    assert "Skirt front and skirt back: up and down" in part
    assert "Skirt centre back" in part
    assert "not moved" in part
    slid = desk.client.get(f"{LOOK}&{SLIDE}=25.4&part=look").text
    assert "1 in up" in slid
    names = re.findall(r' id="([^"]+)"', slid)
    assert len(names) == len(set(names))


def test_what_is_no_number_or_no_plan_is_no_trouble(desk: Desk) -> None:
    """A made-up slide, words for a length, a plan that is gone: the page answers."""
    for query in ("&slide-border-1-2=x", "&slide-border-1-2=inf", "&slide-9=4", "gone"):
        answer = desk.client.get(f"{LOOK}{query}&part=look")
        assert answer.status_code == 200
        assert ("Slide the print" in answer.text) == (query != "gone")
    far = desk.client.get(f"{LOOK}&{SLIDE}=90000&part=look").text
    assert "4 in up" in far or "3 15/16 in up" in far


def test_laid_so_without_a_script_is_a_rule(desk: Desk) -> None:
    """The border slid 1 in up the skirt: both hems lie 1 in lower on it, and the plan is laid."""
    before = [r.above for r in load(desk.folder / "coat-and-skirt").plan("skirt only").rules[:2]]
    sent = {"plan": "skirt only", SLIDE: "25.4", "by": "script"}
    answer = desk.post("/b/coat-and-skirt/plans/look", data=sent)
    assert answer.status_code == 200, answer.text
    assert answer.json()["words"].startswith("“skirt only” has its print where you slid it")
    after = [r.above for r in load(desk.folder / "coat-and-skirt").plan("skirt only").rules[:2]]
    assert after == [a - 25.4 for a in before]
    still = desk.post(
        "/b/coat-and-skirt/plans/look",
        data={"plan": "skirt only", "by": "script"},
        headers={"accept": "application/json"},
    )
    assert still.status_code == 400
    assert "nothing is slid yet" in still.text.lower()


def test_a_slide_moves_the_cloth_before_the_server_answers(page_on: PageOn) -> None:
    """By the keys: the cloth moves under the skirt alone, then the words say how far it is."""
    it = page_on("coat-and-skirt")
    it.go(LOOK)
    slide = it.page.locator(f"[name='{SLIDE}']")
    was = it.page.eval_on_selector(SKIRT, "u => u.getAttribute('transform')")
    coat = "#look [data-worn='coat back'] use"
    other = it.page.eval_on_selector(coat, "u => u.getAttribute('transform')")
    it.page.route("**/plans?*part=*", lambda route: None)
    slide.focus()
    for _ in range(3):
        it.page.keyboard.press("ArrowRight")
    now = it.page.eval_on_selector(SKIRT, "u => u.getAttribute('transform')")
    x, y = (float(v) for v in re.findall(r"translate\((\S+) (\S+)\)", was)[0])
    to = re.findall(r"translate\((\S+) (\S+)\)", now)[0]
    assert [float(v) for v in to] == pytest.approx([x, y - 3 * 25.4 / 16], abs=0.02)
    assert it.page.eval_on_selector(coat, "u => u.getAttribute('transform')") == other
    it.page.unroute("**/plans?*part=*")
    it.page.keyboard.press("ArrowRight")
    it.page.locator("#look output", has_text="1/4 in up").wait_for()
    assert it.page.evaluate("document.activeElement.name") == SLIDE
    assert slide.bounding_box()["height"] >= 44
    it.page.get_by_role("button", name="Lay it so").click()
    it.page.get_by_text("has its print where you slid it").wait_for()
