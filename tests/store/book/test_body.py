"""[body] and [chart] in workbook.toml: exact round trip, wording kept, mistakes placed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from clothwright.body.body import Body, body_with
from clothwright.body.chart import chart_from
from clothwright.body.charts import EXAMPLES
from clothwright.body.measures import MEASURES
from clothwright.errors import BadInput, Mistakes
from clothwright.store import create, load, save
from clothwright.store.disk import BOOK_FILE
from clothwright.store.history.touched import touched
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.editing.committing import apply_edit
from clothwright.workroom.editing.edits.whole import SetUnit

FIGURES = {"bust": "36½", "waist": "72,5 cm", "hip": 38, "height": "5' 6\""}
BOOK = Workbook(
    title="t",
    unit=Unit.inch,
    body=body_with(
        Body(), {**FIGURES, "note": 'over "wool"', "date": "2026-11-25"}, unit=Unit.inch
    ),
    chart=EXAMPLES[0],
)


def test_round_trip(tmp_path) -> None:
    """Everything is loaded as it was saved, every figure in the words it was typed in."""
    create(tmp_path / "w", BOOK)
    again = load(tmp_path / "w")
    assert again == BOOK
    assert dict(again.body.taken)["bust"].text == "36½ in"
    off = replace(BOOK, body=replace(BOOK.body, compare=False))
    save(off, tmp_path / "w")
    assert load(tmp_path / "w") == off
    assert "compare = false" in (tmp_path / "w" / BOOK_FILE).read_text()


def test_nothing_is_written_for_nobody(tmp_path) -> None:
    """A workbook without a wearer has no table for one; taken out, the tables go."""
    create(tmp_path / "w", replace(BOOK, body=Body(), chart=None))
    text = (tmp_path / "w" / BOOK_FILE).read_text()
    save(BOOK, tmp_path / "w")
    save(replace(BOOK, body=Body(), chart=None), tmp_path / "w")
    assert "[body]" not in text
    assert (tmp_path / "w" / BOOK_FILE).read_text() == text


def test_wording_and_comments_stay(tmp_path) -> None:
    """One figure changes: the others keep their words, and her comment stays."""
    create(tmp_path / "w", BOOK)
    file = tmp_path / "w" / BOOK_FILE
    file.write_text(
        file.read_text()
        .replace('hip = "38 in"', "hip = 38.0  # evening")
        .replace('waist = "72,5 cm"', 'waist = "725 mm"')
    )
    book = load(tmp_path / "w")
    assert book.body.mm("hip") == pytest.approx(965.2)
    new = replace(book, body=body_with(book.body, {"bust": "37 in"}, unit=Unit.inch))
    save(new, tmp_path / "w")
    text = file.read_text()
    assert "hip = 38.0  # evening" in text
    assert 'waist = "725 mm"' in text
    assert 'bust = "37 in"' in text


def test_another_unit_changes_no_body(tmp_path) -> None:
    """A bare number meant inches: thinking in cm from now on, it is the same length still."""
    create(tmp_path / "w", BOOK)
    file = tmp_path / "w" / BOOK_FILE
    file.write_text(
        file.read_text().replace('hip = "38 in"', "hip = 38").replace('unit = "in"\ntext', "text")
    )
    book = load(tmp_path / "w")
    assert book.chart == EXAMPLES[0]
    metric = apply_edit(book, SetUnit(unit="cm"))
    save(metric, tmp_path / "w")
    again = load(tmp_path / "w")
    assert again.unit is Unit.cm
    assert again.body.mm("hip") == pytest.approx(965.2)
    assert again.chart == EXAMPLES[0]


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ('[body]\nbsut = "36 in"', "line 5, body, bsut: this entry is not known"),
        ('[body]\nbsut = "36 in"', 'Did you mean "bust"'),
        ('[body]\nbust = "36 inn"', "line 5, body, bust"),
        ("[body]\nbust = true", "is not a length"),
        ('[body]\nbust = "-36 in"', "is no measurement of a body"),
        ('[body]\ndate = "yesterday"', "year, month, day"),
        ('[body]\ncompare = "no"', "line 5, body, compare"),
        ('[chart]\nname = "x"', "is missing"),
        ('[chart]\ntext = "size 8 10"\nunits = "in"', 'Did you mean "unit"'),
        ('[chart]\ntext = "size 8 10\\nbust 31"', "line 2: 1 number for 2 sizes"),
        ('[chart]\nunit = "ell"\ntext = "size 8 10\\nbust 31 32"', "is not a unit of length"),
    ],
)  # fmt: skip
def test_slips_in_the_file_are_placed(tmp_path, lines: str, words: str) -> None:
    """Unknown entries, no lengths, charts that cannot be read: each in a sentence with its line."""
    (tmp_path / BOOK_FILE).write_text(f'format = 1\ntitle = "t"\nunit = "in"\n{lines}\n')
    with pytest.raises((BadInput, Mistakes)) as caught:
        load(tmp_path)
    assert words in str(caught.value)


def test_a_day_may_be_written_as_toml_has_it(tmp_path) -> None:
    """date = 2026-11-25 without quotation marks is the same day."""
    (tmp_path / BOOK_FILE).write_text(
        'format = 1\ntitle = "t"\nunit = "in"\n[body]\ndate = 2026-11-25\n'
    )
    assert load(tmp_path).body.day == "2026-11-25"


def test_what_differs_is_named_figure_by_figure() -> None:
    """Two people may type different measurements at once; the same one clashes."""
    other = replace(
        BOOK, body=body_with(BOOK.body, {"hip": "", "wrist": 6, "note": ""}, unit=Unit.inch)
    )
    assert touched(BOOK, (), other, ()) == (("body", "hip"), ("body", "wrist"), ("body", "note"))
    assert touched(BOOK, (), replace(BOOK, chart=None), ()) == (("chart",),)


@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    figures=st.dictionaries(
        st.sampled_from([m.id for m in MEASURES]),
        st.tuples(st.integers(1, 3000), st.sampled_from(["mm", "in", "cm", ""])),
    ),
    note=st.text(max_size=40),
    unit=st.sampled_from([Unit.inch, Unit.cm, Unit.mm]),
)
def test_any_body_comes_back(tmp_path_factory, figures, note, unit) -> None:
    """Any figures in any unit and any printable note are the same after a save."""
    folder = tmp_path_factory.mktemp("body") / "w"
    values = {m: f"{n / 10:.1f} {u}".strip() for m, (n, u) in figures.items()}
    note = "".join(c for c in note if c.isprintable())
    body = body_with(Body(), {**values, "note": note}, unit=unit)
    chart = chart_from("size 8 10\nbust 31 32\nunit cm\nhip 80,5 -", name=note, unit=Unit.inch)
    book = Workbook(title="t", unit=unit, body=body, chart=chart)
    create(folder, book)
    assert load(folder) == book
