"""What lies on a piece: pockets and flaps, buttons and buttonholes, zips and slits."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes import join_pieces, lengthen, set_zip
from clothwright.checks import DEFAULTS, bands, buttons, openings, patches_fit
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut, Level, Mark
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from clothwright.workbook import change_of
from tests.checks.specimens import outfit
from tests.faults import lying
from tests.faults.mistakes import on
from tests.faults.paper import cornered, let_out
from tests.garments.wardrobe import GARMENTS


def codes(check: object, p: Pattern) -> list[str]:
    return [f.code for f in check.CHECK.run(p, DEFAULTS)]  # type: ignore[attr-defined]


def words(check: object, p: Pattern, unit: Unit = Unit.cm) -> list[str]:
    return [say(f.words, unit) for f in check.CHECK.run(p, DEFAULTS)]  # type: ignore[attr-defined]


@pytest.mark.parametrize("turn_deg", [0.0, 7.0, -20.0])
@pytest.mark.parametrize("wide", [100.0, 112.0])
def test_a_place_may_have_turned_with_its_part(turn_deg: float, wide: float) -> None:
    """Turned by a rotation, the place is as large as it was; 12 mm stay 12 mm."""
    p = lying.pocketed(wide)(outfit())
    piece = p.piece("skirt front")
    turn = rotation_deg(turn_deg, (120, 300))
    marks = tuple(replace(m, path=m.path and m.path.transformed(turn)) for m in piece.marks)
    p = p.with_piece(replace(piece, marks=marks))
    assert codes(patches_fit, p) == ([] if wide == 100.0 else ["patch-not-its-place"])
    assert all("1.2 cm wider" in w for w in words(patches_fit, p))


@pytest.mark.parametrize(("long", "told"), [(106.0, 0), (118.0, 1)])
def test_a_flap_is_as_wide_as_the_line_it_is_sewn_along(long: float, told: int) -> None:
    """A flap of 106 mm goes on a line of 106; one of 118 is 12 too wide."""
    line = Mark(name="flap line", path=polyline(((67, 362.7), (173, 362.7))))
    flap = lying.four_sided("flap", Vec(0, 0), Vec(long, 50))
    p = lying.with_pieces(flap)(lying.with_marks("skirt front", line)(outfit()))
    assert len(codes(patches_fit, p)) == told


def test_of_two_pockets_each_has_its_own_place() -> None:
    """A small and a large pocket are not taken for each other; a third is named: it has none."""
    large = lying.ring((70, 240), (70, 100), (210, 100), (210, 240))
    p = lying.with_marks("skirt front", Mark(name="pocket 2", path=large))(
        lying.pocketed()(outfit())
    )
    names = {"low pocket": 140.0, "side pocket": 60.0}
    more = [lying.four_sided(n, Vec(0, 0), Vec(w, w)) for n, w in names.items()]
    p = lying.with_pieces(*more)(p)
    assert codes(patches_fit, p) == []
    (never,) = patches_fit.looked(p, DEFAULTS).unlooked
    assert "side pocket" in never
    assert "low pocket" not in never


def test_a_companion_goes_on_the_piece_it_is_said_to_go_with() -> None:
    """The pocket is said to go on the back; the front's place of the same name is another's."""
    p = lying.pocketed(120.0)(outfit())
    back = lying.ring(*((-x, y) for x, y in lying.POCKET))
    wide = lying.ring((-190, 350), (-190, 250), (-70, 250), (-70, 350))
    assert codes(patches_fit, lying.with_marks("skirt back", Mark(name="pocket", path=back))(p))
    p = lying.with_marks("skirt back", Mark(name="pocket", path=wide))(p)
    goes = Companion(piece="pocket", kind="pocket", of=(Along(piece="skirt back"),))
    assert codes(patches_fit, replace(p, companions=(goes,))) == []


def test_marks_that_slipped_on_a_coat() -> None:
    """On the coat: a button 15 mm off, a pocket's corner 40 mm off, both ways across and up."""
    coat = GARMENTS["lined coat"]()
    for check, name, by, code in (
        (buttons, "button 2", Vec(0, -15), "buttons-uneven"),
        (buttons, "button 2", Vec(15, 0), "button-off-row"),
        (buttons, "button 1", Vec(-15, 0), "button-off-row"),
        (patches_fit, "pocket corner", Vec(40, 0), "place-corner-off"),
    ):
        piece = coat.piece("coat front")
        marks = tuple(
            replace(m, at=m.at + by) if m.name == name and m.at else m for m in piece.marks
        )
        assert codes(check, coat.with_piece(replace(piece, marks=marks))) == [code]


def test_two_rows_are_meant() -> None:
    """A double-breasted front: 60 mm to both sides of the centre is no fault, 6 mm is."""
    tab = lying.tab("front tab", stand=90.0)
    left, right = (lying.aside(tab, by).marks[1:] for by in (-60.0, 60.0))
    named = tuple(replace(m, name=f"{m.name} inner") for m in right)
    both = replace(tab, marks=(tab.marks[0], *left, *named))
    assert codes(buttons, lying.with_pieces(both)(outfit())) == []
    assert codes(buttons, lying.with_pieces(lying.aside(tab, 6.0))(outfit())) == [
        "buttons-off-centre"
    ]


def test_buttons_far_from_another_centre_are_not_held_against_it() -> None:
    """Joined to the yoke, the front's buttons lie askew to a centre that is not theirs."""
    shirt = GARMENTS["shirt"]()
    seam = next(s for s in shirt.seams if {r.piece for r in (*s.a, *s.b)} == {"front", "yoke"})
    joined = join_pieces.apply(shirt, join_pieces.JoinPieces(seam=seam.name)).pattern
    assert "button-off-row" not in codes(buttons, joined)


def test_what_is_laid_on_a_piece_is_not_cut_open() -> None:
    """Interfacing has the marks of its sleeve and ends short of its edge: that is no fault."""
    p = lying.slit()(outfit())
    inner = replace(
        p.piece("sleeve"), name="sleeve interfacing", cuts=(Cut(material="interfacing"),)
    )
    line = Mark(name="slit", path=polyline(((0, -380), (0, -280))))
    assert codes(openings, lying.with_pieces(replace(inner, marks=(line,)))(p)) == []


@pytest.mark.parametrize(("stand", "told"), [(11.0, 1), (11.2, 0)])
def test_the_smallest_button_needs_its_half_and_a_quarter_of_an_inch(
    stand: float, told: int
) -> None:
    """3/8 in across: 3/16 + 1/4 in = 11.1 mm (docs/sources.md: buttons)."""
    p = lying.with_pieces(lying.tab("front tab", stand=stand))(outfit())
    assert codes(buttons, p) == ["stand-too-narrow"] * told


def test_how_wide_the_buttons_are_is_not_known() -> None:
    """Where the stand takes some button, that hers goes on it is not said."""
    p = lying.with_pieces(lying.tab("front tab"))(outfit())
    (never,) = buttons.looked(p, DEFAULTS).unlooked
    assert "too wide for its stand" in never


def zipped_skirt() -> Pattern:
    """The skirt's side left open by 180 mm for a zip."""
    asked = set_zip.SetZip(seam="skirt side", length=180.0)
    return set_zip.apply(outfit(), asked).pattern


def test_a_zip_goes_with_its_opening_and_is_told_when_that_grows() -> None:
    """Set, it fits: 1/8 in shorter than the opening. Longer by 30 mm above the hip, it is short."""
    p = zipped_skirt()
    assert p.seam("skirt side opening").zip == pytest.approx(180.0 - 25.4 / 8)
    assert codes(openings, p) == []
    asked = lengthen.Lengthen(
        pieces=("skirt front", "skirt back"), level="hip", above=60.0, by=30.0
    )
    longer = lengthen.apply(p, asked).pattern
    assert codes(openings, longer) == ["zip-not-its-opening"]
    assert "shorter than that" in words(openings, longer)[0]


@pytest.mark.parametrize(
    ("opens", "told"), [(176.0, False), (180.0, False), (183.0, True), (170.0, True)]
)
def test_a_zip_is_measured_to_its_notch(opens: float, told: bool) -> None:
    """From the notch for its end to the waist there are 180 mm; 1/8 in less is its top stop."""
    assert bool(codes(openings, lying.zipped(opens)(outfit()))) is told


def test_a_zip_of_which_nobody_knows_is_named() -> None:
    """No length said, or no notch to measure to: neither is passed over."""
    bare = lying.zipped(0.0)(outfit())
    assert "nobody has said how long" in openings.looked(bare, DEFAULTS).unlooked[0]
    lost = outfit().with_seam(replace(outfit().seam("skirt side"), zip=200.0))
    assert codes(openings, lost) == []
    assert "no notch shows" in openings.looked(lost, DEFAULTS).unlooked[0]


@pytest.mark.parametrize("drawn", [True, False])
@pytest.mark.parametrize("deg", [4.0, -6.0])
def test_a_row_of_buttons_lies_along_its_centre_whatever_the_grain_does(
    drawn: bool, deg: float
) -> None:
    """The grain line of a tab slipped: its buttons lie where they lay, on the centre or in line."""
    p = lying.with_pieces(lying.tab("front tab"))(outfit())
    tab = p.piece("front tab")
    assert tab.grain is not None
    slipped = rotation_deg(deg, tab.grain.start).apply(tab.grain.end)
    marks = tuple(m for m in tab.marks if drawn or m.at is not None)
    assert (len(marks) < len(tab.marks)) is not drawn
    tab = replace(tab, grain=replace(tab.grain, end=slipped), marks=marks)
    assert codes(buttons, p.with_piece(tab)) == []
    off = p.with_piece(lying.aside(tab, 8.0, "button 2"))
    assert "button-off-row" in codes(buttons, off)


CUTS = [
    ("full-bust", {"piece": "coat front", "by": "2 cm"}),
    ("lengthen", {"pieces": "coat front", "level": "waist", "above": "-20 cm", "by": "-3 cm"}),
    ("lengthen", {"pieces": "coat front", "level": "waist", "above": "-25 cm", "by": "3 cm"}),
]


@pytest.mark.parametrize(("change", "given"), CUTS)
def test_where_a_pocket_goes_moves_whole_with_a_part_of_a_piece_that_is_cut(
    change: str, given: dict[str, str]
) -> None:
    """The cut runs through the pocket's place: it stays 15 by 17 cm, its corner on its line.

    A patch pocket keeps its size wherever its piece is spread (common practice).
    """
    p = GARMENTS["lined coat"]()
    asked = change_of(change)
    made = asked.apply(p, read_params(asked.params, given, unit=Unit.cm, where="")).pattern
    assert codes(patches_fit, made) == []
    (line,) = (m.path for m in made.piece("coat front").marks if m.name == "pocket")
    assert line is not None
    assert [s.length for s in line.segments] == pytest.approx([170.0, 150.0, 170.0, 150.0])
    assert made.piece("coat front").point("pocket corner").is_near(line.start, 1e-6)


@pytest.mark.parametrize(("level", "told"), [("waist", True), ("hip", False)])
def test_buttons_that_are_spread_are_to_be_spaced_anew(level: str, told: bool) -> None:
    """Cut at the waist the gap there grows; below the last button none does."""
    p = lying.with_pieces(lying.tab("front tab"))(outfit())
    tab = p.piece("front tab")
    hip = Level(name="hip", at=Vec(50, 10))
    p = p.with_piece(replace(tab, levels=(*tab.levels, hip)))
    params = lengthen.Lengthen(pieces=("front tab",), level=level, by=15.0)
    said = say(lengthen.apply(p, params).said, Unit.cm)
    assert ("Space the buttons of front tab anew." in said) is told


@pytest.mark.parametrize(("by", "told"), [(5.0, True), (22.0, True), (23.0, False), (35.0, False)])
def test_a_lap_holds_the_smallest_button(by: float, told: bool) -> None:
    """3/8 in wants D / 2 + 1/4 in of cloth on both sides: 7/8 in, 22.2 mm (sources, buttons)."""
    assert bool(codes(bands, lying.lapped(by)(outfit()))) is told


@pytest.mark.parametrize(("over", "told"), [(0.0, False), (1.0, False), (30.0, True), (-5.0, True)])
def test_a_fold_line_runs_from_edge_to_edge(over: float, told: bool) -> None:
    """It neither runs over the edge nor stops short of it: half a pencil line is none."""
    assert bool(codes(bands, lying.fold_marked(over)(outfit()))) is told


@pytest.mark.parametrize(("by", "told"), [(1.0, False), (12.0, True), (-12.0, True), (80.0, False)])
def test_a_front_edge_lies_as_far_from_its_centre_below_as_above(by: float, told: bool) -> None:
    """A stand is as wide all along (the sources' width); what slants like a wrap's is meant to."""
    assert bool(codes(bands, lying.swung(by)(outfit()))) is told


def test_a_band_taken_in_at_its_end_has_lost_its_lap() -> None:
    """Trousers' waistband, 30 of its 35 mm of underlap cut off: the waist itself still agrees."""
    pattern = GARMENTS["trousers"]()
    assert codes(bands, pattern) == []
    short = on("waistband", let_out, "end", -30.0)(pattern)
    assert codes(bands, short) == ["lap-too-short", "line-off-piece"]
    assert words(bands, short)[0].startswith("Waistband, underlap laps only 0.5 cm beyond")


@pytest.mark.parametrize(("by", "told"), [(0.0, []), (-10.0, ["patch-not-its-shape"])])
def test_a_pocket_is_as_long_on_both_sides_as_its_place(by: float, told: list[str]) -> None:
    """One side cut 10 mm shorter leaves it as wide and as long as it was."""
    pattern = on("pocket", cornered, "hem", 0.0, by)(GARMENTS["lined coat"]())
    assert codes(patches_fit, pattern) == told


@pytest.mark.parametrize(("at", "told"), [(20.0, False), (18.6, False), (18.4, True), (26.0, True)])
def test_a_band_is_folded_in_its_middle(at: float, told: bool) -> None:
    """Halves of 18.6 and 21.4 mm are a turn of cloth; 3 mm is the band of seam lengths."""
    found = list(bands.bands(lying.fold_marked(0.0, at=at)(outfit()), DEFAULTS))
    assert [f.code for f in found] == (["fold-off-middle"] if told else [])
    if told:
        assert sorted((found[0].measured, found[0].expected)) == pytest.approx(
            sorted((at, 40.0 - at))
        )
        mend = found[0].mend
        assert mend is not None
        assert mend.params == {
            "edge": "waistband.upper", "by": pytest.approx(2 * at - 40.0, abs=1e-6)
        }  # fmt: skip
