"""The inbox and the sitting: nothing is lost, nothing is guessed, one edit adds the pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.geometry.vec import Vec
from clothwright.intake.waiting import edges
from clothwright.intake.waiting.said import with_answers
from clothwright.pattern.pattern import Pattern
from clothwright.store import create, load, piece_to_svg, redo, undo
from clothwright.store.noticed import noticed
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.pieces import inbox, sitting
from tests.store.history.saving import revision
from tests.web.intake_demo import bare, demo_piece

NONE = Pattern(pieces=())


@pytest.fixture
def folder(tmp_path):
    create(tmp_path / "mine", Workbook(title="Mine", unit=Unit.inch))
    return tmp_path / "mine"


def put(folder, name="skirt front"):
    return inbox.put_in(folder, f"{name}.svg", bare(demo_piece(name)))


def seen(one, bought=NONE):
    return sitting.look(one, bought, Unit.inch)


def say(folder, one, **values):
    return inbox.answer(folder, one.id, lambda w: with_answers(w, 0, **values))


def test_what_comes_in_waits_and_comes_back(folder):
    """A drawing and its answers are read from the disk anew; the workbook is as it was."""
    one = put(folder)
    say(folder, one, name="my front", edges=("a", "b"), take="yes")
    again = inbox.one_waiting(folder, one.id)
    assert again.file == "skirt front.svg"
    assert again.about(0).answers.name == "my front"
    assert again.about(0).answers.edges == ("a", "b")
    assert again.about(0).take == "yes"
    assert load(folder).bought.pieces == ()
    inbox.throw_away(folder, one.id)
    assert inbox.waiting(folder) == ()


def test_nothing_is_added_before_the_questions_are_answered(folder):
    """The allowance must be said; then one edit adds the piece, which undo takes out again."""
    one = put(folder)
    look = seen(one)
    assert not look.ready
    with pytest.raises(CannotDo, match="seam allowance"):
        sitting.edit_of(look)
    look = seen(say(folder, one, allowance="drawn"))
    assert look.ready
    commit_edit(folder, sitting.edit_of(look), base=revision(folder))
    (piece,) = load(folder).bought.pieces
    assert piece == look.outlines[0].piece
    assert [e.name for e in piece.edges] == ["hem", "side", "waist", "centre"]
    undo(folder)
    assert load(folder).bought.pieces == ()
    redo(folder)
    assert load(folder).bought.pieces == (piece,)


def test_a_name_that_is_taken_is_asked_about(folder):
    """Another name, or in the place of the other: never silently."""
    kept = Pattern(pieces=(demo_piece("skirt front"),))
    one = say(folder, put(folder), allowance="drawn")
    assert [q.id for q in seen(one, kept).outlines[0].must] == ["name"]
    assert seen(say(folder, one, name="front 2"), kept).ready
    instead = seen(say(folder, one, name="skirt front", replace="yes"), kept)
    assert instead.ready
    assert sitting.edit_of(instead).replace


def test_an_outline_can_be_left_out(folder):
    """What is said to be no piece is not added; when nothing is left, that is said."""
    one = say(folder, put(folder), take="no")
    with pytest.raises(CannotDo, match="no outline of it is a piece"):
        sitting.edit_of(seen(one))


def test_our_own_drawings_need_no_answers(folder):
    """An annotated drawing is read exactly."""
    piece = demo_piece("coat back")
    one = inbox.put_in(folder, "back.svg", piece_to_svg(piece).encode())
    look = seen(one)
    assert look.ready
    assert look.outlines[0].piece == piece


def test_corners_are_made_and_unmade(folder):
    """A press makes a corner, a press on it unmakes it; names stay with their edges."""
    one = say(folder, put(folder), allowance="drawn")
    outline = seen(one).outlines[0]
    names = [e.name for e in outline.piece.edges]
    one = edges.with_edges(one, outline, names, "centre", {})
    hem = outline.piece.edge("hem").path
    at = hem.point_at(hem.length / 2)
    more = edges.with_corner(one, seen(one).outlines[0], at)
    got = seen(more).outlines[0].piece
    assert sorted(e.name for e in got.edges) == sorted([*names, "hem 2"])
    assert got.fold.name == "centre"
    less = edges.with_corner(more, seen(more).outlines[0], at + Vec(1.0, 1.0))
    assert [e.name for e in seen(less).outlines[0].piece.edges] == names
    with pytest.raises(BadInput, match="not on the outline"):
        edges.with_corner(one, seen(one).outlines[0], Vec(9000, 0))


def test_the_last_two_corners_stay(folder):
    """An outline needs two corners to have edges."""
    one = say(folder, put(folder), allowance="drawn")
    for corner in edges.corners_of(seen(one).outlines[0])[:2]:
        one = edges.with_corner(one, seen(one).outlines[0], corner.at)
    left = next(c for c in edges.corners_of(seen(one).outlines[0]) if c.on)
    with pytest.raises(CannotDo, match="two corners"):
        edges.with_corner(one, seen(one).outlines[0], left.at)


def test_edges_are_named_in_the_order_shown(folder):
    """Names, a fold and an allowance of its own reach the edge they stood beside."""
    one = say(folder, put(folder), allowance="5/8 in")
    outline = seen(one).outlines[0]
    _, _, parts, names = edges.settled(outline)
    k = names.index("bottom")
    given = ["lower hem" if n == k else f"edge {n}" for n in range(len(parts))]
    one = edges.with_edges(one, outline, given, "none", {k: "2 1/2 in"})
    got = seen(one).outlines[0]
    assert got.trouble == ""
    assert got.piece.edge("lower hem").allowance == pytest.approx(63.5)
    low = min(p.y for e in got.piece.edges for p in (e.path.start, e.path.end))
    assert got.piece.edge("lower hem").path.start.y == pytest.approx(low, abs=1.0)
    for bad in ("a,b", "", "a=b", "a.b"):
        with pytest.raises(BadInput, match="edge"):
            edges.with_edges(one, got, [bad, *given[1:]], "", {})


def test_another_answer_of_the_allowance_begins_the_edges_anew(folder):
    """When another line is cut into edges, names and corners of the first would not fit it."""
    one = say(folder, put(folder), allowance="drawn")
    outline = seen(one).outlines[0]
    one = edges.with_edges(one, outline, ["a", "b", "c", "d"], "none", {})
    one = edges.with_allowance(one, seen(one).outlines[0], "5/8 in", "")
    said = one.about(0)
    assert (said.answers.corners, said.answers.edges) == ("", ())
    assert seen(one).outlines[0].trouble == ""


def test_the_size_is_asked_when_the_file_has_no_unit(folder):
    """Nothing is added before it is said; "10 in is 254" makes it ten inches."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 300">'
        '<path d="M20 20H274V274H20Z"/></svg>'
    )
    one = inbox.put_in(folder, "square.svg", svg.encode())
    one = say(folder, one, allowance="none")
    assert seen(one).scale is not None
    with pytest.raises(CannotDo, match="names no unit"):
        sitting.edit_of(seen(one))
    one = edges.with_scale(one, "10 in is 254")
    (outline,) = seen(one).outlines
    assert outline.piece.outline.length == pytest.approx(4 * 254)
    (larger,) = seen(edges.with_scale(one, "cm")).outlines
    assert larger.piece.outline.length == pytest.approx(10160)


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.doc", b"x", "not read yet"),
        ("a", b"x", "no ending"),
        ("a.svg", b"", "empty"),
        ("../../a.exe.svg/..", b"x", "no ending"),
    ],
)
def test_what_no_reader_reads_is_not_kept(folder, name, data, words):
    """A sentence, and nothing in the inbox."""
    with pytest.raises(ClothwrightError, match=words):
        inbox.put_in(folder, name, data)
    assert inbox.waiting(folder) == ()


def test_no_path_leads_out_of_the_inbox(folder):
    """Whatever the file is called, it lies in a folder of ours under a name of ours."""
    one = inbox.put_in(folder, "..\\..\\evil/../x.svg", bare(demo_piece("coat back")))
    assert one.file == "x.svg"
    assert (folder / "inbox") in one.stored.parents
    with pytest.raises(BadInput, match="no such drawing"):
        inbox.one_waiting(folder, "../inbox/" + one.id)


def test_the_inbox_has_an_end(folder, monkeypatch):
    """Too many waiting drawings are refused in words."""
    monkeypatch.setattr(inbox, "MOST_WAITING", 1)
    put(folder)
    with pytest.raises(CannotDo, match="waiting already"):
        put(folder)


@pytest.mark.parametrize(
    "text", ["", "{", '{"format": "other"}', '{"format": "clothwright-inbox/1"}', "[]"]
)
def test_a_drawing_with_damaged_answers_still_waits(folder, text):
    """It is there, its answers begun anew; what was damaged is set aside whole, and told."""
    one, other = put(folder), put(folder, "skirt back")
    file = one.stored.parent / "sitting.json"
    file.write_text(text)
    again, same = sorted(inbox.waiting(folder), key=lambda w: w.id != one.id)
    assert (again.id, again.file, again.said) == (one.id, "drawing.svg", {})
    assert same == other
    inbox.answer(folder, one.id, lambda w: replace(w, scale="mm"))
    assert inbox.one_waiting(folder, one.id).scale == "mm"
    (notice,) = noticed(folder)
    assert notice.said.startswith("What you said about a drawing")
    assert (folder / notice.lies).read_text() == text


def test_a_drawing_keeps_its_name_where_damage_left_it(folder):
    """The file's name is taken from what is left of the answers; a name of another kind is not."""
    one = put(folder)
    file = one.stored.parent / "sitting.json"
    whole = file.read_bytes()
    file.write_bytes(whole[:-3])
    assert [w.file for w in inbox.waiting(folder)] == [one.file]
    file.write_bytes(whole[:-3].replace(b".svg", b".exe"))
    assert [w.file for w in inbox.waiting(folder)] == ["drawing.svg"]
    file.unlink()
    assert [w.file for w in inbox.waiting(folder)] == ["drawing.svg"]


def test_a_drawing_that_cannot_be_read_says_so(folder):
    """What is wrong with the file is told in the look, not raised."""
    one = inbox.put_in(folder, "broken.svg", b"<svg")
    assert "not well-formed" in seen(one).trouble
    one.stored.unlink()
    assert seen(replace(one, file="gone.svg")).trouble
