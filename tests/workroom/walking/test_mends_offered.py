"""What is offered where a piece was lengthened and its partner forgotten, or a dart changed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.fit_dart import FitDart
from clothwright.changes.fit_dart import apply as fit_dart
from clothwright.changes.lengthen import Lengthen
from clothwright.changes.lengthen import apply as lengthen
from clothwright.checks import CheckSettings, run_checks
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import change_of
from clothwright.workroom.walking.trial import CLEAN
from clothwright.workroom.walking.tried import tried_mending
from tests.faults.mistakes import on
from tests.faults.paper import let_out
from tests.garments.wardrobe import GARMENTS, settings_of
from tests.specimens import bodice

PANELS = ("centre front", "side front", "centre back", "side back")


def mended(pattern: Pattern, f: Finding, settings: CheckSettings) -> tuple[str, Pattern]:
    """The change that is offered for a finding, and the pattern after it."""
    mending = tried_mending(f, pattern, settings, Unit.mm)
    assert mending is not None
    assert mending.after == CLEAN
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    return mending.change, change.apply(pattern, params).pattern


def test_the_backs_that_were_forgotten_are_lengthened_too() -> None:
    """Fronts lengthened at the waist, backs forgotten: one change, and nothing is found any more.

    It was once offered to cut the difference off at the end of the seam, into the underarm.
    """
    pattern, settings = GARMENTS["princess"](), settings_of("princess")
    kept = {f.code for f in run_checks(pattern, settings)}
    fronts = Lengthen(pieces=PANELS[:2], level="waist", by=15.0, above=20.0)
    spoilt = lengthen(pattern, fronts).pattern
    found = [f for f in run_checks(spoilt, settings) if f.code == "seam-length"]
    kind, after = mended(spoilt, found[0], settings)
    assert kind == "lengthen"
    assert {f.code for f in run_checks(after, settings)} <= kept
    for name in PANELS[2:]:
        lengths = [p.piece(name).edge("hem").path.start.y for p in (pattern, after)]
        assert lengths[0] - lengths[1] == pytest.approx(15.0, abs=1.0)


def test_a_dart_that_was_changed_is_offered_to_be_fitted() -> None:
    """A waist dart 8 mm narrower than its skirt asks for: the dart takes it up again."""
    pattern, settings = GARMENTS["wrap dress"](), settings_of("wrap dress")
    back = pattern.piece("bodice back")
    (dart,) = back.darts_on("waist")
    (waist,) = pattern.seams_of("bodice back", "waist")
    wide = pattern.with_seam(replace(waist, ease=waist.ease - 8.0, eased_max=0.0))
    narrow = fit_dart(wide, FitDart(dart=f"bodice back.{dart.name}", seam=waist.name)).pattern
    spoilt = narrow.with_seam(waist)
    (found,) = [f for f in run_checks(spoilt, settings) if f.code == "seam-length"]
    kind, after = mended(spoilt, found, settings)
    assert kind == "fit-dart"
    assert [f.code for f in run_checks(after, settings) if f.code == "seam-length"] == []


def test_where_no_one_change_mends_it_is_said_what_to_look_at() -> None:
    """What was tried, what it would upset, and which pieces to lay along each other."""
    wrong = Finding(
        code="seam-length",
        severity=Severity.FAULT,
        where=Where(seam="shoulder seam"),
        mend=Mend(change="lengthen", params={"pieces": ("front",), "level": "waist", "by": 30.0}),
    )
    mending = tried_mending(wrong, bodice(), CheckSettings(), Unit.cm)
    assert mending is not None
    assert mending.trouble == (
        "No one change mends it. Lay front and back along each other there and see which of them "
        "was changed."
    )
    assert mending.tried == (
        "Tried: lengthen or shorten at a level, but then front, side is 3 cm longer than back, "
        'side; the difference lies between notch "waist" and "hem side".'
    )


def test_what_hangs_together_is_looked_at_and_nothing_else() -> None:
    """Beside another garment: a change is tried on its own pieces alone, and comes to the same."""
    one, other = GARMENTS["princess"](), GARMENTS["trousers"]()
    settings = settings_of("princess")
    fronts = Lengthen(pieces=PANELS[:2], level="waist", by=15.0, above=20.0)
    spoilt = lengthen(one, fronts).pattern
    wide = replace(
        spoilt,
        pieces=(*spoilt.pieces, *(replace(p, name=f"trousers {p.name}") for p in other.pieces)),
    )
    alone, beside = (
        [tried_mending(f, p, settings, Unit.cm) for f in run_checks(p, settings) if f.mends]
        for p in (spoilt, wide)
    )
    assert alone
    assert [m.does for m in beside if m and not m.trouble][: len(alone)] == [m.does for m in alone]


def test_of_two_pieces_that_agree_with_all_else_both_ways_are_offered() -> None:
    """A skirt back let down 25 mm at the hem: nobody can tell that it was not the front.

    Either way nothing is off any more, and the other piece stays as it is.
    """
    pattern, settings = GARMENTS["wrap dress"](), settings_of("wrap dress")
    spoilt = on("skirt back", let_out, "hem", 25.0)(pattern)
    f = next(f for f in run_checks(spoilt, settings) if f.code == "seam-length")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    assert mending.other is not None
    changed = []
    for way in (mending, mending.other):
        change = change_of(way.change)
        params = read_params(change.params, way.params, unit=Unit.mm, where="mend")
        after = change.apply(spoilt, params).pattern
        loud = [x for x in run_checks(after, settings) if x.severity is not Severity.NOTE]
        assert loud == []
        changed += [p.name for p, q in zip(spoilt.pieces, after.pieces, strict=True) if p != q]
    assert sorted(changed) == ["skirt back", "skirt front"]
    assert mending.or_else.startswith(f"Or, if {changed[1]} was changed by mistake: ")


def test_a_dart_is_not_closed_for_a_dart_that_was_left_out() -> None:
    """The skirt's back dart left out: it comes back, though the bodice's closed would agree, too.

    A dart that loses more than half of what it takes shapes the piece no more.
    """
    pattern, settings = GARMENTS["wrap dress"](), settings_of("wrap dress")
    spoilt = pattern.with_piece(replace(pattern.piece("skirt back"), darts=()))
    f = next(f for f in run_checks(spoilt, settings) if f.where.seam == "waist")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    assert (mending.change, mending.mend.params["edge"]) == ("add-dart", "skirt back.waist")
    if mending.other is not None:
        assert mending.other.change != "fit-dart"
