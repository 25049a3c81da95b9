"""Measurements as typed: kept with their unit, read exactly, refused in a sentence."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.body.body import Body, body_with, measurement
from clothwright.body.measures import MEASURES, measure_of
from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length

BUST = measure_of("bust")


@pytest.mark.parametrize(
    ("typed", "unit", "text", "mm"),
    [
        ("36 1/2", Unit.inch, "36 1/2 in", 927.1),
        ("36 1/2 in", Unit.cm, "36 1/2 in", 927.1),
        ("92,5", Unit.cm, "92,5 cm", 925.0),
        (92, Unit.cm, "92 cm", 920.0),
        ("5' 6\"", Unit.cm, "5' 6\"", 1676.4),
        (" 36½ ", Unit.inch, "36½ in", 927.1),
    ],
)
def test_a_figure_keeps_its_words_and_gets_a_unit(typed, unit, text, mm) -> None:
    """What was typed stays; a number alone gets the workbook's unit, so that it never changes."""
    found = measurement(typed, measure=BUST, unit=unit)
    assert (found.text, found.mm) == (text, pytest.approx(mm))
    assert parse_length(found.text, unit=Unit.yard) == found.mm


@pytest.mark.parametrize("typed", ["0", "-36", "11 m", "36 inn", "", "36-38 in", "1,000"])
def test_what_is_no_measurement(typed: str) -> None:
    """Nothing, less than nothing, more than 10 m, a range: a sentence that names the measure."""
    with pytest.raises(BadInput, match=r"[Bb]ust girth"):
        measurement(typed, measure=BUST, unit=Unit.inch)


def test_entries_come_and_go() -> None:
    """By any of its names; an empty text takes one out; the order is that of MEASURES."""
    body = body_with(Body(), {"Hips": "97", "full bust": 92, "note": " thin "}, unit=Unit.cm)
    assert [m for m, _ in body.taken] == ["bust", "hip"]
    assert (body.mm("hip"), body.mm("waist"), body.note) == (970.0, None, "thin")
    body = body_with(body, {"bust": "", "date": "2026-11-25", "compare": "no"}, unit=Unit.cm)
    assert body.figures() == {"hip": 970.0}
    assert (body.day, body.compare) == ("2026-11-25", False)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"hipp": "97"}, 'Did you mean "hip"'),
        ({"date": "25.11.2026"}, "year, month, day"),
        ({"compare": "perhaps"}, "yes or no"),
        ({"hip": True}, "a length"),
        ({"note": 3}, "text"),
    ],
)
def test_what_cannot_be_kept(values, words: str) -> None:
    """Each with what was expected."""
    with pytest.raises(BadInput) as caught:
        body_with(Body(), values, unit=Unit.cm)
    assert words in str(caught.value)


def test_every_measure_tells_how_it_is_taken() -> None:
    """Id, name and use are there, names are of one measure only, and bounds make sense."""
    assert len({m.id for m in MEASURES}) == len(MEASURES)
    for m in MEASURES:
        assert m.how.endswith(".")
        assert m.used
        assert 0 < m.least < m.most
        for name in (m.id, m.key, m.name, *m.also):
            assert measure_of(name.upper()) is m


@given(st.sampled_from(MEASURES), st.integers(1, 6000), st.sampled_from([Unit.inch, Unit.cm]))
def test_round_trip(measure, sixteenths: int, unit: Unit) -> None:
    """Any sixteenth, typed bare, is the same length when read back in any other unit."""
    text = f"{sixteenths // 16} {sixteenths % 16}/16" if sixteenths >= 16 else f"{sixteenths}/16"
    if sixteenths % 16 == 0:
        text = str(sixteenths // 16)
    found = measurement(text, measure=measure, unit=unit)
    assert found.mm == pytest.approx(sixteenths / 16 * unit.in_mm)
    assert measurement(found.text, measure=measure, unit=Unit.mm) == found
