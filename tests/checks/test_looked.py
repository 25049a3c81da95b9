"""What was looked at is counted, and what is not there is none."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import CHECKS, BorderEdge, CheckSettings, LookedAt, looked_at
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from tests.checks.specimens import outfit
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS
from tests.words.walker import strays

SETTINGS = CheckSettings(
    borders=(BorderEdge(piece="front", edge="hem"),), body=(("waist", 600.0), ("hip", 800.0))
)

COUNTS = {
    "outline": 6,
    "seam-ways": 5,  # all but the waist
    "seam-lengths": 5,
    "notch-partners": 7,  # side, skirt side, elbow, band, and three of the armhole
    "levels-across-seams": 3,  # waist, hip, biceps
    "fullness-places": 0,
    "cap-ease": 1,
    "corners-as-sewn": 8,  # two ends of side, shoulder, sleeve and skirt side
    "darts": 3,
    "darts-inside": 0,
    "fair-lines": 28,
    "mating-allowances": 8,
    "adjoining-hems": 3,
    "hem-fullness": 5,
    "cut-counts": 6,
    "companions-follow": 0,
    "patches-fit": 0,
    "buttons": 0,
    "openings": 0,
    "bands": 0,
    "grain-and-fold": 6,
    "grain-across-seams": 1,
    "head-opening": 0,  # there is a neckline, and nobody's head was measured
    "hem-for-border": 1,
    "wearing-ease": 3,
}
"""Counted by hand on the outfit: six pieces, six seams, three darts."""


def counts(p: Pattern) -> dict[str, int]:
    return {check.id: what.count for check, what in looked_at(p, SETTINGS)}


def test_each_check_says_how_much_it_looked_at() -> None:
    """The figures of an all-clear are those of the pattern."""
    assert counts(outfit()) == COUNTS


def test_without_seams_there_is_nothing_to_agree() -> None:
    """Bare pieces: only what is drawn on them is looked at."""
    left = {k for k, n in counts(replace(outfit(), seams=())).items() if n}
    of_pieces = {"outline", "darts", "fair-lines", "hem-fullness", "grain-and-fold"}
    assert left == of_pieces | {"hem-for-border"}


@pytest.mark.parametrize(
    ("check", "words", "bare"),
    [
        ("seam-ways", "Nothing tells from which end these seams are sewn", "waist"),
        ("darts-inside", "How near the bust dart comes to the bust point", "front"),
        ("companions-follow", "These seem to go with other pieces", "waistband"),
    ],
)
def test_what_could_not_be_looked_at_is_named(check: str, words: str, bare: str) -> None:
    """An all-clear that leaves it out would be a false one (design, checks)."""
    (said,) = {c.id: what.unlooked for c, what in looked_at(outfit())}[check]
    assert said.startswith(words)
    assert said.endswith(f"{bare}.")


def test_a_piece_that_does_not_say_how_it_is_cut_is_named() -> None:
    """And the seams it is in are not counted."""
    p = outfit()
    p = p.with_piece(replace(p.piece("sleeve"), cuts=()))
    what = {c.id: what for c, what in looked_at(p)}["cut-counts"]
    assert what == LookedAt(4, "4 seams", ("How often these are cut is not said: sleeve.",))


def test_a_long_gathered_seam_without_a_mark_is_named() -> None:
    """Nobody could say where its fullness lies."""
    p = plant.with_seam(outfit(), "skirt side", join="gathered", ease=100.0)
    p = plant.without_notch(
        plant.without_notch(p, "skirt front", "side", 0), "skirt back", "side", 0
    )
    what = {c.id: what for c, what in looked_at(p)}["fullness-places"]
    assert what.unlooked == ("Where the fullness of skirt side lies: no notch parts it.",)


def test_what_stops_a_check_leaves_nothing_looked_at() -> None:
    """A border along an edge that is not there: its finding says so, it does not agree."""
    bad = CheckSettings(borders=(BorderEdge(piece="frnt", edge="hem"),))
    assert len(looked_at(outfit(), bad)) == len(CHECKS)


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_what_was_looked_at_is_said_in_her_words(unit: Unit) -> None:
    """No key, no foreign unit, no word that failed: of every garment, bare and whole."""
    for draft in (*GARMENTS.values(), outfit):
        whole = draft()
        for p in (whole, replace(whole, seams=(), companions=())):
            for check, what in looked_at(p, SETTINGS):
                for words in (f"{check.title} Yes: {what.words}.", *what.unlooked):
                    assert strays(words, unit, p) == []
