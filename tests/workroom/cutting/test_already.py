"""What is ticked as cut stays where it was cut: through searches, edits, undo, reloads, plans."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from shapely.geometry import Polygon

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.laying_chapter import laying_section
from clothwright.errors import BadInput, CannotDo
from clothwright.lay.by_hand import Wanted, try_place, turned
from clothwright.lay.order import laying_list
from clothwright.lay.problem import KeepOff
from clothwright.lay.result import Placement
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid, lay_mark
from clothwright.store import create, load, save
from clothwright.store.beside.cut import keep_cut
from clothwright.store.beside.places import cut_file
from clothwright.store.noticed import noticed
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Settings, Step, Workbook
from clothwright.workroom.cutting.already import TICK, cut_in
from clothwright.workroom.cutting.board import cutting_of
from clothwright.workroom.cutting.table import laid_table
from clothwright.workroom.cutting.ticking import lay_once_more, tick_line
from clothwright.workroom.cutting.ticks import set_ticks
from clothwright.workroom.editing.edits.cloths import SetCloth
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.planning.tried import ways_to_fit
from clothwright.workroom.searching.laying import compile_plan, keep_better, lay_plan, recall
from clothwright.workroom.searching.lays import Lays
from clothwright.workroom.searching.service import Searches
from tests.lay.panels import bordered, panel, skirt

PLAN = Plan(
    name="hems",
    rules=(
        OnBorder(piece="front", edge="hem", border="b"),
        OnGrain(piece="back", grain="across"),
        Meets(piece_a="front", point_a="upper right", piece_b="back", point_b="upper left"),
    ),
)
LONGER = Step(change="set-allowance", params={"edges": "front.hem", "amount": "3 cm"})
"""The front's cutting line 2 cm longer: its hem had an allowance of 1 cm."""


def book_of(*cloths: Cloth, **more) -> Workbook:
    """A skirt of three panels in centimetres, on a bordered cloth."""
    return Workbook(
        title="skirt",
        unit=Unit.cm,
        bought=skirt(),
        cloths=cloths or (bordered(),),
        plans=(PLAN,),
        settings=Settings(gap=2.0),
        **more,
    )


@dataclass
class Room:
    """A workbook on the disk, opened as a page has it."""

    folder: Path
    lays: Lays

    @property
    def book(self) -> Workbook:
        return self.lays.opened.read().book

    def change(self, new: Callable[[Workbook], Workbook]) -> None:
        """Save another workbook, as an editor of the text does."""
        save(new(load(self.folder)), self.folder)

    def lay(self) -> Laid:
        """Search a little and keep what is found."""
        return keep_better(self.folder, self.book, lay_plan(self.book, seconds=30.0, rounds=2))

    def tick(self, shape: str, *, done: bool = True) -> None:
        at = self.lays.opened.read()
        on = laid_table(self.lays, at)
        step = next(s for s in laying_list(on.laid.compiled, on.laid.lay) if s.shape == shape)
        tick_line(self.lays, at, f"{TICK}{step.number}", on.mark, done=done)

    def place(self, shape: str) -> Placement:
        """Where a shape lies on the table."""
        return laid_table(self.lays, self.lays.opened.read()).table.places[shape]

    def told(self) -> str:
        return " ".join(cutting_of(self.lays, self.lays.opened.read()).sentences)


def room_of(folder: Path, book: Workbook) -> Room:
    create(folder, book)
    return again(folder)


def again(folder: Path) -> Room:
    """The same folder, as a server that has just been started sees it."""
    return Room(folder, Lays(opened=OpenBook(name="b", folder=folder), searches=Searches()))


@pytest.fixture
def room(tmp_path: Path) -> Room:
    """The skirt laid, its front pushed on by 300 mm from where it was found, and cut there."""
    made = room_of(tmp_path / "b", book_of())
    p = made.lay().lay.placements[0]
    assert p.shape == "front"
    pin = Pin(piece="front", copy=1, cloth="c", x=p.x + 300.0, y=p.y, turn_deg=p.turn_deg)
    made.change(lambda b: replace(b, plans=(replace(PLAN, rules=(*PLAN.rules, pin)),)))
    made.lay()
    made.tick("front")
    made.change(lambda b: replace(b, plans=(PLAN,)))
    return made


def stays(made: Room, was: Placement) -> Laid:
    """A new search leaves it where it was cut, with the line it was cut with, and all off it."""
    laid = lay_plan(made.book, seconds=30.0, rounds=2)
    assert laid.faults == ()
    places = {p.shape: p for p in laid.lay.placements}
    assert places["front"] == was
    ground = Polygon(was.outline)
    others = [Polygon(p.outline) for n, p in places.items() if n != "front"]
    assert all(ground.distance(o) >= 2.0 - 0.011 for o in others)
    assert laid.lay.used["c"] >= max(x for x, _ in was.outline) - 1e-6
    return laid


def test_a_search_lays_the_rest_around_it(room: Room) -> None:
    """Cut at a place that no search would choose, 300 mm from the cut end: it stays to the bit."""
    was = room.place("front")
    laid = stays(room, was)
    assert min(x for x, _ in was.outline) > 290.0
    assert {s.shape for s in laying_list(laid.compiled, laid.lay)} == {"front", "back 1", "back 2"}
    backs = [p for p in laid.lay.placements if p.shape != "front"]
    assert min(x for p in backs for x, _ in p.outline) < 300.0, "the free end is used"
    keep_better(room.folder, room.book, laid)
    kept = recall(room.folder, room.book)
    assert kept is not None
    assert kept.lay.placements[0] == was
    assert room.told().startswith("It fits; nothing overlaps, and every rule is kept.")


def test_what_is_sewn_to_it_meets_its_print_where_it_lies(room: Room) -> None:
    """The match between cut and new pieces: nothing is off at the notches, measured by seams."""
    laid = stays(room, room.place("front"))
    assert laid.meetings
    both = {n for m in laid.meetings for n in m.shapes}
    assert "front" in both
    assert max(r for r in laid.residuals.values()) <= 0.1


def test_ticked_it_is_still_the_lay_that_was_found(tmp_path: Path) -> None:
    """One tick after another moves nothing, and needs no new search: the kept lay is still one."""
    made = room_of(tmp_path / "b", book_of())
    laid = made.lay()
    for name in ("front", "back 2"):
        made.tick(name)
        board = cutting_of(made.lays, made.lays.opened.read()).board
        assert board is not None
        assert board.fresh
        assert {p.shape: p for p in board.laid.lay.placements} == {
            p.shape: made.place(p.shape) for p in laid.lay.placements
        }
    assert [r.step.shape for r in board.rows if r.cut] == ["front", "back 2"] or {
        r.step.shape for r in board.rows if r.cut
    } == {"front", "back 2"}
    assert all(r.laid for r in board.rows if r.cut)


def renamed(pattern: Pattern, old: str, new: str) -> Pattern:
    """The pattern with a piece by another name, by hand, so that no change knows of it."""
    pieces = tuple(replace(p, name=new) if p.name == old else p for p in pattern.pieces)
    return replace(pattern, pieces=pieces, seams=())


@pytest.mark.parametrize("how", ["restart", "longer", "undone", "other plan", "other gap", "piece"])
def test_it_stays_through_all_that_is_done_to_the_workbook(room: Room, how: str) -> None:
    """A restart, a change of the piece, its undo, another plan, another gap, a renamed piece."""
    was = room.place("front")
    opened = room.lays.opened
    if how == "restart":
        room = again(room.folder)
    elif how == "longer":
        room.change(lambda b: replace(b, steps=(LONGER,)))
    elif how == "undone":
        room.change(lambda b: replace(b, steps=(LONGER,)))
        opened.undo()
        opened.undo()
        opened.redo()
    elif how == "other plan":
        room.change(lambda b: replace(b, plans=(Plan(name="free"),)))
    elif how == "other gap":
        room.change(lambda b: replace(b, settings=replace(b.settings, gap=2.5)))
    else:
        named = renamed(skirt(), "front", "skirt front")
        room.change(lambda b: replace(b, bought=named, plans=(Plan(name="free"),)))
        laid = lay_plan(room.book, seconds=9.0, rounds=1)
        assert laid.lay.placements[0] == replace(was, shape="skirt front")
        return
    stays(room, was)


def test_a_change_of_what_is_cut_is_told_until_it_is_undone(room: Room) -> None:
    """2 cm longer in the pattern: told with the piece, the length and what to do; then no more."""
    room.change(lambda b: replace(b, steps=(LONGER,)))
    said = room.told()
    assert "“front” is cut, and was changed since: it is now 2 cm longer than what was cut." in said
    assert "cut it again from what is left, or undo the change" in said
    room.lays.opened.undo()
    assert "is cut, and" not in room.told()


def test_cut_again_it_is_laid_once_more_and_the_old_one_stays_gone(room: Room) -> None:
    """Two of it then: the one that is cut, as it was, and the new one, longer, clear of it."""
    was = room.place("front")
    room.change(lambda b: replace(b, steps=(LONGER,)))
    room.lay()
    lay_once_more(room.lays, room.lays.opened.read(), "front")
    laid = lay_plan(room.book, seconds=30.0, rounds=2)
    places = {p.shape: p for p in laid.lay.placements}
    assert laid.faults == ()
    assert replace(places["front, cut before"], shape="front") == was
    new = Polygon(places["front"].outline)
    assert new.distance(Polygon(was.outline)) >= 2.0 - 0.011
    assert new.area == pytest.approx(Polygon(was.outline).area + 2 * 20.0 * 210.0, rel=0.01)
    assert laid.compiled.of_cut == ()


def test_cut_again_can_be_taken_back(room: Room) -> None:
    """By the same door on what was cut; until then nothing is shown to lie over it."""
    room.lay()
    lay_once_more(room.lays, room.lays.opened.read(), "front")
    at = room.lays.opened.read()
    shown = cutting_of(room.lays, at, piece="front, cut before")
    assert shown.board.hand.spoilt
    assert "front, cut before" in {r.step.shape for r in shown.board.rows if r.cut}
    assert not any("overlap" in s for s in shown.sentences)
    assert "counts again" in lay_once_more(room.lays, at, "front, cut before")
    assert [c.again for c in room.book.cut] == [False]


def test_a_piece_taken_in_since_is_compared_with_what_was_cut(room: Room) -> None:
    """The top of the front moved down by 1 cm: its print meets as before, for that is cut."""
    room.lay()
    before = {m.half: m.worst for m in recall(room.folder, room.book).meetings}
    step = Step(change="move-edge", params={"edge": "front.top", "by": "-1 cm"})
    room.change(lambda b: replace(b, steps=(step,)))
    start = compile_plan(room.book, room.book.plan())
    laid = replace(start, lay=lay_plan(room.book, seconds=9.0, rounds=1).lay)
    assert "“front” is cut, and was changed since: it is now 1 cm shorter" in told(room.book)
    assert laid.faults == ()
    after = {m.half: m.worst for m in laid.meetings}
    assert after == pytest.approx(before, abs=1e-6)


def test_no_way_to_fit_needs_another_piece_than_was_cut(room: Room) -> None:
    """On a cloth too short, ways that would change the front are none; others are found."""
    room.change(lambda b: replace(b, cloths=(replace(bordered(), length=760.0),)))
    laid = lay_plan(room.book, seconds=9.0, rounds=1)
    assert not laid.lay.fits
    ways = ways_to_fit(room.book, laid, seconds=2.0, rounds=0)
    assert ways
    for way in ways:
        assert not any("front" in str(c.params) for c in way.edit.changes), way
        there = {p.shape: p for p in way.laid.lay.placements}
        assert there["front"] == room.place("front")


def test_a_rule_that_cannot_be_beside_what_is_cut_is_left_out_and_told(room: Room) -> None:
    """The backs laid along the cloth would have to lie as the front, which is cut across it."""
    along = replace(
        PLAN, rules=(PLAN.rules[0], OnGrain(piece="back", grain="along"), PLAN.rules[2])
    )
    with pytest.raises(BadInput):
        compile_plan(replace(room.book, plans=(along,), cut=()), along)
    free = replace(PLAN, rules=PLAN.rules[2:])
    backs = lay_plan(replace(room.book, plans=(free,), cut=()), seconds=9.0, rounds=1)
    assert {p.turn_deg % 180 for p in backs.lay.placements} == {0.0}
    grain = replace(PLAN, rules=(OnGrain(piece="back", grain="along"), PLAN.rules[2]))
    room.change(lambda b: replace(b, plans=(grain,)))
    (said,) = gave_way(room.book)
    assert "is left out, for with what is cut already it cannot be: " in said
    laid = lay_plan(room.book, seconds=9.0, rounds=1)
    assert laid.faults == ()
    assert laid.lay.unplaced == {}


def test_on_folded_cloth_the_rest_is_cut_double_around_it(tmp_path: Path) -> None:
    """One of three pairs is cut: the others lie mirrored about the fold, clear of both of it.

    When a single piece is left to cut, the fold is none any more, and the lay is one still.
    """
    plain = Cloth(name="c", width=1000.0, length=3000.0)
    pieces = tuple(panel(n, 150.0 + 20 * k, 300.0, "pair") for k, n in enumerate("xyz"))
    plan = Plan(name="double", rules=(Folded(cloth="c", way="lengthwise"),))
    book = replace(book_of(plain), bought=Pattern(pieces=pieces), plans=(plan,))
    made = room_of(tmp_path / "b", book)
    first = made.lay()
    was = {p.shape: p for p in first.lay.placements}
    made.tick("y 1")
    made.tick("y 2")
    laid = lay_plan(made.book, seconds=9.0, rounds=1)
    assert laid.faults == ()
    places = {p.shape: p for p in laid.lay.placements}
    assert [places[n] for n in ("y 1", "y 2")] == [made.place(n) for n in ("y 1", "y 2")]
    assert sorted(laid.folds[0].pairs) == [("x 1", "x 2"), ("z 1", "z 2")]
    assert places["y 1"].x == pytest.approx(was["y 1"].x, abs=0.01)
    for name in ("x 1", "x 2", "z 1"):
        made.lay()
        made.tick(name)
    last = lay_plan(made.book, seconds=9.0, rounds=1)
    assert last.folds == ()
    assert last.faults == ()


def gave_way(book: Workbook) -> list[str]:
    laid = compile_plan(book, book.plans[0])
    return [say(s, Unit.cm) for s in laid.compiled.gave_way]


def test_picture_and_guide_say_what_is_cut(room: Room) -> None:
    """Its name on the lay, its line in the table, and what to do with those."""
    laid = stays(room, room.place("front"))
    words = [
        i.words
        for i in lay_picture(laid.compiled, laid.lay, "c", Unit.cm).items
        if hasattr(i, "words")
    ]
    assert any("front (cut)" in w for w in words)
    chapter = laying_section(laid, Unit.cm)
    assert any(
        "Those marked cut are cut already" in i
        for b in chapter.blocks
        for i in getattr(b, "items", ())
    )
    rows = [r for b in chapter.sections[0].blocks for r in getattr(b, "rows", ())]
    assert [r[1] for r in rows if r[1].endswith("cut)")] == ["front (cut)"]
    uncut = [s for s in laying_list(laid.compiled, laid.lay) if not s.cut]
    assert [s.called for s in uncut] == ["back 1", "back 2 (turned over)"]


def test_cut_a_hair_into_a_border_it_is_laid_around(room: Room) -> None:
    """A back that is cut 0.05 mm into the border it keeps off: neither told nor refused."""
    room.lay()
    room.tick("back 1")
    laid = compile_plan(room.book, room.book.plan())
    (off,) = (r for r in laid.compiled.problem.rules if isinstance(r, KeepOff) and "1" in r.shape)
    low = min(y for _, y in room.place("back 1").outline)
    into = [
        replace(c, y=c.y + off.high - low - 0.05) if c.shape == "back 1" else c
        for c in room.book.cut
    ]
    keep_cut(room.folder, into)
    assert min(y for _, y in room.place("back 1").outline) == pytest.approx(off.high - 0.05)
    assert told(room.book) == ""
    assert lay_plan(room.book, seconds=9.0, rounds=1).lay.unplaced == {}


def told(book: Workbook) -> str:
    laid = compile_plan(book, book.plans[0])
    return " ".join(say(s, Unit.cm) for s in laid.compiled.of_cut)


def test_a_cloth_edited_under_it_is_told_and_not_a_fault_of_the_lay(room: Room) -> None:
    """Narrower, shorter, a flaw where it lies: whole sentences; the search goes on around it."""
    was = room.place("front")
    far, high = (max(p[k] for p in was.outline) for k in (0, 1))
    narrow = replace(bordered(), width=high - 30.0, margin_upper=0.0)
    room.change(lambda b: replace(b, cloths=(narrow,)))
    assert "front lies off the usable cloth of c by 3 cm. Look at the cloth" in told(room.book)
    x, y = far - 60.0, 300.0
    ring = ((x, y), (x + 40, y), (x + 40, y + 30), (x, y + 30))
    torn = replace(bordered(), flaws=(Flaw(name="hole", ring=ring),))
    room.change(lambda b: replace(b, cloths=(torn,)))
    assert "front lies on a place of c to keep out of by" in told(room.book)
    stays(room, was)
    short = replace(bordered(), length=far - 50.0)
    room.change(lambda b: replace(b, cloths=(short,)))
    laid = lay_plan(room.book, seconds=9.0, rounds=1)
    assert not laid.lay.fits
    assert laid.lay.placements[0] == was


def test_a_plan_that_needs_it_elsewhere_is_told_and_still_laid(room: Room) -> None:
    """A pin elsewhere, a hem on another line: what the cut one does not keep is said, no more."""
    was = room.place("front")
    pin = Pin(piece="front", copy=1, cloth="c", x=was.x + 80, y=was.y, turn_deg=was.turn_deg)
    room.change(lambda b: replace(b, plans=(replace(PLAN, rules=(*PLAN.rules, pin)),)))
    said = "“front 1 is pinned on c” is not kept by “front”, which is cut: it is missed by 8 cm."
    assert said in gave_way(room.book)
    stays(room, was)
    higher = replace(PLAN.rules[0], above=15.0)
    room.change(lambda b: replace(b, plans=(replace(PLAN, rules=(higher, *PLAN.rules[1:])),)))
    (said,) = gave_way(room.book)
    assert said.startswith(
        "“front, hem, lies along the b, 1.5 cm above its lower line” is not kept"
    )
    assert said.endswith("by “front”, which is cut: it is missed by 1.5 cm.")
    assert stays(room, was).fit_words(Unit.cm) == "fits, but 1 rule of yours is not kept"
    assert "but not every rule is kept" in room.told()


def test_a_rule_that_what_is_cut_leaves_no_place_comes_as_near_as_it_can(room: Room) -> None:
    """Backs at a place of the repeat and meeting the front: one gives way, for the front is cut."""
    was = room.place("front")
    fixed = AtPhase(piece="back", point="upper left", along=None, across=13.0)
    rules = (PLAN.rules[1], fixed, PLAN.rules[2])
    room.change(lambda b: replace(b, plans=(replace(PLAN, rules=rules),)))
    laid = stays(room, was)
    (said,) = (say(s, Unit.cm) for s in laid.compiled.gave_way)
    assert "the best any lay can do misses by " in said
    assert "“what is cut lies where it was cut”; “back, upper left, lies 1.3 cm past" in said


def test_what_is_no_piece_or_no_cloth_any_more_is_told(room: Room) -> None:
    """Without the front its cloth stays gone; without the cloth it is not laid a second time."""
    was = room.place("front")
    whole = skirt()
    backs = replace(whole, pieces=whole.pieces[1:], seams=())
    room.change(lambda b: replace(b, bought=backs, plans=(Plan(name="free"),)))
    laid = lay_plan(room.book, seconds=9.0, rounds=1)
    places = {p.shape: p for p in laid.lay.placements}
    assert replace(places.pop("front, cut before"), shape="front") == was
    assert all(Polygon(p.outline).distance(Polygon(was.outline)) > 1.9 for p in places.values())
    assert "“front” is cut from “c”, and is no piece of the pattern now." in told(room.book)
    room.change(lambda b: replace(b, bought=whole, cloths=(replace(bordered(), name="d"),)))
    assert "“front” was cut from “c”, which is no cloth of the workbook now" in told(room.book)
    laid = lay_plan(room.book, seconds=9.0, rounds=1)
    assert {p.shape for p in laid.lay.placements} == {"back 1", "back 2"}


def test_a_cloth_that_is_renamed_keeps_what_is_cut_from_it(room: Room) -> None:
    """By the edit that renames it, its undo too."""
    was, opened = room.place("front"), room.lays.opened
    edit = SetCloth(cloth="c", values={"name": "wool"})
    opened.edit(edit, base=opened.read().revision)
    laid = lay_plan(room.book, seconds=9.0, rounds=1)
    assert laid.lay.placements[0] == replace(was, region="wool")
    opened.undo()
    stays(room, was)


def test_by_hand_it_cannot_be_moved_nor_lain_over(room: Room) -> None:
    """Neither dragged nor turned, in a sentence; another piece is not pinned over it."""
    room.lay()
    at = room.lays.opened.read()
    table = laid_table(room.lays, at).table
    p, q = table.places["front"], table.places["back 1"]
    moved = Wanted(shape="front", x=p.x + 5, y=p.y, turn_deg=p.turn_deg, flipped=p.flipped)
    with pytest.raises(CannotDo, match="it is cut already, and stays where it lies"):
        try_place(table, moved, Unit.cm)
    with pytest.raises(CannotDo, match="cut already"):
        turned(table, "front")
    over = Wanted(shape="back 1", x=p.x, y=p.y, turn_deg=q.turn_deg, flipped=q.flipped)
    tried = try_place(table, over, Unit.cm)
    assert "front" in tried.over
    assert not tried.may_pin
    hand = cutting_of(room.lays, at, piece="front").board.hand
    assert (hand.held, hand.turns) == (("It is cut, and stays where it lies.",), False)


def test_only_its_own_tick_takes_it_back(room: Room) -> None:
    """Unticked it is free again; the tick of a page that looked at another lay is refused."""
    room.lay()
    at = room.lays.opened.read()
    with pytest.raises(CannotDo, match="the pieces lie otherwise by now"):
        tick_line(room.lays, at, f"{TICK}1", "0123", done=True)
    with pytest.raises(BadInput, match="no such piece"):
        tick_line(room.lays, at, f"{TICK}99", "", done=True)
    room.tick("front", done=False)
    assert room.book.cut == ()
    laid = lay_plan(room.book, seconds=9.0, rounds=2)
    assert min(x for p in laid.lay.placements for x, _ in p.outline) < 1.0


def test_ticks_of_an_earlier_program_count(tmp_path: Path) -> None:
    """A list of ticks of the kept lay, and no record of what is cut: what it ticks is cut."""
    made = room_of(tmp_path / "b", book_of())
    laid = made.lay()
    steps = laying_list(laid.compiled, laid.lay)
    number = next(s.number for s in steps if s.shape == "back 1")
    ticks = {f"cut {number}": True, "lay 1": True}
    set_ticks(made.folder, "hems", lay_mark(laid.lay), ticks)
    there = recall(made.folder, load(made.folder))
    assert there is not None
    assert lay_mark(there.lay) == lay_mark(laid.lay)
    (one,) = again(made.folder).book.cut
    was = next(p for p in there.lay.placements if p.shape == "back 1")
    assert (one.shape, one.x, one.y) == ("back 1", was.x, was.y)
    made = again(made.folder)
    made.tick("front")
    assert [c.shape for c in made.book.cut] == ["back 1", "front"]


def test_a_damaged_record_is_told_and_set_aside(room: Room) -> None:
    """Half a file: nothing is raised, it is kept whole beside, and she is told to look."""
    file = cut_file(room.folder)
    broken = file.read_bytes()[:-40]
    file.write_bytes(broken)
    assert again(room.folder).book.cut == ()
    (notice,) = noticed(room.folder)
    assert notice.said.startswith("The record of what is cut was damaged.")
    assert (room.folder / notice.lies).read_bytes() == broken


def test_the_record_is_not_in_the_workbook_and_no_undo_knows_it(room: Room) -> None:
    """Neither file nor history says it; saving a workbook that has it loses nothing."""
    assert "cut" not in (room.folder / "workbook.toml").read_text().split("[[plan]]")[0].lower()
    steps = [s.words for s in room.lays.opened.steps()]
    assert not any("cut" in w for w in steps)
    before = cut_in(room.folder, room.book)
    save(room.book, room.folder)
    assert cut_in(room.folder, room.book) == before
    assert json.loads(cut_file(room.folder).read_text())["format"] == "clothwright-cut/1"
