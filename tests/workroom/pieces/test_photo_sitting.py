"""A paper piece in several photos waits: put together, measured, corrected; nothing is lost."""

from __future__ import annotations

import shutil

import pytest

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.vec import Vec
from clothwright.intake.waiting.said import with_answers
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.photo.correct import Correction
from clothwright.photo.standing import fair_across, spoiled, ticked, with_move, without_move
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.words import say, show_length
from clothwright.workbook import Workbook
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.pieces import (
    inbox,
    photo_said,
    photo_saying,
    photo_sitting,
    photo_solving,
    sitting,
)
from tests.photo.measure import off
from tests.photo.taken import (
    BAR,
    POCKET,
    jpegs,
    of_another_table,
    truth,
    with_a_pocket,
    without_sheets,
)
from tests.store.history.saving import revision

EMPTY = Pattern(pieces=())


@pytest.fixture(scope="module")
def solved(tmp_path_factory):
    """A workbook in which two photos of a front wait, put together once for all tests here."""
    folder = tmp_path_factory.mktemp("photos") / "mine"
    create(folder, Workbook(title="Mine", unit=Unit.cm))
    one = inbox.put_in(folder, "coat front.jpg", jpegs()[0])
    photo_said.add_photo(folder, one.id, "image.jpg", jpegs()[1])
    photo_sitting.view_of(one)
    return folder


@pytest.fixture
def folder(solved, tmp_path):
    shutil.copytree(solved, tmp_path / "mine")
    return tmp_path / "mine"


def correct(folder, key, at, to):
    """Put a place of the outline elsewhere, hold it, or take it out (None)."""
    return photo_sitting.correct(folder, key, lambda view: with_move(view, Correction(at, to)))


def give_back(folder, key, at):
    """Take the correction of a place back."""
    return photo_sitting.correct(folder, key, lambda view: without_move(view, at))


def all_back(folder, key):
    """Take all corrections back."""
    return photo_sitting.correct(folder, key, lambda view: ())


def across(folder, key, number):
    """Let the line run fair across a doubt."""
    return photo_sitting.correct(folder, key, lambda view: fair_across(view, number))


def tick(folder, key, number, said):
    """Say of a doubt that it is right, that it was moved, or nothing."""
    return photo_sitting.say(folder, key, lambda photos, view: ticked(photos, view, number, said))


def step(folder, key, *, back, have):
    """Undo or do again, as a page sends it."""
    fields = {"what": "undo" if back else "redo", "have": str(have)}
    photo_saying.say_of_photos(folder, key, fields, Unit.mm)
    return photo_sitting.view_of(piece(folder))


def piece(folder):
    return inbox.waiting(folder)[0]


def view(folder):
    return photo_sitting.view_of(piece(folder))


def outline_of(made) -> Path:
    return join_all(tuple(e.path for e in cutting_line(made).edges))


def test_photos_are_put_together_and_measured(folder):
    """Two photos, one outline; before the bar is said it is asked, then all has its true size."""
    one = piece(folder)
    look = sitting.look(one, EMPTY, Unit.cm)
    assert look.bar is not None
    assert not look.ready
    before = view(folder).found.outline.path.length
    photo_said.set_bar(folder, one.id, BAR)
    after = view(folder)
    assert after.found.outline.path.length == pytest.approx(0.99 * before, rel=1e-9)
    assert [t.name for t in after.photos.used] == ["coat front.jpg", "image.jpg"]
    assert sitting.look(one, EMPTY, Unit.cm).bar is None
    whole = off(after.found.outline.path, truth())
    assert whole.rms < 4.0  # lettering crosses the line: see below
    for bad in ("", "much", "20 cm 3", "250 mm"):
        with pytest.raises(BadInput, match=r"[Bb]ar"):
            photo_said.set_bar(folder, one.id, bad)


def test_a_line_drawn_across_a_doubt_is_where_it_should_be(folder):
    """Lettering bent the outline by millimetres; taken across, it is true within a millimetre."""
    one = piece(folder)
    photo_said.set_bar(folder, one.id, BAR)
    found = view(folder)
    wrong = max(
        range(len(found.doubts)),
        key=lambda k: abs(_true_distance(found, found.doubts[k].doubt.at)),
    )
    assert off(found.now.outline.path, truth()).worst > 3.0
    after = across(folder, one.id, wrong + 1)
    assert off(after.now.outline.path, truth()).worst < 1.2
    assert after.doubts[wrong].said == "moved"
    assert after.now.by_hand_mm > 3.0
    again = step(folder, one.id, back=True, have=1)
    assert again.now.by_hand_mm is None


def _true_distance(found, at):
    """How far the found outline strays near a doubt: the length of line within 15 mm of it."""
    path = found.found.outline.path
    return sum(1 for s in range(int(path.length)) if path.point_at(s).distance(at) < 15)


def test_corrections_are_kept_at_once_and_the_piece_follows_exactly(folder):
    """Read from the disk anew it is all there; the piece's cutting line is the corrected one."""
    one = piece(folder)
    photo_said.set_bar(folder, one.id, BAR)
    across(folder, one.id, 2)  # lettering that looked like a notch
    hold = next(h for h in view(folder).mended.holds if not h.corner)
    corner = next(h for h in view(folder).mended.holds if h.corner)
    to, there = hold.now + Vec(2.0, 1.0), corner.now + Vec(-3.0, 1.5)
    correct(folder, one.id, hold.at, to)
    kept = correct(folder, one.id, corner.at, there)
    again = view(folder)
    assert again.now.outline.path == kept.now.outline.path
    for place in (to, there):
        assert again.now.outline.path.nearest(place)[1] < 1e-6
    inbox.answer(folder, one.id, lambda w: with_answers(w, 0, allowance="none"))
    look = sitting.look(piece(folder), EMPTY, Unit.cm)
    (outline,) = [o for o in look.outlines if o.wanted]
    commit_edit(folder, sitting.edit_of(look), base=revision(folder))
    (made,) = load(folder).bought.pieces
    line = join_all(tuple(e.path for e in made.edges))
    for s in range(0, int(line.length), 7):
        assert again.now.outline.path.nearest(line.point_at(s))[1] < 0.001
    for place in (to, there):
        assert line.nearest(place)[1] < 0.001
    assert "from 2 photos" in made.note
    assert f"corrected by hand, by {again.now.by_hand_mm:.1f} mm at most" in made.note
    assert outline.name == "coat front"


def test_points_are_added_moved_taken_back_undone_and_done_again(folder):
    """Each step can be gone back and done again; a step sent twice counts once."""
    one = piece(folder)
    found = view(folder).found.outline.path
    at = found.point_at(333.0)
    added = correct(folder, one.id, at, at)
    assert added.now.outline.path.nearest(at)[1] < 1e-9
    (held,) = [h.now for h in added.mended.holds if h.by_hand]
    assert held.distance(at) < 1e-6
    moved = correct(folder, one.id, at, at + Vec(1, 1))
    assert moved.now.outline.path.nearest(at + Vec(1, 1))[1] < 1e-9
    assert len(moved.photos.before) == 2
    twice = correct(folder, one.id, at, at + Vec(1, 1))
    assert len(twice.photos.before) == 2
    undone = step(folder, one.id, back=True, have=2)
    assert undone.now.outline.path == added.now.outline.path
    again = step(folder, one.id, back=True, have=2)
    assert again.photos.moves == undone.photos.moves
    redone = step(folder, one.id, back=False, have=1)
    assert redone.now.outline.path == moved.now.outline.path
    back = give_back(folder, one.id, at)
    assert back.now.outline.path == found
    out = correct(folder, one.id, at, None)
    assert len(out.mended.taken) == 1
    assert all_back(folder, one.id).now.by_hand_mm is None


def test_what_cannot_be_corrected_is_a_sentence(folder):
    """Outside the picture, off the outline: nothing is changed."""
    one = piece(folder)
    at = view(folder).found.outline.path.point_at(100)
    for place, to in ((at, Vec(-5, 0)), (Vec(3, 3), Vec(4, 4))):
        with pytest.raises(BadInput, match="Outline"):
            correct(folder, one.id, place, to)
    with pytest.raises(BadInput, match="no doubt 99"):
        tick(folder, one.id, 99, "right")
    assert view(folder).photos.before == ()


def test_an_outline_that_crosses_itself_is_told_with_the_place(folder):
    """A point dragged over the opposite edge: told at once, kept, and undone like any other."""
    one = piece(folder)
    found = view(folder).found.outline.path
    assert view(folder).spoiled == ()
    low, high = found.bounds()
    at = min((h.at for h in view(folder).mended.holds), key=lambda p: p.x)
    to = Vec(high.x + 15.0, at.y)
    assert photo_sitting.tried(one, at, to).spoiled
    out = correct(folder, one.id, at, to)
    words = say(out.spoiled, Unit.mm)
    crosses = [c.point for c in self_crossings(out.now.outline.path)]
    assert any(f"{show_length(p.x, Unit.mm)} from the left" in words for p in crosses)
    assert low.x < crosses[0].x < to.x
    assert len(out.photos.moves) == 1
    back = step(folder, one.id, back=True, have=1)
    assert (back.spoiled, back.now.outline.path) == ((), found)


def test_an_outline_turned_inside_out():
    """Mirrored, so that it runs the other way round: no piece, though it crosses itself nowhere."""
    square = polyline([(0, 0), (300, 0), (300, 400), (0, 400), (0, 0)])
    mirrored = polyline([(300, 0), (0, 0), (0, 400), (300, 400), (300, 0)])
    bow = polyline([(0, 0), (300, 0), (0, 400), (300, 400), (0, 0)])
    assert spoiled(square, square) == ()
    assert spoiled(square, mirrored) == ("The outline is turned inside out.",)
    assert say(spoiled(square, bow), Unit.cm) == (
        "The outline crosses itself 15 cm from the left, 20 cm from below."
    )


def test_doubts_are_ticked_and_stay_in_the_notes_until_then(folder):
    """What was looked at is no note any more; the tick can be taken back."""
    one = piece(folder)

    def notes():
        return " ".join(sitting.look(piece(folder), EMPTY, Unit.cm).notes)

    count = len(view(folder).doubts)
    assert "gap" in notes()
    for k in range(count):
        tick(folder, one.id, k + 1, "right")
    assert {d.said for d in view(folder).doubts} == {"right"}
    assert "gap" not in notes()
    tick(folder, one.id, 1, "")
    assert [d.said for d in view(folder).doubts].count("") == 1


def test_one_more_photo_and_one_left_out(folder):
    """Corrections and ticks go along to what is put together anew; a photo left out comes back."""
    one = piece(folder)
    place = view(folder).found.outline.path.point_at(500.0)
    to = place + Vec(2.0, -1.0)
    correct(folder, one.id, place, to)
    tick(folder, one.id, 1, "right")
    before = view(folder)
    photo_said.add_photo(folder, one.id, "third.jpg", jpegs()[2])
    after = view(folder)
    assert len(after.photos.used) == 3
    assert after.now.by_hand_mm is not None
    assert after.lost == 0
    assert "right" in [d.said for d in after.doubts]
    assert after.now.outline.path.length == pytest.approx(before.now.outline.path.length, rel=0.01)
    photo_said.use_photo(folder, one.id, 3, used=False)
    again = view(folder)
    assert again.now.outline.path.nearest(to)[1] < 0.01
    for k in (1, 2):
        if k == 1:
            photo_said.use_photo(folder, one.id, k, used=False)
    with pytest.raises(CannotDo, match="one photo has to be left"):
        photo_said.use_photo(folder, one.id, 2, used=False)


def test_what_is_wrong_with_a_photo_names_it_and_loses_nothing(folder):
    """No sheet, no photo, too many: a sentence each; the others and all answers stay."""
    one = piece(folder)
    photo_said.set_bar(folder, one.id, BAR)
    for name, data, words in (
        ("lonely.jpg", without_sheets(), r"lonely\.jpg.*no marker sheet"),
        ("half.jpg", jpegs()[2][:9000], r"half\.jpg.*damaged"),
        ("text.jpg", b"hello", r"text\.jpg.*as a photo"),
        ("notes.svg", b"<svg/>", r"notes\.svg.*as a photo"),
    ):
        with pytest.raises(BadInput, match="(?i)" + words):
            photo_said.add_photo(folder, one.id, name, data)
    for k in range(3):
        photo_said.add_photo(folder, one.id, f"more {k}.jpg", jpegs()[0])
    with pytest.raises(CannotDo, match="5 is the most"):
        photo_said.add_photo(folder, one.id, "sixth.jpg", jpegs()[0])
    photos = photo_said.photos_of(piece(folder))
    assert len(photos.taken) == 5
    assert photos.bar == BAR


def test_nothing_is_worked_out_twice(folder, monkeypatch):
    """After a start of the program what was found is read from the folder, not found again."""

    def never(*_, **__):
        raise AssertionError("worked out again")

    monkeypatch.setattr(photo_solving, "flatten", never)
    assert view(folder).found.outline.path.length > 1000
    (folder / "inbox" / piece(folder).id / "photos.json").write_text("{", encoding="utf-8")
    photos = photo_said.photos_of(piece(folder))
    assert [t.name for t in photos.used] == ["coat front.jpg"]


def test_photos_that_cannot_be_put_together_are_kept(folder):
    """A photo of sheets that lie otherwise is named; left out, all goes on as before."""
    one = piece(folder)
    photo_said.add_photo(folder, one.id, "another.jpg", of_another_table())
    for _ in range(2):
        trouble = sitting.look(one, EMPTY, Unit.cm).trouble
        assert "another.jpg: the sheets and photos do not agree" in trouble
    photo_said.use_photo(folder, one.id, 3, used=False)
    assert sitting.look(one, EMPTY, Unit.cm).trouble == ""
    assert len(photo_said.photos_of(one).taken) == 3


def test_what_was_thrown_away_meanwhile_is_a_sentence(folder):
    """Another device threw it away while it was shown here."""
    one = piece(folder)
    inbox.throw_away(folder, one.id)
    for ask in (photo_sitting.view_of, photo_said.photos_of):
        with pytest.raises(BadInput, match=r"(?i)not waiting|cannot be read"):
            ask(one)
    assert sitting.look(one, EMPTY, Unit.cm).trouble


def test_another_piece_is_pointed_at(tmp_path):
    """A pocket drawn on a front: pressed in its middle it is found, in its size; off it, not."""
    create(tmp_path / "mine", Workbook(title="Mine", unit=Unit.cm))
    folder = tmp_path / "mine"
    one = inbox.put_in(folder, "front.jpg", with_a_pocket())
    photo_said.set_bar(folder, one.id, BAR)
    largest = photo_sitting.view_of(one)
    table = photo_solving.whole_table(one.stored.parent, largest.photos)
    assert table is not None
    middle = _in_table(table, largest)
    pocket = photo_sitting.point_at(folder, one.id, middle)
    low, high = pocket.found.outline.path.bounds()
    sides = sorted((high.x - low.x, high.y - low.y))
    assert sides == pytest.approx(sorted(POCKET), abs=12)  # it lies turned by some degrees
    length = pocket.found.outline.path.length
    assert length == pytest.approx(2 * sum(POCKET), rel=0.01)
    for off_it in (Vec(2, 2), Vec(-5, 9)):
        with pytest.raises(BadInput):
            photo_sitting.point_at(folder, one.id, off_it)
    assert photo_sitting.view_of(one).found.outline.path.length == length
    again = photo_sitting.point_at(folder, one.id, None)
    assert again.found.outline.path.length == pytest.approx(largest.found.outline.path.length)


def _in_table(table, view) -> Vec:
    """Where the middle of the simulated table, in the middle of the front, is in the picture."""
    number, corners = next(iter(table.sheets.items()))
    there = view.found.sheets[number]
    low, high = view.found.outline.path.bounds()
    share = view.share
    return (low + high) * 0.5 + corners[0] * share - there[0]


def test_she_says_that_the_edge_is_meant_and_no_longer(tmp_path):
    """The front is drawn on a larger sheet: its edge is farther out, and the line is found again.

    What cannot be followed is a sentence, and leaves all as it was.
    """
    folder = tmp_path / "mine"
    create(folder, Workbook(title="Mine", unit=Unit.cm))
    one = inbox.put_in(folder, "front.jpg", jpegs()[0])
    drawn = photo_sitting.view_of(one).found.outline
    answer = photo_saying.say_of_photos(folder, one.id, {"what": "follow", "by": "edge"}, Unit.cm)
    assert answer == "The outline follows the edge of the paper now."
    cut = photo_sitting.view_of(one).found.outline
    assert (drawn.by_line, cut.by_line) == (True, False)
    assert cut.path.length > drawn.path.length + 50.0
    with pytest.raises(BadInput, match='an outline by "moon"'):
        photo_sitting.follow(folder, one.id, "moon")
    assert photo_said.photos_of(one).follow == "edge"
    assert photo_sitting.follow(folder, one.id, "").found.outline.by_line
