"""Seams proposed for demo pieces (demo data): the real ones are among the first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import Transform
from clothwright.intake.edges import names_of
from clothwright.intake.seams.ends import ends_words
from clothwright.intake.seams.proposed import key_of, pair_of, proposed_seams
from clothwright.intake.seams.said import SeamSaid, said_seam
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Mark, Notch, Piece
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.pattern.walk import ease_bounds, walk_seam
from clothwright.store import create, load, undo
from clothwright.units import Unit
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.pieces.seam_choices import (
    adding,
    forget_refused,
    open_proposals,
    refuse,
)
from tests.store.history.saving import revision

BOOKS = {d.name: d.make() for d in DEMOS}


def ways(seam):
    """Both sides with their directions, the same for a seam told from its other end or side."""
    sides = []
    for refs in (seam.a, seam.b):
        ahead = tuple((r.piece, r.edge, r.reversed) for r in refs)
        back = tuple((p, e, not r) for p, e, r in reversed(ahead))
        sides.append((ahead, back))
    return {
        frozenset((sides[0][0], sides[1][0])),
        frozenset((sides[0][1], sides[1][1])),
    }


@pytest.mark.parametrize("name", BOOKS)
def test_the_demos_seams_are_proposed(name):
    """Seams taken away: all are proposed, none is wrong, and the ends meet as they should.

    The rules were written with these demos in view, so this is no proof for other patterns.
    """
    bought = BOOKS[name].bought
    found = proposed_seams(replace(bought, seams=()))
    real = {key_of(s): s for s in bought.seams}
    assert {p.key for p in found[: len(real)]} == set(real)
    assert len(found) == len(real)
    for p in found:
        assert ways(p.seam) & ways(real[p.key]), p.seam.name
        assert p.seam.ease == pytest.approx(real[p.key].ease, abs=0.6)


def nameless(bought):
    """The pattern with its edges called by where they lie: what nobody has named yet."""
    renamed, pieces = {}, []
    for p in bought.pieces:
        names = names_of([e.path for e in p.edges], (), "")
        mine = renamed[p.name] = {e.name: n for e, n in zip(p.edges, names, strict=True)}
        edges = tuple(replace(e, name=mine[e.name]) for e in p.edges)
        darts = tuple(replace(d, edge=mine[d.edge]) for d in p.darts)
        pieces.append(replace(p, edges=edges, darts=darts))

    def named(refs):
        return tuple(EdgeRef(r.piece, renamed[r.piece][r.edge], r.reversed) for r in refs)

    seams = [replace(s, a=named(s.a), b=named(s.b)) for s in bought.seams]
    return Pattern(pieces=tuple(pieces)), {key_of(s) for s in seams}


def test_without_names_half_are_still_found():
    """By length and notches alone: at least half of the demos' seams, and half of what is said."""
    hits = said = wanted = 0
    for book in BOOKS.values():
        pattern, real = nameless(book.bought)
        keys = {p.key for p in proposed_seams(pattern)}
        hits += len(keys & real)
        said += len(keys)
        wanted += len(real)
    assert hits >= 0.5 * wanted
    assert hits >= 0.5 * said


def panel(name, high, *, notch=None, edge="side"):
    """A panel with one named side of a given length, and a notch up it."""
    marks = (Notch(at=notch),) if notch else ()
    path = polyline([(0, 0), (200, 0), (200, high), (0, high), (0, 0)])
    names = ["hem", edge, "waist", "centre"]
    edges = []
    for n, segment in zip(names, path.segments, strict=True):
        own = polyline([segment.start, segment.end])
        edges.append(Edge(name=n, path=own, notches=marks if n == edge else ()))
    return Piece(name=name, edges=tuple(edges), cuts=(Cut(how="pair"),))


def best(*pieces):
    found = proposed_seams(Pattern(pieces=pieces))
    return {p.key: p.score for p in found}


def test_notches_that_meet_speak_for_a_pair():
    """The same lengths: the pair whose notches meet scores more than the one whose do not."""
    key = "back.side / front.side"
    meet = best(panel("front", 400, notch=120), panel("back", 400, notch=120))
    off = best(panel("front", 400, notch=120), panel("back", 400, notch=300))
    assert meet[key] > off[key]


def test_another_cloth_makes_no_seam_vanish():
    """A side panel cut from another material is still proposed to its partner, and it is said."""
    contrast = replace(panel("back", 410), cuts=(Cut(material="contrast", how="pair"),))
    found = proposed_seams(Pattern(pieces=(panel("front", 400, notch=120), contrast)))
    (side,) = [p for p in found if p.key == "back.side / front.side"]
    assert "but they are cut from different cloths" in side.why


def test_lengths_that_differ_much_are_not_proposed():
    """A side of 400 mm and one of 600 mm are not sewn together."""
    assert "back.side / front.side" not in best(panel("front", 400), panel("back", 600))


def test_a_dart_is_folded_out_before_lengths_are_compared():
    """The coat's front side is 34 mm longer than the back's, and the dart takes it (demo data)."""
    bought = BOOKS["coat-and-skirt"].bought
    front, back = bought.piece("coat front"), bought.piece("coat back")
    assert front.edge("side").length - back.edge("side").length > 30
    found = proposed_seams(Pattern(pieces=(front, back)))
    side = next(p for p in found if p.key == "coat back.side / coat front.side")
    assert abs(side.difference) < 0.5


def test_what_is_sewn_already_is_left_alone():
    """Edges in a seam are not proposed again."""
    bought = BOOKS["checked-waistcoat"].bought
    assert not {p.key for p in proposed_seams(bought)} & {key_of(s) for s in bought.seams}


def test_a_pair_of_ones_own():
    """Any two edges may be named; the ends that seem to belong together meet; unknown ones not."""
    pattern = replace(BOOKS["checked-waistcoat"].bought, seams=())
    p = pair_of(pattern, (parse_edge("front.side"),), (parse_edge("back.side"),))
    start, end = ends_words(pattern, p.seam)
    assert "hem" in start
    assert "armhole" in end
    with pytest.raises(BadInput, match="no edge"):
        pair_of(pattern, (parse_edge("front.sidee"),), (parse_edge("back.side"),))


@pytest.fixture
def folder(tmp_path):
    book = BOOKS["coat-and-skirt"]
    create(tmp_path / "w", replace(book, bought=replace(book.bought, seams=()), steps=(), plans=()))
    return tmp_path / "w"


def test_refused_pairs_are_not_proposed_again(folder):
    """Until they are asked for again; the file may be damaged without harm."""
    pattern = load(folder).bought
    first = open_proposals(folder, pattern)[0]
    refuse(folder, [first.key])
    assert first.key not in {p.key for p in open_proposals(folder, pattern)}
    forget_refused(folder)
    assert first.key in {p.key for p in open_proposals(folder, pattern)}
    (folder / "inbox" / "refused-seams.json").write_text("{")
    assert open_proposals(folder, pattern)


def test_a_confirmed_pair_becomes_a_seam(folder):
    """With the ease as typed, the longer side second, in a step that undo takes back."""
    pattern = load(folder).bought
    p = next(x for x in open_proposals(folder, pattern) if x.seam.name == "coat shoulder")
    seam = said_seam(pattern, p, Unit.inch, SeamSaid(by="1/4 in", name="my seam"))
    assert (seam.name, seam.ease) == ("my seam", pytest.approx(6.35))
    assert seam.b[0].piece == "coat back"
    commit_edit(folder, adding(seam, Unit.inch), base=revision(folder))
    (kept,) = load(folder).bought.seams
    assert kept == seam
    undo(folder)
    assert load(folder).bought.seams == ()
    swapped = replace(p, seam=Seam(name="x", a=p.seam.b, b=p.seam.a))
    again = said_seam(pattern, swapped, Unit.inch, SeamSaid(by="6 mm"))
    assert again.b[0].piece == "coat back"
    turned = said_seam(pattern, p, Unit.inch, SeamSaid(by="", turn=True))
    assert turned.b[0].reversed is not p.seam.b[0].reversed


def yoke(upper: float, lower: float) -> tuple[Pattern, Seam]:
    """A yoke over a skirt part, so long at their seam; three notches on the lower (demo data)."""

    def piece(name: str, width: float, notches: tuple[Notch, ...] = ()) -> Piece:
        corners = [(0, 0), (width, 0), (width, 100), (0, 100)]
        names = ("bottom", "right", "top", "left")
        ends = zip(corners, [*corners[1:], corners[0]], strict=True)
        edges = [
            Edge(name=n, path=polyline(ab), notches=notches if n == "top" else ())
            for n, ab in zip(names, ends, strict=True)
        ]
        return Piece(name=name, edges=tuple(edges))

    marks = (Notch(at=50.0, name="start"), Notch(at=100.0), Notch(at=150.0, name="stop"))
    pattern = Pattern(pieces=(piece("yoke", upper), piece("skirt", lower, marks)))
    sides = (parse_edge("skirt.top"),), (parse_edge("yoke.bottom reversed"),)
    return pattern, Seam(name="yoke", a=sides[0], b=sides[1])


SAID = [
    # how long the skirt part is; what is said; which is second then, and by how much it is longer
    (300.0, SeamSaid(join="gathered"), "skirt", 100.0),
    (300.0, SeamSaid(join="gathered", by="9 cm"), "skirt", 90.0),
    (300.0, SeamSaid(join="pleated", folds="4", fold_to="box"), "skirt", 100.0),
    (300.0, SeamSaid(join="elasticated", by=""), "skirt", 100.0),
    (300.0, SeamSaid(join="eased"), "yoke", 0.0),
    (300.0, SeamSaid(join="eased", by="9 cm", up_to="10 cm"), "skirt", 90.0),
    (190.0, SeamSaid(join="stretched"), "skirt", -10.0),
    (210.0, SeamSaid(join="stretched"), "yoke", -10.0),
    (200.0, SeamSaid(join="stretched", by="5 mm"), "yoke", -5.0),
    (300.0, SeamSaid(join="gathered", kind="facing"), "yoke", -100.0),
]


@pytest.mark.parametrize(("lower", "said", "second", "ease"), SAID)
def test_what_is_said_to_a_seam_holds_for_the_side_that_is_worked(lower, said, second, ease):
    """The longer is gathered and is the second side, a stretched one the shorter; b less a.

    A side that means something (a facing) stays where it is. Without an amount, as it is drawn.
    """
    pattern, seam = yoke(200.0, lower)
    made = said_seam(pattern, seam, Unit.cm, said)
    assert made.b[0].piece == second
    assert made.ease == pytest.approx(ease)
    assert made.join == said.join
    assert (made.folds, made.fold_to) == ((4, "box") if said.folds else (0, ""))
    if made.ease:
        assert walk_seam(pattern, made).off == pytest.approx(
            0.0 if said.by in (None, "") else walk_seam(pattern, made).off
        )
    assert said_seam(pattern, made, Unit.cm, SeamSaid()) == made


def test_it_is_gathered_between_two_marks_of_the_longer_side():
    """By their names, or counted; what is no mark is told with those there are."""
    pattern, seam = yoke(200.0, 300.0)
    made = said_seam(
        pattern, seam, Unit.cm, SeamSaid(join="gathered", start="start", end="notch 3")
    )
    assert (made.ease_from, made.ease_to) == ("start", "notch 3")
    run = walk_seam(pattern, made).b
    assert ease_bounds(made, run) == pytest.approx((50.0, 150.0))
    with pytest.raises(BadInput, match=r"no mark .strat. on skirt .*Did you mean .start."):
        said_seam(pattern, seam, Unit.cm, SeamSaid(join="gathered", start="strat"))


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (SeamSaid(join="gatherd"), 'Did you mean "gathered"'),
        (SeamSaid(kind="cpa"), 'Did you mean "cap"'),
        (SeamSaid(join="pleated", folds="some"), "no number of folds"),
        (SeamSaid(join="pleated", fold_to="ends"), 'Did you mean "end"'),
        (SeamSaid(by="much"), "much"),
        (SeamSaid(by="-1 cm"), "-1 cm"),
        (SeamSaid(name="a.b"), "cannot name a seam"),
    ],
)
def test_what_cannot_be_said_to_a_seam(said, words):
    """A sentence with the nearest word there is."""
    pattern, seam = yoke(200.0, 300.0)
    with pytest.raises(BadInput) as caught:
        said_seam(pattern, seam, Unit.cm, said)
    assert words in str(caught.value)


FULL = [
    # what the longer piece is marked with, how long it is against 200; how it is proposed
    ("", 300.0, "gathered", 0),
    ("", 204.0, "eased", 0),
    ("pleat", 320.0, "pleated", 3),
    ("tuck", 260.0, "tucked", 3),
    ("elastic", 280.0, "elasticated", 0),
]


@pytest.mark.parametrize(("mark", "lower", "join", "folds"), FULL)
def test_what_is_much_longer_than_a_yoke_is_proposed_as_full(mark, lower, join, folds):
    """Gathered, or as its marks say, with as many folds as are marked; the longer is second."""
    pattern, _ = yoke(200.0, lower)
    lines = tuple(
        Mark(name=f"{mark} {n}", path=polyline(((n * 30.0, 0.0), (n * 30.0, 40.0))))
        for n in range(1, 4)
    )
    skirt = replace(pattern.piece("skirt"), marks=lines if mark else ())
    found = proposed_seams(replace(pattern.with_piece(skirt), seams=()))
    p = next(p for p in found if p.key == "skirt.top / yoke.bottom")
    assert (p.seam.join, p.seam.folds) == (join, folds)
    assert p.seam.ease == pytest.approx(lower - 200.0)
    if join != "eased":
        assert p.seam.b[0].piece == "skirt"
        assert f"the longer one looks {join}" in p.why


def test_a_cap_far_too_long_to_be_eased_is_proposed_as_gathered():
    """The coat's sleeve (demo data), 12 cm wider at its cap."""
    bought = replace(BOOKS["coat-and-skirt"].bought, seams=())
    sleeve = bought.piece("coat sleeve")
    cap = sleeve.edge("cap")
    wide = cap.path.transformed(Transform(1.3, 0.0, 0.0, 1.3, 0.0, 0.0))
    full = replace(cap, path=wide, notches=())
    closed = Edge(name="hem", path=polyline((wide.end, wide.start)))
    puffed = replace(sleeve, edges=(full, closed), darts=(), marks=(), levels=())
    pieces = tuple(puffed if p.name == sleeve.name else p for p in bought.pieces)
    found = proposed_seams(replace(bought, pieces=pieces))
    p = next(p for p in found if p.seam.kind == "cap" and "coat sleeve" in p.key)
    assert p.seam.join == "gathered"
    assert p.seam.b[0].piece == "coat sleeve"


def test_what_no_yoke_holds_is_not_proposed_as_full():
    """Two panels of which one is half as long again are no pair."""
    pattern, _ = yoke(200.0, 300.0)
    renamed = replace(pattern.piece("yoke"), name="panel")
    other = tuple(renamed if p.name == "yoke" else p for p in pattern.pieces)
    found = proposed_seams(Pattern(pieces=other))
    assert "panel.bottom / skirt.top" not in {p.key for p in found}
