"""The plans page: laid, compared, chosen, wished for, and ways to fit taken."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from typing import Any

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import Plan
from clothwright.store import load, save, undo
from clothwright.units import Unit
from clothwright.web.serve import prepare
from clothwright.workroom.planning.cards import cards
from clothwright.workroom.planning.rule_view import rule_words
from clothwright.workroom.searching.laying import keep_better, lay_plan
from clothwright.workroom.searching.lays import Lays
from tests.contract.rules_table import ROWS
from tests.few_rounds import first_lays, one_core
from tests.web.conftest import PHONE, WAIT_S, Desk, PageOn, Shown, demo_at, until_laid
from tests.web.test_killed import Server
from tests.web.test_look import axe

PLANS = "/b/coat-and-skirt/plans"
NAMES = ("skirt only", "skirt and sleeves", "skirt, sleeves and coat")


@pytest.fixture
def lays(desk: Desk) -> Lays:
    """The lays of the served workbook."""
    return desk.room.lays(desk.room.book("coat-and-skirt"))


def pressed(desk: Desk, what: str, **form: str) -> tuple[int, str]:
    """Press a button as the page's script does; return the status and what is said."""
    headers = {"accept": "application/json"}
    answer = desk.post(f"{PLANS}/{what}", data={**form, "by": "script"}, headers=headers)
    said = answer.json()
    return answer.status_code, said.get("words") or said["sentence"]


def shown(desk: Desk, part: str = "plans") -> str:
    """Return the words of a part of the page."""
    text = desk.client.get(f"{PLANS}?part={part}").text
    words = html.unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u00a0", " ")
    return " ".join(words.split())


def test_before_anything_is_laid(desk: Desk) -> None:
    """Every plan is there with what it is for, and says that it is not laid."""
    words = shown(desk)
    for plan in load(desk.folder / "coat-and-skirt").plans:
        assert plan.name in words
        assert plan.why in words
    assert words.count("Not laid yet.") == len(NAMES)
    assert words.count("Chosen: this is the plan you cut from") == 1


def test_laid_it_says_what_a_maker_weighs(desk: Desk, lays: Lays) -> None:
    """Fit, length used, what is left, how the print meets, cost and a drawing, as laid."""
    with first_lays():
        assert pressed(desk, "lay", plan=NAMES[0], seconds="10")[0] == 200
        laid = lays.wait(NAMES[0], seconds=WAIT_S).laid
    assert laid is not None
    words = shown(desk)
    assert "Fits, " in words or "Does not fit" in words
    assert f"cost {laid.cost:.2f}" in words
    assert "print meets along" in words
    text = desk.client.get(f"{PLANS}?part=plans").text
    on_wool = [p for p in laid.lay.placements if p.region == "bordered wool"]
    assert text.count('class="r-piece"') >= 1
    drawing = text[text.index("<svg") : text.index("</svg>")]
    assert len(re.findall(r'class="area" data-group', drawing)) == len(on_wool)


def test_a_plan_too_long_says_by_how_much(desk: Desk, lays: Lays) -> None:
    """Not colour alone: the words say that it does not fit, and the ways to fit are offered."""
    lays.start(NAMES[2], seconds=0, workers=1)
    state = lays.wait(NAMES[2])
    card = cards(lays, lays.opened.read(), [state])[0]
    assert (card.kind, card.fits) == ("bad", False)
    assert card.verdict.startswith("Does not fit: short by")
    assert "Look for ways to fit" in shown(desk, "ways")


def test_lays_on_one_cloth_are_drawn_to_one_scale(lays: Lays) -> None:
    """The same view for every plan, so that the eye compares lengths."""
    for name in (NAMES[0], NAMES[2]):
        lays.start(name, seconds=0, workers=1)
        lays.wait(name)
    found = cards(lays, lays.opened.read(), lays.states())
    views = [s.within for c in found for s in c.looks.lays if s.cloth == "bordered wool"]
    assert len(views) == 2
    assert len(set(views)) == 1


def test_a_time_that_is_not_offered_is_refused(desk: Desk) -> None:
    """The server takes no other than the times of the list."""
    status, words = pressed(desk, "lay", seconds="999999")
    assert status == 400
    assert "is not offered" in words


def test_of_all_plans_those_that_cannot_be_laid_are_named(desk: Desk) -> None:
    """The press says which, and their cards say why; the command is not refused for them."""
    at = desk.folder / "coat-and-skirt"
    both = tuple(OnGrain(piece="coat front", grain=g) for g in ("along", "across"))
    save(replace(load(at), plans=(Plan(name="odd", rules=both),), chosen_plan=""), at)
    said = "No plans are being laid. “odd” cannot be laid: on the card stands what is in the way."
    assert pressed(desk, "lay", seconds="10") == (200, said)
    assert "It cannot be laid." in shown(desk)


def test_without_a_script_the_page_comes_back(desk: Desk) -> None:
    """A plain form leads back to the page."""
    answer = desk.post(f"{PLANS}/stop", data={})
    assert answer.status_code == 303
    assert answer.headers["location"] == PLANS


def test_wishes_become_a_plan(desk: Desk) -> None:
    """The usual wishes make one plan of all of them, which is not added twice."""
    folder = desk.folder / "coat-and-skirt"
    before = load(folder).plans
    status, said = pressed(desk, "make", most="1")
    assert status == 200, said
    (added,) = load(folder).plans[len(before) :]
    pieces = {r.piece for r in added.rules if type(r).__name__ == "OnBorder"}
    assert pieces == {"skirt front", "skirt back", "coat sleeve"}
    status, said = pressed(desk, "make", most="1")
    assert status == 400
    assert "already" in said


def test_wishes_are_put_in_order(desk: Desk) -> None:
    """Down, up, out and in are steps of the workbook; undo takes the last one back."""
    folder = desk.folder / "coat-and-skirt"
    name = "border round the skirt hem"
    for to in ("down", "out", "in"):
        status, said = pressed(desk, "move-wish", wish=name, to=to)
        assert status == 200, said
    assert load(folder).wishes[-1] == name
    assert "no wish" in pressed(desk, "move-wish", wish="a moon", to="up")[1]
    undo(folder)
    assert name not in load(folder).wishes


def test_a_wish_for_other_edges_is_put_together(desk: Desk) -> None:
    """Edges ticked, and how far above the border, in the maker's unit; the plan has them."""
    form = {"edge0": "coat front.neck", "edge1": "coat back.neck", "above": "1/2 in"}
    status, said = pressed(desk, "wish", **form)
    assert status == 200, said
    assert load(desk.folder / "coat-and-skirt").wishes[-1].endswith("above 1/2 in")
    assert "Coat front (neck) and coat back (neck): along the woven border, 1/2 in above" in shown(
        desk, "wishes"
    )


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({}, "nothing is ticked"),
        ({"edge0": "skirt front.hemm"}, "hemm"),
        ({"edge0": "skirt front.hem", "border": "vine"}, "vine"),
        ({"edge0": "skirt front.hem", "above": "five ells"}, "five ells"),
    ],
)
def test_a_wish_that_cannot_be_read(desk: Desk, form: dict[str, str], words: str) -> None:
    """A sentence says what is wrong; nothing was written."""
    before = load(desk.folder / "coat-and-skirt")
    status, said = pressed(desk, "wish", **form)
    assert status == 400
    assert words in said
    assert load(desk.folder / "coat-and-skirt") == before


def test_a_way_out_is_found_and_taken(desk: Desk, lays: Lays) -> None:
    """One press makes it a plan, chosen, with the lay that was found for it; undo takes it back."""
    name, folder = NAMES[2], desk.folder / "coat-and-skirt"
    lays.start(name, seconds=0, workers=1)
    lays.wait(name)
    with first_lays():
        lays.start_ways(name, seconds=8)
        search = lays.searches.of(lays.opened.folder, "ways", name)
        assert search is not None
        assert search.over.wait(WAIT_S)
    ways = lays.ways(name).ways
    assert ways
    first = ways[0]
    words = shown(desk, "ways")
    assert first["what"][1:] in words
    before = load(folder)
    status, said = pressed(desk, "take", plan=name, number="1")
    assert status == 200, said
    after = load(folder)
    assert after.chosen_plan == first["plan"] not in {p.name for p in before.plans}
    laid = lays.state(first["plan"]).laid
    assert laid is not None
    assert laid.lay.fits is first["fits"]
    book = desk.room.book("coat-and-skirt")
    book.undo(base=book.read().revision)
    assert load(folder) == before


def test_a_way_out_of_another_list_is_refused(desk: Desk) -> None:
    """Without a list for the pieces as they are, nothing is taken."""
    status, said = pressed(desk, "take", plan=NAMES[2], number="1")
    assert status == 400
    assert "no ways to fit" in said


def test_the_rules_of_a_plan_are_told_and_left_out(desk: Desk) -> None:
    """Every rule in words; one pressed is taken out of that plan alone, as a step to be undone."""
    folder = desk.folder / "coat-and-skirt"
    before = {p.name: p.rules for p in load(folder).plans}
    words = shown(desk)
    assert "Skirt front, hem, lies along the woven border" in words
    assert words.count("Leave out") == sum(len(rules) for rules in before.values())
    status, said = pressed(desk, "drop", plan=NAMES[0], rule="1")
    assert status == 200, said
    after = {p.name: p.rules for p in load(folder).plans}
    assert after == {**before, NAMES[0]: before[NAMES[0]][1:]}
    assert pressed(desk, "drop", plan=NAMES[0], rule="99")[0] == 400
    assert pressed(desk, "drop", plan=NAMES[0], rule="x")[0] == 400


def test_every_kind_of_rule_has_words() -> None:
    """No rule of any demo, and none of a kind without a demo, is without a sentence of its own."""
    rules = [r for d in DEMOS for p in d.make().plans for r in p.rules]
    rules += [row.rule for row in ROWS]
    said = [rule_words(r, Unit.cm) for r in rules]
    assert all(said)
    phase = AtPhase(piece="back", point="nape", along=0.0, across=25.0)
    assert rule_words(phase, Unit.cm) == (
        "back, nape, lies at the start of the repeat, measured along the cloth, and 2.5 cm past "
        "the start of the repeat, measured across the cloth"
    )
    off = KeepOff(piece="collar", border="scroll", by=10.0)
    assert rule_words(off, Unit.cm) == "collar keeps off the scroll by 1 cm"
    folded = Folded(cloth="linen", way="partial", depth=300.0)
    assert rule_words(folded, Unit.cm) == "linen is laid double, partial, 30 cm deep"


def test_a_workbook_without_cloth(desk: Desk) -> None:
    """It says what is missing."""
    desk.post("/start/new", data={"title": "Empty", "unit": "cm"})
    assert "has no pieces yet" in desk.client.get("/b/Empty/plans").text


# --- in the browser -------------------------------------------------------------------------------


def plan(it: Shown, name: str) -> Any:
    """Return the card of a plan."""
    return it.page.get_by_role("region", name=name, exact=True)


def lay_all(it: Shown) -> None:
    """Press "Lay all" with the shortest time, and wait until every plan is laid."""
    it.page.get_by_label("Search for each plan").select_option("10")
    with first_lays():
        it.page.get_by_role("button", name="Lay all").click()
        until_laid(it, len(NAMES))


def test_compare_choose_and_reload(page_on: PageOn, shots) -> None:
    """Lay all three live, see which fit, choose one, reload: chosen, laid, drawn as before."""
    it = page_on("coat-and-skirt")
    it.go(PLANS)
    lay_all(it)
    shots(it, "plans-laid")
    verdicts = it.page.locator(".verdict").all_inner_texts()
    assert verdicts[0].startswith("Fits")
    assert verdicts[2].startswith("Does not fit: short by")
    for closed in it.page.locator("summary").all():
        closed.click()
    assert axe(it) == []
    it.page.set_viewport_size(PHONE)
    assert it.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    shots(it, "plans-open")
    plan(it, NAMES[0]).get_by_role("button", name="Choose this one").click()
    it.page.wait_for_selector(f".plan.chosen h2:has-text('{NAMES[0]}')")
    assert load(it.folder / "coat-and-skirt").chosen_plan == NAMES[0]
    it.page.reload()
    assert it.page.locator(".verdict").all_inner_texts() == verdicts
    assert it.page.locator(".plan.chosen h2").inner_text() == NAMES[0]
    assert it.page.locator(".small svg").count() >= len(NAMES)


def test_one_plan_by_the_keys_on_a_phone(page_on: PageOn) -> None:
    """Lay one plan and stop it, without a pointer, on a narrow screen; the lay stays."""
    it = page_on("coat-and-skirt", size=PHONE)
    it.go(PLANS)
    plan(it, NAMES[0]).get_by_role("button", name="Lay this plan").focus()
    with one_core():
        it.page.keyboard.press("Enter")
        it.page.wait_for_selector("progress")
        it.page.wait_for_selector(".small svg")
    it.page.get_by_role("button", name="Stop").focus()
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector("progress", state="detached")
    assert it.page.locator(".verdict").first.inner_text().startswith("Fits")
    wide = it.page.evaluate("document.documentElement.scrollWidth")
    assert wide <= PHONE["width"]


def test_the_server_is_killed_during_a_lay(page_on: PageOn) -> None:
    """Killed outright: the page says so, finds the next server, and shows the lay that was kept."""
    it, one = page_on("checked-waistcoat"), "matched"
    it.served.stop()
    server = Server(folder=it.folder, port=it.served.port)
    server.start()
    try:
        it.go("/b/checked-waistcoat/plans")
        it.page.get_by_label("Search for each plan").select_option("300")
        plan(it, one).get_by_role("button", name="Lay this plan").click()
        it.page.wait_for_selector(".small svg")
    finally:
        server.kill()
    it.page.wait_for_selector("#link-state:has-text('lost')")
    again = prepare(it.folder, port=server.port, whole=True)
    again.start()
    try:
        it.page.wait_for_selector("#link-state:has-text('back')")
        it.page.wait_for_selector("progress", state="detached")
        assert plan(it, one).locator(".verdict").inner_text().startswith("Fits")
        assert plan(it, one).locator(".small svg").count() == 1
    finally:
        again.stop()
    it.trouble.clear()  # refused connections while it was away


def test_a_piece_that_no_cloth_is_named_for_is_said_on_card_and_table(desk: Desk) -> None:
    """The interfacing of the waistband is not laid: no green verdict, on either page."""
    folder = demo_at(desk.folder, "three-sizes")
    book = load(folder)
    keep_better(folder, book, lay_plan(book, book.plan().name, seconds=60.0, rounds=1))
    lacking = "No cloth is named for waistband in interfacing, so it is not laid."
    plans = desk.client.get("/b/three-sizes/plans").text
    assert "verdict notice" in plans
    assert lacking in plans
    assert f'<p class="words notice">{lacking}</p>' in desk.client.get("/b/three-sizes/cut").text
