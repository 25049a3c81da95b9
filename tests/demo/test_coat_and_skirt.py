"""The outfit: plausible sizes, sleeve and armhole, facings and lining, the story of its changes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from clothwright.checks import run_checks
from clothwright.demo import coat_and_skirt
from clothwright.demo.body import SEAM, WEARER, CoatStyle, SkirtStyle
from clothwright.demo.coat import draft_coat_back, draft_coat_front
from clothwright.demo.coat_and_skirt import draft_outfit
from clothwright.geometry.vec import turn_between_deg
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import NotchKind, Role
from clothwright.pattern.whole import unfolded
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.units import INCH
from clothwright.workbook import Workbook, check_settings, replay
from tests.curvature import curvature

BOOK = coat_and_skirt()
BOUGHT = BOOK.bought


def findings(steps: int) -> tuple[Finding, ...]:
    """What the checks find after the first few steps."""
    book = replace(BOOK, steps=BOOK.steps[:steps])
    done = replay(book)
    assert [t.error for t in done.told] == [""] * steps
    return run_checks(done.pattern, check_settings(book))


# --- sizes --------------------------------------------------------------------------------------


def test_the_wearer_lies_between_two_purchased_sizes() -> None:
    """Bust, waist, hip and back waist between misses 12 and 14 (docs/sources.md)."""
    assert 34 * INCH <= WEARER.bust <= 36 * INCH
    assert 26.5 * INCH <= WEARER.waist <= 28 * INCH
    assert 36 * INCH <= WEARER.hip <= 38 * INCH
    assert 16.25 * INCH <= WEARER.back_waist <= 16.5 * INCH


def test_the_skirt_has_the_ease_of_a_skirt() -> None:
    """Waist 1/2 to 3/4 in, hip 2 to 2 3/4 in over the body (a university costume text)."""
    front, back = BOUGHT.piece("skirt front"), BOUGHT.piece("skirt back")
    waist = 2 * (net_length(front, "waist") + net_length(back, "waist"))
    assert 0.5 * INCH <= waist - WEARER.waist <= 0.75 * INCH
    hip = 2 * (front.edge("hem").length + back.edge("hem").length)
    assert 2 * INCH <= hip - WEARER.hip <= 2.75 * INCH


def test_the_coat_has_the_ease_of_a_coat() -> None:
    """More room at the bust than a bodice needs (2 in), less than 15 cm; biceps at least 2 in."""
    style = CoatStyle()
    assert 2 * INCH < style.bust_ease < 150.0
    sleeve = BOUGHT.piece("coat sleeve")
    wide = sleeve.point("back underarm").distance(sleeve.point("front underarm"))
    assert 2 * INCH <= wide - WEARER.upper_arm <= 4 * INCH


def test_the_coat_is_as_long_as_it_says() -> None:
    """Back 22 in from the high point of the shoulder; the front 1 in more, for the bust."""
    for name, length in (("coat back", 22 * INCH), ("coat front", 23 * INCH)):
        piece = BOUGHT.piece(name)
        assert piece.point("neck point").y - piece.point("side hem").y == pytest.approx(length)


def test_the_front_is_drafted_to_any_back() -> None:
    """Other figures, same promise: the front's side is as long as the back's, dart folded out."""
    for bust, dart in ((840.0, 24.0), (960.0, 40.0)):
        body, style = replace(WEARER, bust=bust), CoatStyle(dart=dart)
        front, back = draft_coat_front(body, style), draft_coat_back(body, style)
        assert net_length(front, "side") == pytest.approx(back.edge("side").length, abs=0.01)


# --- sleeve -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["coat", "lining"])
def test_the_cap_is_eased_over_the_top_only(name: str) -> None:
    """Ease 1/2 to 1 1/2 in in all, the larger share behind, none between notches under the arm."""
    seam = BOUGHT.seam(f"{name} armhole")
    hole, cap = side(BOUGHT, seam.a), side(BOUGHT, seam.b)
    assert 12.7 <= cap.length - hole.length <= 38.1
    at = [{s.name: s.at for s in run.stations} for run in (hole, cap)]
    grown = {key: at[1][key] - at[0][key] for key in ("front", "shoulder tip", "back")}
    assert grown["front"] == pytest.approx(0.0, abs=0.01)
    front_share, back_share = grown["shoulder tip"], grown["back"] - grown["shoulder tip"]
    assert 3 / 8 * INCH <= front_share <= 1 / 2 * INCH
    assert 1 / 2 * INCH <= back_share <= 5 / 8 * INCH + 0.2
    assert cap.length - hole.length == pytest.approx(grown["back"], abs=0.01)


def test_one_notch_is_the_front_two_are_the_back() -> None:
    """Single notch on front armhole and cap front, double on back armhole and cap back."""
    kinds = {
        (piece, n.name): n.kind
        for piece, edge in (
            ("coat front", "armhole"),
            ("coat back", "armhole"),
            ("coat sleeve", "cap"),
        )
        for n in BOUGHT.piece(piece).edge(edge).notches
    }
    assert kinds[("coat front", "front")] is NotchKind.SINGLE
    assert kinds[("coat sleeve", "front")] is NotchKind.SINGLE
    assert kinds[("coat back", "back")] is NotchKind.DOUBLE
    assert kinds[("coat sleeve", "back")] is NotchKind.DOUBLE


def test_the_cap_changes_its_bend_twice() -> None:
    """Hollow under the arm, round over the top: two inflections, one at the front, one behind."""
    bends = []
    for s in BOUGHT.piece("coat sleeve").edge("cap").path.segments:
        bends += [curvature(s, i / 50) > 0 for i in range(51)]
    assert sum(a != b for a, b in pairwise(bends)) == 2


def test_the_elbow_dart_is_near_the_published_one() -> None:
    """About 1 1/4 in wide and 3 in long in a published one-piece sleeve (docs/sources.md)."""
    sleeve = BOUGHT.piece("coat sleeve")
    dart = sleeve.dart("elbow dart")
    assert 20.0 <= dart.b - dart.a <= 1.25 * INCH + 1
    leg = sleeve.edge("back seam").path.point_at(dart.a).distance(dart.point)
    assert leg == pytest.approx(3 * INCH, abs=2.0)
    assert sleeve.point("elbow dart point").y == pytest.approx(sleeve.level("elbow").at.y, abs=30)


# --- inside -------------------------------------------------------------------------------------


def test_the_facing_is_the_garment_edge_point_for_point() -> None:
    """Same shape, same grain as the edge it faces."""
    for shell, facing, edges in (
        ("coat front", "front facing", ("neck", "front edge")),
        ("coat back", "back neck facing", ("neck",)),
    ):
        for edge in edges:
            a, b = BOUGHT.piece(shell).edge(edge).path, BOUGHT.piece(facing).edge(edge).path
            assert a == b


def test_facing_and_lining_overlap_by_two_allowances() -> None:
    """Cut edges lie 1 1/4 in past each other where facing meets lining (docs/sources.md)."""
    facing = cutting_line(BOUGHT.piece("front facing")).edge("inner")
    lining = cutting_line(BOUGHT.piece("lining front")).edge("inner")
    for share in (0.2, 0.5, 0.8):
        gap = lining.nearest(facing.point_at(facing.length * share))[1]
        assert gap == pytest.approx(1.25 * INCH, abs=0.02)


def test_the_lining_is_cut_below_the_hem_line() -> None:
    """Lower cut edge 5/8 in below the garment's hem line, body and back alike."""
    for shell, lining in (("coat front", "lining front"), ("coat back", "lining back")):
        line = BOUGHT.piece(shell).edge("hem").path.start.y
        low = min(p.y for p in cutting_line(BOUGHT.piece(lining)).outline.flatten(0.1))
        assert line - low == pytest.approx(SEAM)


def test_the_lining_has_a_pleat_of_one_inch() -> None:
    """Opened out, the lining back is 1 in wider at the hem than the back (manual of 1911)."""
    back, lining = (unfolded(BOUGHT.piece(n)) for n in ("coat back", "lining back"))
    assert lining.edge("hem").length - back.edge("hem").length == pytest.approx(INCH)


def test_hems_have_their_depth() -> None:
    """Coat 1 1/2 to 2 in, straight skirt 2 to 3 in (hem depth table, docs/sources.md)."""
    for name in ("coat front", "coat back", "coat sleeve"):
        assert 1.5 * INCH <= BOUGHT.piece(name).edge("hem").allowance <= 2 * INCH
    for name in ("skirt front", "skirt back"):
        assert 2 * INCH <= BOUGHT.piece(name).edge("hem").allowance <= 3 * INCH


def test_skirt_hems_run_straight_and_square_to_the_grain() -> None:
    """What a border asks of a hem."""
    for name in ("skirt front", "skirt back"):
        piece = BOUGHT.piece(name)
        hem = piece.edge("hem").path
        assert hem.is_straight
        turn = turn_between_deg(hem.start_tangent, piece.up)
        assert abs(turn) == pytest.approx(90.0, abs=1e-6)


# --- the story ----------------------------------------------------------------------------------


def test_as_bought_only_the_sleeve_is_not_made_for_a_border() -> None:
    """The pattern as bought walks clean; only its bent sleeve's hem cannot lie on a border."""
    found = findings(0)
    assert {(f.code, f.where.piece) for f in found} == {
        ("grain-not-square-to-border", "coat sleeve")
    }


def test_the_slip_is_reported_as_exactly_three_eighths_of_an_inch() -> None:
    """After back and front are cropped the front's side is 3/8 in longer than the back's."""
    [slip] = [f for f in findings(2) if f.where.seam == "coat side"]
    assert slip.code == "seam-length"
    assert any(isinstance(w, float) and w == pytest.approx(9.525, abs=0.01) for w in slip.words)


def test_one_change_mends_the_slip() -> None:
    """After match-edge nothing is said of the side seam any more."""
    assert [f for f in findings(3) if f.where.seam == "coat side"] == []


def test_facing_and_lining_follow_the_coat() -> None:
    """After five steps only the sleeve is left to do."""
    assert {f.where.piece for f in findings(5)} == {"coat sleeve"}


def test_the_whole_story_ends_without_a_finding() -> None:
    """Every change can be done, and after the last nothing is found."""
    assert findings(len(BOOK.steps)) == ()


def test_the_story_ends_with_the_lengths_it_promised() -> None:
    """Back 20 in, front 21 in from the shoulder; the sleeve keeps its cap and its biceps."""
    done = replay(BOOK).pattern
    for name, length in (
        ("coat back", 20 * INCH),
        ("coat front", 21 * INCH),
        ("front facing", 21 * INCH),
    ):
        piece = done.piece(name)
        low = piece.edge("hem").path.start.y
        assert piece.point("neck point").y - low == pytest.approx(length, abs=0.01)
    before, after = BOUGHT.piece("coat sleeve"), done.piece("coat sleeve")
    assert after.edge("cap").length == pytest.approx(before.edge("cap").length, abs=0.01)
    assert not after.darts


# --- cloth and plans ----------------------------------------------------------------------------


def ready(book: Workbook) -> Pattern:
    """The pattern after its changes."""
    return replay(book).pattern


def border_width(plan: str) -> float:
    """Sum of the widths in mm along the border of every copy that a plan lays on it."""
    pattern = ready(BOOK)
    total = 0.0
    for rule in BOOK.plan(plan).rules:
        if isinstance(rule, OnBorder):
            piece = unfolded(pattern.piece(rule.piece))
            low, high = cutting_line(piece).outline.bounds()
            copies = 2 if any(c.how == "pair" for c in piece.cuts) else 1
            total += copies * (high.x - low.x)
    return total


def test_one_plan_cannot_fit_and_the_others_can() -> None:
    """The border pieces side by side: more than the cloth has for one plan, less for two."""
    cloth = BOOK.cloth("bordered wool")
    assert cloth.length is not None
    usable = cloth.length - cloth.margin_start - cloth.margin_end
    assert border_width("skirt only") < border_width("skirt and sleeves") < usable
    assert border_width("skirt, sleeves and coat") > usable + 300.0


def test_border_pieces_are_shorter_than_the_cloth_is_wide() -> None:
    """Piece, hem and allowance fit between the border and the other selvedge (docs/sources.md)."""
    cloth = BOOK.cloth("bordered wool")
    [border] = cloth.print.borders
    pattern = ready(BOOK)
    for plan in BOOK.plans:
        for rule in plan.rules:
            if isinstance(rule, OnBorder):
                piece = pattern.piece(rule.piece)
                low, high = cutting_line(piece).outline.bounds()
                hem = piece.edge(rule.edge)
                assert hem.role is Role.HEM
                assert hem.allowance + cloth.margin_lower < border.base
                above = high.y - low.y - hem.allowance
                assert border.base + above < cloth.width - cloth.margin_upper


@pytest.mark.parametrize(
    ("plan", "fits"),
    [("skirt only", True), ("skirt and sleeves", True), ("skirt, sleeves and coat", False)],
)
def test_the_first_lay_of_each_plan(plan: str, fits: bool) -> None:
    """A first lay keeps every promise by the judge, and fits or not as the story says."""
    compiled = compile_lay(ready(BOOK), BOOK.cloths, BOOK.plan(plan), gap=BOOK.settings.gap)
    assert compiled.notes == ()
    lay = solve(compiled.problem, seconds=30.0, rounds=0)
    assert lay.unplaced == {}
    assert lay.fits is fits
    assert (lay.short_by or 0.0) > 300.0 or fits
    assert [f for f in judge(compiled.problem, lay) if f.severity is Severity.FAULT] == []


def test_the_border_can_run_on_round_the_body() -> None:
    """Whole repeats round half skirt and sleeve, whole halves round half the coat.

    Then centre front and centre back both lie on an axis of the figure while it meets at the side.
    """
    [border] = BOOK.cloth("bordered wool").print.borders
    assert border.repeat
    done = ready(BOOK)
    skirt = sum(done.piece(n).edge("hem").length for n in ("skirt front", "skirt back"))
    sleeve = done.piece("coat sleeve").edge("hem").length
    coat = (
        done.piece("coat front").point("side hem").x - done.piece("coat back").point("side hem").x
    )
    for length, unit in (
        (skirt, border.repeat),
        (sleeve, border.repeat),
        (coat, border.repeat / 2),
    ):
        assert length / unit == pytest.approx(round(length / unit), abs=1e-3)


def test_the_band_is_as_long_as_the_waist_and_its_underlap() -> None:
    """Both halves and the underlap make up the finished length."""
    band, style = BOUGHT.piece("waistband"), SkirtStyle()
    net = WEARER.waist + style.waist_ease + style.underlap
    assert band.edge("inside").length == pytest.approx(net, abs=0.05)


@pytest.mark.parametrize(
    ("bust", "waist", "hip", "back_waist"),
    [
        (32.5, 25.0, 34.5, 16.0),
        (34.0, 26.5, 36.0, 16.25),
        (36.0, 28.0, 38.0, 16.5),
        (38.0, 30.0, 40.0, 16.75),
    ],
)
def test_the_draft_walks_clean_for_other_figures(
    bust: float, waist: float, hip: float, back_waist: float
) -> None:
    """Misses 10, 12, 14 and 16 (docs/sources.md): the same draft passes every check."""
    body = replace(
        WEARER,
        bust=bust * INCH,
        waist=waist * INCH,
        hip=hip * INCH,
        back_waist=back_waist * INCH,
        across_back=WEARER.across_back + (bust - 35) * 6,
        across_chest=WEARER.across_chest + (bust - 35) * 6,
        upper_arm=WEARER.upper_arm + (bust - 35) * 9,
        nape_to_underarm=WEARER.nape_to_underarm + (bust - 35) * 4,
    )
    assert run_checks(draft_outfit(body, CoatStyle(), SkirtStyle())) == ()
