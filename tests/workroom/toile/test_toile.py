"""What the toile showed: noted, kept, answered by changes, and told in the record."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

import pytest
from shapely import LineString, Polygon

from clothwright.body.toile import ToileNote
from clothwright.changes import CHANGES
from clothwright.demo.workbooks import DEMOS
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.workbook import Step, replay
from clothwright.workroom.changing.record import lines_of
from clothwright.workroom.editing.edits.changes import AddChange, RepeatChange
from clothwright.workroom.editing.edits.companions import AddCompanion
from clothwright.workroom.editing.edits.toile import NoteToile, SetToile
from clothwright.workroom.editing.edits.whole import SetUnit
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.sewing.guiding import guide_document
from clothwright.workroom.toile.proposed import NoteShown, notes_shown, take_proposed
from clothwright.workroom.toile.sign import SeenAt, kind_of_place
from clothwright.workroom.toile.signs import SIGNS
from clothwright.workroom.walking.paper import toile_of
from tests.words.walker import strays

SIDE = {"where": "coat front.side", "seen": "pinned-out", "by": "1/2 in", "day": "2026-11-29"}
WAIST = {"where": "coat front.waist", "seen": "pinned-out", "by": "3/8 in"}


@pytest.fixture
def opened(tmp_path: Path) -> OpenBook:
    """The coat and skirt in a folder; it is in inches."""
    create(tmp_path / "coat", DEMOS[0].make())
    return OpenBook(name="coat", folder=tmp_path / "coat")


def note(opened: OpenBook, values: dict[str, str]) -> None:
    """Note something."""
    opened.edit(NoteToile(values=values), base=opened.read().revision)


def shown(opened: OpenBook) -> tuple[NoteShown, ...]:
    """What is shown of the notes now."""
    at = opened.read()
    return notes_shown(at.book, opened.replayed(at))


def line(pattern: Pattern, piece: str, edge: str) -> LineString:
    """An edge, as shapely has it."""
    return LineString(pattern.piece(piece).edge(edge).path.flatten(0.01))


def test_a_fold_over_a_side_seam_is_taken_half_at_each_side(opened: OpenBook) -> None:
    """Both edges move in by half of the fold, straight across the grain (shapely measures it)."""
    before = replay(load(opened.folder)).pattern
    note(opened, {**SIDE, "where": "skirt front.side"})
    take_proposed(opened, 1, 1)
    after = replay(load(opened.folder)).pattern
    for piece in ("skirt front", "skirt back"):
        old, new = (line(p, piece, "side") for p in (before, after))
        low, high = sorted((old.bounds[1], old.bounds[3]))
        for height in (low + 0.2 * (high - low), low + 0.8 * (high - low)):
            across = LineString([(-2000.0, height), (2000.0, height)])
            gap = old.intersection(across).distance(new.intersection(across))
            assert gap == pytest.approx(12.7 / 2, abs=0.01)
        old, new = (Polygon(p.piece(piece).outline.flatten(0.05)) for p in (before, after))
        assert new.area < old.area
    assert shown(opened)[0].proposals == ()
    assert len(shown(opened)[0].taken) == 1


def test_a_fold_along_a_line_goes_round_the_garment(opened: OpenBook) -> None:
    """Front and back, sewn together at the side, are both shortened by the whole fold."""
    before = replay(load(opened.folder)).pattern
    note(opened, WAIST)
    take_proposed(opened, 1, 1)
    after = replay(load(opened.folder)).pattern
    for piece in ("coat front", "coat back"):
        tall = [Polygon(p.piece(piece).outline.flatten(0.05)).bounds for p in (before, after)]
        assert (tall[0][3] - tall[0][1]) - (tall[1][3] - tall[1][1]) == pytest.approx(
            9.525, abs=0.1
        )


def test_the_record_tells_what_the_toile_showed(opened: OpenBook) -> None:
    """The reason of the change is the note, in the unit of the workbook as it is by now."""
    note(opened, SIDE)
    take_proposed(opened, 1, 1)
    for unit, by in (("in", "by 1/2 in"), ("cm", "by 1.3 cm")):
        opened.edit(SetUnit(unit=unit), base=opened.read().revision)
        at = opened.read()
        last = lines_of(at.book, opened.replayed(at))[-1]
        assert last.why.startswith("The toile of 29 November 2026 showed at coat front, side: ")
        assert by in last.why


def test_guide_and_toile_on_paper_tell_every_note(opened: OpenBook) -> None:
    """What was seen, with its day, and what became of it: taken, left, or open still."""
    note(opened, SIDE)
    note(opened, {**WAIST, "words": "standing"})
    note(opened, {**WAIST, "seen": "let-out"})
    take_proposed(opened, 1, 1)
    opened.edit(SetToile(note="2", values={"answer": "left"}), base=opened.read().revision)
    at = opened.read()
    done = opened.replayed(at)
    for document in (guide_document(at.book, (), done), toile_of(at.book, done)):
        told = next(c for _, c in document.walk() if c.title == "What the trial garment showed")
        first, second, third = told.blocks[0].items  # type: ignore[union-attr]
        assert first.startswith("The toile of 29 November 2026 showed at coat front, side: ")
        assert "Took in coat front (side) and coat back (side)" in first
        assert second.endswith("Your words: “standing”. Left as it is.")
        assert third.endswith("Not answered yet.")


def test_each_is_one_step_that_can_be_undone(opened: OpenBook) -> None:
    """Noted, answered, left: undone one after the other, all is as it was."""
    was = load(opened.folder)
    note(opened, SIDE)
    take_proposed(opened, 1, 1)
    opened.edit(SetToile(note="1", values={"answer": "left"}), base=opened.read().revision)
    assert shown(opened)[0].left
    for _ in range(3):
        opened.undo()
    assert load(opened.folder) == was


def test_two_notes_made_at_once_are_both_kept(opened: OpenBook) -> None:
    """Made by two who looked at the same state, each is there, under a name of its own."""
    base = opened.read().revision
    opened.edit(NoteToile(values=SIDE), base=base)
    opened.edit(NoteToile(values=WAIST), base=base)
    notes = load(opened.folder).toile
    assert [n.where for n in notes] == ["coat front.side", "coat front.waist"]
    assert len({n.name for n in notes}) == 2


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({**SIDE, "seen": "pinned out"}, "pinned-out"),
        ({**SIDE, "by": "0"}, "more than"),
        ({**SIDE, "by": "wide"}, "wide"),
        ({**SIDE, "day": "Sunday"}, "no day"),
        ({**SIDE, "side": "front"}, "front"),
        ({**SIDE, "where": "nowhere"}, "expected one of coat front"),
        ({**SIDE, "where": "coat front.sidde"}, 'Did you mean "side"'),
    ],
)
def test_what_cannot_be_noted_is_said(opened: OpenBook, values: dict[str, str], said: str) -> None:
    """A sign, a length, a day, a side or a place that cannot be: refused, nothing is written."""
    with pytest.raises(BadInput, match=said):
        note(opened, values)
    assert load(opened.folder).toile == ()


def test_what_is_taken_is_not_taken_again(opened: OpenBook) -> None:
    """It says that the change is there already, not that there is no such number."""
    note(opened, {**SIDE, "where": "skirt front.side"})
    for _ in shown(opened)[0].proposals:
        take_proposed(opened, 1, 1)
    with pytest.raises(CannotDo, match="taken already"):
        take_proposed(opened, 1, 1)


def at_place(where: str, seen: str = "pinned-out") -> NoteShown:
    """What is shown of a note at a place of the coat and skirt."""
    book = DEMOS[0].make()
    made = replace(book, toile=(ToileNote(name="1", where=where, seen=seen, by=6.0),))
    return notes_shown(made, replay(made))[0]


def test_a_place_that_is_gone_is_said() -> None:
    """A piece or a place that is there no more proposes nothing, and says so."""
    assert "coat frnt" in at_place("coat frnt.side").trouble
    assert "no edge, line or point" in at_place("coat front.sidde").trouble
    assert "nobody knows" in at_place("coat front.side", seen="odd").said
    for one in (at_place("coat frnt.side"), at_place("coat front.sidde")):
        assert one.proposals == ()


def test_a_change_that_answers_a_note_that_is_gone_is_refused(opened: OpenBook) -> None:
    """A change names a note that is there."""
    change = AddChange(
        kind="set-hem", params={"edges": "coat front.hem", "depth": "2 in"}, toile="9"
    )
    with pytest.raises(BadInput, match="note of the toile"):
        opened.edit(change, base=opened.read().revision)


def test_every_sign_proposes_changes_that_can_be_read() -> None:
    """Wherever it can be noted, what it proposes is a change of the menu with its own fields."""
    pattern = replay(DEMOS[0].make()).pattern
    known = {c.id: {f.name for f in fields(c.params)} for c in CHANGES}
    assert len({s.id for s in SIGNS}) == len(SIGNS)
    for sign in SIGNS:
        for piece in pattern.pieces:
            places = ("", *(e.name for e in piece.edges), *(v.name for v in piece.levels))
            for place in places:
                kind = kind_of_place(piece, place)
                if kind in sign.at:
                    seen = SeenAt(pattern=pattern, piece=piece, place=place, kind=kind, by=5.0)
                    for mend in sign.ways(seen):
                        assert set(mend.params) <= known[mend.change], sign.id


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_every_note_reads_in_her_unit(unit: Unit) -> None:
    """Each sign where it can be noted: no other unit, no id, no dotted name in what is shown."""
    book = replace(DEMOS[0].make(), unit=unit)
    notes = tuple(
        ToileNote(name=s.id, where=where, seen=s.id, by=9.5, side="left", day="2026-11-29")
        for s in SIGNS
        for where in ("coat front.side", "coat front.waist", "coat front.underarm", "coat front")
        if kind_of_place(book.bought.piece("coat front"), where.partition(".")[2]) in s.at[:1]
    )
    made = replace(book, toile=notes)
    for one in notes_shown(made, replay(made)):
        words = [one.said, one.cause, one.trouble, one.caution, *one.taken]
        words += [w for p in one.proposals for w in (p.title, p.does, p.after, p.trouble)]
        assert strays(" ".join(words), unit, book.bought) == []


def test_a_place_follows_what_a_change_called_otherwise() -> None:
    """A note at an edge of a piece that was cut in two since is at the part that has the edge."""
    cut = Step(change="piece-panel", params=CUT)
    book = replace(DEMOS[0].make(), steps=(cut,))
    for where in ("skirt front.hem", "skirt front.waist"):
        made = replace(book, toile=(ToileNote(name="1", where=where, seen="too-low", by=6.0),))
        (shown_now,) = notes_shown(made, replay(made))
        assert shown_now.trouble == ""
        assert shown_now.proposals[0].trouble == ""


CUT = {"piece": "skirt front", "line": "hip", "names": "yoke front, lower front"}


def test_a_tight_hip_is_shared_over_four_edges(opened: OpenBook) -> None:
    """5 cm all round is 1.25 cm at each of four edges (USDA, Fitting Dresses, 1946), by shapely."""
    before = replay(load(opened.folder)).pattern
    note(opened, {"where": "skirt front.hip", "seen": "skirt-rides-up", "by": "5 cm"})
    take_proposed(opened, 1, 1)
    after = replay(load(opened.folder)).pattern
    for piece in ("skirt front", "skirt back"):
        level = next(v for v in before.piece(piece).levels if v.name == "hip")
        across = LineString([(-2000.0, level.at.y), (2000.0, level.at.y)])
        wide = [
            Polygon(p.piece(piece).outline.flatten(0.02)).intersection(across).length
            for p in (before, after)
        ]
        assert wide[1] - wide[0] == pytest.approx(12.5, abs=0.05)


@pytest.mark.parametrize(
    ("where", "seen", "change", "by"),
    [
        ("coat front", "strain-across-bust", "full-bust", "1.5 cm"),
        ("coat front", "loose-below-bust", "full-bust", "-1.5 cm"),
        ("coat front", "folds-tip-to-centre", "shoulder-slope", "3 cm"),
        ("coat back", "folds-neck-to-underarm", "shoulder-slope", "-3 cm"),
        ("coat front", "armhole-on-arm", "shoulder-width", "-3 cm"),
        ("coat back", "shoulder-tight", "shoulder-width", "3 cm"),
        ("coat front", "shoulder-seam-behind", "forward-shoulder", "3 cm"),
        ("coat front.neck", "stands-off", "gaping", "3 cm"),
        ("coat back", "strain-across-back", "broad-back", "1.5 cm"),
        ("coat back", "folds-to-side-back", "round-back", "3 cm"),
        ("coat back.waist", "sags-below-blades", "sway-back", "3 cm"),
        ("skirt back.centre", "folds-under-seat", "seat", "-3 cm"),
        ("skirt back.centre", "folds-point-up-from-crotch", "seat", "3 cm"),
        ("coat sleeve", "sleeve-will-not-reach", "full-upper-arm", "3 cm"),
        ("skirt front.hem", "too-high", "lengthen", "3 cm"),
        ("coat front.underarm", "too-low", "move-edge", "3 cm"),
        ("skirt front.hip", "waist-loose", "let-out", "-3 cm"),
        ("skirt front.centre waist", "skirt-swings-out", "abdomen", "3 cm"),
    ],
)
def test_what_is_seen_is_answered_by_what_corrects_it(
    where: str, seen: str, change: str, by: str
) -> None:
    """Fault and correction as the fitting bulletins pair them; half of what both sides lack."""
    book = replace(DEMOS[0].make(), unit=Unit.cm)
    made = replace(book, toile=(ToileNote(name="1", where=where, seen=seen, by=30.0),))
    first = notes_shown(made, replay(made))[0].proposals[0]
    assert (first.change, first.params["by"]) == (change, by)


def test_an_armhole_is_lowered_with_all_its_cap_is_sewn_into() -> None:
    """Front and back together, as `shape-opening` asks; a neck by itself, at its centre."""
    book = replace(DEMOS[0].make(), unit=Unit.cm)
    for where, edges in (
        ("coat front.armhole", ["coat front.armhole", "coat back.armhole"]),
        ("coat back.neck", ["coat back.neck"]),
    ):
        made = replace(book, toile=(ToileNote(name="1", where=where, seen="too-high", by=10.0),))
        first = notes_shown(made, replay(made))[0].proposals[0]
        assert (first.change, first.params["edges"]) == ("shape-opening", edges)
        assert first.params["lower"] == "1 cm"


def test_what_goes_with_the_piece_is_offered_the_same(opened: OpenBook) -> None:
    """A sleeve widened, its lining is named; done there, too, that change answers the same note."""
    goes = AddCompanion(piece="lining sleeve", kind="lining", along=("coat sleeve",))
    opened.edit(goes, base=opened.read().revision)
    note(opened, {"where": "coat sleeve", "seen": "sleeve-will-not-reach", "by": "1 in"})
    take_proposed(opened, 1, 1)
    (one,) = shown(opened)
    assert [words for _, words in one.beside] == ["lining sleeve"]
    opened.edit(RepeatChange(change=one.beside[0][0]), base=opened.read().revision)
    (then,) = shown(opened)
    assert then.beside == ()
    made = [words.partition(" 1 in")[0] for words in then.taken]
    assert made == ["Made coat sleeve", "Made lining sleeve"]
