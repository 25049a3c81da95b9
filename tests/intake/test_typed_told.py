"""Typed measurements: nothing of a line is lost untold, and no line takes long (demo data)."""

from __future__ import annotations

import subprocess
import sys

import pytest

from clothwright import intake
from clothwright.intake.typed.moves import run_at
from clothwright.intake.typed.reader import read_typed
from clothwright.units import Unit
from tests.intake.test_typed import SQUARE, one, slips

KILLED_AFTER_S = 120
"""Far more than all of it takes, and far less than one line took that grew without bound."""
BEGINNINGS = (
    *("", "from A ", "X is ", "X: from A ", "edge x from A ", "curve A to B ", "start ", "size "),
    *("hem from B to C, curve ", "notch on side ", "dart d on waist, ", "dart d on waist from "),
    *("grain ", "grain from ", "level x ", "mark m ", "mark m from A through ", "check A to "),
    *("check side ", "allowance ", "within ", "cut 2 ", "unit ", "centre ", "note ", "piece "),
    *("X is level with ", "X is halfway between ", "X is 3 cm from A and "),
)
REPEATED = (
    *("1 1/2 in in, ", "1 1/2 in ", "1 in in ", "in 1 in ", "in ", "to ", "from ", "to the "),
    *("straight ", "through ", "from through ", "and ", "1 and 1/2 ", "12", ".5", ":", "a, "),
    *(", ", "then ", "1 cm from A and ", "level with ", "1 in to ", "1 ft 1 in ", "within 1 in "),
)
ENDINGS = ("x", "to")


def test_no_line_of_any_kind_takes_long():
    """Every kind of line, drawn out to its full length by what may be read two ways, is read."""
    lines = [f"{(b + r * 400)[:390]} {e}" for b in BEGINNINGS for r in REPEATED for e in ENDINGS]
    program = (
        "import sys\n"
        "from clothwright.intake.typed.reader import read_typed\n"
        "from clothwright.units import Unit\n"
        "head, *lines = sys.stdin.read().split('\\0')\n"
        "print(sum(bool(read_typed(head + x, Unit.cm).pieces) for x in lines))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        input="\0".join((SQUARE, *lines)),
        capture_output=True,
        text=True,
        timeout=KILLED_AFTER_S,
        check=True,
    )
    assert int(done.stdout) == len(lines)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("up 3 in 2 from A", '"2 from A" after "up 3 in" is no further move'),
        ("right 12 1/2 down from A", '"down from A" after "right 12 1/2" is no further move'),
        ("from A down 4 in 3 cm right", '"right" after "down 4 in 3 cm" is no further move'),
        ("from A 3 cm down 2", '"2" after "3 cm down" is no further move'),
        ("61 cm from A and 11 cm from B, right, 3 cm up 2", '"2" after "3 cm up"'),
        ("12 cm from A towards B, 3 cm up 2 from", '"2 from" after "3 cm up"'),
    ],
)
def test_a_move_is_never_left_out(said, words):
    """Where the moves do not cover all that is said, the line is refused and the rest named."""
    assert words in slips(SQUARE + f"X is {said}\n")[14]


def test_moves_in_a_line_that_goes_on_are_never_left_out():
    """from A 60 cm down 2, straight to X: the 2 is told, no point is made."""
    text = SQUARE + "side 2 from D 20 cm down 2, straight to X\n"
    assert '"2" after "20 cm down" is no further move' in slips(text)[14]
    assert "X" not in read_typed(text, Unit.cm).pieces[0].points


def test_moves_are_taken_one_after_the_other():
    """Each as long as it can be; where it ends is known; a name with a number may stand before."""
    run = run_at("38 cm down and then 4,5 cm in, right 3 from")
    assert [(m.amount, m.way) for m in run.moves] == [
        ("38 cm", "down"),
        ("4,5 cm", "in"),
        ("3", "right"),
    ]
    assert run.end == len("38 cm down and then 4,5 cm in, right 3")
    made = one(SQUARE + "side 2 is 3 down from D\nX is from side 2 3 cm down\n")
    assert made.points["X"] == pytest.approx((400, -60))


def test_the_readers_do_not_hide_the_package_of_typed_measurements():
    """What the package of readers offers as `typed` is the package of that name."""
    assert intake.typed.__name__ == "clothwright.intake.typed"


@pytest.mark.parametrize("line", ["allowance added", "allowance not added", "allowance not to add"])
def test_an_allowance_that_may_be_read_two_ways_is_asked_back(line):
    """Added already, or to be added? Nothing is taken for granted; both ways are shown."""
    said = slips(SQUARE.replace("allowance not included", line))[3]
    assert "may be read two ways" in said
    assert '"allowance included"' in said
    assert '"allowance to add"' in said


def test_two_lines_of_the_allowance_that_contradict_each_other_are_told():
    """The first holds, the second is a slip that names the first's line; two that agree are one."""
    said = slips(SQUARE + "allowance 1 cm included\n")[14]
    assert "line 3 says something else of the allowance" in said
    assert set(slips(SQUARE + "allowance 1 cm to add\nallowance 2 cm to add\n")) == {15}
    assert one(SQUARE + "allowance 1 cm to add\n").width == 10


def test_no_allowance_anywhere_is_told():
    """Not included and no width: told once for all edges, or with the edges that have none."""
    assert any(t.startswith("no allowance anywhere") for t in one(SQUARE).took)
    some = one(SQUARE.replace("straight", "straight, allowance 4 cm"))
    assert any(t.startswith("no allowance at side, waist:") for t in some.took)
    for width in ("5/8 in to add", "0 to add", "1 cm included"):
        text = SQUARE.replace("allowance not included", f"allowance {width}")
        assert not any("no allowance" in t for t in one(text).took)


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ("fold centre from A to B", "fold centre from A to B, allowance 2 cm", 11, "no allowance"),
        ("allowance not included", "allowance 50 cm to add", 3, "wider than any seam or hem"),
        ("straight", "straight, allowance 16 cm", 8, "wider than any seam or hem"),
        ("grain up", "grain up\ngrain along waist", 14, "gives the grain already"),
        ("from D to A", "from D to A, straight, curve 2 cm out", 10, "said to be straight"),
        ("from D to A", "from D straight to A, through B", 10, "said to be straight"),
        ("from D to A", "from D straight to A, square to side", 10, "said to be straight"),
    ],
)
def test_what_cannot_both_be_meant_is_told(old, new, line, words):
    """Of two things that exclude each other, or a width that cannot be, none is taken silently."""
    assert words in slips(SQUARE.replace(old, new))[line]


def test_marks_and_levels_far_outside_the_piece_are_told():
    """4 m beside the piece, or a level above it: told with how far; on the edge nothing."""
    text = SQUARE + "mark button at 400 cm right of D\nlevel bust is 20 cm above A\nmark x at D\n"
    assert [t for t in one(text).took if "outside" in t] == [
        'the mark "button" lies 400 cm outside the piece',
        'the level "bust" lies 20 cm outside the piece',
    ]


@pytest.mark.parametrize("line", ["from A to B hem", "from A to X", "X is from A"])
def test_a_point_needs_a_length(line):
    """from A to B hem: an edge in disorder is never read as a point that lies on A."""
    said = slips(SQUARE + line + "\n")[14]
    assert "would lie on A" in said
    assert "hem from A to B" in said


def test_a_remark_stands_alone_or_at_the_beginning():
    """front #2 never becomes front; # with a space after it, or first of all, begins a remark."""
    said = slips(SQUARE.replace("piece panel", "piece front #2"))[1]
    assert '"front #2" cannot be the name of a piece' in said
    assert "front 2" in said
    text = SQUARE.replace("piece panel", "piece panel # of the front").replace("unit", "#2\nunit")
    assert one(text).name == "panel"


def test_a_wider_miss_of_checks_joins_no_ends():
    """within 5 cm is said of checks: ends 2 cm apart are still an open outline."""
    text = SQUARE.replace("fold centre from A to B", "E is 2 cm left of B\nfold centre from A to E")
    (said,) = slips(text + "within 5 cm\n").values()
    assert "stands open" in said
