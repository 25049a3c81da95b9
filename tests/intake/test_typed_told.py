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
