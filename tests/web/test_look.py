"""Every page in a browser: screenshots, accessibility, size, width, no request to elsewhere."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from tests.web.conftest import LAPTOP, PHONE, PageOn, Shown, drawn, node_tool, shown_by

PAGES = {
    "start": "/",
    "pieces": "/b/coat-and-skirt/pieces",
    "pieces-edge": "/b/coat-and-skirt/pieces?piece=coat+back&edge=shoulder",
    "add": "/b/coat-and-skirt/add",
    "seams": "/b/coat-and-skirt/seams",
    "seams-own": "/b/coat-and-skirt/seams?a=coat+front.side&b=coat+back.side",
    "body": "/b/coat-and-skirt/body",
    "walk": "/b/coat-and-skirt/walk",
    "toile": "/b/coat-and-skirt/toile",
    "changes": "/b/coat-and-skirt/changes",
    "changes-crop": "/b/coat-and-skirt/changes?kind=crop",
    "direct": "/b/coat-and-skirt/direct?piece=skirt+front",
    "plans": "/b/coat-and-skirt/plans",
    "plans-rules": "/b/coat-and-skirt/plans?plan=skirt+only&kind=meets",
    "plans-look": "/b/coat-and-skirt/plans?look=skirt+and+sleeves&slide-border-1-2=30",
    "cut": "/b/coat-and-skirt/cut",
    "cloth": "/b/coat-and-skirt/cloth",
    "cloth-photo": "/b/coat-and-skirt/cloth/photo",
    "sew": "/b/coat-and-skirt/sew",
    "style": "/style",
    "share": "/share",
    "enter": "/enter?key=abc",
}
"""Every page; a page that is added is added here."""
EACH_PAGE = pytest.mark.parametrize("name", PAGES, scope="module")
"""All that is asked of a page is asked in a row, so that it is loaded once a width."""
MOST_BYTES = 300_000
AXE = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@EACH_PAGE
def test_screenshots(look_at: PageOn, shots, name: str) -> None:
    """Each page is drawn on a laptop, light and dark, and on a phone, for a person to look at."""
    it = look_at(PAGES[name])
    shots(it, name)


COLOURS = f"axe.getRules({json.dumps(AXE)}).filter(r => r.tags.includes('cat.color'))"
"""The rules that look at colours: of all that axe looks at, the theme changes nothing else."""


def axe(it: Shown) -> list[str]:
    """Return what axe finds on the page as it is, light and dark, from its top, a line each.

    What is pressed on a page that is scrolled may lie under the line of stages, which stays in
    sight: that is no fault, and how far it is scrolled is chance.
    """
    code = node_tool("axe-core/axe.min.js").read_text(encoding="utf-8")
    # By the driver, not as a <script> of the page: the page's own rules would refuse it.
    it.page.evaluate(code + "; undefined")
    it.page.evaluate(
        "new Promise(g => { scrollTo(0, 0); const f = requestAnimationFrame; f(() => f(g)); })"
    )
    found = _violations(it, json.dumps(AXE))
    it.page.emulate_media(color_scheme="dark")
    drawn(it.page)
    found += _violations(it, f"{COLOURS}.map(r => r.ruleId)")
    it.page.emulate_media(color_scheme="light")
    return [f"{v['id']}: {n['target']} {n['failureSummary']}" for v in found for n in v["nodes"]]


def _violations(it: Shown, rules: str) -> list[Any]:
    """Return what breaks some of axe's rules. rules: a list of them, or of their tags, in script.

    Only what is wrong is told, so only for that is it worked out where on the page it stands.
    """
    options = f"{{runOnly: {rules}, resultTypes: ['violations']}}"
    found: list[Any] = it.page.evaluate(
        f"async () => (await axe.run(document, {options})).violations"
    )
    return found


@EACH_PAGE
def test_axe_finds_nothing(look_at: PageOn, name: str) -> None:
    """WCAG 2.2 AA as far as axe-core can tell, in both themes."""
    it = look_at(PAGES[name])
    assert axe(it) == []


def test_axe_can_find_something(look_at: PageOn) -> None:
    """The check above can fail: a field without a label is found."""
    it = look_at("/style", afresh=True)
    it.page.evaluate("document.querySelector('main').append(document.createElement('input'))")
    assert any("label" in line for line in axe(it))


STYLED = "(rule => (document.adoptedStyleSheets = [new CSSStyleSheet()])[0].insertRule(rule))"


def test_axe_can_find_a_colour_of_the_dark_page(look_at: PageOn) -> None:
    """Words that can be read on the light page alone, and light again afterwards."""
    it = look_at("/style", afresh=True)
    it.page.evaluate(f"{STYLED}('@media (prefers-color-scheme: dark) {{ p {{ color: #333 }} }}')")
    assert any("color-contrast" in line for line in axe(it))
    assert it.page.evaluate("matchMedia('(prefers-color-scheme: light)').matches")


@EACH_PAGE
@pytest.mark.parametrize("width", [360, 1280])
def test_nothing_hangs_over(look_at: PageOn, name: str, width: int) -> None:
    """No page has to be pushed sideways at 360 px, nor on a laptop."""
    it = look_at(PAGES[name], size={**PHONE, "width": width})
    wide = it.page.evaluate("document.documentElement.scrollWidth")
    assert wide <= width


@EACH_PAGE
def test_targets_are_for_fingers(look_at: PageOn, name: str) -> None:
    """What is pressed is at least 44 px high or wide enough to be hit, links in sentences apart."""
    it = look_at(PAGES[name], size=PHONE)
    small = it.page.evaluate(
        """() => [...document.querySelectorAll('a[href], button, input:not([type=hidden])')]
            .filter(e => !e.closest('p:not(.pair, .next), svg, label') && e.checkVisibility())
            .filter(e => !e.matches('.skip'))
            .map(e => [e.textContent.trim() || e.name, e.getBoundingClientRect()])
            .filter(([, r]) => r.height < 43.9 || r.width < 43.9)
            .map(([t, r]) => `${t}: ${r.width} x ${r.height}`)"""
    )
    assert small == []


@pytest.fixture(scope="module")
def forgetful(looks: PageOn, browser: Any) -> Iterator[Shown]:
    """A page that keeps nothing of what it fetched: every visit is its first."""
    served = looks(LAPTOP).served
    with shown_by(browser, served, served.room.root, LAPTOP) as it:
        line = it.page.context.new_cdp_session(it.page)
        line.send("Network.enable")
        line.send("Network.setCacheDisabled", {"cacheDisabled": True})
        yield it


@EACH_PAGE
def test_a_page_is_light(forgetful: Shown, name: str) -> None:
    """Everything a page fetches, unpacked, stays under 300 kB."""
    it, asked = forgetful, list[Any]()

    def asks(request: Any) -> None:
        asked.append(request)

    it.page.on("request", asks)
    it.go(PAGES[name])
    it.page.evaluate("new Promise(done => requestIdleCallback(done))")
    sizes = [len(r.response().body()) for r in asked]  # waits for what is still on its way
    it.page.remove_listener("request", asks)
    assert it.strays == it.trouble == []
    assert len(sizes) > 3
    assert sum(sizes) < MOST_BYTES


SMALL = """() => [...document.querySelectorAll('svg text')]
    .filter(t => t.checkVisibility({visibilityProperty: true}) && t.getScreenCTM())
    .map(t => [t.textContent, parseFloat(getComputedStyle(t).fontSize)
        * Math.hypot(t.getScreenCTM().a, t.getScreenCTM().b)])
    .filter(([, tall]) => tall > 0 && tall < 11.9)
    .map(([words, tall]) => `${words}: ${tall}`)"""
"""Words in drawings that are shown smaller than 12 px."""


@EACH_PAGE
@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_letters_in_drawings_can_be_read(look_at: PageOn, name: str, size: dict[str, int]) -> None:
    """Nothing in a drawing is said in letters under 12 px: it grows, or waits for a closer look."""
    it = look_at(PAGES[name], size=size)
    it.page.wait_for_load_state("load")
    it.page.wait_for_function(f"() => ({SMALL})().length === 0")


def test_names_stay_and_small_print_comes_closer(look_at: PageOn) -> None:
    """On the cut page every piece has its name; looked at closer, its measurements too."""
    it = look_at(PAGES["cut"], afresh=True)
    if it.page.get_by_role("button", name="Lay this plan").count():
        it.page.get_by_role("button", name="Lay this plan").click()
    it.page.wait_for_selector(".pic.lay .hold")
    shown = """role => [...document.querySelectorAll(`.pic.lay .r-${role} text[data-group]`)]
        .filter(t => t.checkVisibility({visibilityProperty: true})).map(t => t.dataset.group)"""
    it.page.wait_for_function(f"() => ({SMALL})().length === 0")
    holds = it.page.locator(".pic.lay .hold")
    pieces = {holds.nth(n).get_attribute("data-shape") for n in range(holds.count())}
    assert set(it.page.evaluate(shown, "label")) == pieces
    assert it.page.evaluate(shown, "measure") == []
    for _ in range(8):
        it.page.get_by_role("button", name="Closer").click()
    it.page.wait_for_function(f"() => ({shown})('measure').length > 0")
