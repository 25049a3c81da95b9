"""The kinds of declared fields stand once: each is used, and what is named can be chosen."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, get_args

import pytest

from clothwright.changes import CHANGES
from clothwright.rules.kinds import RULES
from clothwright.rules.names import OF_CLOTH, OF_PIECE
from clothwright.units import kinds
from clothwright.units.params import declared
from clothwright.workroom.editing.offers import OFFERS

ALL = (*CHANGES, *RULES)
KINDS = {kind for group in get_args(kinds.Kind) for kind in get_args(group)} - {""}


@pytest.mark.parametrize("what", ALL, ids=lambda w: w.id)
def test_every_field_is_declared(what: Any) -> None:
    """A field that nobody declared would be asked for by no form and read by nothing."""
    assert [f.name for f in fields(what.params) if f.name not in declared(what.params)] == []


def test_every_kind_is_used_and_no_other() -> None:
    """A kind that no change and no rule has is left over; one that is not listed is a slip."""
    assert {it.kind for what in ALL for it in declared(what.params).values()} == KINDS


def test_what_is_named_can_be_chosen() -> None:
    """A form offers whatever is a name; a number, a flag, a text and a choice say themselves."""
    assert KINDS - {*get_args(kinds.Measured), *get_args(kinds.Plain)} == set(OFFERS)


def test_what_a_rule_names_is_looked_up() -> None:
    """Each kind that only a rule has is found in a piece, or among the cloths."""
    assert (set(OF_PIECE), set(OF_CLOTH)) == (
        set(get_args(kinds.OfPiece)),
        set(get_args(kinds.OfCloth)),
    )
