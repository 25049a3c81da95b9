"""Lengths, angles and shares: read from what a maker writes, shown in what she reads."""

import doctest
import itertools
import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
import scipy.constants
from hypothesis import example, given
from hypothesis import strategies as st

from clothwright import units, words
from clothwright.errors import BadInput
from clothwright.units import (
    Unit,
    amounts,
    parse_angle_deg,
    parse_fraction,
    parse_length,
    parse_unit,
    reading,
    unit,
)
from clothwright.words import (
    Sentence,
    say,
    saying,
    show_angle_deg,
    show_fraction,
    show_length,
    told,
)

DOCS = Path(__file__).parent.parent / "docs"

# Exact by the international yard and pound agreement of 1959 (1 yd = 0.9144 m); the same figures
# stand in NIST SP 811, appendix B.8.
AGREED_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction("25.4"),
    "ft": Fraction("304.8"),
    "yd": Fraction("914.4"),
}
STEPS = {
    "mm": Fraction(1, 10),
    "cm": Fraction(1),
    "m": Fraction(10),
    "in": Fraction("25.4") / 16,
    "ft": Fraction("25.4") / 16,
    "yd": Fraction("914.4") / 8,
}
ANY_UNIT = st.sampled_from(Unit)
REASONABLE_MM = st.floats(-900_000, 900_000)


@pytest.mark.parametrize("module", [units, unit, amounts, reading, words, saying])
def test_the_examples_in_the_docstrings_hold(module):
    """Every example shown to a reader is true."""
    outcome = doctest.testmod(module)
    assert outcome.failed == 0
    assert outcome.attempted > 0


def test_the_examples_in_the_page_on_units_hold():
    """What the documentation shows in code is what happens."""
    outcome = doctest.testfile(str(DOCS / "units.md"), module_relative=False)
    assert outcome.failed == 0
    assert outcome.attempted >= 7


@pytest.mark.parametrize("table", ["What you may type", "What is asked back rather than guessed"])
def test_what_the_page_on_units_lists_is_read_or_refused_as_it_says(table: str):
    """Every text in the page's first table is a length; every one in its second is refused."""
    page = (DOCS / "units.md").read_text(encoding="utf-8")
    part = page.split(f"## {table}\n")[1].split("\n## ")[0]
    rows = [row for row in part.splitlines() if row.startswith("| ")]
    texts = [text for row in rows for text in re.findall("`([^`]+)`", row.split(" | ")[0])]
    assert len(texts) >= 15
    for text in texts:
        if table == "What you may type":
            assert parse_length(text, unit=Unit.inch) != 0
        else:
            with pytest.raises(BadInput):
                parse_length(text, unit=Unit.inch)


def test_factors_are_those_agreed_in_1959():
    """Every unit is exactly as many millimetres as the agreement says; scipy agrees."""
    assert {each.value: each.exact_mm for each in Unit} == AGREED_MM
    assert {each.value: each.in_mm for each in Unit} == pytest.approx(
        {k: float(v) for k, v in AGREED_MM.items()}, rel=0, abs=0
    )
    for each, metres in (
        (Unit.inch, scipy.constants.inch),
        (Unit.foot, scipy.constants.foot),
        (Unit.yard, scipy.constants.yard),
    ):
        assert each.in_mm == pytest.approx(metres * 1000, rel=1e-15)


# --- reading lengths -----------------------------------------------------------------------------

INCHES = {
    "5/8": "0.625",
    '5/8"': "0.625",
    '⅝"': "0.625",
    "5⁄8 in": "0.625",
    "5/8-inch": "0.625",
    "5 / 8 in": "0.625",
    "⅟8 in": "0.125",
    "17": "17",
    '17 1/2"': "17.5",
    "17-1/2 in": "17.5",
    "17–1/2 in": "17.5",
    "17½": "17.5",
    "17 ½″": "17.5",
    "17-½ in.": "17.5",
    "17 and 1/2 inches": "17.5",
    "17.5 IN": "17.5",
    "17,5 ins": "17.5",
    "1⅝ in": "1.625",
    "1⁵⁄₈ in": "1.625",
    "1 5/8 inches": "1.625",
    "1\u00a05/8\u202fin": "1.625",
    "9/8 in": "1.125",
    "1.125": "1.125",
    "0,625": "0.625",
    ".5": "0.5",
    ",5": "0.5",
    "3.": "3",
    "5 ft": "60",
    "5'": "60",
    "5' 6\"": "66",
    "5′ 6″": "66",
    "5’6”": "66",
    "5' 6''": "66",
    "5'6": "66",
    "5'-6 1/2\"": "66.5",
    "5 feet 6 inches": "66",
    "1 foot 1/2 in": "12.5",
    "2 yd 9 in": "81",
    "2yd9in": "81",
    "2 yards and 9 inches": "81",
    "2 yds, 9 in": "81",
    "1 yd 2 ft 3 in": "63",
    "1 3/8 yd": "49.5",
    "1/2 yd": "18",
    "-1/2": "-0.5",
    "−1 5/8 in": "-1.625",
    "- 2 in": "-2",
    "+2 in": "2",
    "-2 yd 9 in": "-81",
    "0": "0",
    "-0": "0",
    "0/8": "0",
    "１２": "12",
    "\ufeff12\u200b in": "12",
}
MILLIMETRES = {
    "43,5 cm": "435",
    "43.5cm": "435",
    "43½ cm": "435",
    "12 mm": "12",
    "12 millimetres": "12",
    "12 millimeter": "12",
    "1 centimetre": "10",
    "2 Centimeters": "20",
    "1.5 m": "1500",
    "1,5 metres": "1500",
    "1 meter": "1000",
    "1 m 20 cm": "1200",
    "1 m 20 cm 5 mm": "1205",
    "１２㎝": "120",
    "5㎜": "5",
}


@pytest.mark.parametrize(("text", "inches"), INCHES.items())
def test_imperial_text_is_read_exactly(text: str, inches: str):
    """Every way to write inches, feet and yards gives the exact length in millimetres."""
    assert parse_length(text, unit=Unit.inch) == float(Fraction(inches) * Fraction("25.4"))


@pytest.mark.parametrize(("text", "mm"), MILLIMETRES.items())
def test_metric_text_is_read_exactly(text: str, mm: str):
    """Every way to write metric lengths gives the exact length, point or comma alike."""
    assert parse_length(text, unit=Unit.inch) == float(mm)


@pytest.mark.parametrize("each", list(Unit))
@pytest.mark.parametrize("bare", ["2 1/4", "2.25", "2,25", 2.25])
def test_a_bare_number_is_in_the_workbook_unit(each: Unit, bare):
    """No unit written means the one the workbook is kept in, for text and for numbers."""
    assert parse_length(bare, unit=each) == float(Fraction(9, 4) * AGREED_MM[each.value])


def test_a_written_unit_beats_the_workbook_unit():
    """A written unit counts, whatever the workbook is kept in."""
    assert {parse_length("2 cm", unit=each) for each in Unit} == {20.0}


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "nothing is written"),
        (" \u00a0", "nothing is written"),
        ("-", "nothing is written"),
        ("nan", "no number"),
        ("inf", "no number"),
        ("wide", "no number"),
        ("about 5", "begin with a number"),
        ("--5", "begin with a number"),
        ("5 inhc", 'Did you mean "inch"?'),
        ("5 milimetre", 'Did you mean "millimetre"?'),
        ("5 furlongs", '"furlongs" is not a unit'),
        ("5 km", '"km" is not a unit'),
        ("1e3", '"e" is not a unit'),
        ("5 cm²", '"cm²" is not a unit'),
        ("5 %", "not a unit"),
        ("5/0", "divides by zero"),
        ("2 1/0 in", "divides by zero"),
        ("1/2/3", "one whole number over another"),
        ("1 2/3/4", "one whole number over another"),
        ("1.5/2", "one whole number over another"),
        ("1 9/8", "less than one"),
        ("17 4/4", "try 18"),
        ("1.000,5", "more than one decimal mark"),
        ("1,000.5", "more than one decimal mark"),
        ("5..3", "more than one decimal mark"),
        ("1,000", "may mean 1.000 or 1000"),
        ("17,125 in", "may mean 17.125 or 17125"),
        ("1 000 mm", "try 1000"),
        ("1'000", "thousands or feet"),
        ("5,", "a comma ends the number"),
        ("½½", "side by side"),
        ("17 - 1/2 in", "a minus or a dash"),
        ("17-18 in", "a minus or a dash"),
        ("2 yd -9 in", "a minus or a dash"),
        ("9 in 2 yd", "yards stand after inches"),
        ("2 in 3 in", "inches stand after inches"),
        ("5 ft 30 mm", "feet and millimetres stand together"),
        ("1m40", "no unit"),
        ("2 yd 9", "no unit"),
        ("5' 14", "no unit"),
        ("2000000 mm", "more than a kilometre"),
        ("-1001 m", "more than a kilometre"),
        ("9" * 115, "more than a kilometre"),
        ("9" * 5000, "far too long"),
        ("3 \x00cm", "not a unit"),
        (float("nan"), "not a finite number"),
        (float("-inf"), "not a finite number"),
        pytest.param(10**5000, "more than a kilometre", id="huge"),
        (True, "neither text nor a number"),
        (None, "neither text nor a number"),
        (["5"], "neither text nor a number"),
    ],
)
def test_what_is_no_length_is_refused_with_its_reason(text, why: str):
    """Place, what was found, why not, what was expected: in one sentence, for each kind of slip."""
    with pytest.raises(BadInput) as caught:
        parse_length(text, unit=Unit.cm, where="cloth width")
    said = str(caught.value)
    assert said.startswith("Cloth width: ")
    assert why in said
    assert "xpected a length such as 43.5 cm" in said
    assert "a number alone means centimetres" in said


def test_a_length_below_the_least_is_refused():
    """A length that must be something is told so; the least itself is allowed."""
    assert parse_length("0", unit=Unit.cm, least_mm=0) == 0
    assert parse_length("1 in", unit=Unit.cm, least_mm=25.4) == 25.4
    with pytest.raises(BadInput) as caught:
        parse_length("-3", unit=Unit.cm, least_mm=25.4)
    assert "at least 2.5 cm" in told(caught.value, Unit.cm)
    assert "at least 1 in" in told(caught.value, Unit.inch)


def is_value_or_sentence(parse: Callable[[], float]) -> bool:
    """True for a sensible value or a finished sentence; any other error goes through."""
    try:
        return abs(parse()) <= 1_000_000
    except BadInput as error:
        return str(error).endswith(".")


@given(st.text(), ANY_UNIT)
def test_any_text_is_a_length_or_bad_input(text: str, each: Unit):
    """Nothing that can be typed raises anything but BadInput."""
    assert is_value_or_sentence(lambda: parse_length(text, unit=each))


@given(st.text("0123456789/.,-+ '\"½⅝⅟⁄²₈″′incmtyd%&\u00a0", max_size=14), ANY_UNIT)
@example("½" * 60, Unit.mm)
@example("1⁄", Unit.mm)
def test_text_that_looks_like_a_length_is_one_or_bad_input(text: str, each: Unit):
    """The same for text made of the very marks that lengths are written with."""
    for parse in (parse_angle_deg, parse_fraction, lambda t: parse_length(t, unit=each)):
        assert is_value_or_sentence(lambda parse=parse: parse(text))


@given(st.one_of(st.floats(), st.integers()), ANY_UNIT)
def test_any_number_is_a_length_or_bad_input(number, each: Unit):
    """A number from a file is taken as the decimal that was written, or refused."""
    try:
        mm = parse_length(number, unit=each)
    except BadInput:
        assert not abs(number) * each.in_mm <= 1_000_000
    else:
        assert mm == float(Fraction(str(number)) * AGREED_MM[each.value])


@st.composite
def spelt_amounts(draw) -> tuple[str, Fraction]:
    """An amount in one of the ways to spell it, and its value reckoned here."""
    whole = draw(st.integers(0, 200))
    low = draw(st.integers(2, 64))
    top = draw(st.integers(0, low - 1))
    tenths = draw(st.integers(0, 99))
    return draw(
        st.sampled_from(
            [
                (f"{whole}", Fraction(whole)),
                (f"{top}/{low}", Fraction(top, low)),
                (f"{whole} {top}/{low}", whole + Fraction(top, low)),
                (f"{whole}-{top}/{low}", whole + Fraction(top, low)),
                (f"{whole}  {top}⁄{low}", whole + Fraction(top, low)),
                (f"{whole}.{tenths:02}", whole + Fraction(tenths, 100)),
                (f"{whole},{tenths:02}", whole + Fraction(tenths, 100)),
            ]
        )
    )


@given(
    st.sampled_from(
        [
            order
            for family in (("yd", "ft", "in"), ("m", "cm", "mm"))
            for count in (1, 2, 3)
            for order in itertools.combinations(family, count)
        ]
    ),
    st.tuples(spelt_amounts(), spelt_amounts(), spelt_amounts()),
    st.sampled_from([" ", ""]),
    st.sampled_from(["", "-", "+", "−"]),
)
def test_several_units_add_up_exactly(order, spelt, space: str, sign: str):
    """Amounts in falling units add up; the sign in front is for all of them; nothing is lost."""
    parts = list(zip(order, spelt, strict=False))
    text = sign + " ".join(f"{amount}{space}{name}" for name, (amount, _) in parts)
    total = sum(value * AGREED_MM[name] for name, (_, value) in parts)
    assert parse_length(text, unit=Unit.mm) == float(-total if sign in "-−" and sign else total)


# --- showing lengths -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mm", "each", "shown"),
    [
        (444.5, Unit.inch, "17 1/2 in"),
        (15.875, Unit.inch, "5/8 in"),
        (25.4, Unit.inch, "1 in"),
        (-41.275, Unit.inch, "-1 5/8 in"),
        (0.0, Unit.inch, "0 in"),
        (-0.0, Unit.inch, "0 in"),
        (-0.3, Unit.inch, "0 in"),
        (25.3, Unit.inch, "1 in"),
        (0.79375, Unit.inch, "1/16 in"),  # 1/32 in: halfway goes away from zero
        (-0.79375, Unit.inch, "-1/16 in"),
        (434.96, Unit.cm, "43.5 cm"),
        (430.0, Unit.cm, "43 cm"),
        (1000.0, Unit.cm, "100 cm"),
        (-0.4, Unit.cm, "0 cm"),
        (0.5, Unit.cm, "0.1 cm"),
        (171.5, Unit.cm, "17.2 cm"),
        (12.34, Unit.mm, "12.3 mm"),
        (0.05, Unit.mm, "0.1 mm"),
        (-0.04, Unit.mm, "0 mm"),
        (1514.9, Unit.m, "1.51 m"),
        (1500.0, Unit.m, "1.5 m"),
        (1257.3, Unit.yard, "1 3/8 yd"),
        (1676.4, Unit.foot, "5 ft 6 in"),
        (1524.0, Unit.foot, "5 ft"),
        (12.7, Unit.foot, "1/2 in"),
        (304.7, Unit.foot, "1 ft"),
        (-1689.1, Unit.foot, "-5 ft 6 1/2 in"),
    ],
)
def test_lengths_are_shown_as_a_maker_reads_them(mm: float, each: Unit, shown: str):
    """Fractions in lowest terms, decimals without idle zeros, no minus on nothing."""
    assert show_length(mm, each) == shown


def test_another_step_can_be_asked_for():
    """Inches to 1/8 and to 1/32, centimetres to a half."""
    assert show_length(20.0, Unit.inch, nearest=Fraction(1, 8)) == "3/4 in"
    assert show_length(20.0, Unit.inch, nearest=Fraction(1, 32)) == "25/32 in"
    assert show_length(23.0, Unit.cm, nearest=Fraction(1, 2)) == "2.5 cm"
    assert show_length(1676.4, Unit.foot, nearest=Fraction(12)) == "6 ft"
    for step in (Fraction(0), Fraction(-1, 8)):
        with pytest.raises(BadInput, match="cannot be shown"):
            show_length(20.0, Unit.inch, nearest=step)


def test_a_plus_is_shown_when_asked_for_and_never_on_nothing():
    """Differences carry their sign; nothing has none."""
    shown = [show_length(mm, Unit.inch, sign=True) for mm in (9.525, -9.525, 0.1, -0.1)]
    assert shown == ["+3/8 in", "-3/8 in", "0 in", "0 in"]


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_not_a_number_is_never_shown_as_a_length(value: float):
    """A spoilt result is told, not printed."""
    with pytest.raises(BadInput, match="not a number"):
        show_length(value, Unit.cm)


@given(st.integers(-400_000, 400_000))
def test_every_sixteenth_of_an_inch_comes_back_exactly(sixteenths: int):
    """k/16 in, read, shown and read again is the very same float, in inches and in feet."""
    mm = parse_length(f"{sixteenths}/16 in", unit=Unit.cm)
    assert mm == float(Fraction(sixteenths, 16) * Fraction("25.4"))
    for each in (Unit.inch, Unit.foot):
        assert parse_length(show_length(mm, each), unit=Unit.cm) == mm


@given(REASONABLE_MM, ANY_UNIT, st.booleans())
def test_what_is_shown_reads_back_within_half_a_step(mm: float, each: Unit, sign: bool):
    """Rounding is for display: the way there and back costs at most half a display step."""
    back = parse_length(show_length(mm, each, sign=sign), unit=Unit.mm)
    assert abs(Fraction(back) - Fraction(mm)) <= STEPS[each.value] / 2 + Fraction(1, 10**8)


@given(REASONABLE_MM, ANY_UNIT)
def test_showing_twice_changes_nothing_more(mm: float, each: Unit):
    """What was shown, typed back in, is shown the same."""
    shown = show_length(mm, each)
    assert show_length(parse_length(shown, unit=Unit.mm), each) == shown


def test_sentences_are_told_in_the_makers_unit():
    """Text stays, numbers are lengths, and the same sentence serves every unit."""
    sentence: Sentence = ("Shortened ", "front", " by ", 25.4, " at 2 levels.")
    assert say(sentence, Unit.inch) == "Shortened front by 1 in at 2 levels."
    assert say(sentence, Unit.cm) == "Shortened front by 2.5 cm at 2 levels."
    assert say(sentence, Unit.cm, nearest=Fraction(1)) == "Shortened front by 3 cm at 2 levels."
    assert say((), Unit.cm) == ""


# --- angles, shares, units -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "angle"),
    [
        ("8.82", 8.82),
        ("8,82°", 8.82),
        ("22 1/2 deg", 22.5),
        ("−90 degrees", -90.0),
        ("45º", 45.0),
        ("360", 360.0),
        (12, 12.0),
    ],
)
def test_angles_are_read_in_degrees(text, angle: float):
    """Degrees with or without their sign or word, fractions and commas allowed."""
    assert parse_angle_deg(text) == angle


@pytest.mark.parametrize("text", ["", "1 rad", "400", "45° 30'", "steep", float("nan"), None])
def test_what_is_no_angle_is_refused(text):
    """Other measures of angle and more than a full turn are refused with what was expected."""
    with pytest.raises(BadInput, match=r"^Dart: .*xpected degrees between"):
        parse_angle_deg(text, where="dart")


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("3 %", 0.03),
        ("3%", 0.03),
        ("3 ％", 0.03),
        ("2,5 percent", 0.025),
        ("3 per cent", 0.03),
        ("-1 %", -0.01),
        ("0.03", 0.03),
        ("1/32", 0.03125),
        ("100 %", 1.0),
        ("0", 0.0),
        (0.03, 0.03),
    ],
)
def test_shares_are_read_with_or_without_a_percent_sign(text, share: float):
    """Three in the hundred, however it is written, is 0.03."""
    assert parse_fraction(text) == share


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("3", "try 3 %"),
        (1, "try 1 %"),
        ("3 kg", "not a percent sign"),
        ("120 %", "out of bounds"),
        ("", "nothing is written"),
        pytest.param(10**5000, "wholes", id="huge"),
        (float("inf"), "not a finite number"),
    ],
)
def test_what_is_no_share_is_refused(text, why: str):
    """A whole number without a percent sign could mean either, so it is asked back."""
    with pytest.raises(BadInput) as caught:
        parse_fraction(text, where="shrinkage")
    assert str(caught.value).startswith("Shrinkage: ")
    assert why in str(caught.value)


def test_a_share_outside_its_bounds_is_refused_and_the_likely_meaning_offered():
    """Half a percent written as 0.5 would be half the cloth; where that cannot be, it is asked."""
    assert parse_fraction("25 %", most=0.25) == 0.25
    with pytest.raises(BadInput, match=r"between 0 % and 25 %.*try 0\.5 %"):
        parse_fraction("0.5", least=0, most=0.25)


def test_angles_and_shares_are_shown_to_a_tenth():
    """One decimal, no idle zero, no minus on nothing."""
    assert [show_angle_deg(a) for a in (8.8203, 90.0, -0.01)] == ["8.8°", "90°", "0°"]
    assert [show_fraction(s, sign=True) for s in (0.035, -0.01, 0)] == ["+3.5 %", "-1 %", "0 %"]


def test_units_are_named_by_any_of_their_words():
    """Short and long names, either spelling, any size of letters."""
    for word, expected in {
        "in": Unit.inch,
        "INCHES": Unit.inch,
        '"': Unit.inch,
        "metre": Unit.m,
        "meter": Unit.m,
        "yds.": Unit.yard,
    }.items():
        assert parse_unit(word) is expected


@pytest.mark.parametrize(("text", "why"), [("inhces", '"inches"'), ("ell", "one of mm"), (3, "mm")])
def test_an_unknown_unit_is_refused_with_the_known_ones(text, why: str):
    """The sentence lists what is known, and guesses at a slip."""
    with pytest.raises(BadInput) as caught:
        parse_unit(text, where="workbook unit")
    assert why in str(caught.value)
