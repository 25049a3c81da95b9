"""Nothing shown to a maker has a foreign unit, a dotted name, a key, a bare number, a bad word."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.changes import CHANGES
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import EdgeRef, Pattern, Seam
from clothwright.pattern.piece import Dart, Notch
from clothwright.rules.kinds import RULES
from clothwright.store import save
from clothwright.units import Unit
from clothwright.units.params import declared
from clothwright.workbook import Workbook
from clothwright.workroom.editing.typing import can_be_typed
from tests.web.intake_demo import bare
from tests.words.shown import (
    BROKEN,
    Commands,
    Desk,
    Shown,
    demo,
    desk_on,
    help_texts,
    pages,
    printed,
    put,
    words_in,
)
from tests.words.walker import Offence, offences, strays, text_of

INCH, CM = demo("coat-and-skirt", Unit.inch), demo("coat-and-skirt", Unit.cm)


def found(shown: Iterable[Shown]) -> list[Offence]:
    """Return what all that is shown should not say, each once."""
    hits = {
        (o.kind, o.words, o.around): o
        for s in shown
        for o in offences(s.text, s.book, s.place, help_=s.help_)
    }
    return sorted(hits.values())


def told(hits: list[Offence]) -> str:
    """Return the offences, a line each."""
    return "\n".join(map(str, hits))


# --- the walker finds what is planted ------------------------------------------------------------

PLANTED = [
    ("foreign unit", "The hem is 35.0 mm deep.", INCH),
    ("foreign unit", "shortened by 22860.0 mm", INCH),
    ("foreign unit", "give or take 1,5 cm", INCH),
    ("foreign unit", "about 2 m of bias", INCH),
    ("foreign unit", "Allowance 5/8 in.", CM),
    ("foreign unit", "133 1/16 inches to buy", CM),
    ("foreign unit", "3 3/4 yd", CM),
    ("dotted name", "coat front.side is longer", INCH),
    ("dotted name", "Squared skirt front.hem to the grain", CM),
    ("key", "set-allowance was not added", INCH),
    ("key", "seam-length: the sides differ", CM),
    ("key", "the rule on-border 1", INCH),
    ("key", "set-cloth", INCH),
    ("key", "chosen_plan is missing", CM),
    ("key", "the plan None", INCH),
    ("key", "Change 1 (crop) could not be done", INCH),
    ("bare number", "cost 14.17", INCH),
    ("bare number", "the hem is 17 1/2 deep", INCH),
    ("bare number", "rises by 3.5 at the side", CM),
    ("word", "Take it in", INCH),
    ("word", "Take in the pieces", INCH),
    ("word", "Keep these figures", CM),
    ("word", "The pieces are cut so.", INCH),
    ("word", "Its foot points to the selvedge", INCH),
    ("word", "(15/16 in in all) is gone", INCH),
    ("word", "Ways out of it, below", CM),
    ("word", "the stretch above", CM),
    ("word", "every rule met within 0.00 mm", CM),
    ("word", "print apart in height: nowhere", CM),
    ("word", "this is no text", CM),
    ("word", "at the waist level", INCH),
    ("word", "expected one of (the piece has no levels)", INCH),
    ("word", "There is no cloth; try name a cloth in the plan.", INCH),
    ("word", "3 piece", INCH),
    ("word", "off the usual grain", INCH),
]


@pytest.mark.parametrize(("kind", "text", "book"), PLANTED, ids=[t for _, t, _ in PLANTED])
def test_a_planted_offence_is_found(kind: str, text: str, book: Workbook) -> None:
    """Each kind, in the words in which it once stood there."""
    assert kind in {o.kind for o in offences(text, book, "planted")}


SOUND = [
    "Coat front, side seam, is 3/8 in longer than coat back, side.",
    "Lining and interfacing to buy: 14.17 EUR (wool has no price).",
    "about 10 yd of 1 1/4 in bias binding; 3 3/4 yd to buy; less than 1/16 in",
    "Turn it by 8.5° or 22.5 degrees; 3 % of it, 1.5 % across.",
    "Change 3 in the list, 1 piece, 12 pieces, no pieces, page 2 of 3.",
    "What each one asks for: clothwright change WORKBOOK kinds NAME",
    "Type `PIECE.EDGE`, such as `coat front.side`, or give --least-hem.",
    "The figures of the print: keep it clear of them.",
]


@pytest.mark.parametrize("text", SOUND)
def test_a_sound_sentence_is_left_alone(text: str) -> None:
    """What a maker may read is no offence: else nobody would believe the walker."""
    assert told(list(offences(text, INCH, "sound"))) == ""


def test_her_own_words_are_hers() -> None:
    """A note of hers may say what it likes, in any unit; nothing else may say it for her."""
    noted = replace(INCH, notes="Cut at 17 cm, so.\nTake it in at 3 mm.")
    text = "Notes: Cut at 17 cm, so. Take it in at 3 mm."
    assert told(list(offences(text, noted, "notes"))) == ""
    assert list(offences(text, INCH, "notes"))


NAMED = [
    ("Sew the seam 2 seam of the yoke.", "seam 2"),
    ("The notch 2 notch lies 3/8 in too high.", "notch 2"),
    ("Coat front, side 2 edge, and the dart 3 change.", "dart 3"),
]


@pytest.mark.parametrize(("text", "name"), NAMED)
def test_the_number_of_a_name_counts_nothing(text: str, name: str) -> None:
    """A seam, a notch, an edge or a dart called so; what is not called so is still a count."""
    piece = INCH.bought.pieces[0]
    notches = (Notch(at=20.0, name="notch 2"),)
    first = replace(piece.edges[0], name="side 2", notches=notches)
    dart = Dart(name="dart 3", edge="side 2", a=30.0, b=50.0, point=Vec(0.0, 0.0))
    changed = replace(piece, edges=(first, *piece.edges[1:]), darts=(dart,))
    ref = EdgeRef(changed.name, piece.edges[1].name)
    seam = Seam(name="seam 2", a=(ref,), b=(EdgeRef(changed.name, piece.edges[2].name),))
    mine = Pattern(pieces=(changed,), seams=(seam,))
    assert strays(text, Unit.inch, mine) == []
    assert strays(text, Unit.inch, Pattern(pieces=(piece,))) != []
    planted = f"The {name} is sewn; 2 seam are left."
    assert len(strays(planted, Unit.inch, mine)) == 1


@pytest.mark.parametrize(
    ("where", "name", "kind"),
    [
        ("clothwright.drawing.walk_table", "show_length", "foreign unit"),
        ("clothwright.pattern.walk", "refs_name", "dotted name"),
        ("clothwright.pattern.walk", "mark_name", "key"),
    ],
)
def test_what_is_planted_in_the_program_is_found(
    where: str, name: str, kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A length in mm, an edge with a dot and a key from the code, on the walk's page."""
    planted = {
        "show_length": lambda mm, *_, **__: f"{mm:.1f} mm",
        "refs_name": lambda edges: " + ".join(f"{p}.{e}" for p, e in edges),
        "mark_name": lambda _: "seam-length",
    }
    put(tmp_path / "mine", INCH, laid=False)
    desk = desk_on(tmp_path)
    with desk.client:
        before = desk.client.get("/b/mine/walk", headers={"accept": "text/html"}).text
        monkeypatch.setattr(f"{where}.{name}", planted[name])
        again = desk_on(tmp_path).client.get("/b/mine/walk", headers={"accept": "text/html"}).text
    assert told(found([Shown("walk", text_of(before), INCH)])) == ""
    assert kind in {o.kind for o in found([Shown("walk", text_of(again), INCH)])}


NAMES = {name.replace("_", " ") for k in (*CHANGES, *RULES) for name in declared(k.params)}
LABEL = re.compile(r"<(label|legend|dt)\b[^>]*>(.*?)</\1>", re.DOTALL)


def bare_labels(page: str) -> list[str]:
    """Return what stands beside a field or a value and is only the name of a parameter."""
    said = (text_of(words).replace("(needed)", "").strip() for _, words in LABEL.findall(page))
    return [words for words in said if words in NAMES]


def test_a_planted_parameter_is_found() -> None:
    """As a label, a legend, or beside the value on a card."""
    planted = (
        '<label for="x">neighbour <span class="soft">(needed)</span></label>'
        "<fieldset><legend>edges</legend></fieldset><dl><dt>tilt deg</dt><dd>2</dd></dl>"
        "<label>Which edges</label><dt>The new length</dt>"
    )
    assert bare_labels(planted) == ["neighbour", "edges", "tilt deg"]


def test_no_parameter_is_a_label(tmp_path: Path) -> None:
    """Cards and forms of all changes, and the form of every rule, ask in a maker's words."""
    put(tmp_path / "small", demo("remnant", Unit.inch), laid=False)
    put(tmp_path / "mine", INCH, laid=False)
    desk, plan = desk_on(tmp_path), INCH.plans[0].name
    asked = [f"small/changes?kind={k.id}" for k in CHANGES]
    asked += [f"mine/changes?open=c1-{n}" for n in range(1, len(INCH.steps) + 1)]
    asked += [f"mine/plans?plan={plan}&kind={f.id}" for k in RULES for f in k.forms]
    with desk.client:
        for path in asked:
            page = desk.client.get(f"/b/{path}", headers={"accept": "text/html"}).text
            assert "<form" in page
            assert bare_labels(page) == [], path


HEAD = re.compile(r"<(h[1-4])\b[^>]*>(.*?)</\1>", re.DOTALL)


def small_heads(page: str, names: Iterable[str]) -> list[str]:
    """Return the heads of cards and sections that begin small, but for a name of hers."""
    said = (text_of(re.sub(r"<b[^>]*>\d+</b>", "", w)).strip() for _, w in HEAD.findall(page))
    return [head for head in said if head[:1].islower() and not head.startswith(tuple(names))]


def test_a_planted_small_head_is_found() -> None:
    """As it once stood on a card; a head that is a name of hers is hers."""
    planted = "<h3><b>1</b> crop to a length</h3><h2>coat front</h2><h4>Square a hem</h4>"
    assert small_heads(planted, ["coat front"]) == ["crop to a length"]


def test_heads_begin_with_a_capital(tmp_path: Path) -> None:
    """Cards of changes, plans, findings, rules; sections of every stage."""
    put(tmp_path / "mine", INCH, laid=False)
    desk, plan = desk_on(tmp_path), INCH.plans[0].name
    names = [x.name for x in (*INCH.bought.pieces, *INCH.bought.seams, *INCH.cloths, *INCH.plans)]
    stages = ("pieces", "changes", "walk", "cloth", "plans", "cut", "sew", "body", "seams", "add")
    with desk.client:
        for path in (*stages, "changes?kind=crop", "changes?open=c1-1", f"plans?plan={plan}"):
            page = desk.client.get(f"/b/mine/{path}", headers={"accept": "text/html"}).text
            assert HEAD.search(page)
            assert small_heads(page, names) == [], path


# --- all that is shown ---------------------------------------------------------------------------


def states(desk: Desk, name: str, book: Workbook) -> Iterator[Shown]:
    """Yield what pages and doors answer when something cannot be done, and what edits are called.

    The names of the edits are those that undo shows.
    """
    for path in ("length?text=5/0&where=hem", "length?text=3+ells", "pieces?piece=nobody"):
        answer = desk.client.get(f"/b/{name}/{path}", headers={"accept": "application/json"})
        if "json" in answer.headers["content-type"]:
            yield Shown(path, "\n".join(words_in(answer.json())), book)
    piece, edge = book.bought.pieces[0].name, book.bought.pieces[0].edges[0].name
    cloth, plan = book.cloths[0].name, book.plans[0].name
    long = "20 in" if not book.unit.is_metric else "50 cm"
    edits: list[dict[str, object]] = [
        {"edit": "set-cloth", "cloth": cloth, "values": {"width": long}},
        {"edit": "set-cloth", "cloth": "tweed", "values": {"width": long}},
        {"edit": "set-cloth", "cloth": cloth, "values": {"width": "wide"}},
        {"edit": "add-plan", "plan": "another"},
        {"edit": "choose-plan", "plan": "another"},
        {"edit": "choose-plan", "plan": "none such"},
        {"edit": "set-plan", "plan": "another", "why": "to see"},
        {"edit": "remove-rule", "plan": plan, "rule": 99},
        {"edit": "remove-rule", "plan": plan, "rule": 1},
        {
            "edit": "add-change",
            "kind": "move-edge",
            "params": {"edge": f"{piece}.{edge}", "by": "wide"},
        },
        {
            "edit": "add-change",
            "kind": "set-allowance",
            "params": {"edges": f"{piece}.{edge}", "amount": long},
        },
        {
            "edit": "add-change",
            "kind": "move-edge",
            "params": {"edge": f"{piece}.{edge}", "by": long},
        },
        {"edit": "switch-change", "change": "1", "on": False},
        {"edit": "move-change", "change": "1", "to": 2},
        {"edit": "set-change", "change": "1", "why": "to see"},
        {"edit": "remove-change", "change": "1"},
        {"edit": "set-settings", "values": {"gap": "3 mm", "for_child": True}},
        {"edit": "set-settings", "values": {"walk": {"agree": "2 mm"}}},
        {"edit": "set-body", "values": {"bust": long}},
        {"edit": "set-body", "values": {"bust": "3 km"}},
        {"edit": "set-notes", "notes": "to see"},
        {"edit": "rename-workbook", "title": "Another name"},
        {"edit": "rename-workbook", "title": " "},
        {"edit": "remove-piece", "piece": piece},
        {
            "edit": "pin-shape",
            "plan": plan,
            "piece": piece,
            "copy": 9,
            "cloth": cloth,
            "x": 1.0,
            "y": 2.0,
        },
    ]
    for edit in edits:
        base = desk.client.get(f"/b/{name}/pieces").text
        at = int(base.split('data-revision="')[1].split('"')[0])
        body = json.dumps({"base": at, "edit": edit})
        yield Shown(f"edit {edit}", desk.post(f"/b/{name}/edit", content=body), book)


TYPED_NOTES = """piece: pocket
A is the start
B is 6 down from A
C is 6 right of B
hem from A to B, straight, allowance 1
side from B to C, curve 400 out
lid from C to D, straight
"""


def forms(desk: Desk, name: str, book: Workbook) -> Iterator[Shown]:
    """Yield what forms and questions answer: rules with wrong fields, previews, pulls, drawings.

    A drawing that says nothing of itself, a broken one and a text with mistakes wait to be added.
    """
    at, plan = f"/b/{name}", book.plans[0].name
    piece = book.bought.pieces[0]
    for kind in RULES:
        for more in ({}, {"by": "-3 ells", "piece": "nobody", "edge": "none", "above": "wide"}):
            form = {"plan": plan, "kind": kind.id, **more}
            yield Shown(f"rule {form}", desk.post(f"{at}/plans/rule", data=form), book)
    for form in ({"plan": plan, "name": ""}, {"plan": "none", "name": "x"}):
        for door in ("name", "copy", "fold"):
            yield Shown(f"{door} {form}", desk.post(f"{at}/plans/{door}", data=form), book)
    for way in ("lengthwise", "crosswise", "partial", "twice"):
        form = {"plan": plan, "cloth": book.cloths[0].name, "way": way, "depth": "400 in"}
        yield Shown(f"fold {form}", desk.post(f"{at}/plans/fold", data=form), book)
    for change in CHANGES:
        for params in ({}, {"edges": f"{piece.name}.none", "by": "wide", "level": "none"}):
            edit = {"edit": "add-change", "kind": change.id, "params": params}
            said = desk.post(f"{at}/changes/preview", content=json.dumps(edit))
            yield Shown(f"preview {edit}", said, book)
        for more in ({}, {"edges0": f"{piece.name}.none", "by": "wide", "level": "none"}):
            form = {"kind": change.id, **more}
            yield Shown(f"change {form}", desk.post(f"{at}/changes/change", data=form), book)
    for mm in (3.0, -250.0, 5000.0):
        pull = {"piece": piece.name, "key": f"edge {piece.edges[0].name}", "mm": mm}
        yield Shown(f"pull {pull}", desk.post(f"{at}/direct/try", content=json.dumps(pull)), book)
    for file, data in (("plain.svg", bare(piece)), ("broken.svg", b"<svg"), ("odd.xyz", b"1")):
        yield Shown(file, desk.post(f"{at}/add/file?name={file}", content=data), book)
    yield Shown("typed", desk.post(f"{at}/add/typed", data={"text": TYPED_NOTES}), book)


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm], ids=["inch", "cm"])
def test_every_page_in_each_state(unit: Unit, tmp_path: Path) -> None:
    """Laid and not laid, forms open, a change that fails, refusals, the titles of undo."""
    whole = demo("coat-and-skirt", unit)
    put(tmp_path / "laid", whole)
    small = demo("checked-waistcoat", unit)
    put(tmp_path / "bare", replace(small, notes=""), laid=False)
    desk = desk_on(tmp_path)
    with desk.client:
        shown = [*pages(desk, "laid"), *pages(desk, "bare", menu=False)]
        save(replace(whole, steps=(*whole.steps, BROKEN)), tmp_path / "laid")
        for stage in ("changes", "walk", "plans", "cut", "sew", "body", "cloth"):
            answer = desk.client.get(f"/b/laid/{stage}", headers={"accept": "text/html"})
            shown.append(Shown(stage, text_of(answer.text), whole))
        shown += forms(desk, "bare", small)
        shown += states(desk, "bare", small)
        shown += pages(desk, "bare", menu=False)
    assert len(shown) > 100
    assert told(found(shown)) == ""


def without_ids(shown: Shown) -> Shown:
    """Return what `change WORKBOOK kinds` and `edit` show without what is there to be typed."""
    text = shown.text
    typed = [words for each in can_be_typed() for words in (each.name, each.entries)]
    for id_ in sorted((*(k.id for k in CHANGES), *typed), key=len, reverse=True):
        text = text.replace(id_, " ")
    return replace(shown, text=text)


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm], ids=["inch", "cm"])
def test_every_command(unit: Unit, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What each prints and writes: words, tables, files, guide and prints; and its refusals."""
    book = demo("checked-waistcoat", unit)
    mine, out = put(tmp_path / "mine", book), tmp_path / "out"
    say = Commands(capsys, book)
    shown = [
        *(without_ids(say("change", mine, "kinds", change.id)) for change in CHANGES),
        say("show", mine),
        say("show", mine, "front"),
        say("show", mine, "frnt"),
        without_ids(say("change", mine, "kinds")),
        say("change", mine, "set-allowance", "edges=front.side", "amount=1 in"),
        say("change", mine, "crop", "edges=front.hem", "length=2 in"),
        say("change", mine, "--off", 1),
        say("change", mine),
        say("walk", mine),
        say("body", mine, "--how", "all"),
        say("body", mine, "--set", "bust=36 in" if unit is Unit.inch else "bust=92 cm"),
        say("seams", mine),
        say("name", mine, "back", "--level", "hip=hem start, 2 in", "--corner", "low=side"),
        say("together", mine),
        say("together", mine, "--confirm", "all"),
        say("together", mine),
        say("lay", mine, "--rounds", 1, "--out", out),
        say("lay", mine, "--plan", "nothing"),
        say("compare", mine, "--seconds", 0.4, "--quiet", "--out", out),
        say("chart", mine, "--seconds", 0.2, "--plan", "matched", "--workers", 1, "--out", out),
        say("ways-to-fit", mine, "--quiet", "--seconds", 0.4),
        say("print", mine, "--out", out),
        say("guide", mine, "--seconds", 0.5, "--quiet", "--out", out),
        say("sheets", "--out", out / "sheets", "--count", 2),
        without_ids(say("edit", mine)),
        say("edit", mine, "set-notes", "notes=press well"),
        say("edit", mine, "set-cloth", "cloth=nobody", "values.width=wide"),
        say("history", mine),
        say("undo", mine, "--steps", 2),
        say("redo", mine),
        say("show", tmp_path),
    ]
    (mine / "workbook.toml").unlink()
    lost = ("show",), ("recover", "--dry-run"), ("recover", "--state", 99), ("recover",), ("show",)
    shown += [say(command, mine, *more) for command, *more in lost]
    shown += printed(out, book)
    assert len(shown) > 50
    assert told(found(shown)) == ""


def test_every_help(capsys: pytest.CaptureFixture[str]) -> None:
    """The help of the program and of each command; what is typed is exempt."""
    assert told(found(help_texts(Commands(capsys, INCH)))) == ""
