"""How the print meets along a seam, against what geometry alone says (mm; reckoned by hand).

The oracles W1 to W8 and W31 to W34 are plain trigonometry and the definitions of half-drop and
brick (docs/lay.md); chevrons, darts and what is asked of a seam are common practice.
"""

from __future__ import annotations

import itertools
import math

import pytest

from clothwright.cloth.prints import Border, Print
from clothwright.lay.meeting.values import MeetingKind, worse_of_each
from clothwright.pattern.piece import Notch
from tests.lay.meeting.sewn_pieces import Two, bowed, piece, slanting

K = MeetingKind


def two(angle_a: float, angle_b: float, length: float = 400.0, **more) -> Two:
    """Two pieces whose edges lean: a's by angle_a to its own inside, b's by angle_b to its own."""
    return Two(
        a=piece("a", slanting(length, -angle_a), left=False, **more),
        b=piece("b", slanting(length, angle_b), left=True),
    )


@pytest.mark.parametrize(("angles", "drift"), [((10.0, 6.0), 3.89), ((8.0, 8.0), 0.0)])
def test_bars_drift_by_the_difference_of_the_cosines(angles, drift):
    """W1: a seam of 40 cm leaving the grain at 10 and 6 degrees drifts by 3.89 mm."""
    found = two(*angles).meeting(Print(repeat_along=60.0), (0.0, 900.0, 0.0), (600.0, 900.0, 0.0))
    assert found.worst == pytest.approx(drift, abs=0.005)
    assert found.level == found.worst
    assert found.upright is None


@pytest.mark.parametrize(
    ("intake", "repeat", "above"), [(40, 60, 20), (40, 40, 0), (70, 60, 10), (25, 80, 25)]
)
def test_a_side_dart_lets_the_check_meet_below_it_only(intake, repeat, above):
    """W2 to W5: below the dart nothing is missed; above it the intake, modulo the repeat."""
    pair = Two(
        a=piece("a", slanting(400.0 + intake, 0.0), left=False, dart=(250.0, 250.0 + intake)),
        b=piece("b", slanting(400.0, 0.0), left=True),
    )
    found = pair.meeting(Print(repeat_along=repeat), (0, 900, 0), (20 * repeat, 900, 0))
    assert found.worst == pytest.approx(above, abs=1e-6)
    if above == 0:
        assert (found.share, found.kind) == (1.0, K.RUNS_ON)
        return
    below, over = found.sections
    assert (below.start.name, below.end.name) == ("the hem", "the bust dart")
    assert (over.start.name, over.end.name) == ("the bust dart", "the underarm")
    assert (below.kind, below.share) == (K.RUNS_ON, pytest.approx(1.0, abs=0.005))
    assert (over.kind, over.share) == (K.APART, pytest.approx(0.0, abs=0.005))
    assert found.share == pytest.approx(250 / 400, abs=0.001)
    assert found.as_good_as_can_be
    assert found.best.worst == pytest.approx(above - found.tolerance, abs=0.5)


def test_a_worse_place_of_a_piece_is_told_with_what_is_possible():
    """The same dart, one piece 10 mm too high: nothing meets, and 250 of 400 mm could."""
    pair = Two(
        a=piece("a", slanting(440.0, 0.0), left=False, dart=(250.0, 290.0)),
        b=piece("b", slanting(400.0, 0.0), left=True),
    )
    found = pair.meeting(Print(repeat_along=60.0), (0, 900, 0), (1190, 900, 0))
    assert found.share == 0.0
    assert found.best.share == pytest.approx(250 / 400, abs=0.01)
    assert not found.as_good_as_can_be


@pytest.mark.parametrize("turn", [0.0, 45.0])
def test_stripes_that_leave_the_seam_alike_make_a_chevron(turn):
    """W6, W8: 45 and 45 degrees is mirrored all along; 45 and 40 is out by 21.23 at the fifth.

    Drawn with slanting edges on the straight grain, and with straight edges on the bias.
    """
    fifth = 5 * 30.0 / math.sin(math.radians(45))

    def meeting(angle_b: float):
        pair = two(45.0 - turn, angle_b - turn, length=fifth)
        return pair.meeting(EVEN_STRIPE, (0, 900, turn), (900, 900, -turn))

    good, bad = meeting(45.0), meeting(40.0)
    assert (good.kind, good.share) == (K.MIRRORED, 1.0)
    assert good.worst == pytest.approx(0.0, abs=1e-6)
    along_the_seam = bad.worst / math.sin(math.radians(40))
    assert along_the_seam == pytest.approx(21.23, abs=0.02)
    assert bad.share < 0.2


EVEN_STRIPE = Print(repeat_across=30.0, axes_across=(0.0,))


@pytest.mark.parametrize(("turn", "kind"), [(-45.0, K.TURNED), (135.0, K.MIRRORED)])
def test_uneven_stripes_make_a_chevron_only_end_for_end(turn, kind):
    """Same way up, the order of an uneven stripe is the wrong way round; end for end it is not."""
    uneven = Print(repeat_across=30.0)
    found = two(0.0, 0.0).meeting(uneven, (0, 900, 45.0), (900, 900, turn))
    assert (found.kind, found.share) == (kind, 1.0 if kind is K.MIRRORED else 0.0)


def test_a_centre_seam_mirrored_on_an_axis_is_a_chevron_and_not_a_failure():
    """Both halves leave the grain by 20 degrees, the figure mirrors: mirrored along all of it."""
    pair = two(20.0, 20.0)
    design = Print(repeat_along=60.0, repeat_across=70.0, axes_across=(0.0,))
    found = pair.meeting(design, (0, 700, 0), (600, 700, 0))
    assert (found.kind, found.share, found.worst) == (K.MIRRORED, 1.0, pytest.approx(0, abs=1e-6))
    assert found.upright == pytest.approx(0.0, abs=1e-6)
    without = pair.meeting(Print(repeat_along=60.0, repeat_across=70.0), (0, 700, 0), (600, 700, 0))
    assert (without.kind, without.share) == (K.LEVEL, 1.0)
    assert without.upright > 30.0


def test_a_piece_turned_as_sewn_does_not_run_on():
    """A yoke whose edge lies at 147 degrees to its partner's, as sewn: turned, no millimetres."""
    pair = Two(
        a=piece("a", slanting(400.0, 0.0), left=False),
        b=piece("b", slanting(400.0, 57.0), left=True),
    )
    found = pair.meeting(Print(repeat_along=60.0), (0, 900, 0), (600, 900, -90.0))
    assert found.kind is K.TURNED
    assert found.turned_deg == pytest.approx(147.0)
    assert (found.worst, found.level, found.share, found.best.share) == (None, None, 0.0, 0.0)


@pytest.mark.parametrize(("half_turn", "kind"), [((10.0, 20.0), K.RUNS_ON), (None, K.TURNED)])
def test_a_piece_turned_half_round_runs_on_where_the_figure_allows(half_turn, kind):
    """b lies end for end, its seam's foot where a half turn about (10, 20) brings a's."""
    design = Print(repeat_along=60.0, repeat_across=70.0, half_turn=half_turn)
    found = two(0.0, 0.0).meeting(design, (0, 700, 0), (20 + 1200, 40 + 1400 - 700, 180))
    assert found.kind is kind
    assert found.share == (1.0 if half_turn else 0.0)


@pytest.mark.parametrize(
    ("drop", "repeats", "shift", "kind"),
    [
        ("half-drop", (64.0, 32.0), (0.0, 64.0), K.RUNS_ON),
        ("half-drop", (64.0, 32.0), (0.0, 128.0), K.RUNS_ON),
        ("half-drop", (64.0, 32.0), (32.0, 32.0), K.RUNS_ON),
        ("half-drop", (64.0, 32.0), (0.0, 32.0), K.LEVEL),
        ("half-drop", (64.0, 32.0), (16.0, 0.0), K.UPRIGHT),
        ("brick", (32.0, 64.0), (32.0, 32.0), K.RUNS_ON),
        ("brick", (32.0, 64.0), (0.0, 32.0), K.LEVEL),
        ("straight", (64.0, 32.0), (32.0, 32.0), K.UPRIGHT),
    ],
)
def test_half_drop_and_brick_run_on_where_their_figures_come_again(drop, repeats, shift, kind):
    """W33, W34: half-drop 32 x 64 side by side is straight at 64 and 128; at 32 it needs 32."""
    design = Print(repeat_along=repeats[0], repeat_across=repeats[1], drop=drop)
    found = two(0.0, 0.0).meeting(design, (0, 700, 0), (640 + shift[0], 700 + shift[1], 0))
    assert set(found.shares) == {kind}


def test_no_extreme_is_understated_by_half_a_millimetre():
    """A bowed seam against a straight one: the worst is that of the curve, found another way.

    The other way: the curve's own parameter in 40,000 steps, lengths by the trapezoid rule.
    """
    length, bow = 400.0, 220.0
    curve = bowed(length, bow)
    pair = Two(
        a=piece("a", curve, left=False),
        b=piece("b", slanting(curve.length, 0.0), left=True),
    )
    found = pair.meeting(Print(repeat_along=600.0), (0, 1500, 0), (600, 1500, 0))
    steps = [i / 40_000 for i in range(40_001)]
    points = [(3 * bow * t * (1 - t) ** 2 - 3 * bow * t**2 * (1 - t), length * t) for t in steps]
    run, worst = 0.0, 0.0
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        run += math.hypot(x1 - x0, y1 - y0)
        worst = max(worst, abs(run - y1))
    assert found.level == pytest.approx(worst, abs=0.1)


BORDER = Print(borders=(Border(name="vine", side="lower", base=50.0, height=100.0),))


@pytest.mark.parametrize(("rise", "kind", "worst"), [(0.0, K.RUNS_ON, 0.0), (7.0, K.APART, 7.0)])
def test_a_border_is_compared_by_its_base_line(rise, kind, worst):
    """Hems across the cloth: inside the band heights count, above it nothing is printed."""
    found = two(0.0, 0.0).meeting(BORDER, (0, 60, 90), (900, 60 + rise, 90))
    assert found.kind is kind
    assert found.worst == pytest.approx(worst, abs=1e-6)
    assert found.printed == pytest.approx(90.0, abs=0.5)
    assert found.runs[-1].kind is K.PLAIN


def test_a_border_on_one_side_only_stops_and_is_told_in_millimetres():
    """The other hem lies above the border: 90 mm of the seam have it on one side only."""
    found = two(0.0, 0.0).meeting(BORDER, (0, 60, 90), (900, 200, 90))
    assert found.kind is K.STOPS
    assert found.stops_mm == pytest.approx(90.0, abs=0.5)
    assert (found.share, found.worst) == (0.0, None)
    assert found.best.share == pytest.approx(1.0)


def test_two_borders_of_one_height_are_level_and_never_said_to_run_on():
    """One hem on each selvedge's border, upright: whether the figures are alike is not known."""
    two_borders = Print(
        borders=(
            Border(name="vine", side="lower", base=50.0, height=100.0),
            Border(name="leaf", side="upper", base=50.0, height=100.0),
        )
    )
    found = two(0.0, 0.0).meeting(two_borders, (0, 60, 90), (900, 3000 - 60, 270))
    assert set(found.shares) == {K.LEVEL}
    lower = two(0.0, 0.0).meeting(two_borders, (0, 60, 90), (900, 3000 - 65, 270))
    assert lower.worst == pytest.approx(5.0)


def test_a_seam_across_the_body_is_asked_for_its_uprights():
    """A waist: edges nearly square to the grain. Bars up the body cross it, others do not."""
    pair = two(88.0, 88.0)
    design = Print(repeat_along=60.0, repeat_across=70.0, axes_along=(0.0,))
    found = pair.meeting(design, (0, 700, 0), (620, 700 + 5, 0))
    assert found.worst == pytest.approx(found.upright)


def test_a_tolerance_of_its_own_decides_what_meets():
    """5 mm out: nothing within 2 mm, all within 6."""
    pair = two(0.0, 0.0)
    at = (Print(repeat_along=60.0), (0, 900, 0), (605, 900, 0))
    assert pair.meeting(*at).share == 0.0
    assert pair.meeting(*at, tolerance=6.0).share == 1.0


def test_what_lies_just_at_the_end_of_the_tolerance_meets():
    """Pieces are laid as far as a rule gives room, and then the last digit decided."""
    pair = two(0.0, 0.0)
    at = (Print(repeat_along=60.0), (0, 900, 0), (603.0000000001, 900, 0))
    assert pair.meeting(*at, tolerance=3.0).share == 1.0


def test_marks_that_meet_lie_together_and_name_the_sections():
    """Ease of 20 mm below a notch only: above it both sides run on alike."""
    pair = Two(
        a=piece("a", slanting(420.0, 0.0), left=False, notches=(Notch(at=220.0, name="front"),)),
        b=piece("b", slanting(400.0, 0.0), left=True, notches=(Notch(at=200.0, name="front"),)),
    )
    found = pair.meeting(Print(repeat_along=60.0), (0, 900, 0), (620, 900, 0))
    assert [m.name for m in found.marks] == ["the hem", "the front notch", "the underarm"]
    assert [s.kind for s in found.sections] == [K.APART, K.RUNS_ON]
    assert found.sections[1].share == pytest.approx(1.0)
    assert found.worst == pytest.approx(20.0, abs=1e-6)


def test_marks_without_a_name_are_told_by_their_order():
    """Two single notches on one edge, counted from the hem."""
    notches = (Notch(at=100.0), Notch(at=300.0))
    pair = Two(
        a=piece("a", slanting(400.0, 0.0), left=False, notches=notches),
        b=piece("b", slanting(400.0, 0.0), left=True, notches=notches),
    )
    found = pair.meeting(Print(repeat_along=60.0), (0, 900, 0), (600, 900, 0))
    assert [m.name for m in found.marks[1:-1]] == [
        "the first single notch",
        "the second single notch",
    ]


def test_the_worse_side_of_the_body_stands_for_a_seam():
    """Of two, the one that meets along less of it."""
    pair = two(0.0, 0.0)
    good = pair.meeting(Print(repeat_along=60.0), (0, 900, 0), (600, 900, 0))
    bad = pair.meeting(Print(repeat_along=60.0), (0, 900, 0), (620, 900, 0))
    assert worse_of_each((good, bad)) == (bad,)
    assert worse_of_each((bad, good)) == (bad,)
