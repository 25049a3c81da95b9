"""Pieces typed in from measurements, against figures worked out by hand (demo data)."""

from __future__ import annotations

import math

import pytest

from clothwright.errors import BadInput, ClothwrightError
from clothwright.intake import Answers
from clothwright.intake.typed.checks import other_orders
from clothwright.intake.typed.file import typed_pieces
from clothwright.intake.typed.lines import Measure
from clothwright.intake.typed.reader import read_typed
from clothwright.pattern.piece import NotchKind, Role
from clothwright.units import Unit

SQUARE = """piece panel
unit cm
allowance not included
A is the start
B is 60 down from A
C is 40 right of B
D is 40 right of A
hem from B to C, straight
side from C to D
waist from D to A
fold centre from A to B
cut 1 shell on the fold
grain up
"""


def one(text: str, unit: Unit = Unit.cm):
    """Return the first typed piece, which must be without a slip."""
    typed = read_typed(text, unit)
    assert typed.slips == (), [str(s.error) for s in typed.slips]
    return typed.pieces[0]


def slips(text: str, unit: Unit = Unit.cm) -> dict[int, str]:
    """Return what is said of each line."""
    return {s.line: str(s.error) for s in read_typed(text, unit).slips}


def piece(text: str, unit: Unit = Unit.cm, **answers):
    """Return the one pattern piece of a text."""
    (made,), _ = typed_pieces(text.encode(), "notes.txt", Answers(**answers), unit)
    return made


def test_a_rectangle_is_as_measured():
    """Edges run counter-clockwise from the one typed first, with roles, corners and cutting."""
    made = piece(SQUARE)
    assert [(e.name, e.role, e.corner) for e in made.edges] == [
        ("hem", Role.HEM, "B"),
        ("side", Role.SEAM, "C"),
        ("waist", Role.SEAM, "D"),
        ("centre", Role.FOLD, "A"),
    ]
    assert [e.length for e in made.edges] == pytest.approx([400, 600, 400, 600])
    assert made.cuts[0].how == "fold"


def test_edges_in_any_order_and_either_way_round():
    """The same piece whatever order its edges are typed in, and from whichever end."""
    lines = SQUARE.splitlines()
    turned = [*lines[:7], "waist from A to D", lines[10], "hem from C to B", lines[8], *lines[11:]]
    plain, other = piece(SQUARE), piece("\n".join(turned))
    assert {e.name: (e.path.start, e.path.end) for e in plain.edges} == {
        e.name: (e.path.start, e.path.end) for e in other.edges
    }


@pytest.mark.parametrize("way", ["in", "out"])
def test_a_curve_of_a_given_depth_is_the_arc_through_its_middle(way):
    """R = (c² + 4 s²) / (8 s), length = 2 R asin(c / 2R): chord 400, depth 30 mm."""
    made = piece(SQUARE.replace("waist from D to A", f"waist from D to A, curve {way} 3 cm"))
    edge = made.edge("waist")
    c, s = 400.0, 30.0
    radius = (c * c + 4 * s * s) / (8 * s)
    assert radius == pytest.approx(681.667, abs=1e-3)
    assert edge.length == pytest.approx(2 * radius * math.asin(c / (2 * radius)), abs=1e-3)
    middle = edge.path.point_at(edge.length / 2)
    assert middle.y == pytest.approx(-30.0 if way == "in" else 30.0, abs=1e-3)
    centre = (200.0, middle.y + (radius if way == "in" else -radius))
    far = [p.distance(centre) for p in edge.path.flatten(0.5)]
    assert far == pytest.approx([radius] * len(far), abs=0.002)
    assert len(edge.path.segments) <= 2


def test_a_point_so_far_from_each_of_two_lies_by_the_law_of_cosines():
    """A to B 400; 500 from A and 300 from B: cos A = (400² + 500² - 300²) / (2·400·500) = 0,8."""
    text = SQUARE.replace("D is 40 right of A", "D is 50 cm from B and 30 cm from C, above")
    at = one(text).points["D"]
    assert at - one(text).points["B"] == pytest.approx((500 * 0.8, 500 * 0.6))


@pytest.mark.parametrize(
    ("said", "x", "y"),
    [
        ("38 cm down from A, 4,5 cm in", -45, -380),
        ("from A 38 cm down, 4,5 cm inwards", -45, -380),
        ("from A down 38 cm, in 4,5 cm", -45, -380),
        ("38 cm down and 45 mm in from A", -45, -380),
        ('15" down from A', 0, -381),
        ("1 m 20 cm below A", 0, -1200),
        ("3/8 in above A, 2 1/2 in to the right", 63.5, 9.525),
        ("12 right of A", 120, 0),
        ("½ in out from A", 12.7, 0),
        ("5' 6\" down from A", 0, -1676.4),
        ("halfway between A and B", 0, -300),
        ("in the middle of A and B, 1 cm up", 0, -290),
        ("12 cm from A towards B", 0, -120),
        ("12 cm from B towards A, then 5 mm left", -5, -480),
        ("level with B and below C", 400, -600),
        ("61 cm from A and 11 cm from B, on the right", 110, -600),
    ],
)
def test_ways_to_say_where_a_point_lies(said, x, y):
    """Each way of saying it, in any unit; in is towards the centre, here on the left."""
    head = "piece p\nunit cm\ncentre on the left\nA is the start\nB is 60 down from A\n"
    typed = read_typed(f"{head}C is 40 right of A\nX is {said}\n", Unit.inch)
    assert typed.pieces[0].points["X"] == pytest.approx((x, y), abs=0.5 if "61" in said else 1e-6)


def test_the_point_may_stand_last_and_after_a_colon():
    """from A 38 cm down, 4 cm right to B; C: 3 cm left of B; start at A."""
    typed = read_typed(
        "piece p\nstart at A\nfrom A 38 cm down, 4 cm right to B\nC: 3 cm left of B\n"
        "D from C 1 cm up\nside hem is 2 cm down from D,\n  1 cm left\n",
        Unit.cm,
    )
    points = typed.pieces[0].points
    assert points["B"] == pytest.approx((40, -380))
    assert points["D"] == pytest.approx((10, -370))
    assert points["side hem"] == pytest.approx((0, -390))


def test_a_wrong_diagonal_names_the_point_and_the_digits():
    """C typed as 04 instead of 40 from B: both diagonals on it miss; it and the fit are named."""
    checks = "check A to C 72,1 cm\ncheck B to D 72,1 cm\ncheck C to D 60 cm\n"
    assert slips(SQUARE + checks) == {}
    wrong = SQUARE.replace("C is 40 right", "C is 31 right") + checks
    said = slips(wrong)
    assert set(said) == {14, 16}
    assert 'One point explains all misses: C (line 6: "31" would fit as 40 cm' in said[14]
    assert "measured 72.1 cm, drawn 67.5 cm: 4.6 cm less" in said[14]
    assert (
        "digits changed about"
        in slips(
            SQUARE.replace("C is 40 right", "C is 13 right").replace(
                "40 right of A", "31 right of A"
            )
            + "check A to C 67,5\ncheck B to D 67,5\ncheck C to D 60\n"
        )[14]
    )


def test_digits_in_another_order():
    """42,5 may have been 24,5 or 45,2 and so on; never itself."""
    assert 245.0 in other_orders(Measure("42,5 cm", 425.0, (1, 1)))
    assert 425.0 not in other_orders(Measure("42,5 cm", 425.0, (1, 1)))


def test_one_diagonal_alone_may_itself_be_misread():
    """With one check, whatever decides it may be wrong, and so may the check."""
    said = slips(SQUARE + "check A to C 80 cm\n")[14]
    assert "Likely wrong is one of" in said
    assert "B (line 5" in said
    assert "C (line 6" in said
    assert "or this check was misread" in said


def test_checks_that_agree_are_told_with_their_difference():
    """Every diagonal is told; 3 mm of the tape pass, more when it is said."""
    made = one(SQUARE + "check A to C 72,3 cm\ncheck side 60 cm\n")
    assert [c.words for c in made.checks] == [
        "A to C: 1.9 mm less than the 72.3 cm measured",
        "side: 60 cm, as measured",
    ]
    assert set(slips(SQUARE + "check A to C 72,6 cm\n")) == {14}
    assert slips(SQUARE + "check A to C 72,6 cm, within 6 mm\n") == {}
    assert slips(SQUARE + "within 6 mm\ncheck A to C 72,6 cm\n") == {}


def test_an_outline_that_stands_open_says_where_and_how_far():
    """The last edge does not meet the first: from, to, how far and which way."""
    text = SQUARE.replace("fold centre from A to B", "E is 2 cm left of B\nfold centre from A to E")
    (said,) = slips(text).values()
    assert "stands open" in said
    assert "2 cm away" in said
    assert "edge from E to B" in said


def test_ends_within_the_tape_are_taken_as_one_and_told():
    """Measured all round, the last point misses the first by 2 mm: joined, and said so."""
    text = SQUARE.replace("fold centre from A to B", "E is 2 mm left of B\nfold centre from A to E")
    made = one(text)
    assert any("2 mm apart, taken as one point" in t for t in made.took)
    piece(text)


def test_details_lie_where_they_were_measured():
    """Notches along their edge, a dart square to its own, levels, marks, grain along an edge."""
    text = SQUARE.replace("grain up", "grain along centre") + (
        "notch on side 20 cm from D, called hip\n"
        "double notch on side at middle\n"
        "dart front dart on waist, middle 15 cm from A, 3 cm wide, 9 cm long\n"
        "level hip is 20 cm below A\n"
        "mark button at 3 cm down from D\n"
        "mark pocket from D to C\n"
        "cut 2 lining, pair\n"
    )
    made = piece(text)
    notches = made.edge("side").notches
    assert [(n.at, n.kind, n.name) for n in notches] == [
        (300.0, NotchKind.DOUBLE, ""),
        (400.0, NotchKind.SINGLE, "hip"),
    ]
    (dart,) = made.darts
    assert (dart.a, dart.b) == pytest.approx((235, 265))
    assert dart.point == pytest.approx((150, -90))
    assert made.level("hip").at == pytest.approx((0, -200))
    assert made.grain is not None
    assert made.grain.direction == pytest.approx((0, 1))
    assert made.point("button") == pytest.approx((400, -30))
    assert [(c.material, c.how, c.count) for c in made.cuts] == [
        ("shell", "fold", 1),
        ("lining", "pair", 1),
    ]


def test_an_included_allowance_is_taken_off_inwards():
    """Measured on the cutting line: 600 x 400 less 15 mm at three edges, the hem's own 40."""
    text = SQUARE.replace("allowance not included", "allowance 1,5 cm included")
    made = piece(text.replace("straight", "allowance 4 cm"))
    assert [e.length for e in made.edges] == pytest.approx([385, 545, 385, 545])
    assert [e.allowance for e in made.edges] == [40, 15, 15, 0]


def test_what_is_not_said_is_asked_and_never_guessed():
    """No word on the allowance: refused with the lines and options that answer it; then taken."""
    silent = SQUARE.replace("allowance not included\n", "")
    with pytest.raises(BadInput, match=r"allowance not included.*--allowance"):
        piece(silent)
    assert piece(silent, allowance="none", add="1 cm, hem=4 cm").edge("hem").allowance == 40
    assert piece(silent, allowance="1 cm").edge("side").length == pytest.approx(580)
    with pytest.raises(BadInput, match="say this already"):
        piece(SQUARE, allowance="1 cm")


def test_curves_leave_square_level_or_smooth():
    """A neckline level at the fold and square to the shoulder; a side that runs on smoothly."""
    text = (
        SQUARE.replace("D is 40 right of A", "D is 37 right of A, 2 up\nH is 40 up from C")
        .replace("side from C to D", "side from C straight to H, then curve to D, smooth at H")
        .replace("waist from D to A", "waist from D curve to A, square to side, level at A")
    )
    made = piece(text)
    side, waist = made.edge("side").path, made.edge("waist").path
    assert side.tangent_at(400 + 1e-6) == pytest.approx((0, 1), abs=1e-4)
    assert waist.start_tangent.dot(side.end_tangent) == pytest.approx(0, abs=1e-9)
    assert waist.end_tangent == pytest.approx((-1, 0))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("X is 4,5 in from A", "not which way"),
        ("X is 4 in, 3 cm down", "does not say where"),
        ("X is 4 in from A and 3 in", "not"),
        ("X is from A 4 in", "inches"),
        ("X is from A 3 cm down, 4 in", "4 in inwards"),
        ("X is 3 cm down from Q", 'no point is called "Q"'),
        ("X is 3 cm dwon from A", "Did you mean"),
        ("X is 3 cm in from A", "centre on the left"),
        ("X is 10 cm from A and 20 cm from B, right", "cannot reach"),
        ("X is 40 cm from A and 40 cm from B", "two places"),
        ("X is 40 cm from A and 40 cm from B, above", "left or right"),
        ("X is 3 ells down from A", "ells"),
        ("A is 3 cm down from B", "already"),
        ("X is 90 m down from A", "at most"),
        ("X is the start", "A is where this piece starts"),
        ("edge from A to C, curve 3 cm at the middle", "which way"),
        ("edge from A to C, wiggly", "does not say how"),
        ("edge sleeve, straight", "from where to where"),
        ("edge from A to A", "two different points"),
        ("ege from A to X", "X"),
        ("hem from B to C, straight", "already"),
        ("notch on sied 3 cm from C", 'Did you mean "side"'),
        ("notch on side 80 cm from C", "only 60 cm long"),
        ("notch on side 3 cm from A", "away from the edge"),
        ("notch somewhere", "which edge"),
        ("dart on waist, 2 cm wide", "both legs"),
        ("dart on waist, middle 10 cm from A, 2 cm wide", "how long"),
        ("grain sideways", "how the grain runs"),
        ("cut some", "how many"),
        ("level hip at Z", "Z"),
        ("check A to Z 3 cm", "Z"),
        ("check A 3", "edge"),
        ("allowance maybe", "includes the allowance"),
        ("centre on the top", "from where to where"),
        ("lorem ipsum", "not understood"),
        ("unit ells", "not a unit"),
        ("piece panel", "already"),
    ],
)
def test_every_slip_is_a_sentence_with_its_line(line, words):
    """A line not read says its number, itself, what was expected; nothing else is lost."""
    said = slips(SQUARE + line + "\n")
    assert set(said) == {14}
    assert words in said[14]
    assert "14" in said[14]


@pytest.mark.parametrize(
    ("how", "words"),
    [
        ("curve", "not measured"),
        ("curve 40 cm out", "half a circle"),
        ("curve square to hem", "does not meet this line"),
        ("curve, square to side, square to nothing", "no edge is called"),
        ("curve 1 cm out, 50 cm from D", "only 40 cm long"),
        ("curve 1 cm out, 50 cm from B", "not its end"),
        ("curve through C and Q", 'no point is called "Q"'),
    ],
)
def test_slips_of_a_curve(how, words):
    """A curve that is not measured, or too deep, or follows what it does not meet."""
    said = slips(SQUARE.replace("waist from D to A", f"waist from D to A, {how}"))
    assert words in said[10]


def test_all_slips_are_told_at_once():
    """Two wrong lines, two sentences; lines that hang on them may say so too."""
    text = SQUARE.replace("B is 60 down from A", "B is 60 dwon from A")
    said = slips(text)
    assert 5 in said
    assert 'no point is called "B"' in said[6]
    with pytest.raises(ClothwrightError, match="mistakes"):
        piece(text)
