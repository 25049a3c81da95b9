"""Slips of the tape: what is asked about, what is not, and who it is compared with."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.body.body import Body, body_with
from clothwright.body.plausible import (
    GIVEN,
    SUMMARY,
    TIED,
    WHO,
    correlations,
    doubts,
    expected,
)
from clothwright.units import Unit
from clothwright.words import say

MEAN = {m: SUMMARY[m].mean for m in TIED}


def body(unit: Unit = Unit.cm, *, compare: bool = True, **values: object) -> Body:
    """Return a body typed in a unit; upper_arm for upper-arm."""
    return body_with(Body(), {**values, "compare": compare}, unit=unit)


def asked(it: Body) -> dict[str, str]:
    """Return the first explanation tried for each measurement that is asked about."""
    return {d.measure: d.tries[0].text if d.tries else "" for d in doubts(it)}


def test_the_survey_s_own_mean_is_no_question() -> None:
    """The mean of the 260 women, and all their 5 % or 95 % figures together, raise nothing."""
    mean = {m.replace("-", "_"): f"{s.mean / 10:.2f}" for m, s in SUMMARY.items()}
    assert doubts(body(**mean)) == ()
    low = {"height": 154.5, "bust": 77.0, "waist": 60.5, "hip": 85.8, "upper_arm": 24.3}
    high = {"height": 175.3, "bust": 97.1, "waist": 85.0, "hip": 108.1, "upper_arm": 32.8}
    assert doubts(body(**low, wrist=13.8)) == ()
    assert doubts(body(**high, wrist=16.4)) == ()


def test_the_table_s_sizes_are_no_question() -> None:
    """Bust, waist and hip of every purchased-pattern size from 4 to 26 go together."""
    from clothwright.body.charts import EXAMPLES

    (chart,) = EXAMPLES
    for size in chart.sizes:
        row = {m: f"{(chart.value(m, size) or 0) / 25.4:.3f}" for m in ("bust", "waist", "hip")}
        assert doubts(body(Unit.inch, **row)) == (), size


@pytest.mark.parametrize(
    ("unit", "values", "measure", "meant"),
    [
        (Unit.cm, {"bust": 86, "waist": 70, "hip": 69}, "hip", "96 cm"),
        (Unit.cm, {"bust": 68, "waist": 70, "hip": 96}, "bust", "86 cm"),
        (Unit.cm, {"bust": "92,5", "waist": 72, "hip": "79"}, "hip", "97 cm"),
        (Unit.inch, {"bust": 34, "waist": 70, "hip": 38}, "waist", "70 cm"),
        (Unit.cm, {"bust": 34, "waist": 70, "hip": 96}, "bust", "34 in"),
        (Unit.inch, {"bust": "36 1/2", "waist": "82", "hip": 38}, "waist", "28 in"),
        (Unit.cm, {"bust": 92, "waist": 35, "hip": 96}, "waist", "70 cm"),
        (Unit.cm, {"bust": 86, "waist": 70, "hip": 96, "upper_arm": 82}, "upper-arm", "28 cm"),
        (Unit.inch, {"bust": 34, "waist": 27, "hip": 37, "wrist": 15}, "wrist", "15 cm"),
        (Unit.inch, {"bust": 34, "height": 165}, "height", "165 cm"),
    ],
)
def test_classic_slips(unit: Unit, values, measure: str, meant: str) -> None:
    """Digits that changed places, cm typed in an inch workbook, half a girth: found, and named.

    Only the one that is wrong is asked about, and what was meant is among the tries.
    """
    found = doubts(body(unit, **values))
    assert [d.measure for d in found] == [measure]
    assert meant in [t.text for t in found[0].tries]
    words = say(found[0].words, unit)
    assert "expected" in words
    assert "Try" in words


def test_everything_typed_in_the_other_unit() -> None:
    """86, 70, 96 in an inch workbook: each is meant in cm, also the waist that could be."""
    found = asked(body(Unit.inch, bust=86, waist=70, hip=96))
    assert found == {"bust": "86 cm", "waist": "70 cm", "hip": "96 cm"}


@pytest.mark.parametrize(
    "values",
    [
        {"bust": 140, "waist": 130, "hip": 140},
        {"bust": 118, "waist": 104, "hip": 126},
        {"bust": 122, "waist": 112, "hip": 125, "upper_arm": 42},
        {"waist": 125},
        {"hip": 150},
        {"bust": 76, "waist": 58, "hip": 82},
    ],
)
def test_large_and_small_bodies_are_no_slips(values) -> None:
    """Bodies that the survey hardly knew are left alone when their figures go together."""
    assert doubts(body(**values)) == ()


def test_not_compared_when_it_is_not_wanted() -> None:
    """Switched off, only what no body has is asked about."""
    assert doubts(body(compare=False, bust=86, waist=70, hip=69)) == ()
    assert asked(body(compare=False, bust=86, waist=7)) == {"waist": ""}


def test_it_is_a_question_and_says_who_was_measured() -> None:
    """The words leave it to her; the notice names the 260 women and that bodies vary."""
    (doubt,) = doubts(body(bust=129, waist=72))
    words = say(doubt.words, Unit.cm)
    assert "keep it: bodies vary" in words
    assert doubt.expected == pytest.approx(876, abs=5)
    assert "260 physically active adult women in the United States" in WHO
    assert "Bodies vary" in WHO


def test_correlations_are_sound() -> None:
    """The five published ones stand in the matrix, and it is a correlation matrix."""
    r = correlations()
    assert np.allclose(r, r.T)
    assert np.allclose(np.diag(r), 1)
    assert np.linalg.eigvalsh(r).min() > 0.05
    for (a, b), value in GIVEN.items():
        assert r[TIED.index(a), TIED.index(b)] == value


def test_pairs_not_given_are_tied_only_through_those_given() -> None:
    """Where no correlation is given, the inverse matrix is zero: no tie of its own (Dempster)."""
    inverse = np.linalg.inv(correlations())
    for i, a in enumerate(TIED):
        for j, b in enumerate(TIED):
            if i < j and (a, b) not in GIVEN and (b, a) not in GIVEN:
                assert inverse[i, j] == pytest.approx(0, abs=1e-9)


def test_two_girths_by_the_textbook() -> None:
    """Bust given waist: mean + r sd (w - mean) / sd, sd √(1 - r²), worked by hand."""
    found = expected("bust", {"waist": 800.0})
    r = 0.859
    assert found.mean == pytest.approx(860.6 + r * 61.7 * (800 - 698.0) / 75.9)
    assert found.sd == pytest.approx(61.7 * (1 - r * r) ** 0.5)


def test_expected_against_the_joint_density() -> None:
    """Along a line the joint density of scipy peaks at the mean that is expected."""
    from scipy import stats

    sd = np.array([SUMMARY[m].sd for m in TIED])
    mean = np.array([SUMMARY[m].mean for m in TIED])
    joint = stats.multivariate_normal(mean, correlations() * np.outer(sd, sd))
    others = {"waist": 760.0, "hip": 900.0, "upper-arm": 300.0, "wrist": 155.0}
    found = expected("bust", others)
    places = found.mean + found.sd * np.linspace(-2, 2, 401)
    density = [joint.logpdf([b, *(others[m] for m in TIED[1:])]) for b in places]
    assert places[int(np.argmax(density))] == pytest.approx(found.mean, abs=found.sd / 50)
    drop = joint.logpdf([found.mean, *others.values()]) - joint.logpdf(
        [found.mean + found.sd, *others.values()]
    )
    assert drop == pytest.approx(0.5)


def test_few_of_the_survey_s_own_kind_are_asked() -> None:
    """Of 500 sets drawn from the distribution, fewer than one in twenty gets a question."""
    draw = np.random.default_rng(7).standard_normal((500, len(TIED)))
    sets = draw @ np.linalg.cholesky(correlations()).T
    count = 0
    for z in sets:
        values = {
            m: round((SUMMARY[m].mean + SUMMARY[m].sd * float(v)) / 10, 1)
            for m, v in zip(TIED, z, strict=True)
        }
        count += bool(doubts(body_with(Body(), values, unit=Unit.cm)))
    assert 0 < count < 25


@settings(max_examples=60)
@given(
    st.dictionaries(
        st.sampled_from([*TIED, "height", "thigh", "head"]), st.floats(1, 900), max_size=8
    ),
    st.booleans(),
)
def test_any_figures_end_in_an_answer(values, compare: bool) -> None:
    """Whatever is typed, each measurement gets at most one question, and every try is a length."""
    it = body_with(Body(), {**values, "compare": compare}, unit=Unit.cm)
    found = doubts(it)
    assert len({d.measure for d in found}) == len(found)
    for d in found:
        assert d.measure in values
        assert all(t.mm > 0 and t.text for t in d.tries)
        assert say(d.words, Unit.inch)
