"""The rules of a plan on the plans page: told, added, changed, left out; names, copies, folds."""

from __future__ import annotations

import html
import re
from functools import cache
from typing import Any

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.rules.kinds import RULES
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.meets import Meets, meeting, seam_points
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store import load
from clothwright.store.book.parts import part_with
from clothwright.workbook import Workbook, replay
from clothwright.workroom.editing.offers import OFFERS
from clothwright.workroom.planning.rule_form import (
    FORMS,
    Sources,
    fields_of,
    form_for,
    form_named,
    mark_of,
    read_form,
    why_not,
)
from clothwright.workroom.searching.laying import lay_plan
from tests.web.conftest import PHONE, Desk, PageOn, Shown, demo_at
from tests.web.test_look import axe

PLANS = "/b/coat-and-skirt/plans"
SKIRT = "skirt only"


@cache
def book_of(name: str) -> Workbook:
    """Return a demo workbook."""
    return next(d for d in DEMOS if d.name == name).make()


def sources(book: Workbook, plan: Plan | None = None) -> Sources:
    """Return what rules can name in a workbook."""
    return Sources(
        pattern=replay(book).pattern,
        cloths=book.cloths,
        unit=book.unit,
        plan=plan or book.plan(),
    )


def asked(desk: Desk, door: str, book: str = "coat-and-skirt", **form: str) -> tuple[int, Any]:
    """Send a form as the page's script does; return the status and the answer."""
    headers = {"accept": "application/json"}
    path = f"/b/{book}/plans/{door}"
    answer = desk.post(path, data={**form, "wanted": "edit"}, headers=headers)
    return answer.status_code, answer.json()


def made(desk: Desk, door: str, book: str = "coat-and-skirt", **form: str) -> Workbook:
    """Send a form, make the edit it becomes, and return the workbook after it."""
    status, told = asked(desk, door, book, **form)
    assert status == 200, told
    desk.room.book(book).edit(told["edit"], base=told["revision"])
    return load(desk.folder / book)


def section(desk: Desk, query: str, book: str = "coat-and-skirt") -> str:
    """Return the words of the section of one plan's rules."""
    text = desk.client.get(f"/b/{book}/plans?part=rules&{query}").text
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).split())


# --- what can be chosen ---------------------------------------------------------------------------


def filled(kind: Any, src: Sources, rule: Any = None) -> dict[str, str]:
    """Return a form as a browser sends it when nothing (more) is touched."""
    out: dict[str, str] = {}
    for f in fields_of(kind, src, rule):
        keys = [(key, on) for _, choices in f.groups for key, _, on in choices]
        if f.kind == "pieces":
            out |= {f"{f.name}{n}": key for n, (key, on) in enumerate(keys) if on}
        elif f.groups:
            out[f.name] = next((k for k, on in keys if on), keys[0][0] if keys else "")
        elif f.kind == "flag":
            out |= {f.name: "yes"} if f.on else {}
        else:
            out[f.name] = f.value
    return out


@pytest.mark.parametrize("name", [d.name for d in DEMOS])
def test_a_form_says_what_the_rule_says(name: str) -> None:
    """Every rule of every demo comes out of its own form as it went in."""
    book = book_of(name)
    for plan in book.plans:
        src = sources(book, plan)
        for rule in plan.rules:
            kind = form_for(rule, src)
            assert kind is not None
            read = read_form(kind, filled(kind, src, rule), src, rule)
            assert read.wrong == {}
            assert read.rule == rule
            assert part_with(PlacingRule, rule, read.values, unit=src.unit, where="") == rule


@pytest.mark.parametrize("name", [d.name for d in DEMOS])
def test_what_is_offered_can_be_had(name: str) -> None:
    """A kind that is offered makes a rule with the first choice of each list; others say why."""
    src = sources(book_of(name))
    none = {*(o.none for o in OFFERS.values()), *(a.none for _, f in FORMS for a in f.asks)}
    for _, kind in FORMS:
        reason = why_not(kind, src)
        if reason:
            assert reason in {*none, "no cloth has a print that repeats yet"}
            continue
        form = filled(kind, src)
        if kind.id == "at-phase":
            form["along" if "along" in form else "across"] = "0"
        read = read_form(kind, form, src)
        # a point may be of a piece whose cloth does not repeat that way: then a sentence says so
        assert read.words or all(read.wrong.values())


def test_every_kind_of_rule_has_a_form() -> None:
    """Each placing rule has one, or says where it is set instead, as folds and pins do."""
    made = {k.id for k, _ in FORMS}
    assert {k.id for k in RULES if not k.elsewhere} == made
    src = sources(book_of("coat-and-skirt"))
    for _, kind in FORMS:
        for shown in fields_of(kind, src) if not why_not(kind, src) else ():
            assert shown.label
            assert shown.groups or shown.kind in ("length", "angle", "flag", *OFFERS)
    assert form_for(Folded(cloth="linen", way="partial"), src) is None
    pin = Pin(piece="front", copy=1, cloth="linen", x=0.0, y=0.0, turn_deg=0.0)
    assert form_for(pin, src) is None


def test_points_that_meet_in_a_seam_are_true() -> None:
    """The ends and notches offered for a seam are points of its own edges on both sides."""
    pattern = replay(book_of("coat-and-skirt")).pattern
    for seam in pattern.seams:
        pairs = meeting(pattern, seam)
        assert len(pairs) >= 2
        for side, refs in ((0, seam.a), (1, seam.b)):
            for pair in pairs:
                piece, point = pair[side]
                at = pattern.piece(piece).point(point)
                near = (pattern.edge(r).path for r in refs if r.piece == piece)
                assert min(p.nearest(at)[1] for p in near) < 0.01


# --- added, changed, left out ---------------------------------------------------------------------

ADDED = [
    (
        {"kind": "on-border", "edge": "coat sleeve.hem", "border": "woven border", "above": "1 cm"},
        OnBorder(piece="coat sleeve", edge="hem", border="woven border", above=10.0),
    ),
    (
        {"kind": "keep-off", "piece": "coat back", "border": "woven border", "by": "1/2 in"},
        KeepOff(piece="coat back", border="woven border", by=12.7),
    ),
    ({"kind": "one-way", "pieces2": "skirt front"}, OneWay(pieces=("skirt front",))),
    (
        {"kind": "on-grain", "piece": "skirt back", "grain": "across", "tilt_deg": "2"},
        OnGrain(piece="skirt back", grain="across", tilt_deg=2.0),
    ),
    (
        {"kind": "at-phase", "point": "coat back.centre back", "along": "0", "copies": "all"},
        AtPhase(piece="coat back", point="centre back", along=0.0),
    ),
    (
        {"kind": "mirrored", "point": "coat sleeve.front wrist", "way": "along"},
        Mirrored(piece="coat sleeve", point="front wrist"),
    ),
    (
        {
            "kind": "meets",
            "a": "coat front.side hem",
            "b": "coat back.side hem",
            "match": "level",
        },
        Meets(
            piece_a="coat front",
            point_a="side hem",
            piece_b="coat back",
            point_b="side hem",
        ),
    ),
]


def test_a_rule_is_added_and_undone(desk: Desk) -> None:
    """Each is one step with undo: the plan has the rule, the other plans are as they were."""
    before = load(desk.folder / "coat-and-skirt")
    book = desk.room.book("coat-and-skirt")
    for form, rule in ADDED:
        after = made(desk, "rule", plan=SKIRT, **form)
        assert after.plan(SKIRT).rules == (*before.plan(SKIRT).rules, rule)
        assert after.plans[1:] == before.plans[1:]
        book.undo(base=book.read().revision)
        assert load(book.folder) == before


def test_an_axis_and_a_seam_are_chosen_by_name(desk: Desk) -> None:
    """A mirror line and a seam's end become a place of the repeat and two points that meet."""
    src = sources(load(desk.folder / "coat-and-skirt"))
    on_axis = form_named("on-axis")
    assert on_axis is not None
    offer = next(a.offer for a in on_axis.asks if a.name == "axis")
    assert offer is not None
    axis = next(iter(offer(src.outfit)))
    seam = next(c for c in seam_points(src.outfit) if "side hem" in c.key and "coat" in c.key)
    form = {"kind": "on-axis", "point": "coat back.centre back", "axis": axis.key, "copies": "all"}
    rules = made(desk, "rule", plan=SKIRT, **form).plan(SKIRT).rules
    assert isinstance(rules[-1], AtPhase)
    assert rules[-1].along is not None
    form = {"kind": "meets-seam", "seam": seam.key, "match": "level"}
    meets = made(desk, "rule", plan=SKIRT, **form).plan(SKIRT).rules[-1]
    assert isinstance(meets, Meets)
    assert {meets.piece_a, meets.piece_b} == {"coat front", "coat back"}


def test_a_rule_is_changed_in_its_place(desk: Desk) -> None:
    """The form is filled with the rule; what is saved takes its place, the others stay."""
    before = load(desk.folder / "coat-and-skirt").plan(SKIRT).rules
    mark = mark_of(before[0])
    words = section(desk, f"plan={SKIRT}&rule={mark}")
    assert "Change the rule: A hem or edge on a border" in words
    form = {"edge": "skirt front.hem", "border": "woven border", "above": "2 cm"}
    after = made(desk, "rule", plan=SKIRT, rule=mark, kind="on-border", **form).plan(SKIRT).rules
    assert isinstance(after[0], OnBorder)
    assert after[0].above == pytest.approx(20.0)
    assert after[1:] == before[1:]
    assert asked(desk, "rule", plan=SKIRT, rule=mark, **form)[0] == 409


WRONG = [
    ({"kind": "on-border", "border": "woven border"}, "edge", "chosen"),
    ({"kind": "on-border", "edge": "moon.hem", "border": "woven border"}, "edge", "moon.hem"),
    (
        {"kind": "on-border", "edge": "skirt front.hem", "border": "woven border", "above": "x"},
        "above",
        "x",
    ),
    (
        {"kind": "on-border", "edge": "coat back.hem", "border": "woven border"}
        | {"upside_down": "yes"},
        "border",
        "stand on its head",
    ),
    ({"kind": "keep-off", "piece": "coat back", "border": "woven border", "by": "-2"}, "by", "-2"),
    (
        {"kind": "on-grain", "piece": "skirt back", "grain": "across", "tilt_deg": "77"},
        "tilt_deg",
        "45",
    ),
    (
        {"kind": "on-grain", "piece": "skirt back", "grain": "bias", "tilt_deg": "steep"},
        "tilt_deg",
        "steep",
    ),
    ({"kind": "at-phase", "point": "coat back.centre back", "copies": "all"}, "along", "how far"),
]


def test_what_is_wrong_is_said_beside_its_field(desk: Desk) -> None:
    """A sentence for the field that it is about; nothing is written."""
    before = load(desk.folder / "coat-and-skirt")
    for form, field, words in WRONG:
        status, told = asked(desk, "rule", plan=SKIRT, **form)
        assert status == 400
        assert list(told["fields"]) == [field]
        assert words in told["fields"][field]
    assert load(desk.folder / "coat-and-skirt") == before


def test_a_rule_that_is_there_is_not_added_twice(desk: Desk) -> None:
    """The sentence says so."""
    form = {"kind": "on-border", "edge": "skirt front.hem", "border": "woven border"}
    status, told = asked(desk, "rule", plan=SKIRT, **form)
    assert (status, told["sentence"]) == (400, "The plan has this rule already.")
    assert asked(desk, "rule", plan="moon", **form)[0] == 400
    assert asked(desk, "rule", plan=SKIRT, kind="moon")[0] == 400


def test_without_a_script_the_form_makes_the_edit(desk: Desk) -> None:
    """It leads back to the rules of the plan."""
    form = {"kind": "one-way", "plan": SKIRT, "pieces2": "skirt front"}
    answer = desk.post(f"{PLANS}/rule", data=form)
    assert answer.status_code == 303
    assert answer.headers["location"] == f"{PLANS}?plan=skirt+only&kind=one-way#rules"
    assert load(desk.folder / "coat-and-skirt").plan(SKIRT).rules[-1] == OneWay(
        pieces=("skirt front",)
    )


def test_kinds_that_cannot_be_had_say_why(desk: Desk) -> None:
    """No figure on the cloth, so none to keep clear of; the page says it instead of a form."""
    words = section(desk, f"plan={SKIRT}&kind=clear")
    assert "no cloth has a figure to keep clear of yet" in words
    assert section(desk, "plan=moon").startswith("Rules, names and folds")


# --- names, copies --------------------------------------------------------------------------------


def test_a_plan_is_called_something_else(desk: Desk) -> None:
    """Name and reason in one step; the chosen plan stays chosen; no name stands twice."""
    before = load(desk.folder / "coat-and-skirt")
    after = made(desk, "name", plan=before.plan().name, name="Sunday", why="for the fair")
    assert (after.plan("Sunday").why, after.plan().name) == ("for the fair", "Sunday")
    assert after.plan().rules == before.plan().rules
    status, told = asked(desk, "name", plan="Sunday", name=after.plans[-1].name)
    assert status == 400
    assert "already" in told["fields"]["name"]
    assert asked(desk, "name", plan="Sunday", name=" ")[1]["fields"] == {
        "name": "A plan needs a name."
    }


def test_another_plan_is_made_from_one(desk: Desk) -> None:
    """With the same rules, or with none; taken out again and brought back by undo."""
    rules = load(desk.folder / "coat-and-skirt").plan(SKIRT).rules
    after = made(desk, "copy", plan=SKIRT, name="try", why="a try", begins="same")
    assert (after.plan("try").rules, after.plan("try").why) == (rules, "a try")
    assert made(desk, "copy", plan=SKIRT, name="bare", begins="none").plan("bare").rules == ()
    assert asked(desk, "copy", plan=SKIRT, name="try")[0] == 400
    book = desk.room.book("coat-and-skirt")
    book.edit({"edit": "remove-plan", "plan": "try"}, base=book.read().revision)
    book.undo(base=book.read().revision)
    assert load(book.folder).plan("try").rules == rules


def test_a_workbook_without_plans(desk: Desk) -> None:
    """The free lay takes a rule and is a plan then; a plan can be made of it."""
    book = desk.room.book("coat-and-skirt")
    for plan in load(book.folder).plans:
        book.edit({"edit": "remove-plan", "plan": plan.name}, base=book.read().revision)
    free = load(book.folder).plan().name
    assert "Make a plan of it" in section(desk, f"plan={free}")
    after = made(desk, "rule", plan=free, kind="one-way")
    assert [(p.name, p.rules) for p in after.plans] == [(free, (OneWay(),))]


# --- folds ----------------------------------------------------------------------------------------


def test_a_cloth_is_folded_and_laid_anew(desk: Desk) -> None:
    """One step with undo; the lay of the folded plan is made; single takes the fold out."""
    demo_at(desk.folder, "three-sizes")
    before = load(desk.folder / "three-sizes")
    plan, cloth = before.plan().name, before.cloths[0].name
    status, told = asked(desk, "fold", "three-sizes", plan=plan, cloth=cloth, way="lengthwise")
    assert status == 200, told
    assert told["lay"] == plan
    book = desk.room.book("three-sizes")
    book.edit(told["edit"], base=told["revision"])
    folded = load(book.folder).plan(plan)
    assert folded.rules[-1] == Folded(cloth=cloth, way="lengthwise")
    laid = lay_plan(load(book.folder), plan, seconds=0)
    assert [f.way for f in laid.folds] == ["lengthwise"]
    assert (laid.folds[0].on_fold, len(laid.folds[0].pairs)) == (("skirt front",), 1)
    assert laid.faults == ()
    deep = made(desk, "fold", "three-sizes", plan=plan, cloth=cloth, way="partial", depth="30 cm")
    assert deep.plan(plan).rules[-1] == Folded(cloth=cloth, way="partial", depth=300.0)
    assert len(deep.plan(plan).rules) == len(folded.rules)
    single = made(desk, "fold", "three-sizes", plan=plan, cloth=cloth, way="single")
    assert single.plan(plan).rules == before.plan(plan).rules
    again = asked(desk, "fold", "three-sizes", plan=plan, cloth=cloth, way="single")[1]
    assert book.edit(again["edit"], base=again["revision"]).words == "It was that way already."


def test_folds_that_may_not_be_say_why(desk: Desk) -> None:
    """A border forbids a fold, and the page says it; so does the door; depths are lengths."""
    wool = load(desk.folder / "coat-and-skirt").cloths[0].name
    words = section(desk, f"plan={SKIRT}")
    assert f"{wool.capitalize()} lies single: the border" in words
    status, told = asked(desk, "fold", plan=SKIRT, cloth=wool, way="lengthwise")
    assert status == 400
    assert "the border" in told["fields"]["way"]
    demo_at(desk.folder, "three-sizes")
    book = load(desk.folder / "three-sizes")
    form = {"plan": book.plan().name, "cloth": book.cloths[0].name, "way": "partial"}
    for depth in ("five ells", "9 m", "0"):
        status, told = asked(desk, "fold", "three-sizes", depth=depth, **form)
        assert (status, list(told["fields"])) == (400, ["depth"])


# --- in the browser -------------------------------------------------------------------------------


def opened_rules(it: Shown, plan: str, book: str = "coat-and-skirt") -> Any:
    """Open the rules of a plan from its card; return the section."""
    it.go(f"/b/{book}/plans")
    card = it.page.get_by_role("region", name=plan, exact=True)
    card.get_by_role("link", name="Add or change rules").click()
    found = it.page.get_by_role("region", name=f"The rules of “{plan}”")
    found.wait_for()
    return found


def rules_of(it: Shown, plan: str, book: str = "coat-and-skirt") -> tuple[Any, ...]:
    """Return the rules of a plan as saved."""
    return load(it.folder / book).plan(plan).rules


def test_add_change_and_undo_a_rule(page_on: PageOn, shots) -> None:
    """A length that cannot be read is told beside its field and the rest stays as chosen."""
    it = page_on("coat-and-skirt")
    before = load(it.folder / "coat-and-skirt").plan(SKIRT).rules
    rules = opened_rules(it, SKIRT)
    assert rules.locator(".told li").count() == len(before)
    rules.get_by_role("link", name="A hem or edge on a border").click()
    form = rules.get_by_role("form", name="Add a rule: A hem or edge on a border")
    form.get_by_label("Which edge").select_option("coat sleeve.hem")
    form.get_by_label("How far above its lower line").fill("five ells")
    form.get_by_role("button", name="Add the rule").click()
    it.page.wait_for_selector("#rule-above[aria-invalid=true]")
    assert "five ells" in it.page.locator("#rule-above-echo").inner_text()
    # what the field itself is told comes first; the form's own answer leads the focus there
    it.page.wait_for_function("() => document.activeElement.id === 'rule-above'")
    assert form.get_by_label("Which edge").input_value() == "coat sleeve.hem"
    assert axe(it) == []
    shots(it, "plan-rules")
    form.get_by_label("How far above its lower line").fill("1 cm")
    form.get_by_role("button", name="Add the rule").click()
    new = OnBorder(piece="coat sleeve", edge="hem", border="woven border", above=10.0)
    it.page.wait_for_selector(".told li:has-text('Coat sleeve, hem, lies along')")
    assert rules_of(it, SKIRT) == (*before, new)
    assert form.get_by_label("How far above its lower line").input_value() == ""
    line = rules.locator(".told li", has_text="Coat sleeve, hem")
    line.get_by_role("link", name="Change").click()
    form = rules.get_by_role("form", name="Change the rule: A hem or edge on a border")
    form.get_by_label("How far above its lower line").fill("1 in")
    form.get_by_role("button", name="Save the rule").click()
    it.page.wait_for_selector(".told li:has-text('1 in above its lower line')")
    assert rules_of(it, SKIRT)[-1].above == 25.4
    assert form.count() == 0
    line.get_by_role("button", name="Leave out").click()
    line.wait_for(state="detached")
    for _ in range(3):
        undo = it.page.locator("[data-go=undo]")
        words = undo.inner_text()
        undo.click()
        it.page.wait_for_function(
            "was => document.querySelector('[data-go=undo]').innerText !== was", arg=words
        )
    assert rules_of(it, SKIRT) == before
    it.trouble.clear()  # the browser notes the refused form


def test_rules_with_a_finger(page_on: PageOn) -> None:
    """On a phone: no wider than the screen, targets for fingers, a rule added and a plan copied."""
    it = page_on("coat-and-skirt", size=PHONE)
    before = rules_of(it, SKIRT)
    it.go(f"{PLANS}?plan=skirt+only&kind=one-way")
    assert it.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    it.page.locator("#rules summary", has_text="Its name").tap()
    small = it.page.evaluate(
        """() => [...document.querySelectorAll('#rules :is(a, button, select, summary)')]
            .filter(e => e.checkVisibility()).map(e => [e.innerText, e.getBoundingClientRect()])
            .filter(([, r]) => r.height < 43.9 || r.width < 43.9).map(([t]) => t)"""
    )
    assert small == []
    it.page.locator("#rule-form").get_by_label("skirt front").first.tap()
    it.page.get_by_role("button", name="Add the rule").tap()
    it.page.wait_for_selector(".told li:has-text('All tops one way: skirt front')")
    copy = it.page.get_by_role("form", name="Make another plan from this one")
    copy.get_by_label("The new plan is called").fill(SKIRT)
    copy.get_by_role("button", name="Make the plan").tap()
    it.page.wait_for_selector("#copy-name[aria-invalid=true]")
    copy.get_by_label("The new plan is called").fill("Sunday")
    copy.get_by_role("button", name="Make the plan").tap()
    it.page.get_by_role("region", name="The rules of “Sunday”").wait_for()
    assert rules_of(it, "Sunday") == (*before, OneWay(pieces=("skirt front",)))
    assert "plan=Sunday" in it.page.url
    it.trouble.clear()  # the browser notes the refused form


def test_rules_by_the_keys(page_on: PageOn) -> None:
    """Opened, filled, added and renamed without a pointer; the focus is led to what was opened."""
    it = page_on("coat-and-skirt")
    it.go(PLANS)
    it.page.get_by_role("link", name=f"Add or change rules of {SKIRT}", exact=True).focus()
    it.page.keyboard.press("Enter")
    it.page.wait_for_function("() => document.activeElement.id === 'rules-head'")
    it.page.get_by_role("link", name="A piece on another grain").focus()
    it.page.keyboard.press("Enter")
    it.page.wait_for_function("() => document.activeElement.id === 'form-head'")
    it.page.keyboard.press("Tab")
    it.page.keyboard.type("skirt back")
    it.page.keyboard.press("Tab")
    it.page.keyboard.type("across")
    it.page.keyboard.press("Tab")
    it.page.keyboard.type("2")
    it.page.keyboard.press("Enter")
    it.page.wait_for_selector(".told li:has-text('Skirt back lies across the grain')")
    assert rules_of(it, SKIRT)[-1] == OnGrain(piece="skirt back", grain="across", tilt_deg=2.0)
    it.page.locator("#rules summary", has_text="Its name").focus()
    it.page.keyboard.press("Enter")
    it.page.locator("#name-name").focus()
    it.page.keyboard.press("Control+A")
    it.page.keyboard.type("Sunday")
    it.page.keyboard.press("Enter")
    it.page.get_by_role("region", name="The rules of “Sunday”").wait_for()
    assert "Sunday" in {p.name for p in load(it.folder / "coat-and-skirt").plans}


def test_a_cloth_is_folded_in_the_browser(page_on: PageOn, shots) -> None:
    """Chosen and pressed: the plan is laid anew on the folded cloth, after a reload too."""
    it = page_on("three-sizes")
    book = load(it.folder / "three-sizes")
    plan, cloth = book.plan().name, book.cloths[0].name
    rules = opened_rules(it, plan, "three-sizes")
    rules.get_by_label(f"Fold the cloth: {cloth}").select_option("lengthwise")
    rules.get_by_role("button", name=f"Lay {cloth} like this").click()
    it.page.wait_for_selector(".told li:has-text('is laid double, lengthwise')")
    it.page.wait_for_selector("figure.small .r-fold", state="attached")
    it.served.room.lays(it.served.room.book("three-sizes")).stop()
    it.page.wait_for_selector("progress", state="detached")
    it.page.reload()
    assert it.page.locator("figure.small .r-fold").count() >= 1
    laid = it.served.room.lays(it.served.room.book("three-sizes")).state(plan).laid
    assert laid is not None
    assert laid.folds
    assert laid.faults == ()
    shots(it, "plan-folded")
    assert axe(it) == []


def test_the_page_says_what_a_rule_names_in_vain(desk: Desk) -> None:
    """A border that is no more is told beside the rule; the page opens all the same."""
    book = desk.room.book("coat-and-skirt")
    edit = {
        "edit": "add-rule",
        "plan": SKIRT,
        "values": {"kind": "keep-off", "piece": "coat back", "border": "wovn border"},
    }
    book.edit(edit, base=book.read().revision)
    words = section(desk, f"plan={SKIRT}")
    assert 'No cloth has a border "wovn border". Did you mean "woven border"?' in words


def test_the_page_says_how_a_rule_reads_after_the_changes(desk: Desk) -> None:
    """The skirt's back is cut in two: the rule on its hem is told for the lower part."""
    book = desk.room.book("coat-and-skirt")
    edit = {
        "edit": "add-change",
        "kind": "piece-panel",
        "params": {"piece": "skirt back", "line": "hip"},
    }
    book.edit(edit, base=book.read().revision)
    words = section(desk, f"plan={SKIRT}")
    assert "After the changes: skirt back lower, hem, lies along the woven border" in words


STAGES = ("pieces", "changes", "walk", "cloth", "plans", "cut", "sew", "seams", "direct")


def test_every_page_opens_when_a_piece_was_divided(desk: Desk) -> None:
    """With a rule and a pin on the skirt's back no page misses it."""
    book = desk.room.book("coat-and-skirt")
    cloth = load(book.folder).cloths[0].name
    edits: list[dict[str, Any]] = [
        {
            "edit": "pin-shape",
            "plan": SKIRT,
            "piece": "skirt back",
            "copy": 1,
            "cloth": cloth,
            "x": 600.0,
            "y": 300.0,
            "turn_deg": 90.0,
        },
        {
            "edit": "add-change",
            "kind": "piece-panel",
            "params": {"piece": "skirt back", "line": "hip"},
        },
        {"edit": "choose-plan", "plan": SKIRT},
    ]
    for edit in edits:
        book.edit(edit, base=book.read().revision)
    for stage in STAGES:
        answer = desk.client.get(f"/b/coat-and-skirt/{stage}")
        assert answer.status_code == 200, stage
        assert "There is no piece" not in html.unescape(answer.text), stage
        assert "there is no piece" not in html.unescape(answer.text), stage
    words = section(desk, f"plan={SKIRT}")
    cut = "(piece: cut in two along a line and add a seam) divided"
    assert "After the changes it holds for nothing: change 9 " + cut in words
