"""What is done to a piece is done to what lies on it: linings and facings of the lined coat."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from clothwright.changes.alike import asked_alike
from clothwright.changes.lengthen import CHANGE as LENGTHEN
from clothwright.changes.lengthen import Lengthen
from clothwright.changes.move_edge import CHANGE as MOVE
from clothwright.changes.set_allowance import CHANGE as ALLOWANCE
from clothwright.changes.shorten_dart import CHANGE as SHORTEN
from clothwright.changes.unfold import CHANGE as UNFOLD
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.together import left_behind, proposed
from clothwright.units import Unit
from clothwright.units.params import read_params
from tests.garments.wardrobe import GARMENTS


def coat() -> Pattern:
    """The lined coat, with what goes together as it is proposed."""
    pattern = GARMENTS["lined coat"]()
    return replace(pattern, companions=proposed(replace(pattern, companions=())))


def alike(change: Any, **typed: object) -> list[Any]:
    params = read_params(change.params, typed, unit=Unit.cm, where="test")
    return list(asked_alike(change, coat(), params))


def test_a_lengthened_front_lengthens_its_lining_and_facing() -> None:
    """Both that have the level, in one change; the facing's own companions, the collar, are not."""
    (one,) = alike(LENGTHEN, pieces="coat front", level="waist", by="3 cm")
    assert set(one.pieces) == {"front facing", "lining front"}
    assert (one.level, one.by) == ("waist", 30.0)


def test_what_has_no_such_level_or_is_named_already_is_left_out() -> None:
    """The neck facing has no waist; a lining that is named is not named again."""
    (back,) = alike(LENGTHEN, pieces="coat back", level="waist", by="3 cm")
    assert back.pieces == ("lining back",)
    assert alike(LENGTHEN, pieces="coat back,lining back", level="waist", by="3 cm") == []
    assert alike(LENGTHEN, pieces="lining back", level="waist", by="3 cm") == []


def test_done_alike_nothing_is_left_behind() -> None:
    """The shell alone leaves its lining behind; both together leave none (by their lengths)."""
    pattern = coat()
    shell = Lengthen(pieces=("coat front", "coat back"), level="waist", by=20.0)
    done = LENGTHEN.apply(pattern, shell).pattern
    assert {b.companion.piece for b in left_behind(done, 1.5)} >= {"lining front", "lining back"}
    for params in asked_alike(LENGTHEN, pattern, shell):
        done = LENGTHEN.apply(done, params).pattern
    assert not list(left_behind(done, 1.5))


def test_an_edge_is_moved_where_it_lies_along_another() -> None:
    """The facing's neck and the lining's side, by what they lie along."""
    (neck,) = alike(MOVE, edge="coat back.neck", by="-5 mm")
    assert neck.edge == "back neck facing.neck"


def test_a_dart_and_what_each_piece_has_for_itself() -> None:
    """A lining's dart of that name; allowances and unfolding are each piece's own."""
    (dart,) = alike(SHORTEN, dart="coat sleeve.elbow dart", by="1 cm")
    assert dart.dart == "lining sleeve.elbow dart"
    assert alike(ALLOWANCE, edges="coat back.side", amount="2 cm") == []
    assert alike(UNFOLD, pieces="coat back") == []


@pytest.mark.parametrize("name", GARMENTS)
def test_without_companions_there_is_nothing_alike(name: str) -> None:
    """No piece is changed that nobody says goes with another."""
    pattern = replace(GARMENTS[name](), companions=())
    pieces = tuple(p.name for p in pattern.pieces[:1])
    params = Lengthen(pieces=pieces, level="waist", by=10.0)
    assert asked_alike(LENGTHEN, pattern, params) == ()
