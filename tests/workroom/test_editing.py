"""Edits as data: each does one thing, comes from plain data, and goes together with others'."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.store import Opened, create, load, opened, redo, undo
from clothwright.store import steps as steps_of
from clothwright.units import Unit
from clothwright.workbook import Step, replay
from clothwright.workroom.editing.committing import (
    apply_edit,
    commit_edit,
    edit_words,
    touches,
)
from clothwright.workroom.editing.edit import desk_of
from clothwright.workroom.editing.edits import EDITS
from clothwright.workroom.editing.edits.changes import (
    AddChange,
    MoveChange,
    RemoveChange,
    SetChange,
    SwitchChange,
)
from clothwright.workroom.editing.edits.cloths import AddCloth, RemoveCloth, SetCloth
from clothwright.workroom.editing.edits.pieces import RemovePiece
from clothwright.workroom.editing.edits.pins import PinShape, UnpinShape
from clothwright.workroom.editing.edits.plans import AddPlan, ChoosePlan, RemovePlan, SetPlan
from clothwright.workroom.editing.edits.rules import AddRule, RemoveRule, SetRule
from clothwright.workroom.editing.edits.seams import SetSeam
from clothwright.workroom.editing.edits.wearer import SetBody, SetChart
from clothwright.workroom.editing.edits.whole import (
    RenameWorkbook,
    SetNotes,
    SetSettings,
    SetUnit,
    Several,
)
from clothwright.workroom.editing.reading import edit_from, name_of
from tests.store.history.saving import revision

BOOK = replace(
    checked_waistcoat(),
    steps=(
        Step(change="set-allowance", params={"edges": "front.side", "amount": "2 cm"}),
        Step(change="set-allowance", params={"edges": "back.side", "amount": 2}),
    ),
)
CLOTH = BOOK.cloths[0].name
PLAN = BOOK.plans[0].name


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "w"
    create(made, BOOK)
    return made


def test_edits_of_the_list_of_changes():
    """Put in, set, switch, move, take out; the others stay where they are."""
    one, two = BOOK.steps
    third = {"edges": "front.hem", "depth": "4 cm"}
    book = apply_edit(BOOK, AddChange(kind="set-hem", params=third, why="deeper", at=2))
    assert [s.change for s in book.steps] == ["set-allowance", "set-hem", "set-allowance"]
    assert book.steps[1].why == "deeper"
    assert apply_edit(BOOK, AddChange(kind="set-hem", params=third)).steps[:2] == (one, two)
    book = apply_edit(BOOK, SetChange(change="2", params={"amount": "1 cm"}))
    assert book.steps == (one, replace(two, params={**two.params, "amount": "1 cm"}))
    assert apply_edit(BOOK, SwitchChange(change="1", on=False)).steps[0].on is False
    assert apply_edit(BOOK, MoveChange(change="1", to=2)).steps == (two, one)
    assert apply_edit(BOOK, RemoveChange(change="1")).steps == (two,)
    assert apply_edit(BOOK, RemoveChange(change="b"), ids=("a", "b")).steps == (one,)


def test_edits_of_cloths_and_plans():
    """Values are read as in the file; a new name goes wherever the old one was named."""
    new = apply_edit(BOOK, SetCloth(cloth=CLOTH, values={"width": "112,5 cm", "name": "tweed"}))
    assert new.cloths[0].width == 1125.0
    assert new.cloths[0].print == BOOK.cloths[0].print
    new = apply_edit(BOOK, SetCloth(cloth=CLOTH, values={"print": {"repeat_along": "5 cm"}}))
    assert new.cloths[0].print == replace(BOOK.cloths[0].print, repeat_along=50.0)
    assert apply_edit(BOOK, SetCloth(cloth=CLOTH, values={"length": None})).cloths[0].length is None
    pinned = apply_edit(BOOK, PinShape(plan="", piece="front", copy=1, cloth=CLOTH, x=20.0, y=30.0))
    again = apply_edit(
        pinned, PinShape(plan=PLAN, piece="front", copy=1, cloth=CLOTH, x=25.0, y=30.0)
    )
    assert [r.x for r in again.plans[0].rules if isinstance(r, Pin)] == [25.0]
    named = apply_edit(again, SetCloth(cloth=CLOTH, values={"name": "tweed"}))
    assert [r.cloth for r in named.plans[0].rules if isinstance(r, Pin)] == ["tweed"]
    assert apply_edit(again, UnpinShape(plan=PLAN, piece="front", copy=1)).plans == BOOK.plans
    assert apply_edit(again, RemoveCloth(cloth=CLOTH)).plans == BOOK.plans
    more = apply_edit(BOOK, AddCloth(values={"name": "canvas", "width": 90, "material": "canvas"}))
    assert more.cloths[-1].width == 900.0
    rule = {"kind": "one-way", "pieces": ["front", "back"]}
    ruled = apply_edit(BOOK, AddRule(plan=PLAN, values=rule))
    assert ruled.plans[0].rules[-1] == OneWay(pieces=("front", "back"))
    n = len(ruled.plans[0].rules)
    less = apply_edit(ruled, SetRule(plan=PLAN, rule=n, values={"pieces": ["front"]}))
    assert less.plans[0].rules[-1] == OneWay(pieces=("front",))
    assert apply_edit(ruled, RemoveRule(plan=PLAN, rule=n)) == BOOK
    other = apply_edit(BOOK, AddPlan(plan="other", like=PLAN, rules=(rule,)))
    assert other.plan("other").rules == ruled.plans[0].rules
    chosen = apply_edit(other, ChoosePlan(plan="other"))
    assert apply_edit(chosen, SetPlan(plan="other", name="new")).chosen_plan == "new"
    assert apply_edit(chosen, RemovePlan(plan="other")).chosen_plan == ""


def test_other_edits():
    """Unit, settings, title, notes, seams, pieces; several as one."""
    inch = apply_edit(BOOK, SetUnit(unit="in"))
    assert inch.unit is Unit.inch
    assert replay(inch).pattern == replay(BOOK).pattern
    assert replay(replace(BOOK, unit=Unit.inch)).pattern != replay(BOOK).pattern
    assert apply_edit(BOOK, SetSettings(values={"gap": "3 mm"})).settings.gap == 3.0
    checks = apply_edit(BOOK, SetSettings(values={"walk": {"agree": "2 mm"}})).settings.checks
    assert checks == replace(BOOK.settings.checks, agree=2.0)
    assert apply_edit(BOOK, RenameWorkbook(title="new")).title == "new"
    seam = BOOK.bought.seams[0]
    eased = apply_edit(BOOK, SetSeam(seam=seam.name, values={"ease": "6 mm"}))
    assert eased.bought.seams[0] == replace(seam, ease=6.0)
    gone = apply_edit(BOOK, RemovePiece(piece="front"))
    assert "front" not in [p.name for p in gone.bought.pieces]
    both = Several(edits=(RenameWorkbook(title="a"), SetNotes(notes="b")))
    assert apply_edit(BOOK, both) == replace(BOOK, title="a", notes="b")


BAD = {
    "no table": ([], "a table"),
    "no kind": ({}, "one of add-change"),
    "unknown kind": ({"edit": "set-clot"}, 'Did you mean "set-cloth"'),
    "missing": ({"edit": "set-cloth", "values": {}}, '"cloth" is missing'),
    "too much": ({"edit": "set-notes", "notes": "", "x": 1}, "not asked for"),
    "no text": ({"edit": "set-notes", "notes": 3}, "expected text"),
    "no flag": ({"edit": "switch-change", "change": "1", "on": 1}, "true or false"),
    "no number": (
        {"edit": "pin-shape", "plan": "", "piece": "a", "copy": 1, "cloth": "c", "x": "a", "y": 1},
        "edit, pin-shape, x",
    ),
    "nested": ({"edit": "several", "edits": [{"edit": "several", "edits": []}]}, "within several"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_data_is_told(name):
    """What is wrong, where, and what was expected."""
    data, words = BAD[name]
    with pytest.raises(BadInput) as caught:
        edit_from(data)
    assert words.casefold() in str(caught.value).casefold()


@settings(max_examples=150, deadline=None)
@given(
    data=st.dictionaries(
        st.sampled_from(["cloth", "values", "plan", "rule", "change", "params", "at", "unit"]),
        st.recursive(
            st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
            lambda inner: (
                st.lists(inner, max_size=3)
                | st.dictionaries(st.text(max_size=8), inner, max_size=3)
            ),
            max_leaves=6,
        ),
    ),
    kind=st.sampled_from(EDITS),
)
def test_any_data_is_an_edit_or_a_sentence(data, kind):
    """Whatever comes over the wire: an edit that is done, or an error for the maker."""
    try:
        edit = edit_from({"edit": name_of(kind), **data})
        was = desk_of(Opened(book=BOOK, revision=0, ids=("a", "b")))
        assert edit_words(edit, was, was.done(edit))
    except ClothwrightError as error:
        said = str(error)
    else:
        said = "done"
    assert said


WRONG = [
    (SetCloth(cloth="tweet", values={}), "no cloth"),
    (SetCloth(cloth=CLOTH, values={"width": "-3 cm"}), "width"),
    (SetCloth(cloth=CLOTH, values={"wide": "3 cm"}), "not known"),
    (SetCloth(cloth=CLOTH, values={"print": {"border": [{"name": "b"}]}}), "missing"),
    (SetCloth(cloth=CLOTH, values={"print": {"up": "end"}}), "a top, or those lines"),
    (SetCloth(cloth=CLOTH, values={"print": {"drop": "brick"}}), "no mirror line"),
    (AddRule(plan=PLAN, values={"kind": "on-bord"}), "no placing rule"),
    (RemoveRule(plan=PLAN, rule=99), "no rule 99"),
    (AddChange(kind="crop", params={"lenght": "3 cm"}), "length"),
    (RemoveChange(change="9"), "no change 9"),
    (MoveChange(change="1", to=7), "no place 7"),
    (AddPlan(plan=PLAN), "already"),
    (ChoosePlan(plan="nothing"), "no plan"),
    (SetUnit(unit="ells"), "ells"),
    (RenameWorkbook(title=" "), "empty"),
    (PinShape(plan="", piece="front", copy=0, cloth=CLOTH, x=0.0, y=0.0), "no copy 0"),
]


@pytest.mark.parametrize(("edit", "words"), WRONG, ids=lambda x: getattr(x, "plan", "") or "")
def test_edits_that_cannot_be_done_are_told(folder, edit, words):
    """A sentence, and nothing is written."""
    base = revision(folder)
    with pytest.raises(ClothwrightError, match=words):
        commit_edit(folder, edit, base=base)
    assert load(folder) == BOOK
    assert revision(folder) == base


def test_a_change_that_these_pieces_do_not_allow_is_refused(folder):
    """Added or set, it says why, and the list stays."""
    base = revision(folder)
    no_edge = {"edges": "front.nothing", "amount": "1 cm"}
    with pytest.raises(CannotDo, match=r"was not added.*nothing"):
        commit_edit(folder, AddChange(kind="set-allowance", params=no_edge), base=base)
    with pytest.raises(CannotDo, match="was not set"):
        commit_edit(folder, SetChange(change="1", params=no_edge), base=base)
    assert load(folder) == BOOK


APART = [
    (SetCloth(cloth=CLOTH, values={"width": "80 cm"}), SetCloth(cloth=CLOTH, values={"nap": True})),
    (SetChange(change="1", params={"amount": "1 cm"}), RemoveChange(change="2")),
    (RemoveChange(change="1"), SetChange(change="2", params={"amount": "1 cm"})),
    (MoveChange(change="1", to=2), SetChange(change="2", why="so")),
    (
        PinShape(plan="", piece="front", copy=1, cloth=CLOTH, x=1.0, y=2.0),
        PinShape(plan="", piece="front", copy=2, cloth=CLOTH, x=1.0, y=2.0),
    ),
    (RemoveRule(plan=PLAN, rule=1), RemoveRule(plan=PLAN, rule=2)),
    (SetNotes(notes="x"), RenameWorkbook(title="y")),
    (AddPlan(plan="a"), AddPlan(plan="b")),
]


@pytest.mark.parametrize(("theirs", "mine"), APART)
def test_edits_of_different_things_are_put_together(folder, theirs, mine):
    """Both sent from the same state, in either order: both are there, and each can be undone."""
    base = revision(folder)
    commit_edit(folder, theirs, base=base)
    made = commit_edit(folder, mine, base=base)
    assert [s.words for s in made.merged] == [s.words for s in steps_of(folder)][1:2]
    one_way = load(folder)
    undo(folder)
    undo(folder)
    assert load(folder) == BOOK
    base = revision(folder)
    commit_edit(folder, mine, base=base)
    commit_edit(folder, theirs, base=base)
    assert sorted(map(repr, one_way.plans)) == sorted(map(repr, load(folder).plans)) or {
        frozenset(p.rules) for p in one_way.plans
    } == {frozenset(p.rules) for p in load(folder).plans}
    assert replace(one_way, plans=()) == replace(load(folder), plans=())


CLASHES = [
    (
        SetCloth(cloth=CLOTH, values={"width": "80 cm"}),
        SetCloth(cloth=CLOTH, values={"width": "81 cm"}),
    ),
    (SetChange(change="1", params={"amount": "1 cm"}), RemoveChange(change="1")),
    (RemoveChange(change="1"), SetChange(change="1", params={"amount": "1 cm"})),
    (
        PinShape(plan="", piece="front", copy=1, cloth=CLOTH, x=1.0, y=2.0),
        PinShape(plan="", piece="front", copy=1, cloth=CLOTH, x=5.0, y=2.0),
    ),
    (RemovePlan(plan=PLAN), AddRule(plan=PLAN, values={"kind": "one-way"})),
    (AddRule(plan=PLAN, values={"kind": "one-way"}), RemovePlan(plan=PLAN)),
    (
        SetCloth(cloth=CLOTH, values={"name": "tweed"}),
        PinShape(plan="", piece="front", copy=1, cloth=CLOTH, x=1.0, y=2.0),
    ),
    (SetUnit(unit="in"), SetChange(change="1", params={"amount": 1})),
    (SetNotes(notes="x"), SetNotes(notes="y")),
]


@pytest.mark.parametrize(("theirs", "mine"), CLASHES)
def test_edits_of_the_same_thing_are_refused_and_told(folder, theirs, mine):
    """The later one hears what the earlier one did; nothing is written and nothing dropped."""
    base = revision(folder)
    first = commit_edit(folder, theirs, base=base)
    before = load(folder)
    with pytest.raises(CannotDo) as caught:
        commit_edit(folder, mine, base=base)
    assert first.saved.words in str(caught.value)
    assert load(folder) == before
    assert revision(folder) == first.revision


def test_an_edit_by_hand_in_between_counts_as_a_step(folder):
    """The page's edit is put together with what was typed into the file, or refused."""
    base = revision(folder)
    file = folder / "workbook.toml"
    file.write_text(file.read_text().replace(f'title = "{BOOK.title}"', 'title = "by hand"'))
    made = commit_edit(folder, SetNotes(notes="mine"), base=base)
    assert [s.kind for s in made.merged] == ["outside"]
    assert (load(folder).title, load(folder).notes) == ("by hand", "mine")
    with pytest.raises(CannotDo, match="edited outside"):
        commit_edit(folder, RenameWorkbook(title="mine"), base=base)


def test_two_edits_that_only_together_break_a_change_are_refused(folder):
    """One splits off what the other works on: each alone is sound, both are not."""
    base = revision(folder)
    commit_edit(folder, RemovePiece(piece="back"), base=base)
    pinned = {"edges": "back.hem", "depth": "4 cm"}
    with pytest.raises(CannotDo, match="back"):
        commit_edit(folder, AddChange(kind="set-hem", params=pinned), base=base)


def test_the_same_message_twice_is_done_once(folder):
    """A page that sends again after a lost answer gets the same answer, and no second change."""
    base = revision(folder)
    edit = AddChange(kind="set-hem", params={"edges": "front.hem", "depth": "4 cm"})
    first = commit_edit(folder, edit, base=base, token="t1")
    again = commit_edit(folder, edit, base=base, token="t1")
    assert (first.again, again.again) == (False, True)
    assert again.saved == first.saved
    assert len(load(folder).steps) == 3
    same = commit_edit(folder, SetCloth(cloth=CLOTH, values={}), base=first.revision)
    assert same.again
    assert same.revision == first.revision


def test_places_are_found_again_in_a_list_that_has_moved(folder):
    """A change put in before number 2 comes before it still, wherever it stands by then."""
    base = revision(folder)
    a, b = opened(folder).ids
    hem = {"edges": "front.hem", "depth": "4 cm"}
    commit_edit(folder, AddChange(kind="set-hem", params=hem, at=1), base=base)
    commit_edit(folder, AddChange(kind="set-hem", params={**hem, "depth": "3 cm"}, at=2), base=base)
    new, first, third, second = opened(folder).ids
    assert (first, second) == (a, b)
    assert len({new, third, a, b}) == 4
    commit_edit(folder, RemoveChange(change="2"), base=base)
    assert opened(folder).ids == (new, a, third)


def test_touches_names_the_thing(folder):
    """As ("cloth", NAME, FIELD), so that others can tell."""
    at = opened(folder)
    edit = SetCloth(cloth=CLOTH, values={"width": "80 cm", "print": {"origin_along": "1.2 cm"}})
    assert set(touches(edit, at)) == {
        ("cloth", CLOTH, "width"),
        ("cloth", CLOTH, "print", "origin_along"),
    }
    assert touches(SetNotes(notes=BOOK.notes), at) == ()


EDITS_OF = st.one_of(
    st.builds(SetNotes, notes=st.text("abc", max_size=3)),
    st.builds(RenameWorkbook, title=st.text("abc", min_size=1, max_size=3)),
    st.builds(
        lambda mm: SetCloth(cloth=CLOTH, values={"width": f"{mm} mm"}), st.integers(500, 1500)
    ),
    st.builds(
        lambda p, x: PinShape(plan="", piece=p, copy=1, cloth=CLOTH, x=float(x), y=1.0),
        st.sampled_from(["front", "back"]),
        st.integers(0, 900),
    ),
    st.builds(lambda p: UnpinShape(plan="", piece=p, copy=1), st.sampled_from(["front", "back"])),
    st.builds(
        lambda mm: AddChange(
            kind="set-allowance", params={"edges": "front.side", "amount": f"{mm} mm"}
        ),
        st.integers(5, 30),
    ),
    st.builds(lambda n: RemoveChange(change=str(n)), st.integers(1, 4)),
    st.builds(lambda n, m: MoveChange(change=str(n), to=m), st.integers(1, 4), st.integers(1, 4)),
    st.builds(lambda n, on: SwitchChange(change=str(n), on=on), st.integers(1, 4), st.booleans()),
    st.builds(lambda n: RemoveRule(plan=PLAN, rule=n), st.integers(1, 9)),
    st.builds(SetUnit, unit=st.sampled_from(["cm", "in", "mm"])),
    st.builds(
        lambda m, n: SetBody(values={m: n}),
        st.sampled_from(["bust", "hip"]),
        st.sampled_from(["36 1/2", "92 cm", ""]),
    ),
    st.builds(
        lambda n: SetChart(text=n, unit="in"),
        st.sampled_from(["", "size 8 10\nbust 31 1/2 32 1/2", "size 8 10\nhip 33 34"]),
    ),
)


@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(edits=st.lists(st.tuples(EDITS_OF, st.integers(0, 3)), max_size=10))
def test_all_the_way_back_and_all_the_way_forward(tmp_path_factory, edits):
    """Any edits, some sent from states long past: undo to the beginning, redo to the end."""
    folder = tmp_path_factory.mktemp("round") / "w"
    create(folder, BOOK)
    bases, states = [revision(folder)], [load(folder)]
    for edit, late in edits:
        try:
            made = commit_edit(folder, edit, base=bases[max(0, len(bases) - 1 - late)])
        except ClothwrightError:
            assert load(folder) == states[-1]
            continue
        assert made.now.book == load(folder)
        if not made.again:
            bases.append(made.revision)
            states.append(made.now.book)
    for before in reversed(states[:-1]):
        assert undo(folder) is not None
        assert load(folder) == before
    assert undo(folder) is None
    for after in states[1:]:
        assert redo(folder) is not None
        assert load(folder) == after
    assert redo(folder) is None


SENDER = """
import json, sys
from pathlib import Path
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.editing.reading import edit_from
folder, base = Path(sys.argv[1]), int(sys.argv[2])
for k, line in enumerate(sys.stdin):
    commit_edit(folder, edit_from(json.loads(line)), base=base, token=f"{sys.argv[3]}{k}")
"""


def test_two_devices_at_once_lose_nothing(folder):
    """Two processes send all their edits from the first state, at the same time: all are there."""
    base = revision(folder)
    senders = []
    for who in "ab":
        side = {"a": "front", "b": "back"}[who]
        sent = [{"edit": "add-plan", "plan": f"{who}{k}"} for k in range(6)]
        sent += [
            {
                "edit": "add-change",
                "kind": "set-allowance",
                "params": {"edges": f"{side}.side", "amount": f"{k + 5} mm"},
            }
            for k in range(6)
        ]
        process = subprocess.Popen(
            [sys.executable, "-c", SENDER, str(folder), str(base), who],
            stdin=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        assert process.stdin is not None
        process.stdin.write("".join(json.dumps(s) + "\n" for s in sent))
        process.stdin.close()
        senders.append(process)
    assert [s.wait(timeout=120) for s in senders] == [0, 0]
    book = load(folder)
    names = {p.name for p in book.plans} - {p.name for p in BOOK.plans}
    assert names == {f"{w}{k}" for w in "ab" for k in range(6)}
    params = [(s.params["edges"], s.params["amount"]) for s in book.steps[2:]]
    assert sorted(params) == sorted(
        (f"{side}.side", f"{k + 5} mm") for side in ("front", "back") for k in range(6)
    )
    assert len(steps_of(folder)) == 25


def test_a_border_moved_on_the_picture(tmp_path):
    """The big demo: a border's base set through data, and the edge that lies on it stays ruled."""
    book = coat_and_skirt()
    cloth = next(c for c in book.cloths if c.print.borders)
    borders = [
        {
            "name": b.name,
            "side": b.side,
            "base": f"{b.base + 3} mm",
            "height": f"{b.height} mm",
            "down": b.down,
            **({"repeat": f"{b.repeat} mm"} if b.repeat else {}),
        }
        for b in cloth.print.borders
    ]
    data = {"edit": "set-cloth", "cloth": cloth.name, "values": {"print": {"border": borders}}}
    new = apply_edit(book, edit_from(json.loads(json.dumps(data))))
    assert new.cloth(cloth.name).print.borders[0].base == cloth.print.borders[0].base + 3
    assert any(isinstance(r, OnBorder) for p in new.plans for r in p.rules)
