"""A change follows what one before it renamed, divided or joined, or says which one it was."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest

from clothwright.changes import CHANGES
from clothwright.cli.app import run
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.workbooks import DEMOS, Demo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Role
from clothwright.store import create
from clothwright.workbook import Replay, Step, Workbook, replay
from clothwright.workroom.changing.cards import states
from clothwright.workroom.changing.forms import form_to_set, stated
from clothwright.workroom.editing.asking import Field
from tests.listed import switched, with_step

BACK = "skirt back"
UPPER, LOWER = f"{BACK} upper", f"{BACK} lower"
HIP = Step(change="piece-panel", params={"piece": BACK, "line": "hip"})
UPRIGHT = Step(
    change="piece-panel", params={"piece": BACK, "start": "waist middle", "end": "hem middle"}
)
INNER, OUTER = f"{BACK} inner", f"{BACK} outer"
CUT = 'change 1 (piece: cut in two along a line and add a seam) divided "skirt back"'


def skirt(*steps: Step) -> Workbook:
    """The demo's skirt with these changes and no others."""
    book = coat_and_skirt()
    pieces = tuple(p for p in book.bought.pieces if "skirt" in p.name or p.name == "waistband")
    names = {p.name for p in pieces}
    seams = tuple(s for s in book.bought.seams if all(r.piece in names for r in (*s.a, *s.b)))
    return replace(
        book, bought=Pattern(pieces=pieces, seams=seams), steps=steps, plans=(), chosen_plan=""
    )


def changed(done: Replay, number: int) -> set[str]:
    """Return the pieces that a change, from 1, made others."""
    before, after = done.states[number - 2], done.states[number - 1]
    return {p.name for p in after.pieces if p not in before.pieces}


FOLLOWS = {
    "edge": (Step(change="move-edge", params={"edge": f"{BACK}.hem", "by": "1 in"}), LOWER),
    "one of several edges": (
        Step(change="set-hem", params={"edges": f"{BACK}.hem", "depth": "1 in"}),
        LOWER,
    ),
    "dart": (
        Step(change="shorten-dart", params={"dart": f"{BACK}.back dart", "by": "1/4 in"}),
        UPPER,
    ),
    "corner": (
        Step(change="move-edge", params={"corner": f"{BACK}.side hem", "by": "1 in"}),
        LOWER,
    ),
}


@pytest.mark.parametrize("name", FOLLOWS)
def test_what_lies_on_one_part_is_done_on_it(name: str) -> None:
    """An edge, a corner or a dart that one part has: the change is done there, nowhere else."""
    step, part = FOLLOWS[name]
    done = replay(skirt(HIP, step))
    assert done.told[1].error == ""
    assert changed(done, 2) == {part}
    assert done.told[1].step == step


def test_a_line_says_which_part() -> None:
    """Lengthened at the hip: the part that has the hip line, and the front as before."""
    low = replace(HIP, params={**HIP.params, "above": "-2 in"})
    more = Step(
        change="lengthen",
        params={"pieces": f"skirt front, {BACK}", "level": "hip", "by": "1 in"},
    )
    done = replay(skirt(low, more))
    assert done.told[1].error == ""
    assert changed(done, 2) == {"skirt front", UPPER}


def test_points_say_which_part_is_divided_again() -> None:
    """Two points named without their piece: the part that both lie on now."""
    points = {"start": "side notch hip", "end": "centre notch zip end", "names": "a, b"}
    again = Step(change="piece-panel", params={"piece": BACK, **points})
    low = replace(HIP, params={**HIP.params, "above": "-2 in"})
    done = replay(skirt(low, again))
    assert done.told[1].error == ""
    assert {p.name for p in done.pattern.pieces} >= {"a", "b", LOWER}
    assert UPPER not in {p.name for p in done.pattern.pieces}


def test_an_edge_on_both_parts_is_refused_with_what_divided_it() -> None:
    """Which change it was, into what, and what to try; the changes after it are done."""
    move = Step(change="move-edge", params={"edge": f"{BACK}.hem", "by": "1 in"})
    front = Step(change="move-edge", params={"edge": "skirt front.hem", "by": "1 in"})
    done = replay(skirt(UPRIGHT, move, front))
    told = done.told[1].error
    assert told == (
        f'The edge "hem" of "{BACK}" is not one edge any more: {CUT} into {INNER} and {OUTER}. '
        "The nearest that can be done: to move this change before change 1, or to name one of "
        "them here."
    )
    assert done.told[2].said
    moved = skirt(move, UPRIGHT, front)
    assert [t.error for t in replay(moved).told] == ["", "", ""]


def test_the_whole_of_a_divided_piece_is_refused() -> None:
    """Turned over as a whole: no part is meant."""
    told = replay(skirt(HIP, Step(change="mirror", params={"pieces": (BACK,)}))).told[1].error
    assert told.startswith(f'"{BACK}" is not one piece any more: {CUT} into {UPPER} and {LOWER}.')


def test_an_allowance_holds_for_both_parts() -> None:
    """It is the same on each part of an edge, and on each part of a piece."""
    for said in (f"{BACK}.hem", BACK):
        step = Step(change="set-allowance", params={"edges": said, "amount": "3/4 in"})
        done = replay(skirt(UPRIGHT, step))
        assert done.told[1].error == ""
        assert changed(done, 2) == {INNER, OUTER}


def test_what_is_gone_names_the_change_that_took_it() -> None:
    """A dart taken away, a line that lies on the part that has another name."""
    first = Step(change="straighten-sleeve", params={"dart": "coat sleeve.elbow dart"})
    done = replay(with_step(coat_and_skirt(), first, at=1))
    assert done.told[6].error.startswith(
        'The dart "elbow dart" of "coat sleeve" is not there: change 1 (straighten'
    )
    own = replace(HIP, params={**HIP.params, "above": "2 in", "names": f"{BACK}, low"})
    level = Step(change="lengthen", params={"pieces": BACK, "level": "hip", "by": "1 in"})
    told = replay(skirt(own, level)).told[1].error
    assert told.startswith(f'The line "hip" of "{BACK}" is not there: change 1 (piece')


def test_two_seams_that_became_one_are_followed() -> None:
    """A seam that another has taken in once all is opened out is that other one."""
    book = skirt()
    halves = tuple(p.name for p in book.bought.pieces if p.fold is not None)
    opened = Step(change="unfold", params={"pieces": halves})
    done = replay(skirt(opened))
    assert done.told[0].error == ""
    gone = {s.name for s in book.bought.seams} - {s.name for s in done.pattern.seams}
    assert gone
    for name in gone:
        ((now),) = done.pattern.trail.seam(name)
        done.pattern.seam(now)
        true = Step(change="true-seam", params={"seam": name})
        same = Step(change="true-seam", params={"seam": now})
        assert replay(skirt(opened, true)).told[1].said == replay(skirt(opened, same)).told[1].said


# --- switched off ---------------------------------------------------------------------------------


def test_a_part_that_is_not_made_is_the_whole_again() -> None:
    """With the cut switched off, what the lower part's own edge asked is asked of the whole."""
    move = Step(change="move-edge", params={"edge": f"{LOWER}.hem", "by": "1 in"})
    both = Step(
        change="set-allowance",
        params={"edges": f"{UPPER}.side, {LOWER}.side", "amount": "3/4 in"},
    )
    book = switched(skirt(HIP, move, both), 1, on=False)
    done = replay(book)
    assert [t.error for t in done.told] == ["", "", ""]
    assert changed(done, 2) == changed(done, 3) == {BACK}


def test_half_of_an_edge_and_the_new_edge_say_what_is_switched_off() -> None:
    """The whole side is more than was meant, and the joining edge is not made at all."""
    for edge in ("side", "joining"):
        step = Step(change="move-edge", params={"edge": f"{LOWER}.{edge}", "by": "1/4 in"})
        assert replay(skirt(HIP, step)).told[1].error == ""
        told = replay(switched(skirt(HIP, step), 1, on=False)).told[1].error
        assert told == (
            f'The edge "{edge}" of "{LOWER}" is not there: change 1 (piece: cut in two along a '
            "line and add a seam) would make it and is switched off. The nearest that can be done: "
            f'to switch change 1 on, or to name "{BACK}" here.'
        )


def test_a_part_that_a_change_below_makes_names_that_change() -> None:
    """Which it is, and to move this one below it; moved, it is done, and nothing else differs."""
    move = Step(change="move-edge", params={"edge": f"{LOWER}.hem", "by": "1 in"})
    told = [t.error for t in replay(skirt(move, HIP)).told]
    cut = "change 2 (piece: cut in two along a line and add a seam)"
    nearest = "The nearest that can be done: to move this change below change 2"
    assert told == [
        f'The edge "hem" of "{LOWER}" is not there: {cut} makes it, and stands below this one. '
        f'{nearest}, or to name "{BACK}" here.',
        "",
    ]
    assert [t.error for t in replay(skirt(HIP, move)).told] == ["", ""]
    off = replay(switched(skirt(move, HIP), 2, on=False)).told[0].error
    assert f"{cut} would make it, stands below this one and is switched off" in off
    assert f"{nearest} and to switch change 2 on, or to name" in off


def test_what_is_told_of_one_is_not_kept_for_another_list() -> None:
    """A list that begins alike, without the cut below: what is not there never was."""
    move = Step(change="move-edge", params={"edge": f"{LOWER}.hem", "by": "1 in"})
    assert "change 2 (" in replay(skirt(move, HIP)).told[0].error
    assert replay(skirt(move)).told[0].error.startswith(f'There is no piece "{LOWER}".')


def test_a_name_that_never_was_is_refused_as_ever() -> None:
    """With the nearest that there is; no change before it is blamed."""
    step = Step(change="move-edge", params={"edge": "skirt bach.hem", "by": "1 in"})
    told = replay(skirt(HIP, step)).told[1].error
    assert told.startswith('There is no piece "skirt bach". Did you mean')


# --- all that there is ----------------------------------------------------------------------------


def first_changes(pattern: Pattern) -> Iterator[Step]:
    """Yield changes of every kind that can rename, divide or join something of these pieces."""
    for p in pattern.pieces:
        lines = [lv.name for lv in p.levels] + [m.name for m in p.marks if m.path is not None]
        for line in (*lines, *(["fold"] if p.fold else [])):
            for names in ("", f"{p.name}, other"):
                params = {"piece": p.name, "line": line, "names": names}
                yield Step(change="piece-panel", params=params)
        middles = [f"{e.name} middle" for e in p.edges if e.role is not Role.FOLD]
        for a, b in combinations(middles, 2):
            yield Step(change="piece-panel", params={"piece": p.name, "start": a, "end": b})
        for dart in p.darts:
            for kind in ("straighten-sleeve", "elbow-to-hem", "elbow-to-ease"):
                yield Step(change=kind, params={"dart": f"{p.name}.{dart.name}"})
    halves = [p.name for p in pattern.pieces if p.fold is not None]
    for count in range(1, len(halves) + 1):
        for some in combinations(halves, count):
            yield Step(change="unfold", params={"pieces": some})


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_every_later_change_is_done_or_says_what_divided_it(demo: Demo) -> None:
    """Whatever is put first: each change is done, or names the first as what stands in its way."""
    book = demo.make()
    alone = {t.number: t.error for t in replay(book).told}
    assert not any(alone.values())
    tried = 0
    for step in first_changes(book.bought):
        done = replay(with_step(book, step, at=1))
        if done.told[0].error:
            continue
        tried += 1
        for t in done.told[1:]:
            assert "here is no piece" not in t.error
            assert not t.error or "change 1 (" in t.error.casefold(), (step, t)
    assert tried > 10


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_every_part_named_above_the_cut_says_which_cut_it_is(demo: Demo) -> None:
    """Cut at a line, each piece makes parts: a change of that part above it names what makes it."""
    book = demo.make()
    last = len(book.steps) + 2
    tried: set[object] = set()
    for step in first_changes(replay(book).pattern):
        piece = step.params.get("piece")
        if piece in tried or not step.params.get("line") or step.params["names"]:
            continue
        cut = with_step(book, step)
        was, now = ({p.name for p in replay(b).pattern.pieces} for b in (book, cut))
        for part in now - was:
            turn = Step(change="mirror", params={"pieces": (part,)})
            told = replay(with_step(cut, turn, at=last - 1)).told[-2].error
            assert told.startswith(f'"{part}" is not there: change {last} (piece: cut'), told
            assert f"to move this change below change {last}" in told
            tried.add(piece)
    assert tried


def test_every_kind_with_a_trail_is_tried() -> None:
    """The kinds of change tried above are those that tell of a trail on the demo, and more."""
    pattern = coat_and_skirt().bought
    tried = {s.change for s in first_changes(pattern)}
    assert {"piece-panel", "unfold"} <= tried <= {c.id for c in CHANGES}


# --- command and page -----------------------------------------------------------------------------


def test_show_walk_and_lay_go_on(tmp_path: Path, monkeypatch, capsys) -> None:
    """The cut put first by the command: the hem follows, the list says the rest, all is laid."""
    hem = Step(change="move-edge", params={"edge": f"{BACK}.hem", "by": "1/2 in"})
    turn = Step(change="mirror", params={"pieces": (BACK,)})
    create(tmp_path / "w", skirt(hem, turn))
    monkeypatch.chdir(tmp_path)
    cut = ["change", "w", "piece-panel", f"piece={BACK}", "line=hip", "--at", "1"]
    assert run(cut) == 0
    listed = capsys.readouterr().out
    assert f"Moved {LOWER}" in listed
    assert "3. NOT DONE" in listed
    assert "divided" in listed
    for command, more in {"show": (), "walk": (), "lay": ("--seconds", "1")}.items():
        code = run([command, "w", *more])
        told = capsys.readouterr()
        assert "here is no piece" not in told.out + told.err
        assert code in (0, 1), told.err
    assert run(["change", "w", "--off", "1"]) == 0
    assert "NOT DONE" not in capsys.readouterr().out


def fields_of(book: Workbook, number: int) -> dict[str, Field]:
    """Return the form of a change of the list, from 1."""
    form = form_to_set(book, states(book, replay(book)), number - 1)
    assert form is not None
    return {f.name: f for f in form.fields}


def chosen(field: Field) -> dict[str, str]:
    """Return what is chosen in a field, with its words."""
    return {key: words for _, group in field.groups for key, words, on in group if on}


def test_the_form_has_the_part_chosen_that_is_meant() -> None:
    """Saved as it is, nothing of the change is set otherwise: it goes on following."""
    move = Step(change="move-edge", params={"edge": f"{BACK}.hem", "by": "1 in"})
    book = skirt(HIP, move)
    edge = fields_of(book, 2)["edge"]
    assert list(chosen(edge)) == [f"{LOWER}.hem"]
    filled = {"change": "b", "edge": f"{LOWER}.hem", "by": "2 in", "direction": "out"}
    filled |= {"neighbours": "run on"}
    made = stated(book, states(book, replay(book)), ("a", "b"), filled)
    assert made.edit["params"] == {"by": "2 in"}


def test_the_form_offers_the_parts_of_what_is_not_one_any_more() -> None:
    """They are in the list; what the change names is told as not offered."""
    turn = Step(change="mirror", params={"pieces": ("skirt front", BACK)})
    pieces = fields_of(skirt(HIP, turn), 2)["pieces"]
    offered = {key for _, group in pieces.groups for key, _, _ in group}
    assert {UPPER, LOWER} <= offered
    assert chosen(pieces) == {"skirt front": "skirt front", BACK: f"{BACK} (not offered now)"}
